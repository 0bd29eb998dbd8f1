using System.Diagnostics;
using System.Globalization;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Tests.Reference;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Benchmarks;

/// <summary>What fillets and rounded edges cost beside the draft alone, at the same tolerance.</summary>
internal static class RoundingTable
{
    private const double Radius_mm = 3;
    private const double Edge_mm = 1.5;
    private const double Draft_deg = 2;

    /// <summary>Prints a row for the lever bracket and for a boss of many facets.</summary>
    public static void Print(bool quick, TextWriter output)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Fillets of {Radius_mm} mm, and with edges of {Edge_mm} mm, within {DraftUnderTest.Tolerance_mm} mm; seconds, best of several"));
        output.WriteLine($"{"part",-16}{"draft",9}{"fillets",9}{"ratio",8}{"edges",9}{"ratio",8}{"facets",9}{"filleted",9}{"both",9}");
        Row("lever-bracket", TerrainBuild.Prisms(ReferencePart.Load("lever-bracket")), quick, output);
        var plate = PlanRegion.Rectangle(new(0, 0), new(60, 40));
        Row("boss of 256", [new(plate, 0, 6), new(TerrainBuild.Circle(20, new(30, 20), 256), 0, 20)], quick, output);
        output.WriteLine();
    }

    private static void Row(string name, IReadOnlyList<Prism> square, bool quick, TextWriter output)
    {
        var prisms = WithRoundCorners(square);
        var best = Best(
            quick ? 8 : 20,
            () => TerrainBuild.Solid(TerrainBuild.Terrain(prisms, Draft_deg, DraftUnderTest.Tolerance_mm), DraftUnderTest.Tolerance_mm).Facets.Length,
            () => Rounded(0),
            () => Rounded(Edge_mm));
        var ((sharp, sharpFacets), (filleted, filletedFacets), (both, bothFacets)) = (best[0], best[1], best[2]);
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{name,-16}{sharp,9:0.000}{filleted,9:0.000}{filleted / sharp,8:0.0}{both,9:0.000}{both / sharp,8:0.0}{sharpFacets,9}{filletedFacets,9}{bothFacets,9}"));

        int Rounded(double edge_mm) =>
            FilletBuild.Solid(FilletBuild.Terrain(prisms, Draft_deg, Radius_mm, DraftUnderTest.Tolerance_mm, edge_mm), DraftUnderTest.Tolerance_mm).Facets.Length;
    }

    /// <summary>The same with hollow corners of the plan rounded at every height, as a kit has them before draft.</summary>
    internal static Prism[] WithRoundCorners(IReadOnlyList<Prism> prisms)
    {
        const double radius = 1.2 * Radius_mm, chord = 0.01;
        var plateaus = TerrainBuild.Plateaus(prisms);
        return [.. plateaus.Select(p => p.Height).Distinct().Order().Select(h => new Prism(
            PlanRegion.Union(plateaus.Where(p => p.Height >= h).Select(p => p.Region)).Offset(radius, chord).Offset(-radius, chord), 0, h))];
    }

    /// <summary>The works in turn, so that a machine whose speed changes does not favour one of them; the best time of each.</summary>
    private static (double Seconds, int Facets)[] Best(int runs, params Func<int>[] works)
    {
        var best = works.Select(_ => (Seconds: double.PositiveInfinity, Facets: 0)).ToArray();
        for (var run = 0; run < runs; run++)
        {
            for (var i = 0; i < works.Length; i++)
            {
                var clock = Stopwatch.StartNew();
                var facets = works[i]();
                best[i] = (Math.Min(best[i].Seconds, clock.Elapsed.TotalSeconds), facets);
            }
        }

        return best;
    }
}
