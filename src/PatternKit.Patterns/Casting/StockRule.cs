using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>Finds the stock of the faces that the job calls machined without a figure.</summary>
internal static class StockRule
{
    /// <summary>Why a job that calls no face machined gets no stock.</summary>
    public const string NoneAsked =
        "none: the job calls no face machined, and stock where no tool comes only makes the part too large; [pattern] stock = \"auto\" or a length asks for it";

    /// <summary>
    /// The figure for every name of <see cref="StockSettings.ByRule"/>. Top and bottom share the casting tolerance where both are
    /// machined; sides and holes have machined walls opposite. A single feature or layer is taken as one face.
    /// </summary>
    /// <param name="job">The job.</param>
    /// <param name="stock">What it asks.</param>
    /// <param name="largest_mm">Largest overall size of the finished part.</param>
    /// <param name="tables">Alloys and sands, the shop's own included.</param>
    /// <exception cref="InputException">The part is beyond the tables.</exception>
    /// <exception cref="UnknownNameException">The alloy or sand is not in the tables.</exception>
    public static ImmutableSortedDictionary<string, Sourced<double>> Find(Job job, StockSettings stock, double largest_mm, FoundryTables tables)
    {
        if (stock.ByRule is not { } names) return ImmutableSortedDictionary<string, Sourced<double>>.Empty;
        var (family, bond) = (tables.Alloy(job.Alloy).Family, tables.Sand(job.Sand).Bond);
        bool Machined(string place, double given_mm) => given_mm > 0 || names.Contains(place);
        var bothEnds = Machined("top", stock.Top_mm) && Machined("bottom", stock.Bottom_mm);
        try
        {
            return names.ToImmutableSortedDictionary(
                n => n, n => DefaultStock.For(tables.Machining, family, bond, largest_mm, n is "sides" or "holes" || (n is "top" or "bottom" && bothEnds)), StringComparer.Ordinal);
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw new InputException($"{PartBody.Source(job)}, [pattern] stock = \"auto\": the part is larger than the tables of ISO 8062 reach; write the stock as a length.", e);
        }
    }

    /// <summary>The settings with the figures put in.</summary>
    public static StockSettings Filled(StockSettings stock, ImmutableSortedDictionary<string, Sourced<double>> found)
    {
        double Of(string place, double given_mm) => found.TryGetValue(place, out var rule) ? rule.Value : given_mm;
        return stock with
        {
            Top_mm = Of("top", stock.Top_mm),
            Bottom_mm = Of("bottom", stock.Bottom_mm),
            Sides_mm = Of("sides", stock.Sides_mm),
            Holes_mm = Of("holes", stock.Holes_mm),
            Names_mm = stock.Names_mm?.ToImmutableDictionary(n => n.Key, n => Of(n.Key, n.Value)),
        };
    }
}
