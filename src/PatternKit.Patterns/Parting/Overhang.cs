using System.Globalization;
using NetTopologySuite.Geometries;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parting;

/// <summary>What of a part hangs over sand beside a wall, looked at as a loose piece: drawn sideways, it has to travel all that it stands out, into the cavity that the wall's own metal leaves.</summary>
internal static class Overhang
{
    /// <summary>Shorter borders with the wall carry nothing, mm.</summary>
    private const double LeastWall_mm = 3;

    private const double Farthest_mm = 2000;

    /// <summary>What a loose piece would have to travel and what the cavity has, before draft, as a remedy; null where nothing beside it is solid.</summary>
    /// <param name="cells">The columns of the casting.</param>
    /// <param name="group">Those with sand under metal.</param>
    /// <param name="isOver">Height of the metal that hangs over, of the cell named.</param>
    /// <param name="table">Room that a piece needs to spare.</param>
    public static string? AsLoosePiece(IReadOnlyList<Cell> cells, IReadOnlyCollection<int> group, Func<Cell, double> isOver, LooseTable table)
    {
        var hanging = group.ToHashSet();
        var over = PlanRegion.Union(group.Select(i => cells[i].Region));
        var height = isOver(cells[group.MaxBy(i => cells[i].Region.Area)]);
        var wall = PlanRegion.Union(cells.Where((c, i) => !hanging.Contains(i) && c.Solid.Any(s => s.Low.At(c.Region.Centroid) < height && s.High.At(c.Region.Centroid) > height)).Select(c => c.Region));
        if (wall.IsEmpty || Border(over, wall) is not { } side) return null;
        var outward = -(side.To - side.From).Normalized().Left;
        var middle = 0.5 * (side.From + side.To);
        if (!over.Contains(middle + (0.01 * outward))) outward = -outward;
        var travel = over.Rings().SelectMany(r => r).Max(p => Vec2.Dot(p - middle, outward)) + table.Clear_mm.Value;
        var way = new LineString([At(middle - (0.01 * outward)), At(middle - (Farthest_mm * outward))]);
        var inside = way.Intersection(wall.Geometry);
        // Of several stretches the first begins at the wall.
        var cavity = Enumerable.Range(0, inside.NumGeometries).Select(inside.GetGeometryN).OrderBy(g => g.Distance(way.StartPoint)).First().Length;
        var facing = Math.Atan2(outward.Y, outward.X) * 180 / Math.PI;
        return string.Create(CultureInfo.InvariantCulture,
            $"make what hangs over a loose piece ([[loose]], facing = {Math.Round(facing, 1) + 0.0:0.#}): it would go {travel:0.#} mm sideways once the pattern is out, and the cavity has {cavity:0.#} mm there before draft{(cavity < travel ? ", which is not enough" : "")}");
    }

    /// <summary>The longest straight border of both.</summary>
    private static (Vec2 From, Vec2 To)? Border(PlanRegion over, PlanRegion wall)
    {
        var common = wall.Offset(0.01, 0.001);
        return over.Sides().Where(s => Vec2.Distance(s.From, s.To) >= LeastWall_mm && common.Contains(0.5 * (s.From + s.To)) && common.Contains((0.9 * s.From) + (0.1 * s.To)) && common.Contains((0.1 * s.From) + (0.9 * s.To)))
            .Select(s => ((Vec2 From, Vec2 To)?)s).MaxBy(s => Vec2.Distance(s!.Value.From, s.Value.To));
    }

    private static Coordinate At(Vec2 p) => new(p.X, p.Y);
}
