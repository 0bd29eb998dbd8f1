using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Impressions;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Filling;

/// <summary>The heat of a casting in its sand: how hot it is poured, and what of it freezes last. Nothing of that hangs on choke or ingates, so that feeders are reckoned before these are settled.</summary>
/// <param name="Metal">Heat of the metal.</param>
/// <param name="Pour">How hot it is poured.</param>
/// <param name="Mould">Both in the sand.</param>
/// <param name="HotSpots">The last to freeze first.</param>
internal sealed record CastingHeat(MetalHeat Metal, PourTemperature Pour, StreamHeat Mould, ImmutableArray<HotSpot> HotSpots)
{
    private const int MostHotSpots = 6;

    /// <summary>The heat of a casting; null where there is no metal, or its heat is not known.</summary>
    /// <param name="job">The job.</param>
    /// <param name="alloy">Its metal.</param>
    /// <param name="sand">Its sand.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cavity">On cells.</param>
    /// <param name="wall_mm">Mean wall.</param>
    /// <param name="volume_mm3">Metal in the mould, gating apart.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="castings">Several castings in one mould; none for one.</param>
    /// <exception cref="InputException">The pouring temperature that was asked for is not above the liquidus.</exception>
    public static CastingHeat? Of(
        Job job, Alloy alloy, Sand sand, FoundryTables tables, CastingGrid cavity, double wall_mm, double volume_mm3, PatternFrame frame, ImmutableArray<CastingPlace> castings)
    {
        if (cavity.Grid.SolidCount == 0) return null;
        if (MetalHeat.Of(alloy, tables.Filling) is not { } metal || PourTemperature.Of(alloy, wall_mm, job.Gating?.PourTemperature_C, tables.Filling) is not { } pour) return null;
        if (pour.Taken_C.Value <= metal.Liquidus_C)
            throw new InputException(PartBody.Source(job), "", Invariant($"pour_temperature = {pour.Taken_C.Value:0.##} of [gating] is not above the liquidus of the metal, {metal.Liquidus_C:0.#} °C: it would not be liquid. Write more, usually {pour.Highest_C.Value:0} °C at most, or leave it out."));
        var mould = new StreamHeat(metal, sand, pour.Taken_C.Value, alloy.Heat.SurfaceTension_N_m?.Value, MouldConstant.For(alloy, sand, metal, pour.Taken_C.Value, tables), tables.Filling);
        return new(metal, pour, mould, [.. Spots(alloy, cavity, mould, volume_mm3, frame, castings)]);
    }

    // Castings of one part are alike, but their cells are not: the sections of the first are those of all.
    private static IEnumerable<HotSpot> Spots(Alloy alloy, CastingGrid cavity, StreamHeat mould, double volume_mm3, PatternFrame frame, ImmutableArray<CastingPlace> castings)
    {
        if (castings.Length < 2) return Spots(alloy, cavity, mould, volume_mm3, frame, null, [default], 0, volume_mm3);
        var of = new int[cavity.Grid.Count];
        for (var cell = 0; cell < of.Length; cell++)
            of[cell] = cavity.Grid.IsSolid(cell) ? CastingPlace.Nearest(castings, cavity.Grid.Middle(cell).Plan) : -1;
        return castings.Select((c, i) => (Place: c, Number: i)).GroupBy(c => c.Place.Part).SelectMany(part =>
        {
            var first = part.First();
            return Spots(
                alloy, cavity, mould, volume_mm3, frame, cell => of[cell] == first.Number,
                [.. part.Select(c => 1 / frame.Scale * (c.Place.Low - first.Place.Low))], part.Key, first.Place.Share * volume_mm3);
        }).OrderByDescending(s => s.Freezes_s);
    }

    private static IEnumerable<HotSpot> Spots(
        Alloy alloy, CastingGrid cavity, StreamHeat mould, double volume_mm3, PatternFrame frame, Func<int, bool>? isIn, Vec2[] asides, int part, double casting_mm3)
    {
        var (grid, constant, cell_mm3, shrinkage) = (cavity.Grid, mould.Constant_s_mm2, volume_mm3 / cavity.Grid.Filled, alloy.Heat.FreezingShrinkage_percent);
        foreach (var s in FreezingOrder.Of(cavity.Thickness, mould.Table.Prominence.Value, isIn).Take(MostHotSpots))
        {
            var at = frame.ToJob(grid.Origin + (grid.Cell_mm * s.Ball.Middle));
            foreach (var aside in asides)
            {
                yield return new(
                    at + new Vec3(aside.X, aside.Y, 0), 2 * s.Ball.Radius * grid.Cell_mm / frame.Scale, s.Modulus_mm, MouldConstant.Time_s(constant, s.Modulus_mm),
                    s.Neck_mm is { } neck ? MouldConstant.Time_s(constant, neck) : null, s.Cells * cell_mm3, shrinkage is null ? null : s.Cells * cell_mm3 * shrinkage.Value / 100)
                { Casting_mm = aside, Part = part, OfCasting_mm3 = casting_mm3 };
            }
        }
    }
}
