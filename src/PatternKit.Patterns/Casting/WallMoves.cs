using NetTopologySuite.Geometries.Prepared;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// What moving the walls of every feature by itself gets wrong, put right: a cut that opens sideways must stay open
/// through the stock of the wall, and features that butt must not part when walls move inward.
/// </summary>
internal static class WallMoves
{
    /// <summary>A strip narrower than this share of the move is noise of chords, not a joint.</summary>
    private const double Noise = 0.25;

    /// <summary>
    /// The plan of a cut with its mouth carried through the stock of the wall that it opens.
    /// </summary>
    /// <param name="cut">The cut.</param>
    /// <param name="moved">Its plan with walls moved.</param>
    /// <param name="earlier">What it cuts.</param>
    /// <param name="scale">Of the pattern.</param>
    /// <param name="rapping_mm">Pattern millimetres.</param>
    /// <param name="chordTolerance_mm">Of arcs.</param>
    internal static PlanRegion WithMouth(
        CastFeature cut, PlanRegion moved, IReadOnlyList<CastFeature> earlier, double scale, double rapping_mm, double chordTolerance_mm)
    {
        var metal = earlier.Where(e => !e.Removes && e.MeetsInHeight(cut)).ToList();
        var side_mm = metal.Count == 0 ? 0 : (scale * metal.Max(m => m.Sides_mm)) - rapping_mm;
        var hole_mm = (scale * cut.Sides_mm) - rapping_mm;
        if (side_mm + hole_mm <= 0) return moved;
        var plain = cut.Plan(scale, (scale * cut.Sides_mm), chordTolerance_mm);
        var plans = metal.Select(m => m.Plan(scale, scale * m.Sides_mm, chordTolerance_mm)).ToList();
        bool Encloses(PlanRegion m) => m.Geometry.EnvelopeInternal.Contains(plain.Geometry.EnvelopeInternal)
            && PreparedGeometryFactory.Prepare(m.Geometry).ContainsProperly(plain.Geometry);
        if (plans.Any(Encloses)) return moved;
        var all = PlanRegion.Union(plans);
        if (Encloses(all)) return moved;

        // The stock that stands on the wall where the cut has taken it away. One millimetre more outward meets nothing
        // and keeps the two outlines from running side by side.
        var left = FeatureOutline.Moved(all.Difference(plain), Math.Max(side_mm, hole_mm));
        var near = FeatureOutline.Moved(plain, Math.Max(side_mm, 0) + 1);
        return moved.Union(FeatureOutline.Moved(all, Math.Max(side_mm, 0) + 1).Difference(left).Intersection(near));
    }

    /// <summary>
    /// Patches over the joints of features whose walls move inward.
    /// </summary>
    internal static List<Joint> Joints(
        IReadOnlyList<CastFeature> features, IReadOnlyList<PlanRegion> moved, double scale, double rapping_mm, double chordTolerance_mm)
    {
        var joints = new List<Joint>();
        double Inward(int i) => rapping_mm - (scale * features[i].Sides_mm);
        var metal = Enumerable.Range(0, features.Count).Where(i => !features[i].Removes).ToList();
        var inward_mm = metal.Count == 0 ? 0 : metal.Max(Inward);
        if (inward_mm <= 0) return joints;

        var plans = features.Select(f => f.Plan(scale, scale * f.Sides_mm, chordTolerance_mm)).ToList();
        foreach (var (low, high) in SharedHeights(features, metal, plans))
        {
            var through = metal.Where(i => features[i].Feature.Low_mm <= low && features[i].Feature.High_mm >= high).ToList();
            var whole = FeatureOutline.Moved(PlanRegion.Union(through.Select(i => plans[i])), -inward_mm);
            var gaps = whole.Difference(PlanRegion.Union(through.Select(i => moved[i])));
            var strips = FeatureOutline.Moved(gaps, -Noise * inward_mm);
            if (strips.IsEmpty) continue;
            var patch = FeatureOutline.Moved(strips, 3 * Noise * inward_mm).Intersection(whole);
            // Cuts between the first and the last of the features keep what they took.
            foreach (var k in Enumerable.Range(through[0], through[^1] - through[0]).Where(k => features[k].Removes))
                patch = patch.Difference(moved[k]);
            var top = through.Where(i => features[i].Feature.High_mm == high).Max(i => features[i].Top_mm);
            var bottom = through.Where(i => features[i].Feature.Low_mm == low).Max(i => features[i].Bottom_mm);
            joints.Add(new(patch, low, high, top, bottom, through[^1]));
        }

        return joints;
    }

    /// <summary>A patch over a joint.</summary>
    /// <param name="Region">Pattern plan.</param>
    /// <param name="Low_mm">Job height.</param>
    /// <param name="High_mm">Job height.</param>
    /// <param name="Top_mm">Stock of the faces that end at its top.</param>
    /// <param name="Bottom_mm">Stock of those at its bottom.</param>
    /// <param name="After">Number of the feature that it comes right after.</param>
    internal sealed record Joint(PlanRegion Region, double Low_mm, double High_mm, double Top_mm, double Bottom_mm, int After);

    /// <summary>The ranges of height that two features share whose plans touch without one holding the other.</summary>
    private static List<(double Low, double High)> SharedHeights(
        IReadOnlyList<CastFeature> features, List<int> metal, List<PlanRegion> plans)
    {
        var ranges = new SortedSet<(double, double)>();
        for (var a = 0; a < metal.Count; a++)
            for (var b = a + 1; b < metal.Count; b++)
            {
                var (i, j) = (metal[a], metal[b]);
                var range = (Math.Max(features[i].Feature.Low_mm, features[j].Feature.Low_mm), Math.Min(features[i].Feature.High_mm, features[j].Feature.High_mm));
                if (range.Item1 >= range.Item2 || ranges.Contains(range)) continue;
                var (p, q) = (plans[i].Geometry, plans[j].Geometry);
                if (!p.EnvelopeInternal.Intersects(q.EnvelopeInternal) || p.Contains(q) || q.Contains(p) || !p.Intersects(q)) continue;
                ranges.Add(range);
            }

        return [.. ranges];
    }
}
