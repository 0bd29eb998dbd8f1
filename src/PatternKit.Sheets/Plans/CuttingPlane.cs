using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// Where a section is taken, on the view in which its plane is a line: a chain line with wide ends, at both of which an arrow in the direction of sight and the letter of the
/// section stand (ISO 128-3; that the tips touch the line is from memory).
/// </summary>
/// <param name="Letter">Of the section.</param>
/// <param name="At">A place on it, mm of the view.</param>
/// <param name="Sight">Direction of sight in the view, a unit vector.</param>
internal sealed record CuttingPlane(string Letter, Vec2 At, Vec2 Sight)
{
    private const double Clear_mm = 2, Wide_mm = 5, Shaft_mm = 7, Letter_mm = 3.5, Pitch_mm = 6;

    /// <summary>How far the first reaches beyond its view; what stands there keeps clear of it.</summary>
    public const double Reach_mm = Clear_mm + Wide_mm + 1;

    /// <summary>How far arrow and letter stand before the line.</summary>
    public const double Arrow_mm = Shaft_mm + (1.2 * Letter_mm);

    // Two that are nearer than an arrow with its letter do not stand at the same distance from the view.
    private const double Apart_mm = Shaft_mm + Letter_mm + 1;

    /// <summary>Whether its ends are left and right of the view; else above and below it.</summary>
    public bool EndsLeft => Math.Abs(Sight.Y) > Math.Abs(Sight.X);

    /// <summary>How far planes of one view reach beyond it on the paper, each so that arrows and letters keep clear of the others'.</summary>
    public static ImmutableArray<double> Reaches(ImmutableArray<CuttingPlane> planes, PaperScale scale)
    {
        var levels = new int[planes.Length];
        for (var i = 0; i < planes.Length; i++)
        {
            var before = Enumerable.Range(0, i).Where(k => planes[k].EndsLeft == planes[i].EndsLeft
                && Math.Abs(scale.Ratio * Vec2.Dot(planes[k].At - planes[i].At, planes[i].Sight)) < Apart_mm).Select(k => levels[k]).ToHashSet();
            while (before.Contains(levels[i])) levels[i]++;
        }

        return [.. levels.Select(l => Reach_mm + (l * Pitch_mm))];
    }

    /// <summary>How far ends, arrows and letters reach beyond a view, left of it and below, paper mm; 0 where they do not.</summary>
    public (double Left, double Below) Beyond(PlanSheet sheet, double reach)
    {
        var ends = Ends(sheet, reach);
        var sight = new Vec2(Sight.X, -Sight.Y);
        var half = new Vec2(Letter_mm / 2, Letter_mm / 2);
        var all = new[] { (ends.From, ends.Along), (ends.To, -1 * ends.Along) }.SelectMany(e => e.Item1 + e.Item2 - ((Shaft_mm + (0.6 * Letter_mm)) * sight) is var letter ? new[] { e.Item1, letter - half, letter + half } : []).ToArray();
        return (Math.Max(0, sheet.Box.Left - all.Min(p => p.X)), Math.Max(0, all.Max(p => p.Y) - sheet.Box.Bottom));
    }

    /// <summary>Draws it.</summary>
    /// <param name="sheet">The view.</param>
    /// <param name="reach">How far it goes beyond, paper mm.</param>
    /// <param name="isThrough">Whether the line between the ends is drawn.</param>
    public XElement Draw(PlanSheet sheet, double reach, bool isThrough = true)
    {
        var sight = new Vec2(Sight.X, -Sight.Y);
        var (from, to, along) = Ends(sheet, reach);
        return Shape("g",
            isThrough ? Line(from + (Wide_mm * along), to - (Wide_mm * along), "centre") : null,
            End(from, along), End(to, -1 * along));

        object[] End(Vec2 end, Vec2 inward)
        {
            var tip = end + (1 * inward);
            var tail = tip - (Shaft_mm * sight);
            var letter = tail - (0.6 * Letter_mm * sight);
            return
            [
                Line(end, end + (Wide_mm * inward), "cut-end"), Line(tail, tip - (2 * sight), "thin"), PlanSheet.Arrow(tip.X, tip.Y, sight.X, sight.Y),
                // Extension lines give way to it.
                Shape("rect", Set("class", "paper"), Set("x", letter.X - (0.5 * Letter_mm)), Set("y", letter.Y - (0.5 * Letter_mm)), Set("width", Letter_mm), Set("height", Letter_mm)),
                PlanSheet.Letters(letter.X, letter.Y + (0.36 * Letter_mm), Letter, "middle", size: Letter_mm),
            ];
        }
    }

    // Both ends on the paper, and the way from the one to the other: to the right, or down.
    private (Vec2 From, Vec2 To, Vec2 Along) Ends(PlanSheet sheet, double reach)
    {
        var (along, at) = (new Vec2(Sight.X, -Sight.Y).Left, sheet.Paper(At));
        if (along.X < -1e-9 || (Math.Abs(along.X) <= 1e-9 && along.Y < 0)) along = -1 * along;
        var (from, to) = Through(sheet, at, along);
        return (at + ((from - reach) * along), at + ((to + reach) * along), along);
    }

    // Where the line goes in and out of the box of the view, from a place on it.
    private static (double From, double To) Through(PlanSheet sheet, Vec2 at, Vec2 along)
    {
        var (l, t, r, b) = sheet.Box;
        var (from, to) = (double.NegativeInfinity, double.PositiveInfinity);
        foreach (var (place, way, low, high) in new[] { (at.X, along.X, l, r), (at.Y, along.Y, t, b) })
        {
            if (Math.Abs(way) < 1e-9) continue;
            var (first, last) = ((low - place) / way, (high - place) / way);
            (from, to) = (Math.Max(from, Math.Min(first, last)), Math.Min(to, Math.Max(first, last)));
        }

        return (from, to);
    }

    private static XElement Line(Vec2 a, Vec2 b, string className) => PlanSheet.Line(a.X, a.Y, b.X, b.Y, className);
}
