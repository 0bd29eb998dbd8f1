using System.Xml.Linq;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Plans;

/// <summary>Hatching of cut metal (ISO 128-3): narrow lines at 45°, evenly spaced, the other way in the body next to it.</summary>
internal static class Hatching
{
    private const double Spacing_mm = 2.5;

    /// <summary>The lines inside rings, by even-odd.</summary>
    /// <param name="sheet">On which the rings are drawn.</param>
    /// <param name="rings">In the plane that is drawn.</param>
    /// <param name="isRising">Whether the lines rise to the right.</param>
    public static IEnumerable<XElement> Lines(PlanSheet sheet, IEnumerable<IEnumerable<Vec2>> rings, bool isRising)
    {
        var across = (Math.Sqrt(0.5) * new Vec2(isRising ? 1 : -1, 1));
        var along = new Vec2(-across.Y, across.X);
        var sides = rings.Select(r => r.Select(sheet.Paper).ToArray()).SelectMany(r => r.Select((p, i) => (From: p, To: r[(i + 1) % r.Length])))
            .Select(s => (From: new Vec2(Vec2.Dot(s.From, along), Vec2.Dot(s.From, across)), To: new Vec2(Vec2.Dot(s.To, along), Vec2.Dot(s.To, across)))).ToArray();
        if (sides.Length == 0) yield break;
        var (low, high) = (sides.Min(s => s.From.Y), sides.Max(s => s.From.Y));
        // A share off the whole number, so that no line runs along a corner.
        for (var row = Math.Ceiling(low / Spacing_mm) + 0.137; row * Spacing_mm < high; row++)
        {
            var y = row * Spacing_mm;
            var crossings = sides.Where(s => (s.From.Y <= y) != (s.To.Y <= y)).Select(s => s.From.X + ((s.To.X - s.From.X) * (y - s.From.Y) / (s.To.Y - s.From.Y))).Order().ToArray();
            for (var i = 0; i + 1 < crossings.Length; i += 2)
            {
                var (a, b) = ((crossings[i] * along) + (y * across), (crossings[i + 1] * along) + (y * across));
                yield return PlanSheet.Line(a.X, a.Y, b.X, b.Y, "hatch");
            }
        }
    }
}
