using System.Diagnostics;
using System.Globalization;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Tests.Reference;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Benchmarks;

/// <summary>What fillets cost beside the draft alone, at the same tolerance.</summary>
internal static class FilletTable
{
    private const double Radius_mm = 3;
    private const double Draft_deg = 2;

    /// <summary>Prints a row for the lever bracket and for a boss of many facets.</summary>
    public static void Print(bool quick, TextWriter output)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Fillets of {Radius_mm} mm within {DraftUnderTest.Tolerance_mm} mm; seconds, best of several"));
        output.WriteLine($"{"part",-16}{"draft",9}{"fillets",9}{"ratio",8}{"facets",9}{"filleted",9}");
        Row("lever-bracket", TerrainBuild.Prisms(ReferencePart.Load("lever-bracket")), quick, output);
        var plate = PlanRegion.Rectangle(new(0, 0), new(60, 40));
        Row("boss of 256", [new(plate, 0, 6), new(TerrainBuild.Circle(20, new(30, 20), 256), 0, 20)], quick, output);
        output.WriteLine();
    }

    private static void Row(string name, IReadOnlyList<Prism> prisms, bool quick, TextWriter output)
    {
        var runs = quick ? 3 : 10;
        var (sharp, sharpFacets) = Best(runs, () => TerrainBuild.Solid(TerrainBuild.Terrain(prisms, Draft_deg, DraftUnderTest.Tolerance_mm), DraftUnderTest.Tolerance_mm).Facets.Length);
        var (round, roundFacets) = Best(runs, () => FilletBuild.Solid(FilletBuild.Terrain(prisms, Draft_deg, Radius_mm, DraftUnderTest.Tolerance_mm), DraftUnderTest.Tolerance_mm).Facets.Length);
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{name,-16}{sharp,9:0.000}{round,9:0.000}{round / sharp,8:0.0}{sharpFacets,9}{roundFacets,9}"));
    }

    private static (double Seconds, int Facets) Best(int runs, Func<int> work)
    {
        var (best, facets) = (double.PositiveInfinity, 0);
        for (var i = 0; i < runs; i++)
        {
            var clock = Stopwatch.StartNew();
            facets = work();
            best = Math.Min(best, clock.Elapsed.TotalSeconds);
        }

        return (best, facets);
    }
}
