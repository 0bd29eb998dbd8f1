using System.Collections.Immutable;

namespace PatternKit.Patterns.Gating;

/// <summary>Where one ingate is wanted along a side, before the outline is looked at.</summary>
/// <param name="Along_mm">Way along the side.</param>
/// <param name="Stretch_mm">The stretch of the side within which it may move to where the outline is even; null where it keeps to half its width.</param>
/// <param name="Casting">Which of several castings it fills.</param>
/// <param name="IsAcross">Whether that lies across the runner.</param>
internal readonly record struct IngatePlace(double Along_mm, double? Stretch_mm, int Casting = 0, bool IsAcross = false)
{
    /// <summary>How far an ingate of half a width may be from the place wanted.</summary>
    public double Range_mm(double halfWidth_mm) => Stretch_mm is { } stretch ? Math.Max(0, (stretch / 2) - halfWidth_mm) : halfWidth_mm;
}

/// <summary>Where ingates are wanted along a side.</summary>
/// <param name="Places">From the sprue outward.</param>
/// <param name="Apart_mm">Least distance from one to the next on one side of the runner; of one alone the length of its side.</param>
internal sealed record IngatePlaces(ImmutableArray<IngatePlace> Places, double Apart_mm)
{
    /// <summary>Spread over the side, or by the usual spacing about the place asked for.</summary>
    /// <param name="site">The side.</param>
    /// <param name="count">How many.</param>
    /// <param name="spacing_mm">Between them; null to spread them over the side.</param>
    public static IngatePlaces Spread(GateSite site, int count, double? spacing_mm)
    {
        var step = spacing_mm ?? (site.Length_mm / count);
        return new([.. Enumerable.Range(0, count).Select(i => new IngatePlace(site.Middle_mm + ((i - ((count - 1) / 2.0)) * step), spacing_mm is null ? step : null))], step);
    }

    /// <summary>Of several castings, each by itself.</summary>
    /// <param name="site">The side.</param>
    /// <param name="places">Where.</param>
    public static IngatePlaces Each(GateSite site, ImmutableArray<IngatePlace> places) =>
        new(places, places.GroupBy(p => p.IsAcross).SelectMany(row => row.Zip(row.Skip(1), (a, b) => b.Along_mm - a.Along_mm)).DefaultIfEmpty(site.Length_mm).Min());

    /// <summary>The same, none of which moves farther than half its width.</summary>
    public IngatePlaces Held => this with { Places = [.. Places.Select(p => p with { Stretch_mm = null })] };
}
