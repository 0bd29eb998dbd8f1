using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Joins an upper and a lower terrain mesh with the same rim to one closed mesh. Where the rim touches itself, every
/// sector of the domain gets a vertex of its own, so the result is manifold at vertices too.
/// </summary>
internal sealed class SolidStitcher(TerrainMesh top, TerrainMesh bottom, ImmutableArray<double> pocketDepths)
{
    private readonly ImmutableArray<Vec3>.Builder vertices = ImmutableArray.CreateBuilder<Vec3>();
    private readonly ImmutableArray<Facet>.Builder facets = ImmutableArray.CreateBuilder<Facet>();

    /// <summary>Rim vertices by the rim edge that starts in their sector, given by its ends.</summary>
    private readonly Dictionary<(Vec2, Vec2), int> rimVertices = [];

    /// <summary>The closed mesh.</summary>
    public TriangleMesh Stitch()
    {
        foreach (var (from, to) in top.Rim)
        {
            rimVertices.Add((top.Points[from], top.Points[to]), vertices.Count);
            vertices.Add(At(top, from, 0));
        }

        var upper = new Corners(top, this);
        foreach (var f in top.Facets) facets.Add(new(upper.Of(f, f.A), upper.Of(f, f.B), upper.Of(f, f.C)));
        var lower = new Corners(bottom, this);
        foreach (var f in bottom.Facets.Where(f => f.Pocket < 0)) facets.Add(new(lower.Of(f, f.A), lower.Of(f, f.C), lower.Of(f, f.B)));
        for (var i = 0; i < pocketDepths.Length; i++) AddPocket(i, lower);
        return new(vertices.ToImmutable(), facets.ToImmutable());
    }

    private static Vec3 At(TerrainMesh mesh, int v, double lift) => new(mesh.Points[v].X, mesh.Points[v].Y, mesh.Heights[v] + lift);

    private void AddPocket(int pocket, Corners floor)
    {
        var inside = bottom.Facets.Where(f => f.Pocket == pocket).ToArray();
        var edges = inside.SelectMany(f => new[] { (f, From: f.A, To: f.B), (f, From: f.B, To: f.C), (f, From: f.C, To: f.A) }).ToArray();
        var directed = edges.Select(e => (e.From, e.To)).ToHashSet();
        var ceiling = new Dictionary<int, int>();
        foreach (var f in inside) facets.Add(new(Ceiling(f.A), Ceiling(f.C), Ceiling(f.B)));
        foreach (var (f, from, to) in edges)
        {
            if (directed.Contains((to, from))) continue;
            // The pocket lies to the left of from→to and the body to the right: the wall faces left.
            var (a, b, c, d) = (floor.Of(f, from), floor.Of(f, to), Ceiling(to), Ceiling(from));
            facets.Add(new(a, d, b));
            facets.Add(new(b, d, c));
        }

        int Ceiling(int v)
        {
            if (ceiling.TryGetValue(v, out var known)) return known;
            vertices.Add(At(bottom, v, pocketDepths[pocket]));
            return ceiling[v] = vertices.Count - 1;
        }
    }

    /// <summary>Which vertex of the solid a corner of a facet is.</summary>
    private sealed class Corners
    {
        private readonly TerrainMesh mesh;
        private readonly SolidStitcher owner;
        private readonly Dictionary<int, List<int>> rimFrom = [];
        private readonly Dictionary<(int, int), PlanFacet> facetAt = [];
        private readonly Dictionary<int, int> inner = [];

        public Corners(TerrainMesh mesh, SolidStitcher owner)
        {
            (this.mesh, this.owner) = (mesh, owner);
            foreach (var (from, to) in mesh.Rim)
            {
                if (!rimFrom.TryGetValue(from, out var targets)) rimFrom.Add(from, targets = []);
                targets.Add(to);
            }

            var touching = rimFrom.Where(r => r.Value.Count > 1).Select(r => r.Key).ToHashSet();
            if (touching.Count == 0) return;
            foreach (var f in mesh.Facets)
            {
                if (touching.Contains(f.A)) facetAt[(f.A, f.C)] = f;
                if (touching.Contains(f.B)) facetAt[(f.B, f.A)] = f;
                if (touching.Contains(f.C)) facetAt[(f.C, f.B)] = f;
            }
        }

        public int Of(PlanFacet f, int v)
        {
            if (rimFrom.TryGetValue(v, out var targets))
            {
                var to = targets.Count == 1 ? targets[0] : SectorOf(f, v, targets);
                return owner.rimVertices[(mesh.Points[v], mesh.Points[to])];
            }

            if (inner.TryGetValue(v, out var known)) return known;
            owner.vertices.Add(At(mesh, v, 0));
            return inner[v] = owner.vertices.Count - 1;
        }

        /// <summary>Turns clockwise about v from facet to facet until the rim edge that starts there.</summary>
        private int SectorOf(PlanFacet f, int v, List<int> targets)
        {
            while (true)
            {
                // f is (v, first, second) counter-clockwise; the clockwise neighbour has v→first as its last side.
                var first = f.A == v ? f.B : f.B == v ? f.C : f.A;
                if (targets.Contains(first)) return first;
                f = facetAt[(v, first)];
            }
        }
    }
}
