using System.Collections.Immutable;

namespace PatternKit.Patterns.Gating;

/// <summary>Where ingates are wanted along a side, before the outline is looked at.</summary>
/// <param name="Along_mm">Ways along the side, from the sprue outward.</param>
/// <param name="Apart_mm">Least distance from one to the next; of one alone the length of its side.</param>
/// <param name="Share_mm">The stretch of the side within which each may move to where the outline is even; null where each keeps to half its width.</param>
internal sealed record IngatePlaces(ImmutableArray<double> Along_mm, double Apart_mm, double? Share_mm)
{
    /// <summary>Spread over the side, or by the usual spacing about the place asked for.</summary>
    /// <param name="site">The side.</param>
    /// <param name="count">How many.</param>
    /// <param name="spacing_mm">Between them; null to spread them over the side.</param>
    public static IngatePlaces Spread(GateSite site, int count, double? spacing_mm)
    {
        var step = spacing_mm ?? (site.Length_mm / count);
        return new([.. Enumerable.Range(0, count).Select(i => site.Middle_mm + ((i - ((count - 1) / 2.0)) * step))], step, spacing_mm is null ? step : null);
    }

    /// <summary>Of several castings along the side, each by itself.</summary>
    /// <param name="site">The side.</param>
    /// <param name="count">How many in all.</param>
    public static IngatePlaces Each(GateSite site, int count)
    {
        var each = count / site.Castings_mm.Length;
        var share = (site.Castings_mm[0].To_mm - site.Castings_mm[0].From_mm) / each;
        ImmutableArray<double> along = [.. site.Castings_mm.SelectMany(c => Enumerable.Range(0, each).Select(i => c.From_mm + ((i + 0.5) * share)))];
        return new(along, along.Zip(along.Skip(1), (a, b) => b - a).DefaultIfEmpty(site.Length_mm).Min(), share);
    }

    /// <summary>How far an ingate of half a width may be from the place wanted.</summary>
    public double Range_mm(double halfWidth_mm) => Share_mm is { } share ? Math.Max(0, (share / 2) - halfWidth_mm) : halfWidth_mm;
}
