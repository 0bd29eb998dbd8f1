using System.Globalization;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.Valid;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>The plan of a feature, as drawn or with its walls moved.</summary>
internal static class FeatureOutline
{
    /// <summary>A casting of a hundred metres is a slip of units.</summary>
    private const double Farthest_mm = 1e5;

    /// <summary>Corners sharper than this many offsets from tip to old corner are cut off: a right angle needs 1.41.</summary>
    private const double MitreLimit = 1.5;

    /// <summary>Refuses a feature that is no prism.</summary>
    /// <exception cref="InputException">Naming the feature and where it stands.</exception>
    internal static void Check(Feature feature)
    {
        InputException Error(string problem) => new(feature.Where, "", $"{feature.Name}: {problem}");
        if (!(feature.Low_mm < feature.High_mm))
            throw Error(string.Create(CultureInfo.InvariantCulture, $"z = [{feature.Low_mm:0.###}, {feature.High_mm:0.###}] mm has no height; give the lower end first."));
        if (feature.Loops.IsEmpty) throw Error("has no closed outline.");
        foreach (var loop in feature.Loops)
        {
            if (!loop.IsClosed) throw Error("an outline is open; close it.");
            var points = loop.Flatten(0.1);
            if (points.Any(p => Math.Max(Math.Abs(p.X), Math.Abs(p.Y)) > Farthest_mm) || Math.Max(Math.Abs(feature.Low_mm), Math.Abs(feature.High_mm)) > Farthest_mm)
                throw Error("reaches farther than 100 m from the origin; check the unit.");
            if (points.Distinct().Count() < 3) throw Error("an outline encloses nothing.");
            var fault = new IsValidOp(PlanRegion.Polygon(points).Geometry).ValidationError;
            if (fault is not null)
                throw Error(string.Create(CultureInfo.InvariantCulture, $"an outline crosses or touches itself near ({fault.Coordinate.X:0.###}, {fault.Coordinate.Y:0.###}) mm; draw it as simple closed loops."));
        }
    }

    /// <summary>
    /// The plan of a feature under a scale about the origin, then with its walls moved outward (inward when negative).
    /// Circles stay circles; square corners stay square.
    /// </summary>
    /// <param name="feature">The feature.</param>
    /// <param name="scale">Above 0.</param>
    /// <param name="grow_mm">Of the scaled outline.</param>
    /// <param name="chordTolerance_mm">Chords lie on the arcs, at most this far inside.</param>
    internal static PlanRegion Of(Feature feature, double scale, double grow_mm, double chordTolerance_mm)
    {
        var loops = scale == 1 ? feature.Loops : [.. feature.Loops.Select(l => l.Transformed(scale, 0, default))];
        if (grow_mm == 0) return PlanRegion.EvenOdd(loops, chordTolerance_mm);

        // From the outside in: an outline grows, an island's hole in it shrinks, and so on.
        var ordered = loops.OrderByDescending(l => Math.Abs(l.SignedArea())).ToList();
        var plain = ordered.Select(l => PlanRegion.EvenOdd([l], chordTolerance_mm)).ToList();
        var region = PlanRegion.Empty;
        for (var i = 0; i < ordered.Count; i++)
        {
            var inside = plain[i].Geometry.InteriorPoint;
            var depth = plain.Take(i).Count(o => o.Contains(new(inside.X, inside.Y)));
            region = depth % 2 == 0
                ? region.Union(Moved(ordered[i], plain[i], grow_mm, chordTolerance_mm))
                : region.Difference(Moved(ordered[i], plain[i], -grow_mm, chordTolerance_mm));
        }

        return region;
    }

    /// <summary>A region with its walls moved outward, square corners kept square.</summary>
    internal static PlanRegion Moved(PlanRegion region, double grow_mm) => grow_mm == 0 || region.IsEmpty ? region
        : PlanRegion.From(BufferOp.Buffer(region.Geometry, grow_mm, new BufferParameters(8, EndCapStyle.Flat, JoinStyle.Mitre, MitreLimit) { SimplifyFactor = 1e-9 }));

    private static PlanRegion Moved(PlanPath loop, PlanRegion plain, double grow_mm, double chordTolerance_mm)
    {
        if (Circle(loop) is not var (centre, radius)) return Moved(plain, grow_mm);
        return radius + grow_mm <= 0 ? PlanRegion.Empty : PlanRegion.EvenOdd([PlanPath.Circle(centre, 2 * (radius + grow_mm))], chordTolerance_mm);
    }

    private static (Vec2 Centre, double Radius)? Circle(PlanPath loop)
    {
        var segments = Enumerable.Range(0, loop.SegmentCount).Select(loop.Segment).ToList();
        if (!segments.TrueForAll(s => s.IsArc)) return null;
        var (centre, radius) = (segments[0].Centre, segments[0].Radius);
        var slack = 1e-6 * radius;
        return segments.TrueForAll(s => Vec2.Distance(s.Centre, centre) <= slack && Math.Abs(s.Radius - radius) <= slack)
            && Math.Abs(Math.Abs(segments.Sum(s => s.Sweep)) - (2 * Math.PI)) < 1e-6 ? (centre, radius) : null;
    }
}
