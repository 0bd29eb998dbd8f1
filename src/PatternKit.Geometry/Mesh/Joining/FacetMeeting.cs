namespace PatternKit.Geometry.Mesh.Joining;

/// <summary>Where two facets meet.</summary>
internal static class FacetMeeting
{
    /// <summary>The stretches of a first facet, as ends that follow each other along a line, at which a second meets it; a single point is one that touches.</summary>
    public static IEnumerable<ExactPoint[]> On(ExactFacet first, ExactFacet second)
    {
        var sides = Sides(second, first);
        if (sides.All(s => s == 0))
        {
            for (var i = 0; i < 3; i++)
            {
                var line = Along(first, second.Corners[i], second.Corners[(i + 1) % 3]);
                if (line.Length > 0) yield return line;
            }

            yield break;
        }

        var points = new HashSet<ExactPoint>();
        Pass(first, sides, second, points);
        Pass(second, Sides(first, second), first, points);
        if (points.Count > 0) yield return Ordered(points);
    }

    private static int[] Sides(ExactFacet plane, ExactFacet of) => [plane.Side(of.Corners[0]), plane.Side(of.Corners[1]), plane.Side(of.Corners[2])];

    // Where the sides and corners of one facet come to the other.
    private static void Pass(ExactFacet of, int[] sides, ExactFacet through, HashSet<ExactPoint> points)
    {
        if (Array.TrueForAll(sides, s => s > 0) || Array.TrueForAll(sides, s => s < 0)) return;
        for (var i = 0; i < 3; i++)
        {
            var (a, b) = (of.Corners[i], of.Corners[(i + 1) % 3]);
            if (sides[i] == 0 && through.Holds(a)) points.Add(a);
            if (sides[i] * sides[(i + 1) % 3] >= 0) continue;
            var p = ExactPoint.On(a, through.Above(b), b, -through.Above(a));
            if (through.Holds(p)) points.Add(p);
        }
    }

    // A side of a facet in the same plane.
    private static ExactPoint[] Along(ExactFacet facet, ExactPoint a, ExactPoint b)
    {
        var points = new HashSet<ExactPoint>();
        if (facet.Holds(a)) points.Add(a);
        if (facet.Holds(b)) points.Add(b);
        for (var i = 0; i < 3; i++)
        {
            var (c, e) = (facet.Corners[i], facet.Corners[(i + 1) % 3]);
            if (facet.Passing(a, b, c, e) is { } p) points.Add(p);
            if (facet.IsBetween(a, b, c)) points.Add(c);
        }

        return Ordered(points);
    }

    private static ExactPoint[] Ordered(HashSet<ExactPoint> points)
    {
        ExactPoint[] ordered = [.. points];
        Array.Sort(ordered, ExactPoint.Compare);
        return ordered;
    }
}
