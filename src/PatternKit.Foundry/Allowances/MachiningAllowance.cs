using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>
/// Required machining allowance (RMA, now RMAG) of ISO 8062 and the raw size that follows from it. The allowance
/// is what must be left everywhere for the tool; it does not contain the casting tolerance, so half of that is added.
/// Formulas: ISO 8062:1994 clause 10, from memory; that RMA excludes the tolerance: GB/T 6414-1999, read.
/// </summary>
public static class MachiningAllowance
{
    /// <summary>The allowance on each machined surface.</summary>
    /// <param name="tables">The tables.</param>
    /// <param name="grade">A to K, without I. A and B are for series by special agreement.</param>
    /// <param name="largest_mm">Largest overall dimension of the finished casting, not of the surface.</param>
    /// <returns>Millimetres a surface.</returns>
    /// <exception cref="UnknownNameException">No such grade.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The size is not positive or beyond the table.</exception>
    public static Sourced<double> Required(MachiningTables tables, string grade, double largest_mm)
    {
        Checked.Positive(largest_mm, nameof(largest_mm));
        var column = tables.AllowanceGrades.IndexOf(grade);
        if (column < 0)
            throw new UnknownNameException("machining allowance grade", grade, tables.AllowanceGrades);
        var row = tables.Allowance.FirstOrDefault(r => largest_mm <= r.UpTo_mm)
            ?? throw new ArgumentOutOfRangeException(nameof(largest_mm), largest_mm, "is larger than the machining allowance table");
        var allowance_mm = row.Values_mm[column];
        return new Sourced<double>(
            allowance_mm,
            row.From.Text,
            $"{Shown.Number(allowance_mm)} mm a surface: RMA grade {grade}, largest size {Shown.Range_mm(row.Over_mm, row.UpTo_mm)}");
    }

    /// <summary>Raw size of an outside dimension machined on both faces: R = F + 2 RMA + CT/2. All in mm.</summary>
    public static double RawSizeBothFaces(double finished_mm, double allowance_mm, double tolerance_mm) =>
        finished_mm + 2 * allowance_mm + tolerance_mm / 2;

    /// <summary>Raw size of an outside dimension machined on one face: R = F + RMA + CT/2. All in mm.</summary>
    public static double RawSizeOneFace(double finished_mm, double allowance_mm, double tolerance_mm) =>
        finished_mm + allowance_mm + tolerance_mm / 2;

    /// <summary>Raw diameter of a hole to be bored: R = F − 2 RMA − CT/2. All in mm; 0 or less means: cast it solid.</summary>
    public static double RawSizeBore(double finished_mm, double allowance_mm, double tolerance_mm) =>
        finished_mm - 2 * allowance_mm - tolerance_mm / 2;

    /// <summary>
    /// Raw height of a step between two machined faces that look the same way: R = F ± CT/2; the allowances cancel.
    /// All in mm; the larger of the two.
    /// </summary>
    public static double RawSizeStep(double finished_mm, double tolerance_mm) => finished_mm + tolerance_mm / 2;

    /// <summary>The allowance grade usual for hand-moulded sand castings.</summary>
    /// <param name="tables">The tables.</param>
    /// <param name="family">Group of alloys.</param>
    public static Sourced<string> UsualGrade(MachiningTables tables, AlloyFamily family)
    {
        var usual = tables.UsualAllowance.First(u => u.Family == family);
        return new Sourced<string>(usual.Grade, usual.From.Text, $"RMA grade {usual.Grade}: {AlloyReader.Word(family)}, sand, hand moulded, {usual.Range}, fine end taken");
    }
}
