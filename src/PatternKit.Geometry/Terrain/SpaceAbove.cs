using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// What lies above a body, turned over: its terrain is the body's negated, so that what takes metal off the body is what adds to it (Serra 1982). Around the body it is level, up to
/// where the ground is looked at.
/// </summary>
internal sealed class SpaceAbove
{
    /// <summary>The ground reaches so many lattice steps under what stands on it, so that no slit is left beside that; also the hair that the section is grown by.</summary>
    private const double Hair = 32;

    private readonly PlanRegion around;
    private readonly Lattice lattice;
    private readonly double ground;
    private readonly double tolerance;

    /// <summary>Turns it over.</summary>
    /// <param name="seen">The skin of the body as seen from above, its corners on the lattice; not empty.</param>
    /// <param name="shadow">Where the body stands on the ground.</param>
    /// <param name="ground">Height of the plan outside, on the lattice.</param>
    /// <param name="angle">Of walls from the vertical at the least, radians: steeper ones are given it.</param>
    /// <param name="margin">The ground is looked at so far beyond the body, mm.</param>
    /// <param name="lattice">Corners are put on it.</param>
    /// <param name="tolerance">How far facets may be off, mm.</param>
    public SpaceAbove(ImmutableArray<(Vec3 A, Vec3 B, Vec3 C)> seen, PlanRegion shadow, double ground, double angle, double margin, Lattice lattice, double tolerance)
    {
        (this.ground, this.lattice, this.tolerance) = (ground, lattice, tolerance);
        var (low, high) = (
            new Vec2(seen.Min(t => Math.Min(t.A.X, Math.Min(t.B.X, t.C.X))), seen.Min(t => Math.Min(t.A.Y, Math.Min(t.B.Y, t.C.Y)))),
            new Vec2(seen.Max(t => Math.Max(t.A.X, Math.Max(t.B.X, t.C.X))), seen.Max(t => Math.Max(t.A.Y, Math.Max(t.B.Y, t.C.Y)))));
        var beyond = new Vec2(margin, margin);
        around = PlanRegion.UnionOn(lattice, [PlanRegion.Rectangle(low - beyond, high + beyond)]);
        var outside = PlanRegion.UnionOn(lattice, [around.Difference(shadow.Offset(-Hair * lattice.Step, lattice.Step))]);

        // Turned over, its facets look up again.
        Vec3[] corners = [.. seen.Concat(VisibleSkin.Level(outside, ground, lattice)).SelectMany(t => new[] { t.A, t.B, t.C }).Select(v => v with { Z = -v.Z })];
        var space = new TriangleMesh([.. corners], [.. Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2))]);
        Terrain = new DraftedTerrain(new MeshGround(space, lattice.Snap(corners.Min(v => v.Z)) - 1, angle, lattice), lattice, tolerance, -ground);
    }

    /// <summary>Of the space, z downward.</summary>
    public DraftedTerrain Terrain { get; }

    /// <summary>The upper skin of the body that leaves a terrain of the space, open below; without facets where none is left.</summary>
    /// <param name="terrain">That of the space, or one that is higher.</param>
    public TriangleMesh Body(ITerrain terrain)
    {
        ImmutableArray<ZonedRing> rings = [.. around.Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain, -ground))];
        var made = TerrainMesher.Mesh(terrain, TerrainSolid.WithBreaklines(rings, around, terrain, lattice, new(tolerance)), [], lattice, new(tolerance), liftChords: false);
        var number = new PositionTable(made.Points.Length);
        ImmutableArray<Facet> left =
        [
            .. made.Facets.Where(f => made.Heights[f.A] < -ground || made.Heights[f.B] < -ground || made.Heights[f.C] < -ground).Select(f => new Facet(Corner(f.A), Corner(f.B), Corner(f.C))),
        ];
        return new([.. number.Drained()], left);

        int Corner(int v) => number.Number(new(made.Points[v].X, made.Points[v].Y, 0 - made.Heights[v]));
    }
}
