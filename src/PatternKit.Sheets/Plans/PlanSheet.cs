using System.Globalization;
using System.Text;
using System.Xml.Linq;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// A drawing on paper: places of the drawn plane in millimetres are mapped to paper millimetres, y upward to rows downward.
/// </summary>
internal sealed class PlanSheet(Vec2 low, Vec2 high, PaperScale scale, double left, double top)
{
    /// <summary>Height of letters on the paper, mm: ISO 3098 has 3.5.</summary>
    public const double TextHeight = 3.5;

    /// <summary>Scale.</summary>
    public PaperScale Scale => scale;

    /// <summary>Where the drawn box lies on the paper.</summary>
    public (double Left, double Top, double Right, double Bottom) Box =>
        (left, top, left + (scale.Ratio * (high.X - low.X)), top + (scale.Ratio * (high.Y - low.Y)));

    /// <summary>A place on the paper.</summary>
    public Vec2 Paper(Vec2 p) => new(left + (scale.Ratio * (p.X - low.X)), top + (scale.Ratio * (high.Y - p.Y)));

    /// <summary>The rings of a region as one path.</summary>
    public XElement Region(PlanRegion region, string className) => Rings(region.Rings().Select(r => r.AsEnumerable()), className);

    /// <summary>Rings as one path, filled by even-odd.</summary>
    public XElement Rings(IEnumerable<IEnumerable<Vec2>> rings, string className) =>
        Shape("path", Set("class", className), Set("d", Closed(rings.Select(r => r.Select(Paper)))), Set("fill-rule", "evenodd"));

    /// <summary>Path data of closed rings on the paper.</summary>
    public static string Closed(IEnumerable<IEnumerable<Vec2>> rings)
    {
        var data = new StringBuilder();
        foreach (var ring in rings)
        {
            var pen = 'M';
            foreach (var p in ring)
            {
                data.Append(CultureInfo.InvariantCulture, $"{pen}{Number(p.X)} {Number(p.Y)}");
                pen = 'L';
            }

            data.Append('Z');
        }

        return data.ToString();
    }

    /// <summary>An open line through places.</summary>
    public XElement Polyline(IEnumerable<Vec2> places, string className) =>
        Shape("path", Set("class", className), Set("fill", "none"), Set("d", "M" + string.Join('L', places.Select(Paper).Select(p => $"{Number(p.X)} {Number(p.Y)}"))));

    /// <summary>A straight line on the paper.</summary>
    public static XElement Line(double x1, double y1, double x2, double y2, string className) =>
        Shape("line", Set("class", className), Set("x1", x1), Set("y1", y1), Set("x2", x2), Set("y2", y2));

    /// <summary>Letters on the paper.</summary>
    public static XElement Letters(double x, double y, string text, string anchor = "start", double turn = 0, double size = TextHeight) =>
        Shape("text", Set("x", x), Set("y", y), Set("font-size", size), Set("text-anchor", anchor),
            turn == 0 ? null : Set("transform", $"rotate({Number(turn)} {Number(x)} {Number(y)})"), text);

    /// <summary>A filled arrow head of 15 degrees, 3 mm long (ISO 129-1), its tip at the place.</summary>
    public static XElement Arrow(double x, double y, double dx, double dy)
    {
        const double Long = 3, Half = 0.4;
        return Shape("path", Set("class", "ink"), Set("d",
            $"M{Number(x)} {Number(y)}L{Number(x - (Long * dx) - (Half * dy))} {Number(y - (Long * dy) + (Half * dx))}L{Number(x - (Long * dx) + (Half * dy))} {Number(y - (Long * dy) - (Half * dx))}Z"));
    }
}
