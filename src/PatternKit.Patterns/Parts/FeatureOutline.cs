using System.Collections.Immutable;
using System.Globalization;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.Valid;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>The plan of a feature of upright walls, as drawn or with its walls moved.</summary>
internal static class FeatureOutline
{
    /// <summary>A casting of a hundred metres is a slip of units.</summary>
    private const double Farthest_mm = 1e5;

    /// <summary>Corners sharper than this many offsets from tip to old corner are cut off: a right angle needs 1.41.</summary>
    private const double MitreLimit = 1.75;

    /// <summary>Refuses a feature that encloses nothing.</summary>
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
    /// The plans of features under a scale about the origin, then with their walls moved outward (inward when negative).
    /// Arcs stay arcs of their circles until they are flattened, all arcs of one circle alike; square corners stay square. Turned features have none.
    /// </summary>
    /// <param name="features">Features with the move of their walls after scaling, mm.</param>
    /// <param name="scale">Above 0.</param>
    /// <param name="chordTolerance_mm">Chords lie on the arcs, at most this far inside.</param>
    internal static ImmutableArray<PlanRegion> Of(IReadOnlyList<(Feature Feature, double Grow_mm)> features, double scale, double chordTolerance_mm)
    {
        var moved = features.Select(f => f.Feature.Turned is not null ? [] : Nested(f.Feature, scale).Select(l => Moved(l.Loop, l.Depth % 2 == 0 ? f.Grow_mm : -f.Grow_mm, l.Depth)).ToList()).ToList();
        var stations = new ArcStations(moved.SelectMany(m => m).Select(m => m.Path).OfType<PlanPath>(), chordTolerance_mm);
        return [.. moved.Select((loops, i) => features[i].Grow_mm == 0
            ? PlanRegion.EvenOdd(loops.Select(l => stations.Flatten(l.Path!)), chordTolerance_mm)
            : loops.Aggregate(PlanRegion.Empty, (region, l) =>
            {
                var plan = PathOffset.SwallowsAll(l.Loop, l.Grow_mm) ? PlanRegion.Empty
                    : l.Path is null ? Moved(PlanRegion.EvenOdd([l.Loop], chordTolerance_mm), l.Grow_mm)
                    : PlanRegion.EvenOdd([stations.Flatten(l.Path)], chordTolerance_mm);
                return l.Depth % 2 == 0 ? region.Union(plan) : region.Difference(plan);
            }))];
    }

    /// <summary>A region with its walls moved outward, square corners kept square.</summary>
    internal static PlanRegion Moved(PlanRegion region, double grow_mm) => grow_mm == 0 || region.IsEmpty ? region
        : PlanRegion.From(BufferOp.Buffer(region.Geometry, grow_mm, new BufferParameters(8, EndCapStyle.Flat, JoinStyle.Mitre, MitreLimit) { SimplifyFactor = 1e-9 }));

    private static (PlanPath Loop, PlanPath? Path, double Grow_mm, int Depth) Moved(PlanPath loop, double grow_mm, int depth) =>
        (loop, grow_mm == 0 ? loop : PathOffset.Of(loop, grow_mm, MitreLimit), grow_mm, depth);

    /// <summary>The scaled loops from the outside in, each with the number of loops around it: an outline grows, an island's hole in it shrinks, and so on.</summary>
    private static IEnumerable<(PlanPath Loop, int Depth)> Nested(Feature feature, double scale)
    {
        var loops = feature.Loops.Select(l => scale == 1 ? l : l.Transformed(scale, 0, default)).OrderByDescending(l => Math.Abs(l.SignedArea())).ToList();
        var plain = loops.Select(l => PlanRegion.EvenOdd([l], 0.1)).ToList();
        return loops.Select((l, i) =>
        {
            if (i == 0) return (l, 0);
            var inside = plain[i].InnerPoint;
            return (l, plain.Take(i).Count(o => o.Contains(inside)));
        });
    }
}
