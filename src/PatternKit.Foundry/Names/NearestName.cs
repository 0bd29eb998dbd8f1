using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>Finds the known names closest to a mistyped one.</summary>
public static class NearestName
{
    /// <summary>At most three names, nearest first, ties in the order given; never empty unless <paramref name="known"/> is.</summary>
    /// <param name="asked">What was written.</param>
    /// <param name="known">What could be meant.</param>
    public static ImmutableArray<string> Of(string asked, IEnumerable<string> known)
    {
        // Case and punctuation are what people get wrong most: they count less than letters.
        var plain = Plain(asked);
        var ranked = known
            .Select(name => (Name: name, Distance: Distance(plain, Plain(name))))
            .OrderBy(x => x.Distance)
            .ToArray();
        if (ranked.Length == 0)
            return [];
        var limit = Math.Max(ranked[0].Distance, Math.Min(2, plain.Length / 3));
        return [.. ranked.Where(x => x.Distance <= limit).Take(3).Select(x => x.Name)];
    }

    /// <summary>Whether two names differ by no more than a slip of the hand.</summary>
    public static bool Near(string a, string b)
    {
        var (x, y) = (Plain(a), Plain(b));
        return Distance(x, y) <= Math.Min(2, Math.Min(x.Length, y.Length) / 2);
    }

    private static string Plain(string name)
    {
        // A hostile name may be very long; only its head can resemble a table key.
        var head = name.Length > 64 ? name[..64] : name;
        return string.Concat(head.Where(char.IsLetterOrDigit)).ToUpperInvariant();
    }

    /// <summary>Edit distance; a name cut short counts as one slip.</summary>
    private static int Distance(string a, string b)
    {
        if (a != b && Math.Min(a.Length, b.Length) >= 4 && (a.StartsWith(b, StringComparison.Ordinal) || b.StartsWith(a, StringComparison.Ordinal)))
            return 1;
        return EditDistance.Between(a, b);
    }
}
