using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The closed pattern cut upright along its longer side, through the middle.</summary>
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
        var (box, alongX) = Plane(kit);
        var middle = box.Low + (0.5 * box.Size);
        var normal = alongX ? new Vec3(0, -1, 0) : new Vec3(1, 0, 0);
        Vec2 InView(Vec3 p) => new(alongX ? p.X : p.Y, p.Z);
        var (low, high) = (InView(box.Low), InView(box.High));
        using var font = new PaperFont();
        var (measure, height) = (DimensionRows.Measure(font), new ViewDimension(low.Y, high.Y, numbers.Length(high.Y - low.Y)));
        var (scale, left) = DimensionRows.Room(high - low, height, LeastMargin, 0, TallestSection, measure);
        var sheet = new PlanSheet(low, high, scale, left, TopMargin);
        var out_mm = Beyond / scale.Ratio;
        var (from, to) = alongX ? (new Vec2(low.X - out_mm, middle.Y), new Vec2(high.X + out_mm, middle.Y)) : (new Vec2(middle.X, low.X - out_mm), new Vec2(middle.X, high.X + out_mm));
        Vec2[] joint = kit.Parting.Carved is { Surface: var surface }
            ? [.. surface.Along(from, to).Select(InView), new(high.X + out_mm, surface.At(to).Height)]
            : [new(low.X - out_mm, kit.Parting.PatternHeight_mm), new(high.X + out_mm, kit.Parting.PatternHeight_mm)];
        var place = alongX ? $"y {numbers.Length(middle.Y)}" : $"x {numbers.Length(middle.X)}";
        return DrawingFrame.Draw(
            kit, numbers, new("section", $"Section {Letter}–{Letter} of the pattern", $"Section of the pattern at {place}, seen from {(alongX ? "the front" : "the right")}"), scale, sheet.Box.Bottom + BottomMargin, $"pattern sizes; cut at {place}",
            PlanSheet.Letters(DrawingFrame.Width_mm / 2, 7, $"{Letter}–{Letter}", "middle"),
            kit.Bodies.Select(b => ClosedSection.Of(b, middle, normal) is { } loops
                ? Shape("g", sheet.Rings(loops.Select(loop => loop.Select(InView)), b.Half == MouldHalf.Cope ? "cope-cut" : "drag-cut"), Hatching.Lines(sheet, loops.Select(loop => loop.Select(InView)), b.Half == MouldHalf.Cope))
                : PlanSheet.Letters(DrawingFrame.Width_mm / 2, sheet.Paper(InView(b.InMould.Bounds().Low)).Y - 2, ClosedSection.Missing(b), "middle")),
            sheet.Polyline(joint, "joint-line"),
            DimensionRows.Below(sheet, [new(low.X, high.X, numbers.Length(high.X - low.X))], measure),
            DimensionRows.Left(sheet, [height], measure));
    }

    /// <summary>A place of the plane, and the direction of sight in plan.</summary>
    public static (Vec3 At, Vec2 Sight) Cut(Kit kit) => Plane(kit) is var (box, alongX) ? (box.Low + (0.5 * box.Size), alongX ? new(0, 1) : new(-1, 0)) : default;

    /// <summary>The box of the closed pattern, and whether it is cut along x, at the middle of y, or along y.</summary>
    public static (Box3 Box, bool AlongX) Plane(Kit kit)
    {
        var box = kit.Bodies.Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, own) => all.With(own.Low).With(own.High));
        return (box, box.Size.X >= box.Size.Y);
    }
}
