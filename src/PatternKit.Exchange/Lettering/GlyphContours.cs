using PatternKit.Geometry.Numerics;
using SkiaSharp;

namespace PatternKit.Exchange.Lettering;

/// <summary>The closed contours of a glyph as chords; y up.</summary>
internal static class GlyphContours
{
    /// <summary>Contours in the path's unit; no chord farther from its curve than the tolerance.</summary>
    public static List<List<Vec2>> Flatten(SKPath path, double tolerance)
    {
        var contours = new List<List<Vec2>>();
        using var walk = path.CreateRawIterator();
        Span<SKPoint> p = stackalloc SKPoint[4];
        while (walk.Next(p) is var verb && verb != SKPathVerb.Done)
        {
            switch (verb)
            {
                case SKPathVerb.Move:
                    contours.Add([Up(p[0])]);
                    break;
                case SKPathVerb.Line:
                    contours[^1].Add(Up(p[1]));
                    break;
                case SKPathVerb.Quad:
                    Quad(contours[^1], Up(p[0]), Up(p[1]), Up(p[2]), tolerance);
                    break;
                case SKPathVerb.Close:
                    break;
                default:
                    throw new InvalidOperationException($"A TrueType outline has no {verb}.");
            }
        }

        foreach (var c in contours)
            while (c.Count > 1 && c[^1] == c[0]) c.RemoveAt(c.Count - 1);
        contours.RemoveAll(c => c.Count < 3);
        return contours;
    }

    // The second derivative 2(a − 2b + c) is constant, so n equal steps stay within |a − 2b + c| / (4 n²).
    private static void Quad(List<Vec2> to, Vec2 a, Vec2 b, Vec2 c, double tolerance)
    {
        var bend = (a - (2 * b) + c).Length;
        var n = (int)Math.Clamp(Math.Ceiling(Math.Sqrt(bend / (4 * tolerance))), 1, 1000);
        for (var i = 1; i < n; i++)
        {
            var t = (double)i / n;
            to.Add(((1 - t) * (1 - t) * a) + (2 * t * (1 - t) * b) + (t * t * c));
        }

        to.Add(c);
    }

    private static Vec2 Up(SKPoint p) => new(p.X, -(double)p.Y);
}
