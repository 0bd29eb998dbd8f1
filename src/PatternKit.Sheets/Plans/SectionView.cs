using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The closed pattern cut upright (<see cref="SectionPlane"/>), cores as they will lie in it.</summary>
internal static class SectionView
{
    /// <summary>Names the section where it is cut and where it is drawn.</summary>
    public const string Letter = "A";

    private const double LeastMargin = 14;
    private const double TopMargin = 12;
    private const double BottomMargin = 14;
    private const double TallestSection = 120;

    /// <summary>The joint is drawn so far beyond the pattern on the paper, mm.</summary>
    private const double Beyond = 5;

    /// <summary>The drawing; null where there is no body.</summary>
    public static XElement? Draw(Kit kit, SheetNumbers numbers)
    {
        if (kit.Bodies.IsEmpty) return null;
        var (plane, halves, low, high) = PatternSection.Of(kit);
        var (alongX, middle) = (plane.AlongX, plane.Point);
        using var font = new PaperFont();
        var (measure, height) = (DimensionRows.Measure(font), new ViewDimension(low.Y, high.Y, numbers.Length(high.Y - low.Y)));
        var (scale, left) = DimensionRows.Room(high - low, height, LeastMargin, 0, TallestSection, measure);
        var sheet = new PlanSheet(low, high, scale, left, TopMargin);
        var out_mm = Beyond / scale.Ratio;
        var (from, to) = alongX ? (new Vec2(low.X - out_mm, middle.Y), new Vec2(high.X + out_mm, middle.Y)) : (new Vec2(middle.X, low.X - out_mm), new Vec2(middle.X, high.X + out_mm));
        Vec2[] joint = kit.Parting.Carved is { Surface: var surface }
            ? [.. surface.Along(from, to).Select(plane.InView), new(high.X + out_mm, surface.At(to).Height)]
            : [new(low.X - out_mm, kit.Parting.PatternHeight_mm), new(high.X + out_mm, kit.Parting.PatternHeight_mm)];
        var place = $"{(alongX ? 'y' : 'x')} {numbers.Length(plane.At_mm)}";
        var cores = kit.Cores.SelectMany(c => c.InMould).SelectMany(c => ClosedSection.Of(c, plane.Point, plane.Normal) is { } loops ? plane.InView(loops) : []);
        return DrawingFrame.Draw(
            kit, numbers, new("section", $"Section {Letter}–{Letter} of the pattern", $"Section of the pattern through {plane.Through}, at {place}, seen from {(alongX ? "the front" : "the right")}"), scale, sheet.Box.Bottom + BottomMargin, $"pattern sizes; cut at {place}",
            PlanSheet.Letters(DrawingFrame.Width_mm / 2, 7, $"{Letter}–{Letter}", "middle"),
            halves.Select(h => h.Rings is { } rings
                ? Shape("g", sheet.Rings(rings.Select(r => r.AsEnumerable()), h.Half.Half == MouldHalf.Cope ? "cope-cut" : "drag-cut"), Hatching.Lines(sheet, rings.Select(r => r.AsEnumerable()), h.Half.Half == MouldHalf.Cope))
                : PlanSheet.Letters(DrawingFrame.Width_mm / 2, sheet.Paper(plane.InView(h.Half.InMould.Bounds().Low)).Y - 2, ClosedSection.Missing(h.Half), "middle")),
            cores.Select(l => sheet.Rings([l], "phantom")),
            sheet.Polyline(joint, "joint-line"),
            DimensionRows.Below(sheet, [new(low.X, high.X, numbers.Length(high.X - low.X))], measure),
            DimensionRows.Left(sheet, [height], measure));
    }
}
