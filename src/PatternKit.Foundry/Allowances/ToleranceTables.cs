using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>One row of ISO 8062: values in mm for consecutive grades, from <see cref="First"/> on.</summary>
/// <param name="Over_mm">The row holds for sizes above this.</param>
/// <param name="UpTo_mm">And up to this, included.</param>
/// <param name="First">Place of the first value among the table's grades, from 0.</param>
/// <param name="Values_mm">One a grade.</param>
/// <param name="From">Where it comes from.</param>
public sealed record GradeRow(double Over_mm, double UpTo_mm, int First, ImmutableArray<double> Values_mm, Provenance From);

/// <summary>The grade that a family of alloys usually reaches in hand-moulded sand.</summary>
/// <typeparam name="T">A number for casting tolerance, a letter for machining allowance.</typeparam>
/// <param name="Family">Group of alloys.</param>
/// <param name="Bond">What binds the sand; null where it makes no difference.</param>
/// <param name="Grade">Taken by default.</param>
/// <param name="Range">Finest and coarsest as printed.</param>
/// <param name="From">Where it comes from.</param>
public sealed record UsualGrade<T>(AlloyFamily Family, SandBond? Bond, T Grade, string Range, Provenance From);

/// <summary>How many grades finer small sizes come out.</summary>
/// <param name="UpTo_mm">Size of the dimension.</param>
/// <param name="Grades">Grades to subtract.</param>
/// <param name="From">Where it comes from.</param>
public sealed record FinerRow(double UpTo_mm, int Grades, Provenance From);

/// <summary>ISO 8062 tables and the grades usually reached.</summary>
/// <param name="AllowanceGrades">A, B … K.</param>
/// <param name="Allowance">Required machining allowance by largest overall size of the finished casting.</param>
/// <param name="Tolerance">Total casting tolerance by size of the dimension, grades 1 to 16.</param>
/// <param name="UsualTolerance">Tolerance grades by family and bond.</param>
/// <param name="UsualAllowance">Allowance grades by family.</param>
/// <param name="Finer">Small dimensions.</param>
public sealed record MachiningTables(
    ImmutableArray<string> AllowanceGrades,
    ImmutableArray<GradeRow> Allowance,
    ImmutableArray<GradeRow> Tolerance,
    ImmutableArray<UsualGrade<int>> UsualTolerance,
    ImmutableArray<UsualGrade<string>> UsualAllowance,
    ImmutableArray<FinerRow> Finer)
{
    /// <summary>Number of the coarsest tolerance grade.</summary>
    public const int CoarsestTolerance = 16;

    internal static MachiningTables Read(RowReader file)
    {
        var letters = file.TextsOrNone("allowance_grades");
        var table = new MachiningTables(
            letters,
            Grades(file, "allowance", letters.Length, r => 0),
            Grades(file, "tolerance", CoarsestTolerance, r => r.Whole("first_grade", 1, CoarsestTolerance) - 1),
            [.. file.Rows("usual_tolerance").Select(r => Usual(r, r.Whole("grade", 1, CoarsestTolerance), withBond: true))],
            [.. file.Rows("usual_allowance").Select(r => Usual(r, r.Choice("grade", letters.ToDictionary(x => x)), withBond: false))],
            [.. file.Rows("finer").Select(Finer1)]);
        file.Finish();
        return table;
    }

    private static ImmutableArray<GradeRow> Grades(RowReader file, string key, int columns, Func<RowReader, int> first)
    {
        var rows = ImmutableArray.CreateBuilder<GradeRow>();
        var over_mm = 0.0;
        foreach (var r in file.Rows(key))
        {
            var row = new GradeRow(over_mm, r.Number("up_to_mm", over_mm + 1, 1e5), first(r), r.Numbers("values_mm", 0.01, 100), r.Provenance());
            r.Finish();
            if (row.First + row.Values_mm.Length > columns)
                throw r.Error("more values than grades.");
            over_mm = row.UpTo_mm;
            rows.Add(row);
        }
        return rows.ToImmutable();
    }

    private static UsualGrade<T> Usual<T>(RowReader r, T grade, bool withBond)
    {
        SandBond? bond = withBond ? r.Choice("bond", SandReader.BondWords) : null;
        var usual = new UsualGrade<T>(r.Choice("family", AlloyReader.FamilyWords), bond, grade, r.TextOr("printed", $"{grade} by the shop"), r.Provenance());
        r.Finish();
        return usual;
    }

    private static FinerRow Finer1(RowReader r)
    {
        var row = new FinerRow(r.Number("up_to_mm", 1, 1e3), r.Whole("grades", 1, 5), r.Provenance());
        r.Finish();
        return row;
    }
}
