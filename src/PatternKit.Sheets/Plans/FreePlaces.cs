using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Sheets.Paper;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// Finds places for the names of holes on a plan: beside its hole where that is free, else farther off with a leader. A name stands on no other name, hole, lettering or line, and a
/// leader runs through no name and no other hole. Where a plan has no such place, lines alone may run under the name, on white.
/// </summary>
/// <param name="font">To measure by.</param>
/// <param name="low">Upper left corner of where names may stand, paper mm.</param>
/// <param name="high">Lower right corner.</param>
internal sealed class FreePlaces(PaperFont font, Vec2 low, Vec2 high)
{
    private const double Gap_mm = 0.8, Step_mm = 1.5, Farthest_mm = 45, Capital = 0.73;

    // Up to the right first; then around.
    private static readonly Vec2[] Ways = [.. new[] { 45, 0, -45, 135, 180, -135, 90, -90, 22, -22, 68, -68, 112, -112, 158, -158 }.Select(d => new Vec2(Math.Cos(d * Math.PI / 180), -Math.Sin(d * Math.PI / 180)))];

    private readonly List<(Vec2 Low, Vec2 High)> taken = [];
    private readonly List<(Vec2 From, Vec2 To)> lines = [];

    /// <summary>Nothing stands in this box.</summary>
    public void Keep(Vec2 from, Vec2 to) => taken.Add((new(Math.Min(from.X, to.X), Math.Min(from.Y, to.Y)), new(Math.Max(from.X, to.X), Math.Max(from.Y, to.Y))));

    /// <summary>Nothing stands on a hole with its centre lines.</summary>
    public void Keep(Vec2 at, double arm) => Keep(at - new Vec2(arm, arm), at + new Vec2(arm, arm));

    /// <summary>Nothing stands in the box of each piece of a region, such as a letter.</summary>
    public void KeepPieces(PlanSheet sheet, PlanRegion region)
    {
        foreach (var piece in region.Pieces())
            if (PartingPlan.Box(piece) is var (from, to)) Keep(sheet.Paper(from), sheet.Paper(to));
    }

    /// <summary>No name stands on the borders of a region.</summary>
    public void KeepLines(PlanSheet sheet, PlanRegion region)
    {
        foreach (var ring in region.Rings())
        {
            var places = ring.Select(sheet.Paper).ToArray();
            for (var i = 0; i < places.Length; i++) lines.Add((places[i], places[(i + 1) % places.Length]));
        }
    }

    /// <summary>The name of a hole that is kept already, with its leader where it has one.</summary>
    /// <param name="at">Middle of the hole, paper mm.</param>
    /// <param name="clear">From there to where its name may begin.</param>
    /// <param name="name">What is written.</param>
    public XElement?[] Name(Vec2 at, double clear, string name)
    {
        var size = new Vec2(ViewDrawing.Wider * font.Width(name, PlanSheet.TextHeight), PlanSheet.TextHeight * Capital);
        var (middle, way, isFree) = Find(true) ?? Find(false) ?? (at + new Vec2(clear + (size.X / 2), -clear - (size.Y / 2)), Ways[0], false);
        var (from, to) = Box(middle);
        Keep(from, to);
        var (start, end) = (at + (clear * way), Edge(middle, way));
        var isFar = Vec2.Distance(start, end) > (2 * Step_mm) + Gap_mm;
        if (isFar) lines.Add((start, end));
        return
        [
            isFar ? PlanSheet.Line(start.X, start.Y, end.X, end.Y, "thin") : null,
            isFree ? null : Html.Markup.Shape("rect", Html.Markup.Set("class", "paper"), Html.Markup.Set("x", from.X), Html.Markup.Set("y", from.Y), Html.Markup.Set("width", size.X), Html.Markup.Set("height", size.Y)),
            PlanSheet.Letters(middle.X, middle.Y + (size.Y / 2), name, "middle"),
        ];

        (Vec2 Low, Vec2 High) Box(Vec2 at) => (at - (0.5 * size), at + (0.5 * size));

        // Where a leader meets the box, in the direction of the hole.
        Vec2 Edge(Vec2 of, Vec2 along) => of - (Math.Min(along.X == 0 ? double.PositiveInfinity : size.X / 2 / Math.Abs(along.X), along.Y == 0 ? double.PositiveInfinity : size.Y / 2 / Math.Abs(along.Y)) * along);

        (Vec2 Middle, Vec2 Way, bool IsFree)? Find(bool keepsLines)
        {
            for (var reach = Gap_mm; reach < Farthest_mm; reach += Step_mm)
                foreach (var way in Ways)
                {
                    var from = at + (clear * way);
                    var middle = from + (reach * way);
                    // The box touches the end of the reach with its nearest side.
                    middle += middle - Edge(middle, way);
                    var (boxLow, boxHigh) = Box(middle);
                    if (boxLow.X < low.X || boxLow.Y < low.Y || boxHigh.X > high.X || boxHigh.Y > high.Y) continue;
                    var (wideLow, wideHigh) = (boxLow - new Vec2(0.5, 0.5), boxHigh + new Vec2(0.5, 0.5));
                    if (taken.Any(t => t.Low.X < wideHigh.X && t.High.X > wideLow.X && t.Low.Y < wideHigh.Y && t.High.Y > wideLow.Y)) continue;
                    if (keepsLines && lines.Any(l => Meets(l.From, l.To, wideLow, wideHigh))) continue;
                    // Its own hole is taken, too.
                    if (reach > 2 * Step_mm && taken.Any(t => !Holds(t, at) && Meets(from, Edge(middle, way), t.Low, t.High))) continue;
                    return (middle, way, keepsLines);
                }

            return null;
        }
    }

    private static bool Holds((Vec2 Low, Vec2 High) box, Vec2 p) => p.X >= box.Low.X && p.X <= box.High.X && p.Y >= box.Low.Y && p.Y <= box.High.Y;

    // Whether a straight line runs through a box: what is left of it between both pairs of sides (Liang and Barsky 1984).
    private static bool Meets(Vec2 from, Vec2 to, Vec2 low, Vec2 high)
    {
        var (begin, end, way) = (0.0, 1.0, to - from);
        foreach (var (start, step, least, most) in new[] { (from.X, way.X, low.X, high.X), (from.Y, way.Y, low.Y, high.Y) })
        {
            if (Math.Abs(step) < 1e-12)
            {
                if (start < least || start > most) return false;
                continue;
            }

            var (a, b) = ((least - start) / step, (most - start) / step);
            (begin, end) = (Math.Max(begin, Math.Min(a, b)), Math.Min(end, Math.Max(a, b)));
        }

        return begin <= end;
    }
}
