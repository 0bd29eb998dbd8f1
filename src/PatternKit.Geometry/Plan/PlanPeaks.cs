using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>Places of a region's outline from which it does not rise any further along a direction: where air is caught when the region stands upright and fills from below.</summary>
public static class PlanPeaks
{
    // Corners of one level flat.
    private const double Flat_mm = 0.01;

    // How far inside the outline it is looked whether the region lies below a place.
    private const double Inside_mm = 0.05;

    /// <summary>The high places, the highest first. Each stands at least the given rise over the lower of the two dips that part it, along its outline, from higher ones.</summary>
    /// <param name="region">The region.</param>
    /// <param name="up">Of unit length.</param>
    /// <param name="leastRise_mm">Lower ones are left out.</param>
    public static ImmutableArray<Vec2> Of(PlanRegion region, Vec2 up, double leastRise_mm)
    {
        var found = new List<Vec2>();
        foreach (var ring in region.Rings())
        {
            double[] heights = [.. ring.Select(p => Vec2.Dot(p, up))];
            var n = ring.Length;
            for (var i = 0; i < n; i++)
            {
                if (heights[(i + n - 1) % n] >= heights[i] - Flat_mm) continue;
                var last = i;
                while (last - i < n && Math.Abs(heights[(last + 1) % n] - heights[i]) <= Flat_mm) last++;
                if (heights[(last + 1) % n] > heights[i]) continue;
                var place = 0.5 * (ring[i] + ring[last % n]);
                if (region.Contains(place - (Inside_mm * up)) && Rise(heights, i) >= leastRise_mm) found.Add(place);
            }
        }

        return [.. found.OrderByDescending(p => Vec2.Dot(p, up))];
    }

    private static double Rise(double[] heights, int peak)
    {
        var n = heights.Length;
        // The dip on the way to something higher, on either side; of the highest of the ring the lowest place of it.
        double Dip(int step)
        {
            var low = heights[peak];
            for (var i = 1; i < n; i++)
            {
                var h = heights[(((peak + (step * i)) % n) + n) % n];
                if (h > heights[peak] + Flat_mm) return low;
                low = Math.Min(low, h);
            }

            return low;
        }

        return heights[peak] - Math.Max(Dip(1), Dip(-1));
    }
}
