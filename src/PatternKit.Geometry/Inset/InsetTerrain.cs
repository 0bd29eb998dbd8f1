using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Inset;

/// <summary>
/// The upper side of a standing body eroded by a ball of radius c: the places whose ball lies in the body, E(p) = min over |q − p| ≤ c of U(q) − √(c² − |q − p|²) (Serra 1982). A plane is moved
/// by c along its normal, so that a wall of draft θ keeps it and moves c / cos θ in plan; edges that jut out stay sharp, hollow ones get the radius c. It is the upper envelope of the skin turned over,
/// under a ball on a cone as steep as the steepest wall, so that none becomes steeper.
/// </summary>
internal sealed class InsetTerrain : ITerrain
{
    /// <summary>Facets whose corners lie this near to a larger one's plane are of one plane, mm.</summary>
    private const double Coplanar_mm = 2e-4;

    /// <summary>Flats are looked for this far below their height: at it, the ball touches them all over.</summary>
    private const double Below_mm = 2e-4;

    /// <summary>The cone is steeper than the steepest facet by this part of its angle.</summary>
    private const double Steeper = 0.02;

    /// <summary>Contours are made plainer by so many lattice steps.</summary>
    private const double Plain = 3;

    private readonly StandingBody body;
    private readonly InsetSkin skin;
    private readonly UpperEnvelope<Primitive> envelope;
    private readonly int[] plane;
    private readonly double leastDraft;
    private readonly double by;
    private readonly Lattice lattice;
    private readonly Lazy<ImmutableArray<Plateau>> flats;

    /// <summary>Erodes a body.</summary>
    /// <param name="body">The body.</param>
    /// <param name="by_mm">c, at least 0.</param>
    /// <param name="ground">Height where it is cut off, at least 0.</param>
    /// <param name="lattice">Contours lie on it.</param>
    public InsetTerrain(StandingBody body, double by_mm, double ground, Lattice lattice)
    {
        (this.body, by, GroundHeight, this.lattice) = (body, by_mm, ground, lattice);
        skin = InsetSkin.Of(body, by_mm);
        leastDraft = skin.Facets.Take(body.Skin.Length).Min(Draft);
        var profile = new RoundedCone((1 - Steeper) * leastDraft, by_mm);
        plane = Planes(skin);
        Vec3 Over(int v) => skin.Vertices[v] with { Z = -skin.Vertices[v].Z };
        envelope = new(
            [
                .. skin.Facets.Select(f => Primitive.Face(Over(f.A), Over(f.B), Over(f.C), profile)),
                .. skin.Valleys.Select(e => Primitive.Edge(Over(e.A), Over(e.B), profile)),
                .. skin.Hollows.Select(v => Primitive.Vertex(Over(v), profile)),
            ],
            double.NegativeInfinity);
        Footprint = Above(ground);
        flats = new(() => [.. FindFlats()]);

        double Draft(Facet f)
        {
            var n = Vec3.Cross(skin.Vertices[f.B] - skin.Vertices[f.A], skin.Vertices[f.C] - skin.Vertices[f.A]);
            return Math.Atan2(n.Z, n.Plan.Length);
        }
    }

    /// <inheritdoc/>
    public double GroundHeight { get; }

    /// <inheritdoc/>
    public PlanRegion Footprint { get; }

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p)
    {
        var s = envelope.At(p);
        return new(-s.Value, -s.Gradient, s.Primitive < plane.Length && s.Primitive >= 0 ? plane[s.Primitive] : s.Primitive);
    }

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        var height = -envelope.Primitives.ItemRef(surface).Extended(p, out gradient);
        gradient = -gradient;
        return height;
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) => 1 / Math.Tan(leastDraft - ((1 - margin) * DraftedTerrain.AngleSlack));

    /// <inheritdoc/>
    public double AlwaysAllowed => SteepestFacet(0, 0);

    /// <inheritdoc/>
    public IEnumerable<Plateau> Flats() => flats.Value;

    /// <inheritdoc/>
    public ImmutableArray<(Vec2 From, Vec2 To)> Creases() => [];

    /// <inheritdoc/>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines() => [];

    /// <summary>Where what is left rises above a height.</summary>
    public PlanRegion Above(double z)
    {
        var whole = body.Above(z);
        // A block is followed beyond its walls, which are cut off upright.
        if (body.Outline is { } outline) whole = whole.Union(outline.Offset(1, 0.1).Difference(outline.Offset(-1e-3, 0.1)));
        if (whole.IsEmpty) return whole;
        var left = PlanRegion.UnionOn(lattice, [whole.Difference(PlanRegion.UnionOn(lattice, [], skin.Near(z)))]);
        return PlanRegion.UnionOn(lattice, [left.Simplified(Plain * lattice.Step)]).WithoutSlivers(8 * lattice.Step);
    }

    private IEnumerable<Plateau> FindFlats()
    {
        var level = body.Skin.Where(f => body.Mesh.AreaNormal(f).Plan == default).GroupBy(f => body.Mesh.Vertices[f.A].Z);
        foreach (var same in level.OrderBy(g => g.Key))
        {
            var height = lattice.Snap(same.Key - by);
            if (height <= GroundHeight) continue;
            var flat = PlanRegion.UnionOfCoverage(same.Select(f => PlanRegion.Polygon([At(f.A), At(f.B), At(f.C)])));
            if (body.Outline is { } outline) flat = flat.Union(outline.Offset(1, 0.1).Difference(outline.Offset(-1e-3, 0.1)).Intersection(flat.Offset(2, 0.1)));
            var left = PlanRegion.UnionOn(lattice, [flat.Intersection(Above(height - Below_mm)).WithoutSlivers(8 * lattice.Step)]);
            if (!left.IsEmpty) yield return new(left, height);
        }

        Vec2 At(int v) => body.Mesh.Vertices[v].Plan;
    }

    /// <summary>For each facet the number of the largest facet of its plane.</summary>
    private static int[] Planes(InsetSkin skin)
    {
        var facets = skin.Facets;
        var neighbours = new Dictionary<(int, int), int>();
        for (var f = 0; f < facets.Length; f++)
            foreach (var side in Sides(facets[f])) neighbours[side] = f;
        var normals = facets.Select(f => Vec3.Cross(skin.Vertices[f.B] - skin.Vertices[f.A], skin.Vertices[f.C] - skin.Vertices[f.A])).ToArray();
        var plane = new int[facets.Length];
        Array.Fill(plane, -1);
        foreach (var seed in Enumerable.Range(0, facets.Length).OrderByDescending(f => normals[f].Length).ThenBy(f => f))
        {
            if (plane[seed] >= 0) continue;
            plane[seed] = seed;
            var (at, normal) = (skin.Vertices[facets[seed].A], 1 / normals[seed].Length * normals[seed]);
            var open = new Stack<int>([seed]);
            while (open.TryPop(out var f))
            {
                foreach (var (a, b) in Sides(facets[f]))
                {
                    if (!neighbours.TryGetValue((b, a), out var g) || plane[g] >= 0 || Vec3.Dot(normals[g], normal) <= 0) continue;
                    if (new[] { facets[g].A, facets[g].B, facets[g].C }.Any(v => Math.Abs(Vec3.Dot(normal, skin.Vertices[v] - at)) > Coplanar_mm)) continue;
                    plane[g] = seed;
                    open.Push(g);
                }
            }
        }

        return plane;

        static (int, int)[] Sides(Facet f) => [(f.A, f.B), (f.B, f.C), (f.C, f.A)];
    }
}
