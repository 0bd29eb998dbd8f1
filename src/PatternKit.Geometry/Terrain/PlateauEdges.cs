using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// An edge at which a terrain falls off to the right of From→To: it steps down there, or goes on down steeper than its draft.
/// </summary>
/// <param name="From">Start; the higher side lies to the left.</param>
/// <param name="To">End.</param>
/// <param name="FromHeight">Height of the left side at the start.</param>
/// <param name="ToHeight">Height of the left side at the end; not as steep from the other as the draft.</param>
/// <param name="Enclosed">Whether the lower ground here is shut in by ground at least as high as the left side.</param>
internal readonly record struct FallEdge(Vec2 From, Vec2 To, double FromHeight, double ToHeight, bool Enclosed);

/// <summary>What lies on both sides of the borders between plateaus, and which ground is shut in by higher ground.</summary>
internal sealed class PlateauEdges
{
    private readonly ImmutableArray<Plateau> plateaus;
    private readonly ImmutableArray<(Vec2 From, Vec2 To, int Left, int Right)> borders;
    private readonly double[] wayOut;
    private readonly double openSlope;
    private readonly double enclosedSlope;

    /// <summary>Reads the borders.</summary>
    /// <param name="plateaus">As in <see cref="Plateau"/>.</param>
    /// <param name="background">Height of the ground outside them; lower plateaus count as being there.</param>
    /// <param name="openAngle">Draft of walls open to the outside, radians.</param>
    /// <param name="enclosedAngle">Draft of walls around an enclosed hollow.</param>
    /// <param name="lattice">Where the vertices are.</param>
    public PlateauEdges(ImmutableArray<Plateau> plateaus, double background, double openAngle, double enclosedAngle, Lattice lattice)
    {
        (openSlope, enclosedSlope) = (1 / Math.Tan(openAngle), 1 / Math.Tan(enclosedAngle));
        // Holes of the plan are ground of their own, so that their walls count as enclosed.
        var metal = PlanRegion.UnionOfCoverage(plateaus.Select(p => p.Region));
        plateaus = plateaus.AddRange(metal.Filled().Difference(metal).Pieces().Select(hole => new Plateau(hole, background)));
        this.plateaus = plateaus;
        Heights = new(plateaus, background, lattice);

        var left = new Dictionary<(Vec2, Vec2), int>();
        var order = new List<(Vec2 From, Vec2 To, int Left)>();
        for (var i = 0; i < plateaus.Length; i++)
        {
            foreach (var ring in plateaus[i].Region.Rings())
            {
                for (var k = 0; k < ring.Length; k++)
                {
                    var edge = (ring[k], ring[(k + 1) % ring.Length]);
                    left[edge] = i;
                    order.Add((edge.Item1, edge.Item2, i));
                }
            }
        }

        borders = [.. order.Select(e => (e.From, e.To, e.Left, left.TryGetValue((e.To, e.From), out var right) ? right : -1))];
        wayOut = WayOut();
    }

    /// <summary>Heights at the vertices.</summary>
    public GroundHeights Heights { get; }

    /// <summary>Whether a plateau is ground shut in by ground at least as high as all of it.</summary>
    public bool IsEnclosed(int plateau) =>
        wayOut[plateau] >= plateaus[plateau].Region.Rings().SelectMany(r => r).Max(v => Heights.At(plateau, v));

    /// <summary>All edges at which the terrain falls off, in a fixed order.</summary>
    public ImmutableArray<FallEdge> Falls() =>
    [
        .. borders.SelectMany(b => Falls(b.From, b.To, b.Left, b.Right)),
        .. borders.Where(b => b.Right < 0).SelectMany(b => Falls(b.To, b.From, b.Right, b.Left)),
    ];

    /// <summary>What falls off to the right of one border: the left side where it steps down, and the right one where it is steep itself.</summary>
    private IEnumerable<FallEdge> Falls(Vec2 from, Vec2 to, int left, int right)
    {
        var (a, b) = (Heights.At(left, from), Heights.At(left, to));
        var (c, d) = (Heights.At(right, from), Heights.At(right, to));
        var outward = -(to - from).Normalized().Left;
        var enclosed = right >= 0 && wayOut[right] >= Math.Max(Math.Max(a, b), Math.Max(c, d));
        var slope = enclosed ? enclosedSlope : openSlope;
        // What rises steeper than its draft behind an edge has its own ramps, which lie above those of the edge.
        if ((c < a || d < b) && Across(a, b) is { } across && Rise(left, -outward) <= across) yield return new(from, to, a, b, enclosed);
        if ((c < a && d < b) || Across(c, d) is not { } own || Rise(right, outward) >= -own) yield break;
        if (a < c || b < d || Rise(left, -outward) <= own) yield return new(from, to, c, d, enclosed);

        // On a line that rises by m along itself, the steepest plane allowed falls by √(k² − m²) across it.
        double? Across(double start, double end)
        {
            var along = (end - start) / Vec2.Distance(from, to);
            return Math.Abs(along) < slope ? Math.Sqrt((slope * slope) - (along * along)) : null;
        }

        double Rise(int plateau, Vec2 way) => plateau < 0 ? 0 : Vec2.Dot(plateaus[plateau].Surface.Gradient, way);
    }

    /// <summary>For every plateau the least height that a path from it to the outside has to get over, its own included.</summary>
    private double[] WayOut()
    {
        var best = Enumerable.Repeat(double.PositiveInfinity, plateaus.Length).ToArray();
        var gates = new List<(int Plateau, double Height)>[plateaus.Length];
        for (var i = 0; i < gates.Length; i++) gates[i] = [];
        var queue = new PriorityQueue<int, double>();
        foreach (var (from, to, left, right) in borders)
        {
            var gate = Math.Min(
                Math.Max(Heights.At(left, from), Heights.At(right, from)), Math.Max(Heights.At(left, to), Heights.At(right, to)));
            if (right >= 0) gates[left].Add((right, gate));
            else if (gate < best[left]) queue.Enqueue(left, best[left] = gate);
        }

        while (queue.TryDequeue(out var at, out var height))
        {
            if (height > best[at]) continue;
            foreach (var (next, gate) in gates[at])
                if (Math.Max(height, gate) < best[next]) queue.Enqueue(next, best[next] = Math.Max(height, gate));
        }

        return best;
    }
}
