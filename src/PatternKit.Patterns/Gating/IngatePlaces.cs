using System.Collections.Immutable;
using PatternKit.Foundry;

namespace PatternKit.Patterns.Gating;

/// <summary>Where along a side ingates are wanted.</summary>
/// <param name="Wanted_mm">Ways along the side, ascending.</param>
/// <param name="Count">Their number, with its rule.</param>
/// <param name="Apart_mm">Least distance of two neighbours; infinite for one ingate.</param>
/// <param name="Share_mm">Stretch of the side within which each may lie; null where a place was asked for.</param>
internal sealed record IngatePlaces(ImmutableArray<double> Wanted_mm, Sourced<int> Count, double Apart_mm, double? Share_mm)
{
    /// <summary>The places by rule, or about the place that was asked for; of several castings each by itself.</summary>
    /// <param name="site">The side.</param>
    /// <param name="asked">How many for each casting; null by rule.</param>
    /// <param name="isAsked">Whether a place was asked for.</param>
    /// <param name="tables">Spacing.</param>
    public static IngatePlaces Of(GateSite site, int? asked, bool isAsked, GatingTables tables)
    {
        var several = site.Castings_mm;
        var length = several.IsEmpty ? site.Length_mm : several[0].To_mm - several[0].From_mm;
        var each = asked is { } n ? new(n, "", GatingRules.Given) : GatingRules.Ingates(length, tables);
        if (several.IsEmpty)
        {
            var step = isAsked ? tables.Shapes.IngateSpacing_mm.Value : length / each.Value;
            return new(
                [.. Enumerable.Range(0, each.Value).Select(i => site.Middle_mm + ((i - ((each.Value - 1) / 2.0)) * step))], each, each.Value > 1 ? step : double.PositiveInfinity, isAsked ? null : step);
        }

        var share = length / each.Value;
        ImmutableArray<double> wanted = [.. several.SelectMany(c => Enumerable.Range(0, each.Value).Select(i => c.From_mm + ((i + 0.5) * share)))];
        var count = each with { Value = wanted.Length, Rule = $"for each of {several.Length} castings {each.Value}: {each.Rule}" };
        return new(wanted, count, wanted.Length > 1 ? wanted.Zip(wanted.Skip(1), (a, b) => b - a).Min() : double.PositiveInfinity, share);
    }

    /// <summary>How far an ingate of half a width may be from the place wanted.</summary>
    public double Range_mm(double halfWidth_mm) => Share_mm is { } share ? Math.Max(0, (share / 2) - halfWidth_mm) : halfWidth_mm;
}
