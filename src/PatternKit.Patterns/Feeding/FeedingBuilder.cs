using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Feeding;

/// <summary>From the order of freezing to feeders: which sections are fed, by what, and where it stands.</summary>
internal static class FeedingBuilder
{
    /// <summary>The feeding of a mould; null where the shrinkage of the metal is not known.</summary>
    /// <param name="job">The job.</param>
    /// <param name="alloy">Its metal.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cavity">On cells.</param>
    /// <param name="filling">With the sections that freeze last.</param>
    /// <param name="gating">Its head is that of the feeders, which are open.</param>
    /// <param name="volume_mm3">Metal in the mould, gating apart.</param>
    /// <param name="bare">Upper half without prints and fillets.</param>
    /// <param name="cope">Upper half as it is made.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="draft">Of the bodies, radians.</param>
    public static FeedingPlan? Build(
        Job job, Alloy alloy, FoundryTables tables, CastingGrid cavity, FillingPlan filling, GatingPlan gating, double volume_mm3, HalfMould bare, HalfMould cope, PatternFrame frame, double draft)
    {
        if (alloy.Heat.FreezingShrinkage_percent is not { } shrinkage) return null;
        var table = tables.Feeding;
        var usual = Modulus.Wall(Median(cavity));
        var sections = ImmutableArray.CreateBuilder<FedSection>();
        var places = new FeederPlaces(bare, cope, gating, frame, draft, table);
        // What is not cut off before freezes with the last of all.
        var others = filling.HotSpots.Where(h => h.CutOff_s is not null).Sum(h => h.Pool_mm3);
        foreach (var spot in shrinkage.Value > 0 ? filling.HotSpots : [])
        {
            var fed = spot.CutOff_s is null ? Math.Max(volume_mm3 - others, spot.Pool_mm3 * 1e-3) : spot.Pool_mm3;
            var section = new FedSection(spot.At_mm, spot.Across_mm, spot.Modulus_mm, fed, fed * shrinkage.Value / 100, FeedingFate.Left, "");
            sections.Add(FeedingReach.Measured(Judged(section), cavity, frame, table.DistanceOf(alloy)));
        }

        ImmutableArray<FedSection> all = sections.ToImmutable();
        return new(usual, shrinkage, all, table.DistanceOf(alloy), table.IsLongRange(alloy), [.. Findings(all, table), .. table.DistanceOf(alloy) is { } distance ? all.SelectMany(s => FeedingReach.Findings(s, distance, table)) : []]) { Table = table };

        FedSection Judged(FedSection s)
        {
            if (s.Modulus_mm < table.StandsOut.Value * usual && s.Across_mm < table.Thick_mm.Value)
                return s with { Why = Invariant($"its modulus is not {table.StandsOut.Value:0.##} times that of the usual wall: it draws from the gates while they are open") };
            if (s.Lacks_mm3 < table.LeastVoid_mm3.Value) return s with { Why = Invariant($"what it lacks is less than {table.LeastVoid_mm3.Value:0} mm³") };
            if (s.Across_mm < table.Thin_mm.Value) return s with { Fate = FeedingFate.Thin, Why = Invariant($"thinner than {table.Thin_mm.Value:0.#} mm: a feeder would freeze first, or be as heavy as the casting") };
            if (shrinkage.Value >= table.Efficiency_percent.Value) return s with { Fate = FeedingFate.NoPlace, Why = "the metal shrinks by more than a plain feeder gives up" };
            return job.Feeders ? places.Stood(s, shrinkage.Value) : s with { Fate = FeedingFate.NotWanted, Why = "the job wants no feeders" };
        }
    }

    /// <summary>The thickness under which half of the metal lies, in the mould.</summary>
    private static double Median(CastingGrid cavity)
    {
        double[] all = [.. Enumerable.Range(0, cavity.Grid.Count).Where(cavity.Grid.IsSolid).Select(cavity.Thickness.At_mm).Order()];
        return all[all.Length / 2];
    }

    private static IEnumerable<Finding> Findings(ImmutableArray<FedSection> sections, FeedingTable table)
    {
        foreach (var s in sections.Where(s => s.Fate is FeedingFate.NoPlace or FeedingFate.NotWanted))
        {
            yield return new("shrinkage", Severity.Warn, Invariant($"The section near ({s.At_mm.X:0.#}, {s.At_mm.Y:0.#}, {s.At_mm.Z:0.#}) mm freezes after all around it and then lacks {s.Lacks_mm3 / 1000:0.##} cm³: it sinks there, or a hollow is left in it. No feeder stands on it: {s.Why}."),
                s.At_mm, s.Lacks_mm3, table.LeastVoid_mm3.Value, table.LeastVoid_mm3.From.Text,
                (s.Size is { } size ? Invariant($"Stand a feeder of {size.Diameter_mm:0.#} mm, {size.Height_mm:0} mm high, on it, its neck no narrower than {size.Neck_mm:0.#} mm. ") : "")
                + "Else make the section thinner or core it, or set a chill against it in the sand: dry, clean and warm, since moisture on a chill explodes.", "mm3");
        }

        foreach (var s in sections.Where(s => s.Fate == FeedingFate.Thin))
        {
            yield return new("shrinkage", Severity.Note, Invariant($"The section near ({s.At_mm.X:0.#}, {s.At_mm.Y:0.#}, {s.At_mm.Z:0.#}) mm freezes after all around it and is not fed: {s.Why}."),
                s.At_mm, s.Across_mm, table.Thin_mm.Value, table.Thin_mm.From.Text, "Let the walls taper towards it from the gate, and gate it hot.", "mm");
        }
    }
}
