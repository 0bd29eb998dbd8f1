using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Ground that is not level: triangles over a rectangle of the plan, corners on the lattice, level outside of it. Two bodies that stand on it from either side meet in
/// the same triangles. Immutable.
/// </summary>
public sealed class FacetedGround : ITerrainField
{
    /// <summary>Cells of the search grid for each triangle.</summary>
    private const double CellsPerFacet = 2;

    private readonly TerrainMesh mesh;
    private readonly Vec2[] gradients;
    private readonly (Vec2 Low, Vec2 Cell, int Columns, int Rows) grid;
    private readonly int[][] byCell;

    /// <summary>Takes triangles, level at the border of a rectangle, and the height there.</summary>
    internal FacetedGround(TerrainMesh mesh, double level)
    {
        (this.mesh, Level) = (mesh, level);
        gradients = [.. mesh.Facets.Select(f => HeightPlane.Through(Corner(f.A), Corner(f.B), Corner(f.C)).Gradient)];
        var used = mesh.Facets.SelectMany(f => new[] { f.A, f.B, f.C }).ToHashSet();
        (LowCorner, HighCorner) = (new(used.Min(v => mesh.Points[v].X), used.Min(v => mesh.Points[v].Y)), new(used.Max(v => mesh.Points[v].X), used.Max(v => mesh.Points[v].Y)));
        Range = (used.Min(v => mesh.Heights[v]), used.Max(v => mesh.Heights[v]));
        var side = Math.Max(1, (int)Math.Sqrt(CellsPerFacet * mesh.Facets.Length));
        grid = (LowCorner, new((HighCorner.X - LowCorner.X) / side, (HighCorner.Y - LowCorner.Y) / side), side, side);
        var lists = new List<int>[side * side];
        for (var f = 0; f < mesh.Facets.Length; f++)
            foreach (var cell in Cells(BoxOf(f)))
                (lists[cell] ??= []).Add(f);
        byCell = [.. lists.Select(l => l?.ToArray() ?? [])];
    }

    /// <summary>Height outside the rectangle.</summary>
    public double Level { get; }

    /// <summary>Lowest corner of the rectangle.</summary>
    public Vec2 LowCorner { get; }

    /// <summary>Highest corner of the rectangle.</summary>
    public Vec2 HighCorner { get; }

    /// <inheritdoc/>
    public (double Low, double High) Range { get; }

    /// <summary>The triangles, turning left.</summary>
    public IEnumerable<(Vec3 A, Vec3 B, Vec3 C)> Facets => mesh.Facets.Select(f => (Corner(f.A), Corner(f.B), Corner(f.C)));

    /// <summary>Where it is level: the pieces of plan of its level triangles, those of one height together, ascending.</summary>
    public IEnumerable<Plateau> Patches() => mesh.Facets.Where(f => mesh.Heights[f.A] == mesh.Heights[f.B] && mesh.Heights[f.B] == mesh.Heights[f.C])
        .GroupBy(f => mesh.Heights[f.A]).OrderBy(g => g.Key)
        .Select(g => new Plateau(PlanRegion.UnionOfCoverage(g.Select(f => PlanRegion.Polygon([mesh.Points[f.A], mesh.Points[f.B], mesh.Points[f.C]]))), g.Key));

    /// <summary>The triangles with z negated: the ground seen from below, in the same plan.</summary>
    public FacetedGround Negated() => new(mesh with { Heights = [.. mesh.Heights.Select(h => -h)] }, -Level);

    /// <summary>The steepest slope of any triangle, rise per plan length, and the middle of that triangle.</summary>
    public (double Slope, Vec3 At) Steepest()
    {
        var at = Enumerable.Range(0, gradients.Length).MaxBy(f => gradients[f].LengthSquared);
        var (a, b, c) = (Corner(mesh.Facets[at].A), Corner(mesh.Facets[at].B), Corner(mesh.Facets[at].C));
        return (gradients[at].Length, 1 / 3.0 * (a + b + c));
    }

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p)
    {
        var f = FacetAt(p);
        if (f < 0) return new(Level, default, -1);
        return new(Extended(f, p, out var gradient), gradient, f);
    }

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        gradient = default;
        if (surface < 0) return Level;
        gradient = gradients[surface];
        // From the nearest corner, so that there it is that corner's height.
        var facet = mesh.Facets[surface];
        var v = facet.A;
        if ((mesh.Points[facet.B] - p).LengthSquared < (mesh.Points[v] - p).LengthSquared) v = facet.B;
        if ((mesh.Points[facet.C] - p).LengthSquared < (mesh.Points[v] - p).LengthSquared) v = facet.C;
        return mesh.Heights[v] + Vec2.Dot(gradient, p - mesh.Points[v]);
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin = 0) => double.PositiveInfinity;

    /// <summary>Triangulates a height function over a rectangle.</summary>
    /// <param name="height">The function; at the border of the rectangle, and outside, it is level.</param>
    /// <param name="low">Lowest corner.</param>
    /// <param name="high">Highest corner.</param>
    /// <param name="level">Height at the border, on the lattice.</param>
    /// <param name="lines">Lines that the triangles should follow.</param>
    /// <param name="mayBeOff">Where triangles may be off by four times as much, so that few corners are put there.</param>
    /// <param name="slope">No triangle should be steeper, rise per plan length.</param>
    /// <param name="lattice">Corners are put on it.</param>
    /// <param name="tolerance">Of the triangles.</param>
    public static FacetedGround Of(
        Func<Vec2, double> height, Vec2 low, Vec2 high, double level, IEnumerable<ImmutableArray<Vec2>> lines, Func<Vec2, bool> mayBeOff, double slope, Lattice lattice, MeshingTolerance tolerance)
    {
        ImmutableArray<Vec2> frame = [low, new(high.X, low.Y), high, new(low.X, high.Y)];
        return new(
            TerrainMesher.Mesh(
                new Smooth(height, mayBeOff, slope), [new(frame, TerrainMesher.Domain, level), .. lines.Select(l => new ZonedRing(l, 0, IsOpen: true))], [], lattice, tolerance, liftChords: false),
            level);
    }

    /// <summary>A closed line of the plan raised onto the ground: its own corners, and one more wherever the ground bends under it.</summary>
    /// <param name="ring">First corner not repeated.</param>
    public ImmutableArray<Vec3> Raised(ImmutableArray<Vec2> ring) => [.. ring.SelectMany((a, i) => Along(a, ring[(i + 1) % ring.Length]))];

    /// <summary>A straight line of the plan raised onto the ground, without its end.</summary>
    public IEnumerable<Vec3> Along(Vec2 a, Vec2 b)
    {
        yield return Lifted(a);
        double[] cuts = [0, .. Crossings(a, b).Order(), 1];
        for (var j = 1; j + 1 < cuts.Length; j++)
        {
            // Sides between triangles of one plane are no bends.
            if (At(On((cuts[j - 1] + cuts[j]) / 2)).Gradient != At(On((cuts[j] + cuts[j + 1]) / 2)).Gradient) yield return Lifted(On(cuts[j]));
        }

        Vec2 On(double t) => a + (t * (b - a));

        Vec3 Lifted(Vec2 p) => new(p.X, p.Y, At(p).Height);
    }

    /// <summary>Where a line of the plan crosses sides of triangles, in parts of its length.</summary>
    private HashSet<double> Crossings(Vec2 a, Vec2 b)
    {
        var found = new HashSet<double>();
        foreach (var (from, to) in SidesNear(new(Math.Min(a.X, b.X), Math.Min(a.Y, b.Y)), new(Math.Max(a.X, b.X), Math.Max(a.Y, b.Y))))
        {
            var across = Vec2.Cross(b - a, to - from);
            if (across == 0) continue;
            var (t, u) = (Vec2.Cross(from - a, to - from) / across, Vec2.Cross(from - a, b - a) / across);
            if (t > 0 && t < 1 && u >= 0 && u <= 1) found.Add(t);
        }

        return found;
    }

    /// <summary>The numbers of the triangles that a box of the plan touches, and of some beside it.</summary>
    internal IEnumerable<int> FacetsNear(Vec2 low, Vec2 high) => Cells((low, high)).SelectMany(c => byCell[c]).Distinct();

    /// <summary>The corners of a triangle.</summary>
    internal (Vec2 A, Vec2 B, Vec2 C) Plan(int facet) => (mesh.Points[mesh.Facets[facet].A], mesh.Points[mesh.Facets[facet].B], mesh.Points[mesh.Facets[facet].C]);

    /// <summary>The sides of the triangles that a box of the plan touches, each once.</summary>
    internal IEnumerable<(Vec2 From, Vec2 To)> SidesNear(Vec2 low, Vec2 high) => FacetsNear(low, high).Order().Select(f => mesh.Facets[f])
        .SelectMany(f => new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) }).Select(e => e.Item1 < e.Item2 ? e : (e.Item2, e.Item1)).Distinct()
        .Select(e => (mesh.Points[e.Item1], mesh.Points[e.Item2]));

    private Vec3 Corner(int v) => new(mesh.Points[v].X, mesh.Points[v].Y, mesh.Heights[v]);

    private int FacetAt(Vec2 p)
    {
        if (p.X < LowCorner.X || p.Y < LowCorner.Y || p.X > HighCorner.X || p.Y > HighCorner.Y) return -1;
        var (best, inside) = (-1, double.NegativeInfinity);
        foreach (var f in byCell[(Row(p.Y) * grid.Columns) + Column(p.X)])
        {
            var (a, b, c) = Plan(f);
            var least = Math.Min(Beside(a, b), Math.Min(Beside(b, c), Beside(c, a)));
            if (least > inside) (best, inside) = (f, least);
            if (least > 0) break;
        }

        return best;

        double Beside(Vec2 a, Vec2 b) => Vec2.Cross(b - a, p - a) / (b - a).Length;
    }

    private (Vec2 Low, Vec2 High) BoxOf(int facet)
    {
        var (a, b, c) = Plan(facet);
        return (new(Math.Min(a.X, Math.Min(b.X, c.X)), Math.Min(a.Y, Math.Min(b.Y, c.Y))), new(Math.Max(a.X, Math.Max(b.X, c.X)), Math.Max(a.Y, Math.Max(b.Y, c.Y))));
    }

    private IEnumerable<int> Cells((Vec2 Low, Vec2 High) box)
    {
        for (var row = Row(box.Low.Y); row <= Row(box.High.Y); row++)
            for (var column = Column(box.Low.X); column <= Column(box.High.X); column++) yield return (row * grid.Columns) + column;
    }

    private int Column(double x) => (int)Math.Clamp((x - grid.Low.X) / grid.Cell.X, 0, grid.Columns - 1);

    private int Row(double y) => (int)Math.Clamp((y - grid.Low.Y) / grid.Cell.Y, 0, grid.Rows - 1);

    /// <summary>A function without creases of its own.</summary>
    private sealed class Smooth(Func<Vec2, double> height, Func<Vec2, bool> mayBeOff, double slope) : ITerrainField
    {
        public TerrainSample At(Vec2 p) => new(height(p), default, mayBeOff(p) ? 1 : 0);

        public double Leeway(int surface) => surface == 1 ? 4 : 1;

        public double Extended(int surface, Vec2 p, out Vec2 gradient)
        {
            gradient = default;
            return height(p);
        }

        public double SteepestFacet(int surface, double margin = 0) => slope;
    }
}
