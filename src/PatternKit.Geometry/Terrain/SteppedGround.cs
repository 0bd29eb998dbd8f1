using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Ground of level patches with steps of one slope between them: the least ground that is nowhere below a patch and nowhere steeper, so that the higher patch keeps its outline
/// and the step falls from there, into the lower one. It is a terrain of plateaus like any, and its triangles are its planes.
/// </summary>
public static class SteppedGround
{
    /// <summary>The plan around goes on so far beyond the triangles, mm, so that it is level at their border.</summary>
    private const double Beyond_mm = 2;

    /// <summary>Makes the ground.</summary>
    /// <param name="patches">Level pieces of the plan that do not overlap.</param>
    /// <param name="level">Height everywhere else.</param>
    /// <param name="angle">Of the steps from the vertical, radians.</param>
    /// <param name="low">Lowest corner of what the triangles cover at least; they reach beyond all patches and steps, too.</param>
    /// <param name="high">Highest corner.</param>
    /// <param name="margin">And so far beyond all that, mm.</param>
    /// <param name="lattice">Corners are on it.</param>
    /// <param name="cornerTolerance">How far steps may stand out from the cone around jutting corners of higher patches.</param>
    public static FacetedGround Of(ImmutableArray<Plateau> patches, double level, double angle, Vec2 low, Vec2 high, double margin, Lattice lattice, double cornerTolerance)
    {
        level = lattice.Snap(level);
        ImmutableArray<Plateau> snapped = [.. patches.Select(p => new Plateau(p.Region, lattice.Snap(p.Height)))];
        double[] heights = [.. snapped.Select(p => p.Height), level];
        var (lowest, run) = (heights.Min() - 1, (heights.Max() - heights.Min()) * Math.Tan(angle));
        var corners = snapped.SelectMany(p => p.Region.Rings()).SelectMany(r => r).ToArray();
        var reach = new Vec2(run + margin, run + margin);
        (low, high) = (
            lattice.Snap(new Vec2(Math.Min(low.X, corners.Min(p => p.X)), Math.Min(low.Y, corners.Min(p => p.Y))) - reach),
            lattice.Snap(new Vec2(Math.Max(high.X, corners.Max(p => p.X)), Math.Max(high.Y, corners.Max(p => p.Y))) + reach));
        var beyond = new Vec2(Beyond_mm, Beyond_mm);
        var around = PlanRegion.Rectangle(low - beyond, high + beyond).Difference(PlanRegion.Union(snapped.Select(p => p.Region)));
        // As columns, so that pieces that meet have the same corners there.
        Prism[] prisms = [.. snapped.Select(p => new Prism(p.Region, lowest, p.Height)), new(around, lowest, level)];
        var terrain = new DraftedTerrain(
            [.. ColumnMapBuilder.Build(prisms, lattice.Step).Cells.Where(c => !c.Solid.IsEmpty).Select(c => new Plateau(c.Region, c.Solid[^1].High))],
            lowest, angle, angle, lattice, cornerTolerance);
        var tolerance = new MeshingTolerance(cornerTolerance);
        var frame = new ZonedRing([low, new(high.X, low.Y), high, new(low.X, high.Y)], TerrainMesher.Domain, level);
        // What bends beyond the frame is the fall at the end of the plan around.
        var rings = TerrainSolid.WithBreaklines([frame], PlanRegion.Rectangle(low, high), terrain, lattice, tolerance).Where(r => r.Points.All(IsInside));
        return new(TerrainMesher.Mesh(terrain, [.. rings], [], lattice, tolerance, liftChords: false), level);

        bool IsInside(Vec2 p) => p.X >= low.X && p.Y >= low.Y && p.X <= high.X && p.Y <= high.Y;
    }
}
