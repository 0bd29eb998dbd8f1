using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>The closed pattern cut upright along its longer side, through the middle.</summary>
internal static class SectionView
{
    private const double PaperWidth = 180;
    private const double LeftMargin = 14;
    private const double TopMargin = 6;
    private const double BottomMargin = 22;
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
        var scale = PaperScale.For(high.X - low.X, high.Y - low.Y, PaperWidth - (2 * LeftMargin), TallestSection);
        var left = LeftMargin + ((PaperWidth - (2 * LeftMargin) - (scale.Ratio * (high.X - low.X))) / 2);
        var sheet = new PlanSheet(low, high, scale, left, TopMargin);
        var height = sheet.Box.Bottom + BottomMargin;
        var out_mm = Beyond / scale.Ratio;
        var (from, to) = alongX ? (new Vec2(low.X - out_mm, middle.Y), new Vec2(high.X + out_mm, middle.Y)) : (new Vec2(middle.X, low.X - out_mm), new Vec2(middle.X, high.X + out_mm));
        Vec2[] joint = kit.Parting.Carved is { Surface: var surface }
            ? [.. surface.Along(from, to).Select(InView), new(high.X + out_mm, surface.At(to).Height)]
            : [new(low.X - out_mm, kit.Parting.PatternHeight_mm), new(high.X + out_mm, kit.Parting.PatternHeight_mm)];
        var place = alongX ? $"y {numbers.Length(middle.Y)}" : $"x {numbers.Length(middle.X)}";
        return Shape("svg",
            Set("viewBox", $"0 0 {Number(PaperWidth)} {Number(height)}"), Set("width", $"{Number(PaperWidth)}mm"), Set("height", $"{Number(height)}mm"),
            Set("role", "img"), Set("aria-labelledby", "section-title"), Set("class", "drawing"),
            Shape("title", Set("id", "section-title"), $"Section of the pattern at {place}, seen from {(alongX ? "the front" : "the right")}"),
            kit.Bodies.Select(b => ClosedSection.Of(b, middle, normal) is { } loops
                ? Shape("g", sheet.Rings(loops.Select(loop => loop.Select(InView)), b.Half == MouldHalf.Cope ? "cope-cut" : "drag-cut"), Hatching.Lines(sheet, loops.Select(loop => loop.Select(InView)), b.Half == MouldHalf.Cope))
                : PlanSheet.Letters(PaperWidth / 2, sheet.Paper(InView(b.InMould.Bounds().Low)).Y - 2, ClosedSection.Missing(b), "middle")),
            sheet.Polyline(joint, "joint-line"),
            sheet.WidthDimension(8, numbers.Length(high.X - low.X)),
            sheet.HeightDimension(7, numbers.Length(high.Y - low.Y)),
            ScaleBar.Draw(LeftMargin, height - 2, 40, scale.Ratio, PlanSheet.TextHeight, numbers),
            PlanSheet.Letters(PaperWidth - LeftMargin, height - 2, $"A–A at {place}, scale {scale} at full size", "end"));
    }

    /// <summary>The box of the closed pattern, and whether it is cut along x, at the middle of y, or along y.</summary>
    public static (Box3 Box, bool AlongX) Plane(Kit kit)
    {
        var box = kit.Bodies.Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, own) => all.With(own.Low).With(own.High));
        return (box, box.Size.X >= box.Size.Y);
    }
}
