using System.Xml.Linq;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Sheets.Plans;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Templates;

/// <summary>
/// A template that is larger than a page, cut into tiles. Neighbours share a strip; along its middle both have the seam, with crosses at the same
/// places of the template, so that one is laid on the other until the crosses meet.
/// </summary>
internal sealed class TemplateTiles
{
    /// <summary>Width of the strip that neighbours share.</summary>
    public const double Overlap_mm = 12;

    // Crosses keep so far from the border of a tile.
    private const double Inside_mm = 5;
    private const double Arm_mm = 4;

    private readonly Template template;
    private readonly Vec2 tile;
    private readonly Vec2 low;
    private readonly Vec2 high;

    public TemplateTiles(Template template, Vec2 tile_mm)
    {
        (this.template, tile) = (template, tile_mm);
        var box = template.Box;
        (low, high) = (box.Low.Plan, box.High.Plan);
        (Columns, Rows) = (Count(high.X - low.X, tile.X), Count(high.Y - low.Y, tile.Y));
    }

    public int Columns { get; }

    public int Rows { get; }

    /// <summary>The tiles that something lies in, row by row from above: row and column from 0.</summary>
    public IEnumerable<(int Row, int Column)> Used()
    {
        var border = template.Cut.Select(r => r.Geometry.Boundary).ToArray();
        for (var row = 0; row < Rows; row++)
            for (var column = 0; column < Columns; column++)
            {
                var (from, to) = Window(row, column);
                var window = PlanRegion.Rectangle(from, to).Geometry;
                if (Array.Exists(border, b => b.Intersects(window)) || template.Drill.Any(h => window.Covers(new Point(h.At_mm.X, h.At_mm.Y)))) yield return (row, column);
            }
    }

    /// <summary>What the paper shows of a tile, its upper left corner at a place.</summary>
    public IEnumerable<XElement> Draw(int row, int column, Vec2 at_mm)
    {
        var (from, to) = Window(row, column);
        var shape = new TemplateShape(template, new(from.X, to.Y), at_mm);
        yield return Shape("svg", Set("x", at_mm.X), Set("y", at_mm.Y), Set("width", tile.X), Set("height", tile.Y), Set("viewBox", $"{Number(at_mm.X)} {Number(at_mm.Y)} {Number(tile.X)} {Number(tile.Y)}"),
            shape.Cut(), shape.Drill(), shape.Engrave());
        foreach (var letters in shape.Letters(t => IsInside(t.At_mm, from, to, 4 * t.Height_mm))) yield return letters;
        foreach (var (a, b) in Seams(row, column)) yield return shape.Line(a, b, "seam");
        foreach (var mark in Marks().Where(m => IsInside(m, from, to, Inside_mm)))
        {
            yield return shape.Line(mark - new Vec2(Arm_mm, 0), mark + new Vec2(Arm_mm, 0), "register");
            yield return shape.Line(mark - new Vec2(0, Arm_mm), mark + new Vec2(0, Arm_mm), "register");
        }
    }

    private static int Count(double length, double tile) => length <= tile ? 1 : (int)Math.Ceiling((length - Overlap_mm) / (tile - Overlap_mm));

    private static bool IsInside(Vec2 p, Vec2 from, Vec2 to, double margin) =>
        p.X >= from.X + margin && p.X <= to.X - margin && p.Y >= from.Y + margin && p.Y <= to.Y - margin;

    // The part of the template on a tile.
    private (Vec2 Low, Vec2 High) Window(int row, int column)
    {
        var x = low.X + (column * (tile.X - Overlap_mm));
        var y = high.Y - (row * (tile.Y - Overlap_mm));
        return (new(x, y - tile.Y), new(x + tile.X, y));
    }

    private double SeamX(int column) => low.X + ((column + 1) * (tile.X - Overlap_mm)) + (Overlap_mm / 2);

    private double SeamY(int row) => high.Y - ((row + 1) * (tile.Y - Overlap_mm)) - (Overlap_mm / 2);

    private IEnumerable<(Vec2 From, Vec2 To)> Seams(int row, int column)
    {
        var (from, to) = Window(row, column);
        foreach (var c in new[] { column - 1, column })
            if (c >= 0 && c < Columns - 1) yield return (new(SeamX(c), from.Y), new(SeamX(c), to.Y));
        foreach (var r in new[] { row - 1, row })
            if (r >= 0 && r < Rows - 1) yield return (new(from.X, SeamY(r)), new(to.X, SeamY(r)));
    }

    // Three on every seam of a tile.
    private IEnumerable<Vec2> Marks()
    {
        double[] shares = [0.12, 0.5, 0.88];
        for (var row = 0; row < Rows; row++)
            for (var column = 0; column < Columns; column++)
            {
                var (from, to) = Window(row, column);
                foreach (var share in shares)
                {
                    if (column < Columns - 1) yield return new(SeamX(column), from.Y + (share * (to.Y - from.Y)));
                    if (row < Rows - 1) yield return new(from.X + (share * (to.X - from.X)), SeamY(row));
                }
            }
    }
}
