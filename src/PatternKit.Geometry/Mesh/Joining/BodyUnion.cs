using System.Collections.Immutable;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Joining;

/// <summary>
/// What closed shells that run through each other, or through themselves, hold together. Facets are cut where others meet them, exactly; of the pieces those stay that have metal on
/// one side alone, by the winding number (Zhou, Grinspun, Zorin and Jacobson 2016). Corners that are made are rounded to doubles at the end.
/// </summary>
internal static class BodyUnion
{
    /// <summary>Where a facet is met by more others the mesh is left as it is: the time to cut it grows with the square, to some ten seconds here.</summary>
    private const int MostOnFacet = 1000;

    // Doubles of no less than a power of two below the largest coordinate keep all their digits on a grid with so many more.
    private const int DoubleDigits = 53;

    // Winding numbers are asked so far off a piece, over its inscribed circle's radius.
    private const double Off = 1e-3;

    /// <summary>The union; null where there is nothing to join, or too much.</summary>
    /// <param name="mesh">Closed, each shell facing outward, voids inward; without facets that have no area.</param>
    /// <param name="gridDigits">Corners go on a grid with so many binary digits for the largest coordinate; new ones too if it is coarser than doubles are.</param>
    /// <returns>Its mesh, and how many shells were met by others or by themselves.</returns>
    public static (TriangleMesh Mesh, int Shells)? Of(TriangleMesh mesh, int gridDigits)
    {
        var largest = mesh.Vertices.Max(v => Math.Max(Math.Abs(v.X), Math.Max(Math.Abs(v.Y), Math.Abs(v.Z))));
        if (!(largest > 0) || !double.IsFinite(largest)) return null;
        var digits = gridDigits - Math.ILogB(largest);
        var table = new PositionTable(mesh.Vertices.Length);
        int[] corner = [.. mesh.Vertices.Select(v => table.Number(OnGrid(v)))];
        ImmutableArray<Vec3> grid = table.Drained();
        // What has no area on the grid bounds nothing there.
        int[] own = [.. Enumerable.Range(0, mesh.Facets.Length).Where(f => HasArea(mesh.Facets[f]))];
        ImmutableArray<Facet> facets = [.. own.Select(f => mesh.Facets[f]).Select(f => new Facet(corner[f.A], corner[f.B], corner[f.C]))];

        var pairs = Meeting(grid, facets);
        if (pairs.Count == 0 || pairs.SelectMany(p => new[] { p.First, p.Second }).CountBy(f => f).Max(f => f.Value) > MostOnFacet) return null;
        var points = new List<ExactPoint?>(new ExactPoint?[grid.Length]);
        var numbers = new Dictionary<ExactPoint, int>();
        var cut = new Dictionary<int, (ExactFacet Facet, CutFacet Cut)>();
        foreach (var f in pairs.SelectMany(p => new[] { p.First, p.Second }).Distinct().Order())
        {
            var facet = new ExactFacet(Corner(facets[f].A), Corner(facets[f].B), Corner(facets[f].C));
            cut.Add(f, (facet, new(facet, Number)));
        }

        foreach (var (first, second) in pairs)
        {
            var (a, b) = (cut[first], cut[second]);
            foreach (var line in FacetMeeting.On(a.Facet, b.Facet)) a.Cut.Add(line);
            foreach (var line in FacetMeeting.On(b.Facet, a.Facet)) b.Cut.Add(line);
        }

        var pieces = Once(Enumerable.Range(0, facets.Length).SelectMany(f => (cut.TryGetValue(f, out var c) ? c.Cut.Pieces() : [facets[f]]).Select(p => (p, f))));
        ImmutableArray<Vec3> at = [.. points.Select((p, v) => v < grid.Length ? grid[v] : p!.Near)];
        var kept = Outer(pieces, at, new(grid, facets));
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        var shell = FacetPatches.Find(mesh, edges).PatchOf;
        return (CornerWeld.WithoutIdle(new([.. at.Select(p => Back(gridDigits < DoubleDigits ? new(Math.Round(p.X), Math.Round(p.Y), Math.Round(p.Z)) : p))], kept)).Mesh, pairs.SelectMany(p => new[] { shell[own[p.First]], shell[own[p.Second]] }).Distinct().Count());

        bool HasArea(Facet f) => !ExactPredicates.AreCollinear(grid[corner[f.A]], grid[corner[f.B]], grid[corner[f.C]]);
        Vec3 OnGrid(Vec3 v) => new(Step(v.X), Step(v.Y), Step(v.Z));
        double Step(double x) => Math.Round(Math.ScaleB(x, digits)) + 0.0;
        Vec3 Back(Vec3 p) => new(Math.ScaleB(p.X, -digits), Math.ScaleB(p.Y, -digits), Math.ScaleB(p.Z, -digits));

        ExactPoint Corner(int v)
        {
            if (points[v] is { } known) return known;
            var p = ExactPoint.At(grid[v]);
            points[v] = p;
            numbers.Add(p, v);
            return p;
        }

        int Number(ExactPoint p)
        {
            if (numbers.TryGetValue(p, out var known)) return known;
            points.Add(p);
            numbers.Add(p, points.Count - 1);
            return points.Count - 1;
        }
    }

    /// <summary>The facets that meet other than in a corner or side that both have.</summary>
    private static List<(int First, int Second)> Meeting(ImmutableArray<Vec3> at, ImmutableArray<Facet> facets)
    {
        var corners = facets.Select(f => new Corners(at[f.A], at[f.B], at[f.C], f.A, f.B, f.C)).ToArray();
        Box3[] boxes = [.. corners.Select(c => Box3.Empty.With(c.A).With(c.B).With(c.C))];
        var pairs = new List<(int, int)>();
        new FacetTree(boxes, CornerWeld.Own(facets.Length)).MeetingPairs((f, g) =>
        {
            if (FacetCrossing.Cross(corners[f], corners[g])) pairs.Add((f, g));
            return pairs.Count < MeshInspection.MostCrossings;
        });
        pairs.Sort();
        return pairs.Count < MeshInspection.MostCrossings ? pairs : [];
    }

    /// <summary>Of pieces that lie on each other, the first, with the facets that all of them are of.</summary>
    private static (Facet Piece, List<int> Of)[] Once(IEnumerable<(Facet Piece, int Of)> pieces)
    {
        var once = new Dictionary<(int, int, int), (Facet Piece, List<int> Of)>();
        foreach (var (f, of) in pieces)
        {
            var key = FacetSieve.Key(f);
            if (once.TryGetValue(key, out var known)) known.Of.Add(of);
            else once.Add(key, (f, [of]));
        }

        return [.. once.Values];
    }

    /// <summary>The pieces that have metal on one side alone, turned outward. All of a patch that no other meets are alike.</summary>
    private static ImmutableArray<Facet> Outer((Facet Piece, List<int> Of)[] once, ImmutableArray<Vec3> at, TriangleMesh body)
    {
        var pieces = new TriangleMesh(at, [.. once.Select(p => p.Piece)]);
        var edges = new MeshEdges(pieces.Facets, CornerWeld.Own(at.Length));
        var patches = new DisjointSets(pieces.Facets.Length);
        foreach (var group in edges.Groups())
            if (group.Count == 2 && edges.RunsUp(group[0]) != edges.RunsUp(group[1])) patches.Join(group[0] / 3, group[1] / 3);
        var winding = new WindingNumber(body);
        var kept = ImmutableArray.CreateBuilder<Facet>();
        foreach (var patch in Enumerable.Range(0, pieces.Facets.Length).GroupBy(patches.Find))
        {
            var (f, radius) = patch.Select(f => (f, Radius: Inscribed(pieces, pieces.Facets[f]))).MaxBy(p => (p.Radius, -p.f));
            var facet = pieces.Facets[f];
            var middle = (1.0 / 3) * (at[facet.A] + at[facet.B] + at[facet.C]);
            var normal = pieces.AreaNormal(facet);
            var unit = 1 / normal.Length * normal;
            var (ahead, back) = Free(body, once[f].Of, middle, unit, Off * radius);
            var (before, behind) = (winding.At(middle + (ahead * unit)) > 0.5, winding.At(middle - (back * unit)) > 0.5);
            if (before == behind) continue;
            kept.AddRange(patch.Select(p => pieces.Facets[p]).Select(p => behind ? p : new Facet(p.A, p.C, p.B)));
        }

        return kept.ToImmutable();
    }

    /// <summary>How far a point off a piece may be before and behind it: no more than asked, and half way to the next facet at most, since faces that should lie on each other may be a hair apart.</summary>
    private static (double Ahead, double Back) Free(TriangleMesh body, List<int> own, Vec3 middle, Vec3 unit, double most)
    {
        var (ahead, back) = (most, most);
        for (var g = 0; g < body.Facets.Length; g++)
        {
            var facet = body.Facets[g];
            var (a, b, c) = (body.Vertices[facet.A] - middle, body.Vertices[facet.B] - middle, body.Vertices[facet.C] - middle);
            var normal = Vec3.Cross(b - a, c - a);
            var lean = Vec3.Dot(normal, unit);
            if (lean == 0 || own.Contains(g)) continue;
            var way = Vec3.Dot(normal, a) / lean;
            if (Math.Abs(way) >= 2 * Math.Max(ahead, back)) continue;
            var p = way * unit;
            double Beside(Vec3 u, Vec3 v) => Vec3.Dot(Vec3.Cross(u - p, v - p), normal);
            var slack = -1e-9 * Vec3.Dot(normal, normal);
            if (Beside(a, b) < slack || Beside(b, c) < slack || Beside(c, a) < slack) continue;
            if (way > 0) ahead = Math.Min(ahead, way / 2);
            else back = Math.Min(back, -way / 2);
        }

        return (ahead, back);
    }

    private static double Inscribed(TriangleMesh mesh, Facet f)
    {
        var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
        return mesh.AreaNormal(f).Length / ((b - a).Length + (c - b).Length + (a - c).Length);
    }
}
