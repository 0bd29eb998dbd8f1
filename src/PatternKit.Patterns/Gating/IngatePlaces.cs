using System.Collections.Immutable;
using PatternKit.Foundry;

namespace PatternKit.Patterns.Gating;

/// <summary>Where ingates are wanted along a side, before the outline is looked at.</summary>
/// <param name="Along_mm">Ways along the side, from the sprue outward.</param>
/// <param name="Apart_mm">From one to the next; of one alone the length of its side.</param>
/// <param name="AreFree">Whether they may move by half of that to an even stretch of the outline, or only by half their width.</param>
internal sealed record IngatePlaces(ImmutableArray<double> Along_mm, double Apart_mm, bool AreFree)
{
    /// <summary>Spread over the side, or by the usual spacing about the place asked for.</summary>
    /// <param name="site">The side.</param>
    /// <param name="count">How many.</param>
    /// <param name="spacing_mm">Between them; null to spread them over the side.</param>
    public static IngatePlaces Spread(GateSite site, int count, double? spacing_mm)
    {
        var step = spacing_mm ?? (site.Length_mm / count);
        return new([.. Enumerable.Range(0, count).Select(i => site.Middle_mm + ((i - ((count - 1) / 2.0)) * step))], step, spacing_mm is null);
    }
}
