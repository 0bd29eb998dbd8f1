using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>The shells of a mesh: sets of facets joined by edges; with volume and box, in order of their first facet.</summary>
internal sealed class MeshShells
{
    private readonly TriangleMesh _mesh;
    private readonly List<Shell> _shells;

    private MeshShells(TriangleMesh mesh, List<Shell> shells) => (_mesh, _shells) = (mesh, shells);

    private sealed record Shell(List<int> Facets, bool IsClosed, double Volume, Box3 Box);

    public int Count => _shells.Count;

    public int NegativeCount => _shells.Count(s => s.IsClosed && s.Volume < 0);

    public IEnumerable<Box3> PositiveBoxes => _shells.Where(s => s.IsClosed && s.Volume > 0).Select(s => s.Box);

    /// <summary>Finds the shells; one that holds an open facet is not closed.</summary>
    public static MeshShells Find(TriangleMesh mesh, MeshEdges edges, bool[] openFacets)
    {
        var sets = new DisjointSets(mesh.Facets.Length);
        foreach (var group in edges.Groups())
            for (var i = 1; i < group.Count; i++) sets.Join(group[0] / 3, group[i] / 3);
        var members = new SortedDictionary<int, List<int>>();
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var facet = mesh.Facets[f];
            if (facet.A == facet.B || facet.B == facet.C || facet.C == facet.A) continue;
            var root = sets.Find(f);
            if (!members.TryGetValue(root, out var list)) members.Add(root, list = []);
            list.Add(f);
        }

        return new(mesh, [.. members.Values.Select(m => Measure(mesh, m, !m.Exists(f => openFacets[f])))]);
    }

    /// <summary>
    /// Adds the shells that face the wrong way. Where nothing crosses, a positive shell must lie outside all metal
    /// (winding number of the others 0) and a negative one, a void, inside it (winding number 1).
    /// </summary>
    public void Judge(int[] position, bool crossing, DefectList defects)
    {
        var taken = TakenPositions(position);
        foreach (var shell in _shells)
        {
            if (!shell.IsClosed) continue;
            var right = shell.Volume > 0;
            if (!crossing && _shells.Count > 1)
            {
                var around = Math.Round(WindingOfOthers(shell, FreeVertex(shell, taken)));
                right = shell.Volume > 0 ? around == 0 : shell.Volume < 0 && around == 1;
            }

            if (!right) defects.Add(MeshDefectKind.MisorientedShell, _mesh.Vertices[_mesh.Facets[shell.Facets[0]].A], shell.Facets[0]);
        }
    }

    private static Shell Measure(TriangleMesh mesh, List<int> facets, bool isClosed)
    {
        var box = Box3.Empty;
        var o = mesh.Vertices[mesh.Facets[facets[0]].A];
        double six = 0;
        foreach (var f in facets)
        {
            var facet = mesh.Facets[f];
            var (a, b, c) = (mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]);
            box = box.With(a).With(b).With(c);
            six += Vec3.Dot(a - o, Vec3.Cross(b - o, c - o));
        }

        return new(facets, isClosed, six / 6, box);
    }

    // Positions that several vertices have: there shells may touch, so they say nothing about inside and outside.
    private static HashSet<int> TakenPositions(int[] position)
    {
        var taken = new HashSet<int>();
        for (var v = 0; v < position.Length; v++)
            if (position[v] != v) taken.Add(position[v]);
        return taken;
    }

    private Vec3 FreeVertex(Shell shell, HashSet<int> taken)
    {
        foreach (var f in shell.Facets)
        {
            var facet = _mesh.Facets[f];
            foreach (var v in (ReadOnlySpan<int>)[facet.A, facet.B, facet.C])
                if (taken.Count == 0 || !taken.Contains(v)) return _mesh.Vertices[v];
        }

        return _mesh.Vertices[_mesh.Facets[shell.Facets[0]].A];
    }

    // Sum of solid angles over 4π (Van Oosterom and Strackee 1983). A closed shell adds nothing outside its box.
    private double WindingOfOthers(Shell shell, Vec3 p)
    {
        double angle = 0;
        foreach (var other in _shells)
        {
            if (ReferenceEquals(other, shell) || !other.IsClosed || !Holds(other.Box, p)) continue;
            foreach (var f in other.Facets)
            {
                var facet = _mesh.Facets[f];
                var (a, b, c) = (_mesh.Vertices[facet.A] - p, _mesh.Vertices[facet.B] - p, _mesh.Vertices[facet.C] - p);
                var (la, lb, lc) = (a.Length, b.Length, c.Length);
                var det = Vec3.Dot(a, Vec3.Cross(b, c));
                var div = (la * lb * lc) + (Vec3.Dot(a, b) * lc) + (Vec3.Dot(b, c) * la) + (Vec3.Dot(c, a) * lb);
                angle += 2 * Math.Atan2(det, div);
            }
        }

        return angle / (4 * Math.PI);
    }

    private static bool Holds(Box3 box, Vec3 p) =>
        p.X >= box.Low.X && p.X <= box.High.X && p.Y >= box.Low.Y && p.Y <= box.High.Y && p.Z >= box.Low.Z && p.Z <= box.High.Z;
}
