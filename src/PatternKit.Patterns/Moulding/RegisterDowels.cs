using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// Places two register dowels of different diameters inside both halves, where the joint is level, as far apart as they go: with two
/// diameters the halves cannot be joined the wrong way round.
/// </summary>
public static class RegisterDowels
{
    private const int Places = 48;

    /// <summary>The dowels, the thicker first; empty where no two fit.</summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="askedDiameter_mm">Diameter of the thicker dowel, null by rule.</param>
    /// <param name="table">Dowel table.</param>
    /// <param name="kept">Where none may be; nowhere when left out.</param>
    /// <returns>The dowels and the rule that chose them.</returns>
    public static (ImmutableArray<Dowel> Dowels, string Rule, string Source) Place(HalfMould cope, HalfMould drag, double? askedDiameter_mm, DowelTable table, PlanRegion? kept = null)
    {
        var source = $"diameters: {table.Standard.Text}; clearance, depth and cover: {table.Depth_diameters.From.Text}";
        var common = cope.OverLevel.Intersection(drag.OverLevel).Difference(kept ?? PlanRegion.Empty);
        if (common.IsEmpty) return ([], cope.IsCarved ? "the halves have no place in common where the joint is level" : "the halves have no face in common", source);
        var pins = table.Diameters_mm;
        var first = askedDiameter_mm is { } asked
            ? pins.Select((d, i) => (d, i)).Where(x => Math.Abs(x.d - asked) < 1e-9).Select(x => x.i).DefaultIfEmpty(-1).First()
            : pins.IndexOf(table.Choice.LastOrDefault(c => IsWide(common, c.From_mm))?.Diameter_mm ?? -1);
        // Try the size that the rule asks for, then smaller ones, at full depth and then at the least that guides, until two fit.
        foreach (var least in new[] { table.Depth_diameters.Value, table.LeastDepth_diameters.Value })
        {
            for (var i = first; i >= 1; i--)
            {
                var (thick, thin) = (Size(pins[i], table), Size(pins[i - 1], table));
                var face = common.Offset(-Reach(thick, table.Cover_mm.Value), 0.05);
                var places = Candidates(face, Allowed(cope, drag, thick, least * pins[i], table.Cover_mm.Value).Intersection(face));
                if (FarthestPair(places) is not var (a, b)) continue;
                if (Vec2.Distance(a, b) < 3 * thick.Hole_mm) continue;
                Dowel At(Dowel size, Vec2 p) => size with { At_mm = p, Depth_mm = Depth(cope, drag, p, size, least * size.Diameter_mm, table.Cover_mm.Value) };
                return ([At(thick, a), At(thin, b)],
                    FormattableString.Invariant($"{pins[i]:0.#} and {pins[i - 1]:0.#} mm pins, as deep as the lower half lets them, at most {table.Depth_diameters.Value:0.#} diameters, the farthest places with {table.Cover_mm.Value:0.#} mm of cover; two diameters, so that the halves go together one way only"), source);
            }
        }

        return ([], first < 0 && askedDiameter_mm is not null ? "the diameter asked for is not a standard pin" : cope.IsCarved ? "no two pins fit inside both halves where the joint is level" : "no two pins fit inside both halves", source);
    }

    private static Dowel Size(double diameter_mm, DowelTable table) =>
        new(default, diameter_mm, diameter_mm + table.Clearance_mm.Value, table.Depth_diameters.Value * diameter_mm);

    /// <summary>As deep as asked, or as the thinner half lets it at a place, down to a tenth of a millimetre and not below a least.</summary>
    private static double Depth(HalfMould cope, HalfMould drag, Vec2 p, Dowel size, double least_mm, double cover_mm)
    {
        if (IsAllowed(size.Depth_mm)) return size.Depth_mm;
        var (low, high) = ((int)Math.Floor(least_mm * 10), (int)Math.Ceiling(size.Depth_mm * 10));
        while (high - low > 1)
        {
            var middle = (low + high) / 2;
            if (IsAllowed(middle / 10.0)) low = middle;
            else high = middle;
        }

        return Math.Max(low / 10.0, least_mm);

        bool IsAllowed(double depth_mm) => Firm(cope, drag, depth_mm, cover_mm).ContainsDisc(p, Reach(size, cover_mm));
    }

    /// <summary>Where the middle of a dowel may be: both halves are solid over it and its cover.</summary>
    private static PlanRegion Allowed(HalfMould cope, HalfMould drag, Dowel size, double depth_mm, double cover_mm) =>
        Firm(cope, drag, depth_mm, cover_mm).Offset(-Reach(size, cover_mm), 0.05);

    /// <summary>Where both halves are solid over so deep a hole and its cover.</summary>
    private static PlanRegion Firm(HalfMould cope, HalfMould drag, double depth_mm, double cover_mm) =>
        cope.AtLeast(depth_mm + cover_mm).Intersection(drag.AtLeast(depth_mm + cover_mm));

    private static double Reach(Dowel size, double cover_mm) => (size.Hole_mm / 2) + cover_mm;

    /// <summary>Whether a band of a region is so wide: something is left where it is set in by half of that.</summary>
    private static bool IsWide(PlanRegion region, double width_mm) =>
        width_mm <= 0 || (Math.PI * width_mm * width_mm / 4 <= region.Area && !region.Offset(-width_mm / 2, 0.1).IsEmpty);

    /// <summary>The places of a grid over a face that are allowed.</summary>
    private static List<Vec2> Candidates(PlanRegion face, PlanRegion allowed)
    {
        var places = new List<Vec2>();
        if (allowed.IsEmpty) return places;
        var box = face.Geometry.EnvelopeInternal;
        for (var i = 0; i <= Places; i++)
        {
            for (var j = 0; j <= Places; j++)
            {
                var p = new Vec2(box.MinX + (box.Width * i / Places), box.MinY + (box.Height * j / Places));
                if (allowed.Contains(p)) places.Add(p);
            }
        }

        return places;
    }

    private static (Vec2 A, Vec2 B)? FarthestPair(List<Vec2> places)
    {
        (Vec2, Vec2)? best = null;
        double most = 0;
        for (var i = 0; i < places.Count; i++)
        {
            for (var j = i + 1; j < places.Count; j++)
            {
                var d = (places[i] - places[j]).LengthSquared;
                // A clear margin, so that rounding does not choose between equals.
                if (d <= most * (1 + 1e-9)) continue;
                most = d;
                best = (places[i], places[j]);
            }
        }

        return best;
    }
}
