namespace PatternKit.Geometry.Numerics;

/// <summary>Orders numbered things by a key, equal keys by number, as far as asked.</summary>
internal static class Selection
{
    /// <summary>Afterwards nothing before the place comes after what is there or later, in linear time as a rule (quickselect, Hoare 1961).</summary>
    /// <param name="keys">Keys; they move with their items.</param>
    /// <param name="items">Numbers, all different.</param>
    /// <param name="place">Where to split, 0 to their count.</param>
    public static void Split(Span<double> keys, Span<int> items, int place)
    {
        var (low, high) = (0, keys.Length - 1);
        while (low < high)
        {
            var middle = (int)(((uint)low + (uint)high) / 2);
            var (key, item) = MedianOf(keys, items, low, middle, high);
            var (i, j) = (low, high);
            while (i <= j)
            {
                while (IsBefore(keys[i], items[i], key, item)) i++;
                while (IsBefore(key, item, keys[j], items[j])) j--;
                if (i > j) break;
                (keys[i], keys[j]) = (keys[j], keys[i]);
                (items[i], items[j]) = (items[j], items[i]);
                i++;
                j--;
            }

            if (place <= j) high = j;
            else if (place >= i) low = i;
            else return;
        }
    }

    /// <summary>Sorts a few, by insertion.</summary>
    public static void Sort(Span<double> keys, Span<int> items)
    {
        for (var i = 1; i < keys.Length; i++)
        {
            for (var at = i; at > 0 && IsBefore(keys[at], items[at], keys[at - 1], items[at - 1]); at--)
            {
                (keys[at], keys[at - 1]) = (keys[at - 1], keys[at]);
                (items[at], items[at - 1]) = (items[at - 1], items[at]);
            }
        }
    }

    private static bool IsBefore(double key, int item, double otherKey, int other) => key < otherKey || (key == otherKey && item < other);

    private static (double Key, int Item) MedianOf(ReadOnlySpan<double> keys, ReadOnlySpan<int> items, int a, int b, int c)
    {
        if (IsBefore(keys[b], items[b], keys[a], items[a])) (a, b) = (b, a);
        if (IsBefore(keys[c], items[c], keys[b], items[b])) b = IsBefore(keys[c], items[c], keys[a], items[a]) ? a : c;
        return (keys[b], items[b]);
    }
}
