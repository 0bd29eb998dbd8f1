using NetTopologySuite.Geometries;
using NetTopologySuite.Index.Strtree;
using NetTopologySuite.Operation.OverlayNG;
using NetTopologySuite.Operation.Valid;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Numerics;
using SpatialFunction = NetTopologySuite.Operation.Overlay.SpatialFunction;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Whether the loops of one feature bound a region: none crosses itself, none is without area, no two cross or
/// lie on each other. Tested on chords within 0.002 mm of the arcs by NetTopologySuite's validity and overlay.
/// </summary>
internal static class LoopCheck
{
    /// <summary>Smallest area that means anything in sand: a tenth of a millimetre square.</summary>
    public const double SmallestArea_mm2 = 0.01;

    private const double Chord_mm = 0.002;
    private const int MostPoints = 1_000_000;
    private static readonly GeometryFactory Factory = new();

    /// <summary>What is wrong with the loops, with the place, or null.</summary>
    /// <param name="loops">Closed loops, mm.</param>
    /// <param name="show">Writes a length in the user's unit.</param>
    public static string? Problem(IReadOnlyList<PlanPath> loops, Func<double, string> show)
    {
        var polygons = new List<Polygon>(loops.Count);
        var points = 0;
        foreach (var loop in loops)
        {
            var chords = loop.Flatten(Chord_mm);
            points += chords.Count;
            if (points > MostPoints) return $"the loops need more than {MostPoints} points; simplify the drawing.";
            if (OutOfReach(chords) is { } far) return $"a loop reaches {Place(far, show)}, farther than {show(Values.LargestLength_mm)} from the origin; move it, or correct the unit.";
            if (chords.Count < 3 || Math.Abs(loop.SignedArea()) < SmallestArea_mm2)
                return $"a loop at {Place(chords[0], show)} encloses no area; take it out or draw it larger than {show(0.1)} square.";
            var polygon = Factory.CreatePolygon([.. chords.Append(chords[0]).Select(p => new Coordinate(p.X, p.Y))]);
            if (new IsValidOp(polygon).ValidationError is { } error)
                return $"a loop crosses or touches itself at {Place(new(error.Coordinate.X, error.Coordinate.Y), show)}; part it there into loops that do not.";
            polygons.Add(polygon);
        }

        return CrossingPair(polygons, show);
    }

    private static string? CrossingPair(List<Polygon> polygons, Func<double, string> show)
    {
        if (polygons.Count < 2) return null;
        var tree = new STRtree<int>();
        for (var i = 0; i < polygons.Count; i++) tree.Insert(polygons[i].EnvelopeInternal, i);
        for (var i = 0; i < polygons.Count; i++)
        {
            foreach (var j in tree.Query(polygons[i].EnvelopeInternal).Where(j => j > i).Order())
            {
                var (a, b) = (polygons[i], polygons[j]);
                var common = OverlayNGRobust.Overlay(a, b, SpatialFunction.Intersection);
                // Chords of tangent arcs overlap in slivers no wider than the chord tolerance.
                var sliver = Chord_mm * Math.Min(a.Length, b.Length);
                if (common.Area <= sliver) continue;
                var place = Place(new(common.InteriorPoint.X, common.InteriorPoint.Y), show);
                if (Math.Min(a.Area, b.Area) - common.Area > sliver)
                    return $"two loops cross near {place}; loops of one [[part]] lie beside or inside each other. Write each as its own [[part]], or part the drawing into layers.";
                if (Math.Abs(a.Area - b.Area) <= sliver)
                    return $"two loops lie on each other near {place}, which would leave nothing by even-odd; take one out.";
            }
        }

        return null;
    }

    private static Vec2? OutOfReach(List<Vec2> points)
    {
        foreach (var p in points)
            if (!(Math.Abs(p.X) <= Values.LargestLength_mm && Math.Abs(p.Y) <= Values.LargestLength_mm))
                return p;
        return null;
    }

    private static string Place(Vec2 p, Func<double, string> show) => $"({show(p.X)}, {show(p.Y)})";
}
