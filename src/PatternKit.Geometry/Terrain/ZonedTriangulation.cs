using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Terrain;

/// <summary>A closed ring and the zone bits that flip when it is crossed; 0 for a mere breakline.</summary>
/// <param name="Points">Vertices, first not repeated.</param>
/// <param name="Zones">Bits.</param>
/// <param name="Height">Height of its vertices where that is known exactly.</param>
/// <param name="IsOpen">Whether it is a breakline that does not return to its start.</param>
/// <param name="Ground">What its vertices lie on, where that is no one height.</param>
/// <param name="IsKept">Whether facets keep to it for good.</param>
internal sealed record ZonedRing(ImmutableArray<Vec2> Points, int Zones, double? Height = null, bool IsOpen = false, ITerrainField? Ground = null, bool IsKept = false)
{
    /// <summary>The height of a vertex, where that is known.</summary>
    public double? HeightAt(Vec2 p, Lattice lattice) => Ground is null ? Height : lattice.Snap(Ground.At(p).Height);

    /// <summary>Whether heights of vertices are known.</summary>
    public bool HasHeights => Height is not null || Ground is not null;
}

/// <summary>
/// Rings of the plan, snap-rounded to the lattice, as constraints of a Delaunay
/// triangulation whose triangles know inside which rings they lie, by parity. Crossing and coinciding rings are welcome.
/// </summary>
internal sealed class ZonedTriangulation
{
    /// <summary>Lines are merged and noded so often at most, the last time noded only.</summary>
    private const int MostMerging = 4;

    private readonly Lattice lattice;
    private readonly Dictionary<(int, int), int> flips = [];
    private readonly List<int> zones = [];
    private readonly Dictionary<int, (double Height, int Zones)> fixedHeights = [];

    /// <summary>Triangulates the rings.</summary>
    /// <param name="lattice">All points are on it.</param>
    /// <param name="rings">The rings.</param>
    /// <param name="apart">
    /// Points closer than this become one, those of zone borders first: the direction of a shorter edge would be a matter of
    /// rounding. 0 keeps all.
    /// </param>
    /// <param name="areNoded">The rings meet in corners only, and are to stay as they are; should they cross after all, they are noded.</param>
    public ZonedTriangulation(Lattice lattice, ImmutableArray<ZonedRing> rings, double apart = 0, bool areNoded = false)
    {
        this.lattice = lattice;
        Line[] lines = [.. rings.Select(r => new Line([.. (r.IsOpen ? r.Points : r.Points.Append(r.Points[0])).Select(Index)], r))];
        var triangles = areNoded ? Triangulated(lines) : null;
        if (triangles is null)
        {
            lines = Noded(lines);
            if (apart > 0) lines = [.. Merged(lines, apart)];
            triangles = Triangulated(lines);
        }

        // Merging hardly ever makes lines meet anew, and noding takes longer than seeing whether it did. What noding adds may be too close again.
        for (var round = 0; round < MostMerging && !areNoded && apart > 0 && (triangles is null || !IsNoded(triangles)); round++)
        {
            lines = Noded(lines);
            if (round + 1 < MostMerging) lines = [.. Merged(lines, apart)];
            triangles = Triangulated(lines);
        }

        Triangles = triangles ?? throw new InvalidOperationException("Snap-rounded rings cross.");
        Flood();
        Triangles.Changed = t =>
        {
            while (zones.Count <= t) zones.Add(0);
        };
    }

    /// <summary>A region in zone 1, with lines that run through it.</summary>
    public static ZonedTriangulation Of(PlanRegion region, IEnumerable<ImmutableArray<Vec2>> lines, Lattice lattice) =>
        new(lattice, [.. region.Rings().Select(r => new ZonedRing(r, 1)), .. lines.Select(l => new ZonedRing(l, 0, null, IsOpen: true))]);

    /// <summary>The triangulation.</summary>
    public PlanTriangulation Triangles { get; }

    /// <summary>Zone bits of a triangle.</summary>
    public int Zone(int t) => zones[t];

    /// <summary>Sets the zone bits of a triangle made by a later insertion.</summary>
    public void SetZone(int t, int zone)
    {
        while (zones.Count <= t) zones.Add(0);
        zones[t] = zone;
    }

    /// <summary>Where corner i of a triangle lies.</summary>
    public Vec2 Corner(int t, int i) => Position(Triangles.Origin((3 * t) + i));

    /// <summary>Where a point lies.</summary>
    public Vec2 Position(int v) => Position(Triangles.Point(v));

    /// <summary>The sides of rings that facets keep to, by their ends, the lower number first.</summary>
    public HashSet<(int, int)> KeptSides { get; } = [];

    /// <summary>The exact height that a ring gave its vertex, if any.</summary>
    public bool TryHeight(int v, out double height)
    {
        var found = fixedHeights.TryGetValue(v, out var h);
        height = h.Height;
        return found;
    }

    /// <summary>Whether a point belongs to a ring that bounds a zone and has a known height.</summary>
    public bool IsOnZoneBorder(int v) => fixedHeights.TryGetValue(v, out var h) && h.Zones != 0;

    /// <summary>The zone bits that flip across a half-edge; 0 for breaklines and free edges.</summary>
    public int Crossing(int h) => flips.GetValueOrDefault(Key(Triangles.Origin(h), Triangles.Origin(PlanTriangulation.Next(h))));

    /// <summary>A ring, or a part of one, in lattice points.</summary>
    private sealed record Line(LatticePoint[] Points, ZonedRing Ring);

    private static Line[] Noded(IEnumerable<Line> lines)
    {
        Line[] all = [.. lines];
        return [.. all.Zip(SnapRounding.Noded([.. all.Select(l => l.Points)]), (line, points) => line with { Points = points })];
    }

    /// <summary>The constrained triangulation of lines; null when they cross.</summary>
    private PlanTriangulation? Triangulated(Line[] noded)
    {
        flips.Clear();
        fixedHeights.Clear();
        KeptSides.Clear();
        int lowX = int.MaxValue, lowY = int.MaxValue, highX = int.MinValue, highY = int.MinValue;
        foreach (var p in noded.SelectMany(l => l.Points))
        {
            (lowX, highX) = (Math.Min(lowX, p.X), Math.Max(highX, p.X));
            (lowY, highY) = (Math.Min(lowY, p.Y), Math.Max(highY, p.Y));
        }

        if (noded.Length == 0) (lowX, lowY, highX, highY) = (0, 0, 1, 1);
        var margin = (Math.Max(highX - lowX, highY - lowY) / 8) + 64;
        var triangles = new PlanTriangulation(new(lowX - margin, lowY - margin), new(highX + margin, highY + margin));

        var segments = new List<(int A, int B)>();
        foreach (var (points, ring) in noded)
        {
            var previous = -1;
            foreach (var p in points)
            {
                var v = triangles.Insert(p);
                if (ring.HasHeights) NoteHeight(v, ring.HeightAt(Position(p), lattice)!.Value, ring.Zones);
                if (previous >= 0 && previous != v)
                {
                    var key = Key(previous, v);
                    if (!flips.TryGetValue(key, out var old)) segments.Add(key);
                    flips[key] = old ^ ring.Zones;
                    if (ring.IsKept) KeptSides.Add(key);
                }

                previous = v;
            }
        }

        return segments.All(s => triangles.TryConstrain(s.A, s.B)) ? triangles : null;
    }

    /// <summary>Whether every line is an edge, and no other point so close to it that snap rounding would have bent it there.</summary>
    private bool IsNoded(PlanTriangulation triangles)
    {
        foreach (var (a, b) in flips.Keys)
        {
            var h = triangles.Find(a, b);
            if (h < 0 || IsNear(h) || IsNear(triangles.Twin(h))) return false;
        }

        return true;

        // From the middle of a lattice square to its corner is the root of a half.
        bool IsNear(int h)
        {
            if (h < 0) return false;
            var (from, to) = (triangles.Point(triangles.Origin(h)), triangles.Point(triangles.Origin(PlanTriangulation.Next(h))));
            var apex = triangles.Point(triangles.Origin(PlanTriangulation.Previous(h)));
            double x = to.X - from.X, y = to.Y - from.Y, u = apex.X - from.X, v = apex.Y - from.Y;
            var (along, off, length) = ((x * u) + (y * v), (x * v) - (y * u), (x * x) + (y * y));
            return off * off <= length / 2 && along > 0 && along < length;
        }
    }

    private IEnumerable<Line> Merged(Line[] noded, double apart)
    {
        var cluster = new PointCluster(apart);
        foreach (var line in noded.OrderBy(l => l.Ring.Zones == 0).ThenBy(l => !l.Ring.HasHeights))
        {
            var kept = new List<LatticePoint>();
            foreach (var c in line.Points)
            {
                var p = Index(cluster.Nearest(Position(c)));
                if (kept.Count == 0 || kept[^1] != p) kept.Add(p);
            }

            if (kept.Count >= 2) yield return line with { Points = [.. kept] };
        }
    }

    private static (int, int) Key(int a, int b) => a < b ? (a, b) : (b, a);

    private LatticePoint Index(Vec2 p) => new(lattice.Index(p.X), lattice.Index(p.Y));

    private Vec2 Position(LatticePoint p) => new(p.X * lattice.Step, p.Y * lattice.Step);

    /// <summary>Where rings of different heights meet after rounding, a ring that bounds a zone decides, then the higher.</summary>
    private void NoteHeight(int v, double height, int zone)
    {
        if (!fixedHeights.TryGetValue(v, out var old)
            || (zone != 0 && old.Zones == 0)
            || ((zone != 0) == (old.Zones != 0) && height > old.Height))
            fixedHeights[v] = (height, zone);
    }

    private void Flood()
    {
        var count = Triangles.TriangleCount;
        zones.AddRange(Enumerable.Repeat(-1, count));
        // Triangle 0's first corner is a corner of the rectangle in some triangle: start where the rectangle is.
        var start = Triangles.AnyFrom(0) / 3;
        zones[start] = 0;
        var queue = new Queue<int>([start]);
        while (queue.TryDequeue(out var t))
        {
            for (var h = 3 * t; h < (3 * t) + 3; h++)
            {
                var g = Triangles.Twin(h);
                if (g < 0 || zones[g / 3] >= 0) continue;
                zones[g / 3] = zones[t] ^ Crossing(h);
                queue.Enqueue(g / 3);
            }
        }
    }
}
