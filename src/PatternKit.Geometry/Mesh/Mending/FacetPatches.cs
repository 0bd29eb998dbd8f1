using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>
/// Patches: facets joined across edges that exactly two facets share. Within a patch, which facets to turn so that all
/// run the same way as its first one is told; a patch with one side only (a Möbius band) cannot be made so.
/// </summary>
internal sealed class FacetPatches
{
    private FacetPatches(int[] patchOf, bool[] against, List<List<int>> members) => (PatchOf, Against, Members) = (patchOf, against, members);

    /// <summary>For each facet the number of its patch.</summary>
    public int[] PatchOf { get; }

    /// <summary>For each facet whether it runs against the first facet of its patch.</summary>
    public bool[] Against { get; }

    /// <summary>The facets of each patch; patches in order of their first facet.</summary>
    public IReadOnlyList<IReadOnlyList<int>> Members { get; }

    /// <summary>Finds the patches of a mesh without facets that name a vertex twice.</summary>
    public static FacetPatches Find(TriangleMesh mesh, MeshEdges edges)
    {
        var across = new int[3 * mesh.Facets.Length];
        Array.Fill(across, -1);
        foreach (var group in edges.Groups())
            if (group.Count == 2) (across[group[0]], across[group[1]]) = (group[1], group[0]);

        var patchOf = new int[mesh.Facets.Length];
        Array.Fill(patchOf, -1);
        var against = new bool[mesh.Facets.Length];
        var members = new List<List<int>>();
        var queue = new Queue<int>();
        for (var first = 0; first < patchOf.Length; first++)
        {
            if (patchOf[first] >= 0) continue;
            patchOf[first] = members.Count;
            var list = new List<int>();
            queue.Enqueue(first);
            while (queue.TryDequeue(out var f))
            {
                list.Add(f);
                for (var side = 3 * f; side < (3 * f) + 3; side++)
                {
                    if (across[side] < 0 || patchOf[across[side] / 3] >= 0) continue;
                    var other = across[side] / 3;
                    patchOf[other] = members.Count;
                    against[other] = against[f] ^ (edges.RunsUp(side) == edges.RunsUp(across[side]));
                    queue.Enqueue(other);
                }
            }

            members.Add(list);
        }

        return new(patchOf, against, members);
    }

    /// <summary>
    /// Facets to turn so that within every patch all run the same way: the fewest of them, save where an open patch touches larger ones
    /// in corners. Then it faces as those do around the corners, for it is what is left between holes.
    /// </summary>
    public static bool[] ToTurn(TriangleMesh mesh)
    {
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        var patches = Find(mesh, edges);
        var open = new bool[patches.Members.Count];
        foreach (var group in edges.Groups())
            if (group.Count == 1) open[patches.PatchOf[group[0] / 3]] = true;

        var turn = new bool[mesh.Facets.Length];
        var facing = new Vec3[mesh.Vertices.Length];
        foreach (var p in Enumerable.Range(0, open.Length).OrderByDescending(p => patches.Members[p].Count))
        {
            var members = patches.Members[p];
            var few = 2 * members.Count(f => patches.Against[f]) <= members.Count;
            foreach (var f in members) turn[f] = patches.Against[f] == few;
            if (!open[p]) continue;
            double agreement = 0;
            foreach (var f in members)
                foreach (var v in Corners(mesh.Facets[f])) agreement += Vec3.Dot(Normal(f), facing[v]);
            foreach (var f in members)
            {
                turn[f] ^= agreement < 0;
                foreach (var v in Corners(mesh.Facets[f])) facing[v] += Normal(f);
            }
        }

        return turn;

        Vec3 Normal(int f)
        {
            var normal = mesh.AreaNormal(mesh.Facets[f]);
            var length = normal.Length;
            return length > 0 && double.IsFinite(length) ? (turn[f] ? -1 / length : 1 / length) * normal : default;
        }
    }

    private static int[] Corners(Facet f) => [f.A, f.B, f.C];

    /// <summary>The mesh with some facets turned over.</summary>
    public static TriangleMesh Turned(TriangleMesh mesh, bool[] turn) =>
        Array.TrueForAll(turn, t => !t) ? mesh : new(mesh.Vertices, [.. mesh.Facets.Select((f, i) => turn[i] ? new Facet(f.A, f.C, f.B) : f)]);
}
