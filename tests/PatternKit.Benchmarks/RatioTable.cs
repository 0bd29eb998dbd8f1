using System.Globalization;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Benchmarks;

/// <summary>
/// The product beside the mesh reference, run on the same machine, the same polygons and one after the other: its time and facets
/// beside those of the library's Minkowski sum of the part with a pyramid, its time beside that of the same polyhedron put together from
/// hulls, which only prisms allow, and its volume beside that of the offset oracle. A ratio says more than seconds, which depend on the
/// machine. Start-up is in none of them.
/// </summary>
internal static class RatioTable
{
    private const int ConeFacets = 64;

    /// <summary>Prints a row for every part; <paramref name="quick"/> runs each once or twice.</summary>
    public static void Print(IEnumerable<string> parts, bool quick, TextWriter output)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"Draft within {DraftUnderTest.Tolerance_mm} mm against mesh sums with a pyramid of {ConeFacets} facets; seconds, best of several, a sum once"));
        output.WriteLine($"{"part",-16}{"product",9}{"sum",9}{"ratio",8}{"hulls",9}{"ratio",8}{"facets",9}{"of sum",9}{"facets/",9}{"oracle mm³",14}{"product %",11}{"pyramid %",11}{"around %",11}");
        foreach (var name in parts) output.WriteLine(Row(ReferencePart.Load(name), quick));
    }

    private static string Row(ReferencePart part, bool quick)
    {
        var oracle_mm3 = new OffsetOracle(part.Slices(), part.Tangent).VolumeAbove(0);
        var product = Best(part, quick ? 2 : 5);
        var sum = Sum(part);
        var hulls = ManifoldReference.Draft(part, new() { ConeFacets = ConeFacets, Outer = true, Repeat = quick ? 1 : 3 });
        double? Off(double? volume_mm3) => 100 * (volume_mm3 / oracle_mm3 - 1);
        // A sum that was given up took at least as long as it was waited for.
        var over = sum is null ? ">" : "";
        var sum_s = sum?.Seconds ?? ManifoldReference.TimeLimit.TotalSeconds;
        return string.Create(CultureInfo.InvariantCulture,
            $"{part.Name,-16}{Text(product.Seconds, "0.000"),9}{over + Text(sum_s, "0.00"),9}{over + Text(sum_s / product.Seconds, "0.0"),8}"
            + $"{Text(hulls.Seconds, "0.00"),9}{Text(hulls.Seconds / product.Seconds, "0.0"),8}"
            + $"{Text(product.Triangles, "0"),9}{Text(sum?.Triangles, "0"),9}{Text((double)product.Triangles / sum?.Triangles, "0.00"),9}{oracle_mm3,14:0.00}"
            + $"{Text(Off(product.Volume_mm3), "+0.0000;-0.0000"),11}{Text(Off(hulls.Volume_mm3), "+0.0000;-0.0000"),11}{Text(Off(hulls.OuterVolume_mm3), "+0.0000;-0.0000"),11}");
    }

    private static ReferenceBody? Sum(ReferencePart part)
    {
        try
        {
            return ManifoldReference.Draft(part, new() { ConeFacets = ConeFacets, Method = SumMethod.Minkowski });
        }
        catch (TimeoutException)
        {
            return null;
        }
    }

    private static DraftedBody Best(ReferencePart part, int runs) =>
        Enumerable.Range(0, runs).Select(_ => DraftUnderTest.Build(part)).MinBy(b => b.Seconds)!;

    private static string Text(double? value, string format) => value?.ToString(format, CultureInfo.InvariantCulture) ?? "-";
}
