using System.Globalization;

namespace PatternKit.Foundry;

/// <summary>Machining stock for a surface when the job asks for stock but gives no figure.</summary>
public static class DefaultStock
{
    /// <summary>
    /// Stock a surface by ISO 8062: RMA + CT/2, or RMA + CT/4 where the opposite face is machined too and the part
    /// can be set up to share the tolerance between them.
    /// </summary>
    /// <param name="tables">The tables.</param>
    /// <param name="family">Group of alloys.</param>
    /// <param name="bond">What binds the sand.</param>
    /// <param name="largest_mm">Largest overall size of the casting; also taken for the tolerance, which is the safe side.</param>
    /// <param name="oppositeFaceToo">Whether the opposite face is machined as well.</param>
    /// <returns>Millimetres a surface.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The size is not positive or beyond the tables.</exception>
    public static Sourced<double> For(MachiningTables tables, AlloyFamily family, SandBond bond, double largest_mm, bool oppositeFaceToo = false)
    {
        var letter = MachiningAllowance.UsualGrade(tables, family);
        var allowance = MachiningAllowance.Required(tables, letter.Value, largest_mm);
        var number = CastingTolerance.UsualGrade(tables, family, bond, largest_mm);
        var tolerance = CastingTolerance.Total(tables, number.Value, largest_mm);
        var share = oppositeFaceToo ? 4 : 2;
        var stock_mm = allowance.Value + tolerance.Value / share;
        var formula = oppositeFaceToo ? "R = F + 2 RMA + CT/2, both faces machined" : "R = F + RMA + CT/2, one face machined";
        return new Sourced<double>(
            stock_mm,
            $"formula: ISO 8062:1994 clause 10 (from memory); allowance: {allowance.Source}, grade: {letter.Source}; tolerance: {tolerance.Source}, grade: {number.Source}",
            string.Create(
                CultureInfo.InvariantCulture,
                $"{Shown.Number(stock_mm)} mm a surface: RMA {letter.Value} {Shown.Number(allowance.Value)} mm + DCTG {number.Value} {Shown.Number(tolerance.Value)} mm / {share}, largest size {Shown.Number(largest_mm)} mm, {formula}"));
    }
}
