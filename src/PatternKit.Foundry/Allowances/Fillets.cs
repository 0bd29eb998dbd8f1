using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Constants of the fillet rules.</summary>
/// <param name="MeanFactor">Radius over the sum of both walls.</param>
/// <param name="WallOverLeast">Thicker wall over the least radius.</param>
/// <param name="Least_mm">No fillet below this.</param>
/// <param name="Series_mm">Radii in use, ascending.</param>
/// <param name="Series">Where they come from.</param>
/// <param name="GapShare">Largest part of the floor between two walls that the fillet of one may take.</param>
/// <param name="Profile_mm">Inside corners of turned profiles get no less where a groove holds the radius back.</param>
/// <param name="Edge_mm">Radius of edges where a job leaves it to the rule.</param>
/// <param name="MeshSkin">Of a mesh, the wall that the rule goes by: so much of the skin beside inside corners has thinner metal behind it.</param>
public sealed record FilletTable(
    Quoted MeanFactor, Quoted WallOverLeast, Quoted Least_mm, ImmutableArray<double> Series_mm, Provenance Series, Quoted GapShare, Quoted Profile_mm, Quoted Edge_mm, Quoted MeshSkin)
{
    internal static FilletTable Read(RowReader file)
    {
        var series = file.Row("series");
        var table = new FilletTable(
            file.Row("mean").Quoted("times_sum", 0.05, 2),
            file.Row("least").Quoted("wall_over_radius", 0.5, 20),
            file.Row("smallest").Quoted("mm", 0, 20),
            series.Numbers("mm", 0.1, 100),
            series.Provenance(),
            file.Row("gap").Quoted("share", 0.05, 0.5),
            file.Row("profile").Quoted("mm", 0.1, 20),
            file.Row("edge").Quoted("mm", 0.1, 20),
            file.Row("mesh").Quoted("share", 0, 1));
        series.Finish();
        file.Finish();
        return table;
    }
}

/// <summary>Radii for the inside corners where two walls meet.</summary>
public static class Fillets
{
    /// <summary>Radius that keeps the section even: the mean of both walls, R = (T1 + T2)/2.</summary>
    /// <param name="table">The rules.</param>
    /// <param name="first_mm">Thickness of one wall.</param>
    /// <param name="second_mm">Thickness of the other.</param>
    /// <returns>Millimetres.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A thickness is not a positive number.</exception>
    public static Sourced<double> Corner(FilletTable table, double first_mm, double second_mm)
    {
        Checked.Positive(first_mm, nameof(first_mm));
        Checked.Positive(second_mm, nameof(second_mm));
        var factor = table.MeanFactor;
        var radius_mm = factor.Value * (first_mm + second_mm);
        return new Sourced<double>(radius_mm, factor.From.Text, $"R {Shown.Number(radius_mm)} mm: mean of walls {Shown.Number(first_mm)} and {Shown.Number(second_mm)} mm");
    }

    /// <summary>The largest radius of the series that is no larger; 0 where all are.</summary>
    /// <param name="table">The series.</param>
    /// <param name="radius_mm">Millimetres.</param>
    public static double InSeries(FilletTable table, double radius_mm) =>
        table.Series_mm.LastOrDefault(r => r <= radius_mm + 1e-9);

    /// <summary>Least radius at a corner: a third of the thicker wall, and 3 mm.</summary>
    /// <param name="table">The rules.</param>
    /// <param name="thicker_mm">Thickness of the thicker wall.</param>
    /// <returns>Millimetres.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The thickness is not a positive number.</exception>
    public static Sourced<double> Least(FilletTable table, double thicker_mm)
    {
        Checked.Positive(thicker_mm, nameof(thicker_mm));
        var byWall_mm = thicker_mm / table.WallOverLeast.Value;
        var radius_mm = Math.Max(byWall_mm, table.Least_mm.Value);
        var from = byWall_mm > table.Least_mm.Value ? table.WallOverLeast.From : table.Least_mm.From;
        return new Sourced<double>(radius_mm, from.Text, $"R {Shown.Number(radius_mm)} mm at least: a third of the {Shown.Number(thicker_mm)} mm wall, not below {Shown.Number(table.Least_mm.Value)} mm");
    }
}
