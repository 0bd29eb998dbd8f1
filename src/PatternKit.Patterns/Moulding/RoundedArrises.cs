using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// Corners at which the plan juts out, rounded before draft with the radius of the edges above them: upright arrises, which a ball that rolls
/// along the edge of a flat does not reach. Draft makes them rounder towards the foot. A corner that is drawn round enough stays as drawn.
/// </summary>
/// <param name="Terrain">With the corners taken off.</param>
/// <param name="Removed_mm3">What they held, before draft.</param>
/// <param name="Decisions">How many, where there are any.</param>
public sealed record RoundedArrises(TerrainMap Terrain, double Removed_mm3, ImmutableArray<Decision> Decisions)
{
    /// <summary>The corners' chords may be so far off their arcs, mm.</summary>
    private const double Chord_mm = 0.01;

    /// <summary>What rounding may leave between regions that touch, mm.</summary>
    private const double Slack_mm = 0.02;

    /// <summary>Rounds the corners of a terrain.</summary>
    /// <param name="map">The terrain before draft, on the lattice.</param>
    /// <param name="cope">Edges of the half above.</param>
    /// <param name="drag">Edges of the half below.</param>
    /// <param name="step">Of the lattice, mm.</param>
    public static RoundedArrises Of(TerrainMap map, RoundPlan cope, RoundPlan drag, double step)
    {
        var (above, below) = (Corners(map, cope, 1), Corners(map, drag, -1));
        if (above.Count + below.Count == 0) return new(map, 0, []);
        var rounded = Cut(map, above, below, step);
        return new(rounded, map.Volume - rounded.Volume,
        [
            new(
                "round_corners", "Outside corners of the plan that are rounded", above.Count + below.Count, "",
                "before draft, with the radius of the edge above each; draft makes them rounder towards the foot", ""),
        ]);
    }

    /// <summary>What is taken off a corner.</summary>
    /// <param name="Region">In plan.</param>
    /// <param name="From_mm">Height of the flat whose corner it is, of the half.</param>
    /// <param name="Down_mm">Height of what lies beside it.</param>
    private readonly record struct Corner(PlanRegion Region, double From_mm, double Down_mm);

    private static List<Corner> Corners(TerrainMap map, RoundPlan rounds, int sign)
    {
        var corners = new List<Corner>();
        var ground = sign * map.Base;
        var metal = map.Cells.Where(c => c.IsMetal).Select(c => (c.Region, End: sign > 0 ? c.Top : -c.Floor)).ToArray();
        foreach (var level in rounds.Rims.Where(r => r.Radius > 0).GroupBy(r => r.Height))
        {
            var standing = PlanRegion.Union(metal.Where(c => !c.End.IsLevel || c.End.AtOrigin >= level.Key).Select(c => c.Region));
            var box = standing.Geometry.EnvelopeInternal;
            foreach (var radius in level.Select(r => r.Radius).Distinct())
            {
                var rims = new NetTopologySuite.Geometries.MultiLineString([.. level.Where(r => r.Radius == radius).Select(r => PlanRegion.Line(r.Ring))]);
                var room = new Vec2(4 * radius, 4 * radius);
                var outside = PlanRegion.Rectangle(new Vec2(box.MinX, box.MinY) - room, new Vec2(box.MaxX, box.MaxY) + room).Difference(standing);
                foreach (var corner in InsideCorners.Of(outside, radius, Chord_mm))
                {
                    // Taper moves an outline; the corner still lies beside its own and no other.
                    if (!rims.IsWithinDistance(corner.Fill.Geometry, radius)) continue;
                    var beside = metal.Where(c => c.Region.Geometry.IsWithinDistance(corner.Fill.Geometry, Slack_mm)).ToArray();
                    if (beside.Any(c => !c.End.IsLevel)) continue;
                    corners.Add(new(corner.Fill, level.Key, beside.Select(c => c.End.AtOrigin).Where(h => h < level.Key).Append(ground).Max()));
                }
            }
        }

        return corners;
    }

    private static TerrainMap Cut(TerrainMap map, List<Corner> above, List<Corner> below, double step)
    {
        return TerrainPatches.Cut(map, above, below, c => c.Region, Kind, step);

        TerrainKind? Kind(TerrainCell? cell, Corner[] high, Corner[] low)
        {
            if (cell is null) return null;
            var same = new TerrainKind(cell.Top, cell.Floor, cell.IsMetal, cell.IsOpen);
            // A recess behind a corner keeps its wall.
            if (!cell.IsMetal || !cell.Top.IsLevel || !cell.Floor.IsLevel || cell.Lower > map.Base || cell.Upper < map.Base) return same;
            var (top, floor) = (Lowered(cell.Upper, high), -Lowered(-cell.Lower, low));
            if (top == cell.Upper && floor == cell.Lower) return same;
            // At the joint both halves meet: there a corner is taken off both or neither.
            if (cell.Lower < map.Base && cell.Upper > map.Base && (top == map.Base) != (floor == map.Base)) return same;
            return top == floor ? null : new(top, floor, true, cell.IsOpen);
        }

        static double Lowered(double height, Corner[] corners)
        {
            foreach (var corner in corners.OrderByDescending(c => c.From_mm))
                if (corner.From_mm == height) height = corner.Down_mm;
            return height;
        }
    }
}
