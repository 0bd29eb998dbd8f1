using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Joins an upper and a lower terrain mesh with the same rim to one closed mesh. Where the rim touches itself, every
/// sector of the domain gets a vertex of its own, so the result is manifold at vertices too.
/// </summary>
/// <param name="top">The upper mesh.</param>
/// <param name="bottom">The lower one.</param>
/// <param name="pocketDepths">Of pockets sunk from the lower one.</param>
/// <param name="upright">Points of the rim at which upright walls join both; between such points and others walls come to an end.</param>
internal sealed class SolidStitcher(TerrainMesh top, TerrainMesh bottom, ImmutableArray<double> pocketDepths, IReadOnlySet<Vec2> upright)
{
    private readonly ImmutableArray<Vec3>.Builder vertices = ImmutableArray.CreateBuilder<Vec3>();
    private readonly ImmutableArray<Facet>.Builder facets = ImmutableArray.CreateBuilder<Facet>();

    /// <summary>Rim vertices by the rim edge that starts in their sector, given by its ends.</summary>
    private readonly Dictionary<(Vec2, Vec2), int> rimVertices = [];

    /// <summary>The lower ends of upright walls at the rim, by the same edges.</summary>
    private readonly Dictionary<(Vec2, Vec2), int> footVertices = [];

    /// <summary>The pocket to the left of a directed edge of the underside.</summary>
    private readonly Dictionary<(int From, int To), int> pocketAt = [];

    /// <summary>Vertices of ceilings by pocket and point of the underside.</summary>
    private readonly Dictionary<(int Pocket, int Point), int> ceilings = [];

    /// <summary>The closed mesh.</summary>
    public TriangleMesh Stitch()
    {
        foreach (var (from, to) in top.Rim)
        {
            rimVertices.Add((top.Points[from], top.Points[to]), vertices.Count);
            vertices.Add(At(top, from, 0));
        }

        foreach (var (from, to) in bottom.Rim.Where(e => upright.Contains(bottom.Points[e.From])))
        {
            footVertices.Add((bottom.Points[from], bottom.Points[to]), vertices.Count);
            vertices.Add(At(bottom, from, 0));
        }

        var upper = new Corners(top, this, rimVertices);
        foreach (var f in top.Facets) facets.Add(new(upper.Of(f, f.A), upper.Of(f, f.B), upper.Of(f, f.C)));
        var lower = new Corners(bottom, this, footVertices.Count == 0 ? rimVertices : new(footVertices.Concat(rimVertices.Where(r => !upright.Contains(r.Key.Item1)))));
        foreach (var f in bottom.Facets.Where(f => f.Pocket < 0)) facets.Add(new(lower.Of(f, f.A), lower.Of(f, f.C), lower.Of(f, f.B)));
        AddPockets(lower);
        AddUprightWalls(upper, lower);
        return new(vertices.ToImmutable(), facets.ToImmutable());
    }

    private static Vec3 At(TerrainMesh mesh, int v, double lift) => new(mesh.Points[v].X, mesh.Points[v].Y, mesh.Heights[v] + lift);

    /// <summary>
    /// Ceilings and walls. Where a pocket lies in another, the wall between them goes from the lower ceiling to the higher one; such pockets
    /// have whole rings in common, so that no wall meets the middle of another's edge.
    /// </summary>
    private void AddPockets(Corners floor)
    {
        var inside = bottom.Facets.Where(f => f.Pocket >= 0).OrderBy(f => f.Pocket).ToArray();
        foreach (var f in inside)
            foreach (var edge in Edges(f))
                pocketAt[edge] = f.Pocket;
        foreach (var f in inside)
        {
            facets.Add(new(Ceiling(f.Pocket, f.A), Ceiling(f.Pocket, f.C), Ceiling(f.Pocket, f.B)));
            foreach (var (from, to) in Edges(f))
            {
                var beyond = pocketAt.GetValueOrDefault((to, from), -1);
                if (beyond == f.Pocket || (beyond >= 0 && pocketDepths[beyond] >= pocketDepths[f.Pocket])) continue;
                // The pocket lies to the left of from→to and the body to the right: the wall faces left.
                var (a, b) = beyond < 0 ? (floor.Of(f, from), floor.Of(f, to)) : (Ceiling(beyond, from), Ceiling(beyond, to));
                var (c, d) = (Ceiling(f.Pocket, to), Ceiling(f.Pocket, from));
                facets.Add(new(a, d, b));
                facets.Add(new(b, d, c));
            }
        }
    }

    /// <summary>The body lies to the left of every edge of the rim: walls face right. At an end where both meshes meet a wall begins with an edge.</summary>
    private void AddUprightWalls(Corners upper, Corners lower)
    {
        if (upright.Count == 0) return;
        var (above, below) = (Beside(top), Beside(bottom));
        foreach (var (edge, over) in above)
        {
            if (!upright.Contains(edge.From) && !upright.Contains(edge.To)) continue;
            var under = below[edge];
            var (a, b) = (upper.Of(over.Facet, over.From), upper.Of(over.Facet, over.To));
            var (footA, footB) = (lower.Of(under.Facet, under.From), lower.Of(under.Facet, under.To));
            if (a != footA) facets.Add(new(b, a, footA));
            if (b != footB) facets.Add(new(b, footA, footB));
        }
    }

    /// <summary>The facet at each edge of a rim, the edge given by where its ends lie, in the order of the rim.</summary>
    private static Dictionary<(Vec2 From, Vec2 To), (int From, int To, PlanFacet Facet)> Beside(TerrainMesh mesh)
    {
        var facets = new Dictionary<(int, int), PlanFacet>();
        foreach (var f in mesh.Facets)
            foreach (var edge in Edges(f))
                facets[edge] = f;
        return mesh.Rim.ToDictionary(e => (mesh.Points[e.From], mesh.Points[e.To]), e => (e.From, e.To, facets[e]));
    }

    private static (int From, int To)[] Edges(PlanFacet f) => [(f.A, f.B), (f.B, f.C), (f.C, f.A)];

    private int Ceiling(int pocket, int v)
    {
        if (ceilings.TryGetValue((pocket, v), out var known)) return known;
        vertices.Add(At(bottom, v, pocketDepths[pocket]));
        return ceilings[(pocket, v)] = vertices.Count - 1;
    }

    /// <summary>Which vertex of the solid a corner of a facet is.</summary>
    private sealed class Corners
    {
        private readonly TerrainMesh mesh;
        private readonly SolidStitcher owner;
        private readonly Dictionary<(Vec2, Vec2), int> onRim;
        private readonly Dictionary<int, List<int>> rimFrom = [];
        private readonly Dictionary<(int, int), PlanFacet> facetAt = [];
        private readonly Dictionary<int, int> inner = [];

        public Corners(TerrainMesh mesh, SolidStitcher owner, Dictionary<(Vec2, Vec2), int> onRim)
        {
            (this.mesh, this.owner, this.onRim) = (mesh, owner, onRim);
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
                return onRim[(mesh.Points[v], mesh.Points[to])];
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
