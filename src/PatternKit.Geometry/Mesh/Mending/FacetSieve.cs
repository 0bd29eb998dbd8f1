namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>Drops facets that say nothing or say it twice. Vertices stay.</summary>
internal static class FacetSieve
{
    public static (TriangleMesh Mesh, int Dropped) NonFinite(TriangleMesh mesh) =>
        Without(mesh, f => !(mesh.Vertices[f.A].IsFinite && mesh.Vertices[f.B].IsFinite && mesh.Vertices[f.C].IsFinite));

    public static (TriangleMesh Mesh, int Dropped) Degenerate(TriangleMesh mesh) => Without(mesh, f => HasNoArea(mesh, f));

    /// <summary>A corner named twice, or three on one line, exactly.</summary>
    public static bool HasNoArea(TriangleMesh mesh, Facet f) =>
        f.A == f.B || f.B == f.C || f.C == f.A || ExactPredicates.AreCollinear(mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);

    /// <summary>Drops facets on the three vertices of an earlier one, either way round.</summary>
    public static (TriangleMesh Mesh, int Dropped) Duplicate(TriangleMesh mesh)
    {
        var seen = new HashSet<(int, int, int)>(mesh.Facets.Length);
        return Without(mesh, f => !seen.Add(Key(f)));
    }

    /// <summary>
    /// Drops pairs of facets back to back that form a wall between two bodies: a patch of such pairs at whose every border edge two more
    /// facets meet, one of each body. What is left is one body.
    /// </summary>
    public static (TriangleMesh Mesh, int Dropped) InnerWalls(TriangleMesh mesh)
    {
        var partner = BackToBack(mesh);
        if (Array.TrueForAll(partner, p => p < 0)) return (mesh, 0);
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        var patches = new DisjointSets(mesh.Facets.Length);
        var borders = new List<(int Facet, bool IsWall)>();
        for (var f = 0; f < partner.Length; f++)
            if (partner[f] >= 0) patches.Join(f, partner[f]);
        foreach (var group in edges.Groups())
        {
            if (!HasPaired(group)) continue;
            var paired = group.Where(s => partner[s / 3] >= 0).Select(s => s / 3).ToArray();
            var within = paired.Length == 4 && group.Count == 4;
            foreach (var f in paired)
            {
                if (within) patches.Join(paired[0], f);
                else borders.Add((f, paired.Length == 2 && group.Count == 4));
            }
        }

        var broken = borders.Where(b => !b.IsWall).Select(b => patches.Find(b.Facet)).ToHashSet();
        var bordered = borders.Select(b => patches.Find(b.Facet)).ToHashSet();
        var at = 0;
        return Without(mesh, _ =>
        {
            var f = at++;
            return partner[f] >= 0 && bordered.Contains(patches.Find(f)) && !broken.Contains(patches.Find(f));
        });

        bool HasPaired(ArraySegment<int> sides)
        {
            foreach (var side in sides)
                if (partner[side / 3] >= 0) return true;
            return false;
        }
    }

    // For each facet the one other facet on its vertices, where that runs the other way round; else −1.
    private static int[] BackToBack(TriangleMesh mesh)
    {
        var groups = new Dictionary<(int, int, int), (int First, int Second, int Count)>(mesh.Facets.Length);
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var key = Key(mesh.Facets[f]);
            groups[key] = groups.TryGetValue(key, out var g) ? (g.First, f, g.Count + 1) : (f, -1, 1);
        }

        var partner = new int[mesh.Facets.Length];
        Array.Fill(partner, -1);
        foreach (var (first, second, count) in groups.Values)
            if (count == 2 && IsUp(mesh.Facets[first]) != IsUp(mesh.Facets[second])) (partner[first], partner[second]) = (second, first);
        return partner;
    }

    // Whether the corners, from the smallest number on, rise.
    private static bool IsUp(Facet f) => f.A < f.B && f.A < f.C ? f.B < f.C : f.B < f.C ? f.C < f.A : f.A < f.B;

    /// <summary>The corners of a facet, whichever way round it is.</summary>
    public static (int, int, int) Key(Facet f)
    {
        var (a, b, c) = (f.A, f.B, f.C);
        if (a > b) (a, b) = (b, a);
        if (b > c) (b, c) = (c, b);
        if (a > b) (a, b) = (b, a);
        return (a, b, c);
    }

    private static (TriangleMesh Mesh, int Dropped) Without(TriangleMesh mesh, Predicate<Facet> drop)
    {
        var kept = mesh.Facets.RemoveAll(drop);
        return kept.Length == mesh.Facets.Length ? (mesh, 0) : (new(mesh.Vertices, kept), mesh.Facets.Length - kept.Length);
    }
}
