using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>
/// Patternmaker's contraction: how much larger the pattern is than the cold casting. Only the contraction of the
/// solid metal goes on the pattern; shrinkage of the liquid and on freezing is made up by feeders.
/// Every fraction here is referred to the casting, pattern = casting × (1 + s), unless a name says otherwise.
/// </summary>
public static class Contraction
{
    /// <summary>The contraction of an alloy for a casting of some size.</summary>
    /// <param name="alloy">From the tables, or the shop's own.</param>
    /// <param name="largestSize_mm">Largest overall size of the casting, above 0.</param>
    /// <returns>Fraction of the casting size: pattern = casting × (1 + value).</returns>
    /// <exception cref="ArgumentOutOfRangeException">The size is not a positive number.</exception>
    public static Sourced<double> ForAlloy(Alloy alloy, double largestSize_mm)
    {
        Checked.Positive(largestSize_mm, nameof(largestSize_mm));
        var (row, over_mm) = SizeRows.Find(alloy.Contraction, r => r.UpTo_mm, largestSize_mm);
        var published = row.Published == ContractionBase.Pattern
            ? $"published as {row.Printed}, which refers to the pattern size, and converted"
            : $"published as {row.Printed}";
        return new Sourced<double>(
            row.Fraction,
            row.From.Text,
            $"{Shown.Percent(row.Fraction)} of the casting size (pattern = casting × (1 + s)): {alloy.Key}, {Shown.Range_mm(over_mm, row.UpTo_mm)}, {published}");
    }

    /// <summary>The contraction of an alloy in a sand: fitted to the shop's own castings where enough of them were measured, else that of the table.</summary>
    /// <param name="alloy">From the tables.</param>
    /// <param name="sand">From the tables.</param>
    /// <param name="largestSize_mm">Largest overall size of the casting, above 0.</param>
    /// <param name="tables">What was measured, and how much of it is enough.</param>
    /// <returns>Fraction of the casting size.</returns>
    public static Sourced<double> InShop(Alloy alloy, Sand sand, double largestSize_mm, FoundryTables tables)
    {
        var (byTable, table, measured) = (ForAlloy(alloy, largestSize_mm), tables.Mould.Spread, tables.Workshop.Of(alloy, sand).Length);
        if (tables.Workshop.Fit(alloy, sand, table) is { } fit)
        {
            return new(
                fit.Fraction, ContractionFit.Source,
                $"{Shown.Percent(fit.Fraction)} of the casting size (pattern = casting × (1 + s)): least squares over {fit.Text}, {alloy.Key} in {sand.Key} sand, standard deviation {Shown.Number(fit.Deviation_mm)} mm; the table has {Shown.Percent(byTable.Value)}");
        }

        return measured == 0 ? byTable : byTable with { Rule = $"{byTable.Rule}; of this alloy in this sand {measured} castings of the shop are measured, and {table.LeastCastings} are needed to go by them" };
    }

    /// <summary>Size of the pattern for a size of the casting, both in millimetres.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The size is below 0, or no number.</exception>
    public static double PatternSize(double casting_mm, double fraction)
    {
        Checked.Within(casting_mm, 0, double.MaxValue, nameof(casting_mm));
        return casting_mm * (1 + fraction);
    }

    /// <summary>Volume of the pattern over volume of the casting: the cube of the length ratio, above 1.</summary>
    public static double VolumeRatio(double fraction) => Math.Pow(1 + fraction, 3);

    /// <summary>
    /// Contraction of a master from which a metal pattern is cast: master = casting × (1 + first) × (1 + second).
    /// Multiplied, not added, because the second contraction acts on the enlarged pattern; trade lexicons add,
    /// which differs by first × second, and the rule text states that value as well.
    /// </summary>
    /// <param name="first">Contraction of the final casting, a fraction of the casting.</param>
    /// <param name="second">Contraction of the metal pattern, likewise.</param>
    /// <exception cref="ArgumentOutOfRangeException">A fraction lies outside 0 to 0.1.</exception>
    public static Sourced<double> Combine(double first, double second)
    {
        Checked.Within(first, 0, 0.1, nameof(first));
        Checked.Within(second, 0, 0.1, nameof(second));
        var both = first + second + first * second;
        return new Sourced<double>(
            both,
            "arithmetic",
            $"{Shown.Percent(both)} of the casting size (master = casting × (1 + s)): {Shown.Percent(first)} and {Shown.Percent(second)} multiplied; merely added they would be {Shown.Percent(first + second)}");
    }

    /// <summary>Turns a percentage of the pattern size (EN 12890: casting = pattern × (1 − p)) into one of the casting size.</summary>
    /// <param name="patternFraction">At least 0, below 1.</param>
    public static double FromPatternFraction(double patternFraction)
    {
        Checked.Within(patternFraction, 0, 0.5, nameof(patternFraction));
        return patternFraction / (1 - patternFraction);
    }

    /// <summary>Turns a fraction of the casting size into one of the pattern size.</summary>
    public static double ToPatternFraction(double castingFraction)
    {
        Checked.Within(castingFraction, 0, 1, nameof(castingFraction));
        return castingFraction / (1 + castingFraction);
    }

    /// <summary>Contraction given in inches per foot of casting, as on old rules: twelve inches to the foot.</summary>
    public static double FromInchesPerFoot(double inchesPerFoot) => inchesPerFoot / 12;

    /// <summary>Contraction given in millimetres per metre of casting.</summary>
    public static double FromMillimetresPerMetre(double millimetresPerMetre) => millimetresPerMetre / 1000;
}
