using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Takes metal off the steep walls of a mesh as seen from above: the erosion of its terrain by a cone, E(p) = inf over q of H(q) + k |p − q|, the greatest
/// terrain below H whose slopes nowhere exceed k. It leaves alone what is gentle enough, keeps the foot of every wall and moves its upper end inward.
/// </summary>
/// <remarks>Erosion is the dilation of what lies above the terrain, turned over (Serra 1982): the drafted terrain of that, negated.</remarks>
public static class MeshErosion
{
    /// <summary>The ground is looked at so far beyond the body, mm.</summary>
    private const double Margin_mm = 1;

    /// <summary>The ground reaches so many lattice steps under what stands on it, so that no slit is left beside that; also the hair that the section is grown by.</summary>
    private const double Hair = 32;

    /// <summary>The upper skin after erosion, open below; or the mesh as it is where nothing is to be taken off.</summary>
    /// <param name="mesh">Closed or open, z along the draw. What of it lies below the ground does not count.</param>
    /// <param name="ground">Height of the plan outside, on the lattice.</param>
    /// <param name="angle">Draft of walls, radians.</param>
    /// <param name="fraction">Of the run that draft gives a wall, what is taken off at its upper end: 0 nothing, ½ turns it about its middle, 1 gives it all its draft.</param>
    /// <param name="lattice">Corners are put on it.</param>
    /// <param name="tolerance">How far facets may be off, mm.</param>
    public static TriangleMesh Of(TriangleMesh mesh, double ground, double angle, double fraction, Lattice lattice, double tolerance)
    {
        if (fraction == 0) return mesh;
        var (seen, shadow) = VisibleSkin.Of(mesh, ground, lattice);
        if (seen.IsEmpty) return new([], []);
        var (low, high) = (
            new Vec2(seen.Min(t => Math.Min(t.A.X, Math.Min(t.B.X, t.C.X))), seen.Min(t => Math.Min(t.A.Y, Math.Min(t.B.Y, t.C.Y)))),
            new Vec2(seen.Max(t => Math.Max(t.A.X, Math.Max(t.B.X, t.C.X))), seen.Max(t => Math.Max(t.A.Y, Math.Max(t.B.Y, t.C.Y)))));
        var margin = new Vec2(Margin_mm, Margin_mm);
        var around = PlanRegion.UnionOn(lattice, [PlanRegion.Rectangle(low - margin, high + margin)]);
        var outside = PlanRegion.UnionOn(lattice, [around.Difference(shadow.Offset(-Hair * lattice.Step, lattice.Step))]);

        // The space above, turned over: its facets look up again.
        Vec3[] corners = [.. seen.Concat(VisibleSkin.Level(outside, ground, lattice)).SelectMany(t => new[] { t.A, t.B, t.C }).Select(v => v with { Z = -v.Z })];
        var space = new TriangleMesh([.. corners], [.. Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2))]);
        var steepest = Math.Atan(fraction * Math.Tan(angle));
        var eroded = new DraftedTerrain(new MeshGround(space, lattice.Snap(corners.Min(v => v.Z)) - 1, steepest, lattice), lattice, tolerance, -ground);
        ImmutableArray<ZonedRing> rings = [.. around.Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain, -ground))];
        var made = TerrainMesher.Mesh(eroded, TerrainSolid.WithBreaklines(rings, around, eroded, lattice, new(tolerance)), [], lattice, new(tolerance), liftChords: false);
        var number = new PositionTable(made.Points.Length);
        ImmutableArray<Facet> left =
        [
            .. made.Facets.Where(f => made.Heights[f.A] < -ground || made.Heights[f.B] < -ground || made.Heights[f.C] < -ground).Select(f => new Facet(Corner(f.A), Corner(f.B), Corner(f.C))),
        ];
        return new([.. number.Drained()], left);

        int Corner(int v) => number.Number(new(made.Points[v].X, made.Points[v].Y, 0 - made.Heights[v]));
    }
}
