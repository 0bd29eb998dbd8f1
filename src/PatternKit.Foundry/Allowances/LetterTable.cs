using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>The finest lettering that a sand gives.</summary>
/// <param name="Stroke_mm">Narrowest stroke.</param>
/// <param name="Counter_mm">Narrowest enclosed inside of a letter.</param>
public sealed record LetterLimits(Quoted Stroke_mm, Quoted Counter_mm);

/// <summary>Limits of lettering by what holds the sand together.</summary>
/// <param name="Clay">Rammed sands.</param>
/// <param name="Chemical">Cured sands.</param>
public sealed record LetterTable(LetterLimits Clay, LetterLimits Chemical)
{
    /// <summary>The limits of a sand.</summary>
    public LetterLimits For(SandBond bond) => bond == SandBond.Clay ? Clay : Chemical;

    internal static LetterTable Read(RowReader file)
    {
        var table = new LetterTable(Limits(file.Row("clay")), Limits(file.Row("chemical")));
        file.Finish();
        return table;
    }

    private static LetterLimits Limits(RowReader row)
    {
        var limits = new LetterLimits(row.Row("stroke").Quoted("mm", 0.05, 50), row.Row("counter").Quoted("mm", 0.05, 50));
        row.Finish();
        return limits;
    }
}
