using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// Tells whether a mesh bounds a body. Every judgement is combinatorial or rests on exact signs
/// (<see cref="ExactPredicates"/>), so there is no tolerance; only volumes are rounded sums.
/// About n log n in the number of facets.
/// </summary>
public static class MeshInspection
{
    /// <summary>Crossings are counted up to this number, so that a hopeless mesh does not take for ever.</summary>
    public const int MostCrossings = 100_000;

    /// <summary>Inspects the mesh; never throws for a bad one.</summary>
    public static MeshReport Inspect(TriangleMesh mesh)
    {
        var defects = new DefectList();
        for (var v = 0; v < mesh.Vertices.Length; v++)
            if (!mesh.Vertices[v].IsFinite) defects.Add(MeshDefectKind.NonFiniteVertex, mesh.Vertices[v], v);
        var finite = defects.Count == 0;

        var own = new int[mesh.Vertices.Length];
        for (var v = 0; v < own.Length; v++) own[v] = v;
        var edges = new MeshEdges(mesh.Facets, own);
        var openFacets = EdgeDefects(mesh, edges, defects);
        VertexDefects(mesh, edges, defects);

        var position = CornerWeld.FirstAtPosition(mesh, out var duplicates);
        var degenerate = DegenerateFacets(mesh, finite, defects);
        DuplicateFacets(mesh, position, degenerate, defects);
        if (duplicates > 0) CoincidentEdges(mesh, position, defects);
        if (finite) Crossings(mesh, position, degenerate, defects);

        var shells = MeshShells.Find(mesh, edges, openFacets);
        if (finite) shells.Judge(position, defects.Has(MeshDefectKind.CrossingPair), defects);
        return new MeshReport
        {
            Vertices = mesh.Vertices.Length,
            Facets = mesh.Facets.Length,
            Shells = shells.Count,
            NegativeShells = shells.NegativeCount,
            Pieces = [.. shells.PositiveBoxes],
            DuplicateVertices = duplicates,
            Volume_mm3 = mesh.Volume(),
            Defects = defects.ToImmutable(),
        };
    }

    private static bool[] EdgeDefects(TriangleMesh mesh, MeshEdges edges, DefectList defects)
    {
        var open = new bool[mesh.Facets.Length];
        foreach (var group in edges.Groups())
        {
            MeshDefectKind kind;
            if (group.Count == 1) kind = MeshDefectKind.BoundaryEdge;
            else if (group.Count > 2) kind = MeshDefectKind.OverusedEdge;
            else if (edges.RunsUp(group[0]) == edges.RunsUp(group[1])) kind = MeshDefectKind.InconsistentEdge;
            else continue;
            foreach (var side in group) open[side / 3] = true;
            var first = group.Min();
            defects.Add(kind, Middle(mesh, edges.Start(first), edges.End(first)), first / 3);
        }

        return open;
    }

    private static void VertexDefects(TriangleMesh mesh, MeshEdges edges, DefectList defects)
    {
        const int Unseen = -1;
        const int Counted = -2;
        var used = new bool[mesh.Vertices.Length];
        var fan = new int[mesh.Vertices.Length];
        Array.Fill(fan, Unseen);
        var fans = edges.Fans();
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var facet = mesh.Facets[f];
            (used[facet.A], used[facet.B], used[facet.C]) = (true, true, true);
            if (NamesTwice(facet)) continue;
            for (var k = 0; k < 3; k++)
            {
                var v = edges.Start((3 * f) + k);
                var root = fans.Find((3 * f) + k);
                if (fan[v] == Unseen) fan[v] = root;
                else if (fan[v] != root && fan[v] != Counted)
                {
                    fan[v] = Counted;
                    defects.Add(MeshDefectKind.PinchedVertex, mesh.Vertices[v], v);
                }
            }
        }

        for (var v = 0; v < used.Length; v++)
            if (!used[v]) defects.Add(MeshDefectKind.UnusedVertex, mesh.Vertices[v], v);
    }

    private static bool[] DegenerateFacets(TriangleMesh mesh, bool finite, DefectList defects)
    {
        var degenerate = new bool[mesh.Facets.Length];
        for (var f = 0; f < degenerate.Length; f++)
        {
            var facet = mesh.Facets[f];
            var (a, b, c) = (mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]);
            degenerate[f] = NamesTwice(facet) || (finite && ExactPredicates.AreCollinear(a, b, c));
            if (degenerate[f]) defects.Add(MeshDefectKind.DegenerateFacet, a, f);
        }

        return degenerate;
    }

    private static void DuplicateFacets(TriangleMesh mesh, int[] position, bool[] degenerate, DefectList defects)
    {
        var seen = new HashSet<(int, int, int)>(mesh.Facets.Length);
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            if (degenerate[f]) continue;
            var facet = mesh.Facets[f];
            var (a, b, c) = (position[facet.A], position[facet.B], position[facet.C]);
            if (a > b) (a, b) = (b, a);
            if (b > c) (b, c) = (c, b);
            if (a > b) (a, b) = (b, a);
            if (!seen.Add((a, b, c))) defects.Add(MeshDefectKind.DuplicateFacet, mesh.Vertices[facet.A], f);
        }
    }

    private static void CoincidentEdges(TriangleMesh mesh, int[] position, DefectList defects)
    {
        var edges = new MeshEdges(mesh.Facets, position);
        foreach (var group in edges.Groups())
        {
            if (group.Count <= 2) continue;
            var (low, high) = Ends(group[0]);
            if (group.All(side => Ends(side) == (low, high))) continue;
            var first = group.Min();
            defects.Add(MeshDefectKind.CoincidentEdge, Middle(mesh, edges.Start(first), edges.End(first)), first / 3);
        }

        (int, int) Ends(int side)
        {
            var (s, e) = (edges.Start(side), edges.End(side));
            return (Math.Min(s, e), Math.Max(s, e));
        }
    }

    private static void Crossings(TriangleMesh mesh, int[] position, bool[] degenerate, DefectList defects)
    {
        var boxes = new Box3[mesh.Facets.Length];
        var corners = new Corners[mesh.Facets.Length];
        var items = new List<int>(mesh.Facets.Length);
        for (var f = 0; f < boxes.Length; f++)
        {
            if (degenerate[f]) continue;
            var facet = mesh.Facets[f];
            var (a, b, c) = (mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]);
            boxes[f] = Box3.Empty.With(a).With(b).With(c);
            corners[f] = new(a, b, c, position[facet.A], position[facet.B], position[facet.C]);
            items.Add(f);
        }

        var found = 0;
        var first = (int.MaxValue, int.MaxValue);
        new FacetTree(boxes, [.. items]).MeetingPairs((f, g) =>
        {
            if (!FacetCrossing.Cross(corners[f], corners[g])) return true;
            if ((f, g).CompareTo(first) < 0) first = (f, g);
            return ++found < MostCrossings;
        });
        if (found == 0) return;
        var (p, q) = (boxes[first.Item1], boxes[first.Item2]);
        var low = new Vec3(Math.Max(p.Low.X, q.Low.X), Math.Max(p.Low.Y, q.Low.Y), Math.Max(p.Low.Z, q.Low.Z));
        var high = new Vec3(Math.Min(p.High.X, q.High.X), Math.Min(p.High.Y, q.High.Y), Math.Min(p.High.Z, q.High.Z));
        defects.Add(MeshDefectKind.CrossingPair, 0.5 * (low + high), first.Item1, found);
    }

    private static bool NamesTwice(Facet f) => f.A == f.B || f.B == f.C || f.C == f.A;

    private static Vec3 Middle(TriangleMesh mesh, int a, int b) => 0.5 * (mesh.Vertices[a] + mesh.Vertices[b]);
}
