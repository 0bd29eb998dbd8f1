using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>Plateaus taken as a stack of level sets, to move their walls before they are drafted.</summary>
public static class PlateauLevels
{
    /// <summary>
    /// Moves every wall inward by a fraction of the run that draft will give it, the higher the wall the more: 0 leaves the
    /// walls, so that draft adds metal outside; 1 brings the foot of the drafted wall to where the wall was; one half turns it about
    /// its middle. It is the erosion of the terrain by a cone of that fraction of the tangent, level by level.
    /// </summary>
    /// <param name="plateaus">As in <see cref="Plateau"/>.</param>
    /// <param name="ground">Height of the plan outside.</param>
    /// <param name="fraction">0 to 1.</param>
    /// <param name="openAngle">Draft of walls open to the outside, radians.</param>
    /// <param name="enclosedAngle">Draft of walls around an enclosed hollow.</param>
    /// <param name="lattice">The lattice.</param>
    /// <param name="chordTolerance">For arcs of offsets.</param>
    public static ImmutableArray<Plateau> Inset(
        ImmutableArray<Plateau> plateaus, double ground, double fraction, double openAngle, double enclosedAngle, Lattice lattice, double chordTolerance)
    {
        if (fraction == 0) return plateaus;
        var levels = Levels(plateaus, ground);
        return Stacked(
            levels.Select(level => (level.Height, levels.Where(lower => lower.Floor < level.Height).Aggregate(
                level.Region,
                (left, lower) => left.Intersection(Shrunk(lower.Region, fraction * (level.Height - lower.Floor), openAngle, enclosedAngle, chordTolerance))))),
            ground,
            lattice);
    }

    /// <summary>
    /// Widens a terrain so that, drafted, its footprint reaches that of another where both have their walls in common.
    /// </summary>
    /// <param name="plateaus">The narrower terrain.</param>
    /// <param name="ground">Height of the plan outside, where the footprints meet.</param>
    /// <param name="footprint">The wider footprint.</param>
    /// <param name="reach">How far a wall may be moved at most, mm.</param>
    /// <param name="openAngle">Draft angle, radians.</param>
    /// <param name="lattice">The lattice.</param>
    /// <param name="chordTolerance">For arcs of offsets.</param>
    public static ImmutableArray<Plateau> WidenedTo(
        ImmutableArray<Plateau> plateaus, double ground, PlanRegion footprint, double reach, double openAngle, Lattice lattice, double chordTolerance) =>
        Stacked(
            Levels(plateaus, ground).Select(level => (level.Height, level.Region.Union(
                Shrunk(footprint, level.Height - ground, openAngle, openAngle, chordTolerance).Intersection(level.Region.Offset(reach, chordTolerance))))),
            ground,
            lattice);

    /// <summary>Every level set { height ≥ Height }, and the next lower height as its floor.</summary>
    private static ImmutableArray<(double Height, double Floor, PlanRegion Region)> Levels(ImmutableArray<Plateau> plateaus, double ground)
    {
        var heights = plateaus.Select(p => p.Height).Where(h => h > ground).Distinct().Order().ToArray();
        return
        [
            .. heights.Select((h, i) => (h, i == 0 ? ground : heights[i - 1], PlanRegion.Union(plateaus.Where(p => p.Height >= h).Select(p => p.Region)))),
        ];
    }

    private static PlanRegion Shrunk(PlanRegion region, double rise, double openAngle, double enclosedAngle, double chordTolerance)
    {
        var filled = region.Filled();
        var hollow = filled.Difference(region);
        var shell = filled.Offset(-rise * Math.Tan(openAngle), chordTolerance);
        return hollow.IsEmpty ? shell : shell.Difference(hollow.Offset(rise * Math.Tan(enclosedAngle), chordTolerance));
    }

    private static ImmutableArray<Plateau> Stacked(IEnumerable<(double Height, PlanRegion Region)> levels, double ground, Lattice lattice)
    {
        var prisms = levels.Where(l => !l.Region.IsEmpty).Select(l => new Prism(l.Region, ground - 1, l.Height)).ToList();
        return [.. ColumnMapBuilder.Build(prisms, lattice.Step).Cells.Where(c => !c.Solid.IsEmpty).Select(c => new Plateau(c.Region, c.High))];
    }
}
