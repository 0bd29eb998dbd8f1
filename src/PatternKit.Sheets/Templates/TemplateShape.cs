using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Sheets.Plans;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Templates;

/// <summary>Draws a template at full size: a millimetre of it is a millimetre of the paper.</summary>
/// <param name="template">The template.</param>
/// <param name="corner_mm">The place of the template, its own millimetres, that lies at <paramref name="at_mm"/>.</param>
/// <param name="at_mm">Place on the paper, y downward.</param>
internal sealed class TemplateShape(Template template, Vec2 corner_mm, Vec2 at_mm)
{
    /// <summary>A place on the paper.</summary>
    public Vec2 Paper(Vec2 p) => new(at_mm.X + p.X - corner_mm.X, at_mm.Y + corner_mm.Y - p.Y);

    /// <summary>The lines to cut.</summary>
    public XElement Cut() => Shape("path", Set("class", "cut"), Set("d", PlanSheet.Closed(template.Cut.SelectMany(r => r.Rings()).Select(r => r.Select(Paper)))), Set("fill-rule", "evenodd"));

    /// <summary>The holes to drill.</summary>
    public IEnumerable<XElement> Drill() => template.Drill.Select(h => Shape("circle", Set("class", "drill"), Set("cx", Paper(h.At_mm).X), Set("cy", Paper(h.At_mm).Y), Set("r", h.Diameter_mm / 2)));

    /// <summary>The lines to engrave, with a cross in every hole.</summary>
    public IEnumerable<XElement> Engrave() => template.Engrave.Concat(template.Drill.SelectMany(Cross)).Select(l => Line(l.From, l.To, "engrave"));

    /// <summary>The letters, of those that lie in a window of the template.</summary>
    public IEnumerable<XElement> Letters(Func<TemplateText, bool> isInside) => template.Texts.Where(isInside).Select(t =>
        Shape("text", Set("x", Paper(t.At_mm).X), Set("y", Paper(t.At_mm).Y), Set("font-size", t.Height_mm), Set("text-anchor", "middle"), t.Content));

    /// <summary>A line of the template's own millimetres.</summary>
    public XElement Line(Vec2 from, Vec2 to, string className) => PlanSheet.Line(Paper(from).X, Paper(from).Y, Paper(to).X, Paper(to).Y, className);

    private static (Vec2 From, Vec2 To)[] Cross((Vec2 At_mm, double Diameter_mm) hole)
    {
        var arm = hole.Diameter_mm / 2;
        return [(hole.At_mm - new Vec2(arm, 0), hole.At_mm + new Vec2(arm, 0)), (hole.At_mm - new Vec2(0, arm), hole.At_mm + new Vec2(0, arm))];
    }
}
