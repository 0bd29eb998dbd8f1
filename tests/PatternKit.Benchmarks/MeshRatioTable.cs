using System.Diagnostics;
using System.Globalization;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Tests.Reference;
using PatternKit.Geometry.Tests.Terrain;
using Half = PatternKit.Geometry.Tests.Reference.Half;

namespace PatternKit.Benchmarks;

/// <summary>Drafted halves of meshes beside the Minkowski sums of the mesh reference, on the very same facets: time, facets and volume.</summary>
internal static class MeshRatioTable
{
    private const int ConeFacets = 64;

    /// <summary>Prints a row for both halves of every body, at every draft.</summary>
    public static void Print(bool quick, TextWriter output)
    {
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"Halves of meshes drafted within {FreeForms.Tolerance} mm against mesh sums with a pyramid of {ConeFacets} facets; seconds, best of several, a sum once; a convex half is a single hull for the library"));
        output.WriteLine($"{"mesh",-16}{"triangles",10}{"draft",7}{"half",7}{"product",9}{"sum",9}{"ratio",8}{"facets",9}{"of sum",9}{"product mm³",14}{"from sum %",12}{"around %",11}");
        foreach (var (name, body) in FreeForms.Compared)
        {
            var mesh = body();
            foreach (var degrees in quick ? new[] { 2 } : [2, 5])
                foreach (var half in new[] { Half.Upper, Half.Lower }) output.WriteLine(Row(name, mesh, degrees, half, quick));
        }

        output.WriteLine();
    }

    private static string Row(string name, TriangleMesh mesh, int degrees, Half half, bool quick)
    {
        var lying = half == Half.Upper ? mesh : mesh.Overturned();
        var (best_s, body) = (double.PositiveInfinity, lying);
        for (var run = 0; run < (quick ? 3 : 10); run++)
        {
            var clock = Stopwatch.StartNew();
            body = FreeForms.Solid(lying, degrees);
            best_s = Math.Min(best_s, clock.Elapsed.TotalSeconds);
        }

        var sum = ManifoldReference.Draft(mesh, half, 0, degrees, ConeFacets, outer: true);
        var volume_mm3 = body.Volume();
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{name,-16}{mesh.Facets.Length,10}{degrees,6}°{half,7}{best_s,9:0.000}{sum.Seconds,9:0.00}{sum.Seconds / best_s,8:0.0}{body.Facets.Length,9}{sum.Triangles,9}{volume_mm3,14:0.00}{100 * ((volume_mm3 / sum.Volume_mm3) - 1),12:+0.0000;-0.0000}{100 * ((sum.OuterVolume_mm3 / sum.Volume_mm3) - 1),11:+0.0000;-0.0000}");
    }
}
