using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>
/// The patches of a mesh as bodies: which are closed in themselves, how large they are, and which lie in which. Patches that only share an edge with
/// more facets count each for itself.
/// </summary>
internal sealed class PatchMeasures
{
    private const int MostPairs = 50_000_000;
    private const int MostOnEdge = 64;

    // So many corners of a patch, spread evenly, must lie in another for it to lie in that.
    private const int Probes = 24;

    private readonly TriangleMesh _mesh;
    private readonly FacetPatches _patches;
    private readonly bool[] _closed;
    private readonly double[] _volume;
    private readonly double[] _area;
    private readonly Box3[] _box;

    /// <summary>Measures the patches of a mesh.</summary>
    public PatchMeasures(TriangleMesh mesh)
    {
        _mesh = mesh;
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        _patches = FacetPatches.Find(mesh, edges);
        _closed = Closed(edges);
        var count = _patches.Members.Count;
        (_volume, _area, _box) = (new double[count], new double[count], new Box3[count]);
        for (var p = 0; p < count; p++) Measure(p);
    }

    /// <summary>Facets to turn so that each closed patch faces outward, or inward where an odd number of others hold it.</summary>
    public bool[] ToTurnOutward()
    {
        var depth = Depths();
        var turn = new bool[_mesh.Facets.Length];
        for (var p = 0; p < depth.Length; p++)
        {
            // No volume, or one beyond all numbers, says nothing.
            if (!_closed[p] || !(Math.Abs(_volume[p]) > 0) || _volume[p] > 0 == (depth[p] % 2 == 0)) continue;
            foreach (var f in _patches.Members[p]) turn[f] = true;
        }

        return turn;
    }

    /// <summary>Which facets belong to patches too small to matter, and how many patches those are.</summary>
    public (bool[] Facets, int Patches) Strays(double shareOfVolume)
    {
        var leastVolume = shareOfVolume * _volume.Where((_, p) => _closed[p]).Select(Math.Abs).DefaultIfEmpty(0).Max();
        var leastArea = Math.Pow(shareOfVolume, 2.0 / 3) * _area.DefaultIfEmpty(0).Max();
        var stray = new bool[_closed.Length];
        for (var p = 0; p < stray.Length; p++) stray[p] = _closed[p] ? Math.Abs(_volume[p]) < leastVolume : _area[p] < leastArea;
        return (Array.ConvertAll(_patches.PatchOf, p => stray[p]), stray.Count(s => s));
    }

    // Closed in itself: each edge has two sides of the patch, one each way.
    private bool[] Closed(MeshEdges edges)
    {
        var closed = new bool[_patches.Members.Count];
        Array.Fill(closed, true);
        foreach (var group in edges.Groups())
        {
            if (group.Count == 2 && _patches.PatchOf[group[0] / 3] == _patches.PatchOf[group[1] / 3])
            {
                if (edges.RunsUp(group[0]) == edges.RunsUp(group[1])) closed[_patches.PatchOf[group[0] / 3]] = false;
                continue;
            }

            // So many facets on one edge are no body's; looking at each against each would take long.
            var hopeless = group.Count > MostOnEdge;
            foreach (var side in group)
            {
                var patch = _patches.PatchOf[side / 3];
                if (!closed[patch]) continue;
                var same = hopeless ? [] : group.Where(s => _patches.PatchOf[s / 3] == patch).ToArray();
                closed[patch] = same.Length == 2 && edges.RunsUp(same[0]) != edges.RunsUp(same[1]);
            }
        }

        return closed;
    }

    private void Measure(int patch)
    {
        var members = _patches.Members[patch];
        var o = _mesh.Vertices[_mesh.Facets[members[0]].A];
        var box = Box3.Empty;
        foreach (var f in members)
        {
            var facet = _mesh.Facets[f];
            var (a, b, c) = (_mesh.Vertices[facet.A], _mesh.Vertices[facet.B], _mesh.Vertices[facet.C]);
            _volume[patch] += Vec3.Dot(a - o, Vec3.Cross(b - o, c - o)) / 6;
            _area[patch] += Vec3.Cross(b - a, c - a).Length / 2;
            box = box.With(a).With(b).With(c);
        }

        _box[patch] = box;
    }

    // By how many other closed patches each is held.
    private int[] Depths()
    {
        var depth = new int[_closed.Length];
        var items = CornerWeld.Own(_closed.Length).Where(p => _closed[p]).ToArray();
        var holders = new SortedDictionary<int, List<int>>();
        var pairs = 0;
        new FacetTree(_box, items).MeetingPairs((p, q) =>
        {
            if (Within(_box[q], _box[p])) Add(p, q);
            if (Within(_box[p], _box[q])) Add(q, p);
            return ++pairs < MostPairs;
        });
        foreach (var (holder, held) in holders)
        {
            var winding = new WindingNumber(_mesh, _patches.Members[holder]);
            foreach (var p in held)
                if (ProbesOf(p).All(v => Math.Abs(winding.At(v)) > 0.5)) depth[p]++;
        }

        return depth;

        void Add(int holder, int held)
        {
            if (!holders.TryGetValue(holder, out var list)) holders.Add(holder, list = []);
            list.Add(held);
        }
    }

    // Middles of facets: they lie on no other patch, unless that lies flat on this one.
    private IEnumerable<Vec3> ProbesOf(int patch)
    {
        var members = _patches.Members[patch];
        var step = Math.Max(1, members.Count / Probes);
        for (var i = 0; i < members.Count; i += step)
        {
            var f = _mesh.Facets[members[i]];
            yield return (1.0 / 3) * (_mesh.Vertices[f.A] + _mesh.Vertices[f.B] + _mesh.Vertices[f.C]);
        }
    }

    private static bool Within(Box3 inner, Box3 outer) =>
        inner.Low.X > outer.Low.X && inner.Low.Y > outer.Low.Y && inner.Low.Z > outer.Low.Z
        && inner.High.X < outer.High.X && inner.High.Y < outer.High.Y && inner.High.Z < outer.High.Z;
}
