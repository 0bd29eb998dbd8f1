using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>A feature that the sand forms, with the stock on its faces, casting millimetres.</summary>
/// <param name="Feature">As designed.</param>
/// <param name="Sides_mm">Onto its walls: outward on metal, inward on a cut.</param>
/// <param name="Top_mm">Onto its upper face; for a cut, onto a roof it leaves.</param>
/// <param name="Bottom_mm">Onto its lower face; for a cut, onto a floor it leaves.</param>
internal sealed record CastFeature(Feature Feature, double Sides_mm, double Top_mm, double Bottom_mm)
{
    internal bool Removes => Feature.Cut != CutKind.None;

    internal static CastFeature Of(Feature feature, StockSettings stock)
    {
        var names = stock.Names_mm;
        if (names is not null && (names.TryGetValue(feature.Name, out var own) || (feature.Layer is { } layer && names.TryGetValue(layer, out own))))
            return new(feature, own, own, own);
        return feature.Cut == CutKind.None
            ? new(feature, stock.Sides_mm, stock.Top_mm, stock.Bottom_mm)
            : new(feature, stock.Holes_mm, stock.Holes_mm, stock.Holes_mm);
    }

    /// <summary>The column over a face that lies in the features of the given numbers.</summary>
    internal static ImmutableArray<Span> Column(IReadOnlyList<CastFeature> features, ImmutableArray<int> members, double scale)
    {
        var column = new StockedColumn();
        foreach (var f in members.Select(i => features[i]))
            if (f.Removes) column.Remove(f.Feature.Low_mm, f.Feature.High_mm, f.Top_mm);
            else column.Add(f.Feature.Low_mm, f.Feature.High_mm, f.Bottom_mm, f.Top_mm);
        return column.Grown(scale);
    }

    /// <summary>Whether both take up some of the same heights.</summary>
    internal bool MeetsInHeight(CastFeature other) => Feature.Low_mm < other.Feature.High_mm && other.Feature.Low_mm < Feature.High_mm;

    /// <summary>The plan under a scale, walls moved by stock and by rapping.</summary>
    internal PlanRegion Plan(double scale, double rapping_mm, double chordTolerance_mm)
    {
        var moved = (scale * Sides_mm) - rapping_mm;
        return FeatureOutline.Of(Feature, scale, Removes ? -moved : moved, chordTolerance_mm);
    }
}
