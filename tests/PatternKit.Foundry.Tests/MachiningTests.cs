using System.Globalization;
using CsCheck;

namespace PatternKit.Foundry.Tests;

public class MachiningTests
{
    private const string Letters = "ABCDEFGHJK";

    private static double[] Cells(string line) =>
        [.. line.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(c => c == "-" ? double.NaN : double.Parse(c, CultureInfo.InvariantCulture))];

    // ISO 8062 required machining allowance, the rows that were read (reprint on an aluminium foundry's page), grades A to K.
    [Theory]
    [InlineData(0, 40, "0.1 0.1 0.2 0.3 0.4 0.5 0.5 0.7 1 1.4")]
    [InlineData(40, 63, "0.1 0.2 0.3 0.3 0.4 0.5 0.7 1 1.4 2")]
    [InlineData(63, 100, "0.2 0.3 0.4 0.5 0.7 1 1.4 2 2.8 4")]
    [InlineData(100, 160, "0.3 0.4")]
    public void Machining_allowance_equals_the_rows_read_cell_by_cell(double over_mm, double upTo_mm, string row)
    {
        var cells = Cells(row);
        for (var i = 0; i < cells.Length; i++)
        {
            Assert.Equal(cells[i], MachiningAllowance.Required(FoundryTables.Default.Machining, Letters[i..(i + 1)], upTo_mm).Value);
            Assert.Equal(cells[i], MachiningAllowance.Required(FoundryTables.Default.Machining, Letters[i..(i + 1)], over_mm + 0.001).Value);
        }
    }

    // ISO 8062 total casting tolerance, rows as read (same page; a second page agrees for grades 1 to 7 of the first three).
    [Theory]
    [InlineData(0, 10, ".09 .13 .18 .26 .36 .52 .74 1 1.5 2 2.8 4.2 - - - -")]
    [InlineData(10, 16, ".1 .14 .2 .28 .38 .54 .78 1.1 1.6 2.2 3 4.4 - - - -")]
    [InlineData(16, 25, ".11 .15 .22 .3 .42 .58 .82 1.2 1.7 2.4 3.2 4.6 6 8 10 12")]
    [InlineData(25, 40, ".12 .17 .24 .32 .46 .64 .9 1.3 1.8 2.6 3.6 5 7 9 11 14")]
    [InlineData(40, 63, ".13 .18 .26 .36 .5 .7 1 1.4 2 2.8 4 5.6 8 10 12 16")]
    [InlineData(63, 100, ".14 .2 .28 .4 .56 .78 1.1 1.6 2.2 3.2 4.4 6 9 11 14 18")]
    [InlineData(100, 160, ".15 .22 .3 .44 .62 .88 1.2 1.8 2.5 3.6 5 7 10 12 16 20")]
    [InlineData(160, 250, "- .24 .34 .5 .72 1 1.4 2 2.8 4 5.6 8 11 14 18 22")]
    [InlineData(250, 400, "- - .4 .56 .78 1.1 1.6 2.2 3.2 4.4 6.2 9 12 16 20 25")]
    [InlineData(400, 630, "- - - .64 .9 1.2 1.8 2.6 3.6 5 7 10 14 18 22 28")]
    [InlineData(630, 1000, "- - - .72 1 1.4 2 2.8 4 6 8 11 16 20 25 32")]
    [InlineData(1000, 1600, "- - - .8 1.1 1.6 2.2 3.2 4.6 7 9 13 18 23 29 37")]
    [InlineData(1600, 2500, "- - - - - - 2.6 3.8 5.4 8 10 15 21 26 33 42")]
    public void Casting_tolerance_equals_the_rows_read_cell_by_cell(double over_mm, double upTo_mm, string row)
    {
        var cells = Cells(row);
        Assert.Equal(16, cells.Length);
        for (var grade = 1; grade <= 16; grade++)
        {
            foreach (var size_mm in new[] { over_mm + 0.001, upTo_mm })
            {
                if (double.IsNaN(cells[grade - 1]))
                    Assert.Throws<ArgumentOutOfRangeException>(() => CastingTolerance.Total(FoundryTables.Default.Machining, grade, size_mm));
                else
                    Assert.Equal(cells[grade - 1], CastingTolerance.Total(FoundryTables.Default.Machining, grade, size_mm).Value);
            }
        }
    }

    // The five cells picked as external check values from the page read.
    [Fact]
    public void Picked_cells_of_the_iso_tables_are_exact()
    {
        Assert.Equal(7, CastingTolerance.Total(FoundryTables.Default.Machining, 12, 130).Value);
        Assert.Equal(4.4, CastingTolerance.Total(FoundryTables.Default.Machining, 10, 300).Value);
        Assert.Equal(2, MachiningAllowance.Required(FoundryTables.Default.Machining, "H", 80).Value);
        Assert.Equal(0.7, MachiningAllowance.Required(FoundryTables.Default.Machining, "G", 50).Value);
        Assert.Equal(0.5, MachiningAllowance.Required(FoundryTables.Default.Machining, "F", 40).Value);
    }

    [Fact]
    public void Allowance_grows_with_grade_and_with_size()
    {
        var rows = FoundryTables.Default.Machining.Allowance;
        Assert.All(rows, r => Assert.Equal(r.Values_mm.Order(), r.Values_mm));
        foreach (var (small, large) in rows.Zip(rows.Skip(1)))
            Assert.All(small.Values_mm.Zip(large.Values_mm), v => Assert.True(v.First <= v.Second));
        Assert.All(rows, r => Assert.Equal(10, r.Values_mm.Length));
    }

    [Fact]
    public void Tolerance_grows_with_grade_and_with_size()
    {
        var rows = FoundryTables.Default.Machining.Tolerance;
        Assert.All(rows, r => Assert.Equal(r.Values_mm.Order().Distinct(), r.Values_mm));
        foreach (var (small, large) in rows.Zip(rows.Skip(1)))
        {
            for (var grade = large.First; grade < small.First + small.Values_mm.Length; grade++)
                Assert.True(small.Values_mm[grade - small.First] < large.Values_mm[grade - large.First]);
        }
    }

    // ISO 8062:1994 clause 10, from memory; inputs RMA H at 63 - 100 mm = 2, DCTG 12 at 63 - 100 mm = 6, worked by hand.
    [Fact]
    public void Raw_sizes_follow_the_formulas_of_the_standard()
    {
        Assert.Equal(90 + 2 * 2 + 3, MachiningAllowance.RawSizeBothFaces(90, 2, 6));
        Assert.Equal(90 + 2 + 3, MachiningAllowance.RawSizeOneFace(90, 2, 6));
        Assert.Equal(90 - 2 * 2 - 3, MachiningAllowance.RawSizeBore(90, 2, 6));
        Assert.Equal(90 + 3, MachiningAllowance.RawSizeStep(90, 6));
    }

    [Fact]
    public void The_smallest_casting_within_tolerance_still_has_the_allowance_on_every_face() =>
        Gen.Select(Gen.Double[10, 500], Gen.Double[0.1, 10], Gen.Double[0.1, 20]).Sample((finished, allowance, tolerance) =>
            Math.Abs(MachiningAllowance.RawSizeBothFaces(finished, allowance, tolerance) - tolerance / 2 - finished - 2 * allowance) < 1e-9
            && Math.Abs(finished - (MachiningAllowance.RawSizeBore(finished, allowance, tolerance) + tolerance / 2) - 2 * allowance) < 1e-9);

    // ISO/CD 8062-2 table A.2 as read: clay bonded, hand moulded: iron, copper, steel 13 - 15, light metals 11 - 13;
    // chemically bonded: steel 12 - 14, iron 11 - 14, copper and light metals 10 - 13.
    [Theory]
    [InlineData(AlloyFamily.Iron, SandBond.Clay, 13, 15)]
    [InlineData(AlloyFamily.Copper, SandBond.Clay, 13, 15)]
    [InlineData(AlloyFamily.Steel, SandBond.Clay, 13, 15)]
    [InlineData(AlloyFamily.Aluminium, SandBond.Clay, 11, 13)]
    [InlineData(AlloyFamily.Magnesium, SandBond.Clay, 11, 13)]
    [InlineData(AlloyFamily.Steel, SandBond.Chemical, 12, 14)]
    [InlineData(AlloyFamily.Iron, SandBond.Chemical, 11, 14)]
    [InlineData(AlloyFamily.Copper, SandBond.Chemical, 10, 13)]
    [InlineData(AlloyFamily.Aluminium, SandBond.Chemical, 10, 13)]
    public void Usual_tolerance_grades_lie_in_the_range_of_the_standard(AlloyFamily family, SandBond bond, int finest, int coarsest)
    {
        var grade = CastingTolerance.UsualGrade(FoundryTables.Default.Machining, family, bond, 100);
        Assert.InRange(grade.Value, finest, coarsest);
        Assert.Contains($"{finest} - {coarsest}", grade.Rule, StringComparison.Ordinal);
        // The same table: up to 10, 16 and 25 mm three, two and one grade finer.
        Assert.Equal(grade.Value - 3, CastingTolerance.UsualGrade(FoundryTables.Default.Machining, family, bond, 10).Value);
        Assert.Equal(grade.Value - 2, CastingTolerance.UsualGrade(FoundryTables.Default.Machining, family, bond, 16).Value);
        Assert.Equal(grade.Value - 1, CastingTolerance.UsualGrade(FoundryTables.Default.Machining, family, bond, 25).Value);
    }

    // By hand: RMA F at 100 - 160 mm = 1.5; DCTG 11 there = 5, DCTG 13 = 10.
    [Theory]
    [InlineData(AlloyFamily.Aluminium, SandBond.Clay, false, 1.5 + 5.0 / 2)]
    [InlineData(AlloyFamily.Aluminium, SandBond.Clay, true, 1.5 + 5.0 / 4)]
    [InlineData(AlloyFamily.Iron, SandBond.Clay, true, 1.5 + 10.0 / 4)]
    [InlineData(AlloyFamily.Copper, SandBond.Chemical, true, 1.5 + 3.6 / 4)]
    public void Default_stock_is_the_allowance_and_its_share_of_the_tolerance(AlloyFamily family, SandBond bond, bool opposite, double stock_mm)
    {
        var stock = DefaultStock.For(FoundryTables.Default.Machining, family, bond, 120, opposite);
        Assert.Equal(stock_mm, stock.Value, 1e-12);
        Assert.Contains("RMA F 1.5 mm", stock.Rule, StringComparison.Ordinal);
        Assert.Contains("ISO 8062", stock.Source, StringComparison.Ordinal);
    }

    // GB/T 6414-1999 says outright that the allowance does not contain the tolerance: stock by allowance alone is too little.
    [Fact]
    public void Default_stock_exists_for_every_family_bond_and_size_and_exceeds_the_bare_allowance()
    {
        foreach (var family in Enum.GetValues<AlloyFamily>())
        {
            foreach (var bond in Enum.GetValues<SandBond>())
            {
                foreach (var size_mm in new[] { 5.0, 10, 16, 25, 40, 100, 400, 1000, 4000 })
                {
                    var bare = MachiningAllowance.Required(FoundryTables.Default.Machining, MachiningAllowance.UsualGrade(FoundryTables.Default.Machining, family).Value, size_mm).Value;
                    Assert.True(DefaultStock.For(FoundryTables.Default.Machining, family, bond, size_mm, true).Value > bare);
                    Assert.True(DefaultStock.For(FoundryTables.Default.Machining, family, bond, size_mm).Value > DefaultStock.For(FoundryTables.Default.Machining, family, bond, size_mm, true).Value);
                }
            }
        }
    }

    [Theory]
    [InlineData("I")]
    [InlineData("h")]
    [InlineData("")]
    public void A_grade_that_the_standard_lacks_is_refused(string grade) =>
        Assert.Throws<UnknownNameException>(() => MachiningAllowance.Required(FoundryTables.Default.Machining, grade, 50));

    [Theory]
    [InlineData(0, 50)]
    [InlineData(17, 50)]
    [InlineData(int.MinValue, 50)]
    [InlineData(10, 5000)]
    [InlineData(10, double.NaN)]
    public void A_tolerance_outside_the_table_is_refused(int grade, double size_mm) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => CastingTolerance.Total(FoundryTables.Default.Machining, grade, size_mm));
}
