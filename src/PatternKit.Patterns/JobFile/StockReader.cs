using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>stock</c>: one length for every surface, or <c>{ top, bottom, sides, holes, NAME = … }</c> where NAME is a
/// feature, a layer, or named faces of a mesh. A length may be "auto": the face is machined, and a rule finds how much.
/// </summary>
internal static class StockReader
{
    private const double Largest_mm = 100;

    /// <summary>The stock asked for; a name that is not known is an error.</summary>
    /// <param name="text">The job file.</param>
    /// <param name="entry">The entry.</param>
    /// <param name="known">Features and layers, or named faces.</param>
    public static StockSettings Read(JobText text, TomlEntry entry, IReadOnlyList<string> known)
    {
        if (Values.Is(entry.Value, "auto")) return new(ByRule: [.. PartReader.Places]);
        if (entry.Value is not TomlTable table)
        {
            var all = Length(text, entry.Value, "stock");
            return new(all, all, all, all);
        }

        var places = PartReader.Places.ToDictionary(p => p, _ => 0.0);
        var names = ImmutableDictionary.CreateBuilder<string, double>();
        var byRule = ImmutableSortedSet.CreateBuilder<string>(StringComparer.Ordinal);
        foreach (var e in table.Entries)
        {
            var auto = Values.Is(e.Value, "auto");
            var length = auto ? 0 : Length(text, e.Value, $"stock {Show.Short(e.Key)}");
            if (places.ContainsKey(e.Key))
            {
                places[e.Key] = length;
                if (auto) byRule.Add(e.Key);
                continue;
            }

            var name = FeatureNames.Find(text, e, "stock", known, PartReader.Places);
            if (names.ContainsKey(name)) throw text.Refuse(e.Line, $"stock names \"{name}\" twice; keep one.");
            names.Add(name, length);
            if (auto) byRule.Add(name);
        }

        return new(places["top"], places["bottom"], places["sides"], places["holes"], names.Count == 0 ? null : names.ToImmutable(), byRule.Count == 0 ? null : byRule.ToImmutable());
    }

    private static double Length(JobText text, TomlNode node, string what) => Values.Length(text, node, what, 0, Largest_mm);
}
