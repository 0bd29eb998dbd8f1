using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Pouring;

/// <summary>
/// The thickest section of a casting: the largest ball that fits into the metal with its middle half way up over a place of a grid, held against the outline and
/// against the roof and the floor over all other places. As near as the grid is fine. Cores count as metal.
/// </summary>
internal static class ThickestSection
{
    /// <summary>Diameter of that ball, mm.</summary>
    public static double Of(HalfMould cope, HalfMould drag, PlanStations stations)
    {
        (Vec2 At, double Inside, double Low, double High)[] columns = [.. stations.Places.Select(s => Column(s, cope, drag)).Where(c => c.High > c.Low)];
        var largest = 0.0;
        foreach (var c in columns)
        {
            var middle = (c.Low + c.High) / 2;
            // Places lie in the middles of their cells, so that the outline is found to the millimetre and walls inside it to a cell.
            var square = c.Inside * c.Inside;
            foreach (var o in columns)
            {
                if (square <= largest * largest) break;
                var (away, up, down) = ((o.At - c.At).LengthSquared, Math.Max(0, o.High - middle), Math.Max(0, middle - o.Low));
                square = Math.Min(square, away + Math.Min(up * up, down * down));
            }

            largest = Math.Max(largest, Math.Sqrt(square));
        }

        return 2 * largest;
    }

    private static (Vec2 At, double Inside, double Low, double High) Column(PlanStation s, HalfMould cope, HalfMould drag)
    {
        var (top, bottom) = cope.IsEmpty ? (0, 0) : cope.Surfaces(s.At);
        var (depth, under) = drag.IsEmpty ? (0, 0) : drag.Surfaces(s.At);
        return (s.At, s.Inside_mm, depth > under ? -depth : bottom, top > bottom ? top : -under);
    }
}
