using System.Collections.Frozen;
using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Islands of a drafted terrain on an endless floor, and the same with every plane moved outward by a distance and continued until
/// the planes meet: the mitred offset (Rossignac and Requicha 1984, but for their rounding). A level plane goes up by the
/// distance; a ramp keeps its place in plan and starts from the border moved out by r tan(45° − θ/2).
/// </summary>
/// <param name="Resting">The islands; below the floor there is nothing.</param>
/// <param name="Offset">Moved outward.</param>
/// <param name="Ramps">Numbers of the ramps of the whole terrain that belong to the islands.</param>
/// <param name="Overlap">By how much the ramps moved outward reach above their level planes at most, mm.</param>
internal sealed record OffsetTerrain(DraftedTerrain Resting, DraftedTerrain Offset, FrozenSet<int> Ramps, double Overlap)
{
    /// <summary>Moves the walls of islands outward by r less a slack, and level planes by r.</summary>
    /// <param name="terrain">The whole terrain.</param>
    /// <param name="floor">Height of the floor.</param>
    /// <param name="islands">Whole plateaus above the floor.</param>
    /// <param name="radius">r, mm.</param>
    /// <param name="slack">By how much less walls are moved, mm.</param>
    public static OffsetTerrain Of(DraftedTerrain terrain, double floor, PlanRegion islands, double radius, double slack)
    {
        var lattice = terrain.Lattice;
        var chosen = terrain.RampPieces.Where(q => q.IsLevelRamp && q.HeightA > floor && islands.Contains(q.A) && islands.Contains(q.B)).ToArray();
        var plateaus = terrain.Plateaus.Where(p => p.IsLevel && p.Height > floor && islands.Contains(p.Region.InnerPoint)).ToImmutableArray();
        // A little of every ramp reaches above its level plane, so that rounding leaves no crack between them.
        var overlap = 8 * lattice.Step;
        var moved = chosen.Select((q, i) =>
        {
            var run = Run(q) - overlap;
            return Ramp(q, q.A + (run * q.StartLimit), q.B + (run * q.EndLimit), q.HeightA + radius + (overlap / Math.Tan(q.Angle)), i);
        });
        var levels = plateaus.GroupBy(p => p.Height).Select(g => new Plateau(
            PlanRegion.UnionOn(lattice, g.Select(p => p.Region), chosen.Where(q => q.HeightA == g.Key).GroupBy(q => q.Angle).SelectMany(Margins)), g.Key + radius));
        return new(
            Make([.. plateaus], chosen.Select((q, i) => Ramp(q, q.A, q.B, q.HeightA, i)), 0),
            Make([.. levels], moved, radius),
            chosen.Select(q => q.Surface).ToFrozenSet(),
            overlap / Math.Tan(Math.Min(terrain.OpenAngle, terrain.EnclosedAngle)));

        double Run(TerrainPiece q) => ((radius * (1 - Math.Sin(q.Angle))) - slack) / Math.Cos(q.Angle);

        // Ramps begin at their height; a hair below it, all of them are there.
        IEnumerable<IReadOnlyList<Vec2>> Margins(IGrouping<double, TerrainPiece> same) =>
            RampBand.Of(same).SelectMany(b => b.Above(same.First().HeightA - 1e-9, Run(same.First())));

        static TerrainPiece Ramp(TerrainPiece like, Vec2 a, Vec2 b, double height, int surface) => TerrainPiece.Ramp(
            a, b, height, height, like.Angle, -Math.Tan(like.Angle) * like.Gradient, like.StartLimit, like.EndLimit, surface);

        DraftedTerrain Make(ImmutableArray<Plateau> regions, IEnumerable<TerrainPiece> ramps, double lift) =>
            new(regions, [.. ramps], floor + lift, terrain.OpenAngle, terrain.EnclosedAngle, lattice, terrain.Cap + lift);
    }
}
