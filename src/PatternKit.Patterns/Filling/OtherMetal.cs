using PatternKit.Foundry;

namespace PatternKit.Patterns.Filling;

/// <summary>The same mould, poured with another metal of its family through a choke that is reckoned for that metal.</summary>
/// <param name="Alloy">The metal.</param>
/// <param name="Mould">Its heat, poured at the middle of its own range.</param>
/// <param name="Run">Its stream.</param>
internal sealed record OtherMetal(Alloy Alloy, StreamHeat Mould, StreamRun Run)
{
    /// <summary>The others whose heat is known, that whose liquidus is nearest first; each is reckoned once, when it is asked for. What a job must acknowledge is not offered.</summary>
    /// <param name="own">The job's metal.</param>
    /// <param name="sand">Its sand.</param>
    /// <param name="tables">Metals and rules.</param>
    /// <param name="reckoning">Of the job's gating.</param>
    /// <param name="run">The stream of a metal.</param>
    public static IEnumerable<OtherMetal> Of(Alloy own, Sand sand, FoundryTables tables, GatingReckoning reckoning, Func<Alloy, MetalHeat, GatingReckoning, StreamRun> run)
    {
        Lazy<OtherMetal?>[] others =
        [
            .. tables.Alloys.Where(a => a.Family == own.Family && a.Key != own.Key && !a.Hazardous && a.Freezing is not null)
                .OrderBy(a => Math.Abs(a.Freezing!.Liquidus_C - own.Freezing!.Liquidus_C)).Select(a => new Lazy<OtherMetal?>(() => Reckoned(a))),
        ];
        return others.Select(o => o.Value).OfType<OtherMetal>();

        OtherMetal? Reckoned(Alloy alloy)
        {
            var input = reckoning.Input;
            if (MetalHeat.Of(alloy, tables.Filling) is not { } metal || PourTemperature.Of(alloy, input.MeanWall_mm, null, tables.Filling) is not { } pour) return null;
            var through = GatingRules.Reckon(input with { Casting_kg = input.Casting_kg * alloy.Density_kg_m3.Value / own.Density_kg_m3.Value }, alloy, tables.Gating);
            var (pour_C, tension) = (pour.Taken_C.Value, alloy.Heat.SurfaceTension_N_m?.Value);
            return new(alloy, new(metal, sand, pour_C, tension, MouldConstant.For(alloy, sand, metal, pour_C, tables), tables.Filling), run(alloy, metal, through));
        }
    }
}
