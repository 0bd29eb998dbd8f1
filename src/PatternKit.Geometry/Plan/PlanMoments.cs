using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>Moments of a region about a line through the origin, exact for its polygon (Green's theorem; textbooks of statics).</summary>
/// <param name="Area">Its area.</param>
/// <param name="First">∫ u dA, u measured along a direction.</param>
/// <param name="Second">∫ u² dA.</param>
public readonly record struct PlanMoments(double Area, double First, double Second)
{
    /// <summary>The moments of a region.</summary>
    /// <param name="region">The region.</param>
    /// <param name="direction">Of unit length.</param>
    public static PlanMoments Of(PlanRegion region, Vec2 direction)
    {
        double area = 0, first = 0, second = 0;
        foreach (var (from, to) in region.Sides())
        {
            var (cross, a, b) = (Vec2.Cross(from, to), Vec2.Dot(from, direction), Vec2.Dot(to, direction));
            area += cross / 2;
            first += cross * (a + b) / 6;
            second += cross * ((a * a) + (a * b) + (b * b)) / 12;
        }

        return new(area, first, second);
    }
}
