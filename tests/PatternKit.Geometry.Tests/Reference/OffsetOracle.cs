using System.Collections.Immutable;
using NetTopologySuite.Algorithm.Locate;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.Distance;
using NetTopologySuite.Operation.OverlayNG;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Reference;

/// <summary>
/// The drafted body of a stepped terrain without any surface: the points at height z or above stand over the union
/// of the slices at heights h ≥ z, each grown by a disc of radius (h − z) · tan(draft). That is the definition of
/// the dilation by a cone, taken level by level: a point q of height h reaches z over every plan point within
/// (h − z) · tan(draft) of it. Offsets and distances are NetTopologySuite's.
/// </summary>
internal sealed class OffsetOracle
{
    // A quarter turn in 64 chords: a full corner circle falls short by 1.0e-4 of its own area, and corner circles
    // are of the order of 1e-3 of a part, so areas hold to about 1e-7.
    private const int QuarterSegments = 64;

    private readonly ImmutableArray<Level> _levels;
    private readonly double _tangent;

    /// <summary>Takes the slices, each the region of the terrain at its height, in any order, and tan(draft).</summary>
    public OffsetOracle(IEnumerable<Slice> slices, double tangent)
    {
        _levels = [.. slices.OrderByDescending(s => s.Height).Select(s => new Level(s))];
        _tangent = tangent;
    }

    /// <summary>Greatest height of the drafted terrain over a plan point; exact up to rounding.</summary>
    public double Height(Vec2 p)
    {
        var best = double.NegativeInfinity;
        foreach (var level in _levels)
        {
            if (level.Height <= best) break;
            best = Math.Max(best, level.Height - (level.Distance(p) / _tangent));
        }

        return best;
    }

    /// <summary>Whether the point is in the drafted body, which reaches down without end.</summary>
    public bool Contains(Vec2 p, double z) => Height(p) >= z;

    /// <summary>Area of the drafted body's section at a height, mm².</summary>
    public double SectionArea(double z)
    {
        var grown = _levels.Where(l => l.Height >= z).Select(l => l.Grown((l.Height - z) * _tangent)).ToList();
        return grown.Count == 0 ? 0 : OverlayNGRobust.Union(grown).Area;
    }

    /// <summary>Volume of the drafted body above a height, mm³; relative error about 1e-6.</summary>
    public double VolumeAbove(double parting)
    {
        // The section is smooth between the heights of the slices, but for holes that close and walls that meet.
        double[] heights = [parting, .. _levels.Select(l => l.Height).Where(h => h > parting).Distinct().Order()];
        double volume = 0;
        for (var i = 1; i < heights.Length; i++)
        {
            var (low, high) = (heights[i - 1], heights[i]);
            var whole = Gauss(low, high);
            volume += Refined(low, high, whole, 1e-8 * whole, depth: 9);
        }

        return volume;
    }

    private double Refined(double low, double high, double whole, double allowed, int depth)
    {
        var middle = (low + high) / 2;
        var (lower, upper) = (Gauss(low, middle), Gauss(middle, high));
        if (depth == 0 || Math.Abs(lower + upper - whole) <= allowed) return lower + upper;
        return Refined(low, middle, lower, allowed / 2, depth - 1) + Refined(middle, high, upper, allowed / 2, depth - 1);
    }

    /// <summary>Four-point Gauss–Legendre rule; Abramowitz and Stegun, table 25.4 (memory; exact for cubics by the tests).</summary>
    private double Gauss(double low, double high)
    {
        var (middle, half) = ((low + high) / 2, (high - low) / 2);
        ReadOnlySpan<(double At, double Weight)> rule =
        [
            (0.339981043584856, 0.652145154862546), (0.861136311594053, 0.347854845137454),
        ];
        double sum = 0;
        foreach (var (at, weight) in rule)
            sum += weight * (SectionArea(middle - (half * at)) + SectionArea(middle + (half * at)));
        return half * sum;
    }

    private sealed class Level(Slice slice)
    {
        private readonly IndexedPointInAreaLocator _inside = new(slice.Region.Geometry);
        private readonly IndexedFacetDistance _border = new(slice.Region.Geometry);

        public double Height { get; } = slice.Height;

        public double Distance(Vec2 p)
        {
            var at = new Coordinate(p.X, p.Y);
            return _inside.Locate(at) != Location.Exterior ? 0 : _border.Distance(new Point(at));
        }

        // No simplification of the input, which would by default move it by a hundredth of the offset.
        public NetTopologySuite.Geometries.Geometry Grown(double radius) => radius == 0
            ? slice.Region.Geometry
            : BufferOp.Buffer(slice.Region.Geometry, radius, new BufferParameters(QuarterSegments, EndCapStyle.Round) { SimplifyFactor = 0 });
    }
}
