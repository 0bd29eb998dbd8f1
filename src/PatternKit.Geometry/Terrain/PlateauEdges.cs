using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>An edge at which a terrain of plateaus steps down to the right of From→To.</summary>
/// <param name="From">Start; the higher side lies to the left.</param>
/// <param name="To">End.</param>
/// <param name="High">Height of the left side.</param>
/// <param name="Low">Height of the right side.</param>
/// <param name="Enclosed">Whether the lower ground here is shut in by ground at least as high as the left side.</param>
internal readonly record struct StepEdge(Vec2 From, Vec2 To, double High, double Low, bool Enclosed);

/// <summary>Finds the steps between plateaus, and which of them bound an enclosed hollow of the plan.</summary>
internal static class PlateauEdges
{
    /// <summary>All steps, in a fixed order.</summary>
    /// <param name="plateaus">As in <see cref="Plateau"/>.</param>
    /// <param name="background">Height of the ground outside them; lower plateaus count as being there.</param>
    public static ImmutableArray<StepEdge> Find(ImmutableArray<Plateau> plateaus, double background)
    {
        // Holes of the plan are ground of their own, so that their walls count as enclosed.
        var metal = PlanRegion.Union(plateaus.Select(p => p.Region));
        var holes = metal.Filled().Difference(metal);
        for (var i = 0; i < holes.Geometry.NumGeometries; i++)
            if (!holes.IsEmpty) plateaus = plateaus.Add(new(PlanRegion.From(holes.Geometry.GetGeometryN(i)), background));
        // Number 0 is the outside.
        var heights = plateaus.Select(p => Math.Max(p.Height, background)).Prepend(background).ToArray();
        var left = new Dictionary<(Vec2, Vec2), int>();
        var order = new List<(Vec2 From, Vec2 To, int Left)>();
        for (var i = 0; i < plateaus.Length; i++)
        {
            foreach (var ring in plateaus[i].Region.Rings())
            {
                for (var k = 0; k < ring.Length; k++)
                {
                    var edge = (ring[k], ring[(k + 1) % ring.Length]);
                    left[edge] = i + 1;
                    order.Add((edge.Item1, edge.Item2, i + 1));
                }
            }
        }

        var borders = order.Select(e => (e.From, e.To, e.Left, Right: left.GetValueOrDefault((e.To, e.From)))).ToArray();
        var neighbours = borders.Select(b => (b.Left, b.Right)).Distinct().ToArray();
        var enclosed = heights.Distinct().ToDictionary(h => h, h => EnclosedBelow(h, heights, neighbours));
        return
        [
            .. borders.Where(b => heights[b.Left] > heights[b.Right])
                .Select(b => new StepEdge(b.From, b.To, heights[b.Left], heights[b.Right], enclosed[heights[b.Left]][b.Right])),
        ];
    }

    /// <summary>For every plateau below a level: whether no path over ground below that level leads from it to the outside.</summary>
    private static bool[] EnclosedBelow(double level, double[] heights, (int Left, int Right)[] neighbours)
    {
        var reached = new bool[heights.Length];
        reached[0] = true;
        for (var changed = true; changed;)
        {
            changed = false;
            foreach (var (a, b) in neighbours)
            {
                if (reached[a] == reached[b] || heights[a] >= level || heights[b] >= level) continue;
                reached[a] = reached[b] = true;
                changed = true;
            }
        }

        return [.. reached.Select(r => !r)];
    }
}
