using System.Collections.Immutable;

namespace PatternKit.Foundry.Reading;

/// <summary>Tables by size: each row holds for sizes over the row before, up to its own limit.</summary>
internal static class SizeRows
{
    /// <summary>Reads rows with an ascending <c>up_to_mm</c>; the last has none and holds for everything larger.</summary>
    public static ImmutableArray<T> Read<T>(RowReader owner, string key, Func<double, RowReader, T> make)
    {
        var rows = ImmutableArray.CreateBuilder<T>();
        var before_mm = 0.0;
        foreach (var r in owner.Rows(key))
        {
            if (double.IsPositiveInfinity(before_mm))
                throw r.Error("a row without 'up_to_mm' holds for every size and must be the last.");
            var upTo_mm = r.Has("up_to_mm") ? r.Number("up_to_mm", 1, 1e5) : double.PositiveInfinity;
            if (upTo_mm <= before_mm)
                throw r.Error("'up_to_mm' must grow from row to row.");
            before_mm = upTo_mm;
            rows.Add(make(upTo_mm, r));
            r.Finish();
        }
        if (!double.IsPositiveInfinity(before_mm))
            throw owner.Error($"the last row of '{key}' must hold for every size: leave its 'up_to_mm' out.");
        return rows.ToImmutable();
    }

    /// <summary>The row for a size and the size that it starts above.</summary>
    public static (T Row, double Over_mm) Find<T>(ImmutableArray<T> rows, Func<T, double> upTo_mm, double size_mm)
    {
        var index = 0;
        while (index < rows.Length - 1 && size_mm > upTo_mm(rows[index]))
            index++;
        return (rows[index], index > 0 ? upTo_mm(rows[index - 1]) : 0);
    }
}
