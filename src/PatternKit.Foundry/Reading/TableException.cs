namespace PatternKit.Foundry;

/// <summary>A table, embedded or the user's own, cannot be read.</summary>
public sealed class TableException : Exception
{
    /// <param name="table">Name of the table file as the user knows it.</param>
    /// <param name="row">Row that is meant, such as <c>alloys.AlSi7Mg</c>; null where the file as a whole is.</param>
    /// <param name="line">Line in the file, counted from 1; null where unknown.</param>
    /// <param name="problem">What was found and what to do.</param>
    /// <param name="inner">What the reader below said.</param>
    public TableException(string table, string? row, int? line, string problem, Exception? inner = null)
        : base(Describe(table, row, line, problem), inner)
    {
        Table = table;
        Row = row;
        Line = line;
        Problem = problem;
    }

    /// <summary>Name of the table file.</summary>
    public string Table { get; }

    /// <summary>Row that is meant, null for the whole file.</summary>
    public string? Row { get; }

    /// <summary>Line in the file, counted from 1.</summary>
    public int? Line { get; }

    /// <summary>The message without the place.</summary>
    public string Problem { get; }

    private static string Describe(string table, string? row, int? line, string problem)
    {
        var place = line is { } n ? FormattableString.Invariant($"{table}, line {n}") : table;
        return row is null ? $"{place}: {problem}" : $"{place}, {row}: {problem}";
    }
}
