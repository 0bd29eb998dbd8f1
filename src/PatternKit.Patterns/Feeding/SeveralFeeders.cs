using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Filling;

namespace PatternKit.Patterns.Feeding;

/// <summary>
/// Several small feeders in place of a large one, over a section of a metal that freezes over a long range (common practice with the tin bronzes): as few as feed all of it by the feeding distance, evenly over its extent, each as
/// wide as the modulus of the section asks for, or as what its own part of it lacks.
/// </summary>
/// <param name="cavity">The casting on cells.</param>
/// <param name="frame">From job to pattern.</param>
/// <param name="distance">How far one feeds, in thicknesses.</param>
/// <param name="shrinkage_percent">Of the metal.</param>
/// <param name="table">Rules.</param>
internal sealed class SeveralFeeders(CastingGrid cavity, PatternFrame frame, FreezingRow distance, double shrinkage_percent, FeedingTable table)
{
    private const int Rounds = 12;

    // The neck does not go by the room there is.
    private const double Tall_mm = 1e4;

    private readonly HashSet<(Vec2 Casting, int Cell)> covered = [];

    /// <summary>Whether a section is of one that several feeders stand on already.</summary>
    public bool Covers(FedSection s, Vec2 casting_mm) => covered.Contains((casting_mm, Middle(s, casting_mm)));

    /// <summary>The section in as many parts as it takes for each to be fed by its own feeder; null where one does.</summary>
    public ImmutableArray<FedSection>? Shared(FedSection s, Vec2 casting_mm)
    {
        var (grid, across) = (cavity.Grid, s.Across_mm * frame.Scale);
        if (Middle(s, casting_mm) is < 0) return null;
        var cells = Cells(s, casting_mm);
        var isOfIt = FeedingReach.Of(cavity, across, table);
        for (var n = 1; n <= table.MostFeeders.Value; n++)
        {
            // From its edge on; its foot is no narrower than its neck.
            var neck = FeederSize.OnTop(s.Modulus_mm, across, s.Fed_mm3 / n, shrinkage_percent, Tall_mm, table)!.Neck_mm;
            var feeds = (distance.Value * across) + (neck / 2);
            var parts = Spread(cells, n);
            var farthest = GridWays.From(grid, parts.Select(p => p.Middle), isOfIt).Values.Max() + (grid.Cell_mm / 2);
            if (farthest > feeds && n < table.MostFeeders.Value) continue;
            if (n == 1) return null;
            var whole = cells.Sum(c => grid.Part(c));
            return
            [
                .. parts.Select(p =>
                {
                    var (at, share) = (frame.ToJob(grid.Middle(p.Middle)), p.Cells.Sum(c => grid.Part(c)) / whole);
                    return s with { At_mm = at + new Vec3(casting_mm.X, casting_mm.Y, 0), Fed_mm3 = share * s.Fed_mm3, Lacks_mm3 = share * s.Lacks_mm3, Sharing = parts.Length };
                }),
            ];
        }

        return null;
    }

    /// <summary>The parts with how far each has to feed; what else freezes in the section is theirs.</summary>
    public ImmutableArray<FedSection> Stand(FedSection s, Vec2 casting_mm, ImmutableArray<FedSection> parts)
    {
        var (grid, across) = (cavity.Grid, s.Across_mm * frame.Scale);
        var cells = Cells(s, casting_mm);
        covered.UnionWith(cells.Select(c => (casting_mm, c)));
        var isOfIt = FeedingReach.Of(cavity, across, table);
        var ways = parts.Select(p => GridWays.From(grid, grid.Nearest(InFirst(p.StandsAt_mm is { } at ? new(at.X, at.Y, p.At_mm.Z) : p.At_mm, casting_mm), isOfIt), isOfIt)).ToArray();
        double Reach(int part) => cells.Where(c => ways.Index().MinBy(w => w.Item.GetValueOrDefault(c, double.PositiveInfinity)).Index == part).Select(c => ways[part].GetValueOrDefault(c)).DefaultIfEmpty(0).Max();
        return [.. parts.Select((p, i) => p.Foot_mm is { } foot ? p with { Distance = (Math.Max(0, Reach(i) + (grid.Cell_mm / 2) - (foot / 2)), distance.Value * across) } : p)];
    }

    private Vec3 InFirst(Vec3 at_mm, Vec2 casting_mm) => frame.ToPattern(new(at_mm.X - casting_mm.X, at_mm.Y - casting_mm.Y, at_mm.Z));

    private int Middle(FedSection s, Vec2 casting_mm) => cavity.Grid.Nearest(InFirst(s.At_mm, casting_mm), FeedingReach.Of(cavity, s.Across_mm * frame.Scale, table));

    private int[] Cells(FedSection s, Vec2 casting_mm) => [.. GridWays.From(cavity.Grid, Middle(s, casting_mm), FeedingReach.Of(cavity, s.Across_mm * frame.Scale, table)).Keys.Order()];

    /// <summary>The cells in parts about as far apart as they are wide (Lloyd 1982, from cells that lie farthest from one another), each with its middle.</summary>
    private (int Middle, int[] Cells)[] Spread(int[] cells, int n)
    {
        var at = cells.Select(cavity.Grid.Middle).ToArray();
        var middles = new List<Vec3> { Mean(at) };
        if (n > 1) middles = [at.MaxBy(p => (p - middles[0]).Length)];
        while (middles.Count < n) middles.Add(at.MaxBy(p => middles.Min(m => (p - m).Length)));
        for (var i = 0; i < Rounds; i++)
            middles = [.. Parts().Select(p => Mean(p.Select(c => at[c])))];
        return [.. Parts().Select(p =>
        {
            var mean = Mean(p.Select(c => at[c]));
            return (cells[p.MinBy(c => (at[c] - mean).Length)], p.Select(c => cells[c]).ToArray());
        })];

        int[][] Parts() => [.. Enumerable.Range(0, at.Length).GroupBy(c => middles.Index().MinBy(m => (at[c] - m.Item).Length).Index).OrderBy(g => g.Key).Select(g => g.ToArray())];
    }

    private static Vec3 Mean(IEnumerable<Vec3> points)
    {
        var (sum, n) = points.Aggregate((Sum: new Vec3(0, 0, 0), N: 0), (s, p) => (s.Sum + p, s.N + 1));
        return (1.0 / n) * sum;
    }
}
