using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
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
        stock = stock.Of(feature.Part);
        var names = stock.Names_mm;
        if (names is not null && (names.TryGetValue(feature.Name, out var own) || (feature.Layer is { } layer && names.TryGetValue(layer, out own))))
            return new(feature, own, own, own);
        return feature.Cut == CutKind.None
            ? new(feature, stock.Sides_mm, stock.Top_mm, stock.Bottom_mm)
            : new(feature, stock.Holes_mm, stock.Holes_mm, stock.Holes_mm);
    }

    /// <summary>The column over a point inside a face, from what the features over it fill there at pattern size.</summary>
    internal static ImmutableArray<Span> Column(
        IReadOnlyList<CastFeature> features, IEnumerable<(int Feature, ImmutableArray<Span> Filled)> over, double scale, Vec2 at)
    {
        var column = new StockedColumn(at);
        foreach (var (number, filled) in over)
        {
            var f = features[number];
            foreach (var s in filled)
                if (f.Removes) column.Remove(s.Low, s.High, scale * f.EndsTop_mm);
                else column.Add(s.Low, s.High, scale * f.EndsBottom_mm, scale * f.EndsTop_mm);
        }

        return column.Grown();
    }

    /// <summary>Stock on the upper end: that of a turned feature goes onto its profile all round, with the sides.</summary>
    internal double EndsTop_mm => Feature.Turned is null ? Top_mm : 0;

    /// <summary>Stock on the lower end.</summary>
    internal double EndsBottom_mm => Feature.Turned is null ? Bottom_mm : 0;

    /// <summary>Whether both take up some of the same heights.</summary>
    internal bool MeetsInHeight(CastFeature other) => Feature.Low_mm < other.Feature.High_mm && other.Feature.Low_mm < Feature.High_mm;

    /// <summary>The plans of features of upright walls as designed, under a scale; turned ones have none.</summary>
    internal static ImmutableArray<PlanRegion> Plans(IReadOnlyList<CastFeature> features, double scale, double chordTolerance_mm) =>
        FeatureOutline.Of([.. features.Select(f => (f.Feature, 0.0))], scale, chordTolerance_mm);

    /// <summary>The same with walls moved by stock and by rapping.</summary>
    internal static ImmutableArray<PlanRegion> MovedPlans(IReadOnlyList<CastFeature> features, double scale, double rapping_mm, double chordTolerance_mm) =>
        FeatureOutline.Of([.. features.Select(f => (f.Feature, f.MoveOfWalls_mm(scale, rapping_mm)))], scale, chordTolerance_mm);

    /// <summary>How far its walls move outward, seen from what it fills, pattern millimetres.</summary>
    internal double MoveOfWalls_mm(double scale, double rapping_mm) => (Removes ? -1 : 1) * ((scale * Sides_mm) - rapping_mm);
}
