using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Filling;
using static System.FormattableString;

namespace PatternKit.Patterns.Feeding;

/// <summary>Whether a feeder feeds as far as its section reaches.</summary>
internal static class FeedingReach
{
    /// <summary>Which cells are as thick as a section, or nearly.</summary>
    public static Func<int, bool> Of(CastingGrid cavity, double across_mm, FeedingTable table) => cell => cavity.Thickness.At_mm(cell) * table.OtherWall.Value >= across_mm;

    /// <summary>The section with how far it reaches from the foot of its feeder, over metal of its own thickness, and how far that feeds.</summary>
    /// <param name="section">A section with a feeder; others are left as they are.</param>
    /// <param name="cavity">The casting on cells.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="casting_mm">Where its casting lies from the first of the mould, job coordinates: the way is measured in that one.</param>
    /// <param name="distance">Feeding distance in thicknesses; null where it is not known.</param>
    /// <param name="table">Rules.</param>
    public static FedSection Measured(FedSection section, CastingGrid cavity, PatternFrame frame, Vec2 casting_mm, FreezingRow? distance, FeedingTable table)
    {
        if (distance is null || section.Distance is not null || section is not { Foot_mm: { } foot, StandsAt_mm: { } stands }) return section;
        var (grid, across) = (cavity.Grid, section.Across_mm * frame.Scale);
        var IsOfIt = Of(cavity, across, table);
        var from = grid.Nearest(frame.ToPattern(new(stands.X - casting_mm.X, stands.Y - casting_mm.Y, section.At_mm.Z)), IsOfIt);
        if (from < 0) return section;
        // From its middle out, half of the foot is under the feeder itself.
        var reach = GridWays.From(grid, from, IsOfIt).Values.Max() + (grid.Cell_mm / 2) - (foot / 2);
        return section with { Distance = (Math.Max(0, reach), distance.Value * across) };
    }

    /// <summary>
    /// Walls beside the fed sections, thinner than they, that reach farther from them than a feeder feeds along such a wall: each place is fed over its own thickness, from where the section ends. Walls that are too thin for
    /// feeders are left to a hot gate and taper, and what would lack too little to be told is left out.
    /// </summary>
    /// <param name="sections">All sections; those with a feeder feed.</param>
    /// <param name="cavity">The casting on cells.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="cell_mm3">Metal of a whole cell.</param>
    /// <param name="shrinkage_percent">Of the metal.</param>
    /// <param name="distance">Feeding distance in thicknesses.</param>
    /// <param name="table">Rules.</param>
    public static IEnumerable<UnfedWall> Beyond(
        ImmutableArray<FedSection> sections, CastingGrid cavity, PatternFrame frame, double cell_mm3, double shrinkage_percent, FreezingRow distance, FeedingTable table)
    {
        var (grid, walls, scale) = (cavity.Grid, cavity.Walls, frame.Scale);
        var fed = new HashSet<int>();
        foreach (var s in sections.Where(s => s.Fate is FeedingFate.Fed or FeedingFate.ByHand))
        {
            var across = s.Across_mm * scale;
            bool IsOfIt(int cell) => walls.At_mm(cell) * table.OtherWall.Value >= across;
            if (grid.Nearest(frame.ToPattern(s.At_mm), IsOfIt) is >= 0 and var middle) fed.UnionWith(GridWays.From(grid, middle, IsOfIt).Keys);
        }

        if (fed.Count == 0) yield break;
        var ways = GridWays.From(grid, fed, _ => true);
        double Way(int cell) => ways[cell] - (grid.Cell_mm / 2);
        var beyond = ways.Keys.Where(c => walls.At_mm(c) >= table.Thin_mm.Value * scale && Way(c) > distance.Value * walls.At_mm(c)).ToHashSet();
        foreach (var first in beyond.Order().ToArray())
        {
            if (!beyond.Contains(first)) continue;
            var cells = GridWays.From(grid, first, beyond.Contains).Keys.ToArray();
            beyond.ExceptWith(cells);
            var lacks = cells.Sum(c => grid.Part(c)) * cell_mm3 * shrinkage_percent / 100;
            if (lacks < table.LeastVoid_mm3.Value) continue;
            // The middle of what lacks, and the wall there; its far end is how far it would have to be fed.
            var thick = cells.Select(walls.At_mm).Order().ElementAt(cells.Length / 2);
            var farthest = cells.MaxBy(c => (Way(c), -c));
            yield return new(frame.ToJob(grid.Middle(farthest)), thick / scale, Way(farthest) + grid.Cell_mm, distance.Value * thick, FeedingTaper.Root_mm(thick, Way(farthest) + grid.Cell_mm, distance.Value * thick, table.TaperStep.Value), lacks);
        }
    }

    /// <summary>What is told of a wall that no feeder reaches.</summary>
    public static Finding Told(UnfedWall w, FreezingRow distance, FeedingTable table, double scale)
    {
        return new(
            "feeding-distance", Severity.Warn,
            Invariant($"The wall of {w.Thick_mm:0.#} mm that ends near ({w.At_mm.X:0.#}, {w.At_mm.Y:0.#}, {w.At_mm.Z:0.#}) mm reaches {w.Way_mm:0} mm from the section that has a feeder, which feeds {w.Feeds_mm:0} mm along it, {distance.Value:0.##} times its thickness: beyond that it lacks {w.Lacks_mm3 / 1000:0.##} cm³ and may be porous in its middle."),
            w.At_mm, w.Way_mm, w.Feeds_mm, distance.From.Text,
            Invariant($"Stand one more feeder on its far part; or pad it, so that it grows from {w.Thick_mm:0.#} mm at its end to {w.Root_mm / scale:0.#} mm where it leaves the section, {((w.Root_mm / scale) - w.Thick_mm) * 100 * scale / w.Way_mm:0.0} mm in 100 mm ({table.TaperStep.From.Text}); or set a chill across its end, as wide as the wall")
            + Chilled(w.Way_mm, w.Feeds_mm, "is fed", table.EndChill_mm), "mm");
    }

    /// <summary>What a chill at the far end does for a way that a feeder does not feed.</summary>
    private static string Chilled(double way_mm, double feeds_mm, string does, Quoted chill)
    {
        var farther = Invariant($"{chill.Value:0} mm farther ({chill.From.Text}; found for steel)");
        return $"{(way_mm <= feeds_mm + chill.Value ? $", with which it {does} {farther}" : $", which alone is not enough: {farther}")}: dry, clean and warm, since moisture on a chill explodes.";
    }

    private static string Taper(FedSection s, double scale) => s.Taper is { } t
        ? Invariant($", from {s.Across_mm:0.#} mm at the far end to {t.Root_mm / scale:0.#} mm under it, {((t.Root_mm / scale) - s.Across_mm) * 100 * scale / t.Length_mm:0.0} mm in 100 mm (common practice)") : "";

    /// <summary>What is told of a section that reaches farther than its feeder feeds.</summary>
    public static IEnumerable<Finding> Findings(FedSection s, FreezingRow distance, FeedingTable table, double scale)
    {
        if (s is not { Distance: { } d, Foot_mm: { } foot } || d.Reach_mm <= d.Feeds_mm) yield break;
        var feeders = Math.Ceiling(((2 * d.Reach_mm) + foot) / ((2 * d.Feeds_mm) + foot));
        yield return new(
            "feeding-distance", Severity.Warn,
            Invariant($"The section near ({s.At_mm.X:0.#}, {s.At_mm.Y:0.#}, {s.At_mm.Z:0.#}) mm reaches {d.Reach_mm:0} mm from the foot of its feeder, which feeds {d.Feeds_mm:0} mm along it, {distance.Value:0.##} times its thickness: beyond that it may be porous in its middle."),
            s.At_mm, d.Reach_mm, d.Feeds_mm, distance.From.Text,
            Invariant($"Stand {feeders:0} feeders evenly along it; or let it taper towards the feeder{Taper(s, scale)}; or set a chill against its far end")
            + Chilled(d.Reach_mm, d.Feeds_mm, "feeds", table.EndChill_mm), "mm");
    }
}
