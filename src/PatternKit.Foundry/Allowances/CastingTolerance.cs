using System.Globalization;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Dimensional casting tolerance grades (DCTG, formerly CT) of ISO 8062.</summary>
public static class CastingTolerance
{
    /// <summary>Total width of the tolerance zone; it lies half above and half below the size unless stated otherwise.</summary>
    /// <param name="tables">The tables.</param>
    /// <param name="grade">1 to 16.</param>
    /// <param name="size_mm">The dimension itself, on the raw casting.</param>
    /// <returns>Millimetres.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The standard gives no value for that grade at that size.</exception>
    public static Sourced<double> Total(MachiningTables tables, int grade, double size_mm)
    {
        Checked.Positive(size_mm, nameof(size_mm));
        var row = tables.Tolerance.FirstOrDefault(r => size_mm <= r.UpTo_mm)
            ?? throw new ArgumentOutOfRangeException(nameof(size_mm), size_mm, "is larger than the casting tolerance table");
        var column = grade - 1 - row.First;
        if (column < 0 || column >= row.Values_mm.Length)
        {
            var first = row.First + 1;
            throw new ArgumentOutOfRangeException(nameof(grade), grade, string.Create(
                CultureInfo.InvariantCulture,
                $"sizes {Shown.Range_mm(row.Over_mm, row.UpTo_mm)} have grades {first} to {row.First + row.Values_mm.Length} only"));
        }
        var total_mm = row.Values_mm[column];
        return new Sourced<double>(
            total_mm,
            row.From.Text,
            string.Create(CultureInfo.InvariantCulture, $"{Shown.Number(total_mm)} mm in all (± {Shown.Number(total_mm / 2)} mm): DCTG {grade}, size {Shown.Range_mm(row.Over_mm, row.UpTo_mm)}"));
    }

    /// <summary>The grade to expect of a single small casting, moulded by hand.</summary>
    /// <param name="tables">The tables.</param>
    /// <param name="family">Group of alloys.</param>
    /// <param name="bond">What binds the sand.</param>
    /// <param name="size_mm">The dimension; small ones come out finer.</param>
    public static Sourced<int> UsualGrade(MachiningTables tables, AlloyFamily family, SandBond bond, double size_mm)
    {
        Checked.Positive(size_mm, nameof(size_mm));
        var usual = tables.UsualTolerance.First(u => u.Family == family && u.Bond == bond);
        var finer = tables.Finer.FirstOrDefault(f => size_mm <= f.UpTo_mm);
        var grade = usual.Grade - (finer?.Grades ?? 0);
        var small = finer is null ? "" : string.Create(CultureInfo.InvariantCulture, $", {finer.Grades} finer up to {Shown.Number(finer.UpTo_mm)} mm");
        return new Sourced<int>(
            grade,
            usual.From.Text,
            string.Create(CultureInfo.InvariantCulture, $"DCTG {grade}: {AlloyReader.Word(family)}, hand moulded, {SandReader.Word(bond)} bonded sand, {usual.Range}, fine end taken{small}"));
    }
}
