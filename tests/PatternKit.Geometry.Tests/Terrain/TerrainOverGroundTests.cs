using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Silhouette;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Silhouette;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Both halves of a body on a surface through its silhouette, against closed forms, columns of the exact envelope and each other.</summary>
public class TerrainOverGroundTests
{
    private const double Tolerance = FreeForms.Tolerance;

    private static readonly Dictionary<string, Func<TriangleMesh>> Bodies = new()
    {
        ["leaning bar"] = Lines.Leaning,
        ["arc"] = Lines.Arc,
        ["tilted torus"] = () => FreeForms.TiltedTorus(48, 24),
        ["stepped"] = () => TestBodies.Bar(20, (-30, 0), (0, 0), (10, 8), (30, 8), (30, 14), (10, 14), (0, 6), (-30, 6)),
    };

    public static TheoryData<string, int> All()
    {
        var data = new TheoryData<string, int>();
        foreach (var name in Bodies.Keys)
            foreach (var degrees in new[] { 2, 5 }) data.Add(name, degrees);
        return data;
    }

    /// <summary>The halves of a body: the upper one, and the lower one with z negated.</summary>
    internal sealed record Halved(FacetedGround Ground, TerrainOverGround Upper, TerrainOverGround Lower, TriangleMesh UpperBody, TriangleMesh LowerBody)
    {
        public static Halved Of(TriangleMesh mesh, double degrees)
        {
            var ground = Lines.Ground(Lines.Corridor(mesh, degrees));
            var (upper, lower) = (Over(mesh, degrees, ground), Over(mesh.Overturned(), degrees, ground.Negated()));
            return new(ground, upper, lower, Solid(upper), Solid(lower));
        }

        public static TerrainOverGround Over(TriangleMesh mesh, double degrees, FacetedGround ground) =>
            new(FreeForms.Terrain(mesh, degrees, FreeForms.Lattice.Snap(ground.Range.Low - 1)), ground);

        public static TriangleMesh Solid(TerrainOverGround terrain) => TerrainSolid.Build(terrain, null, [], [], FreeForms.Lattice, new(Tolerance));
    }

    [Theory]
    [MemberData(nameof(All))]
    public void Both_halves_are_sound_drafted_and_hold_what_the_columns_of_the_envelope_hold(string name, int degrees)
    {
        MeshAssert.Valid(Bodies[name]());
        var w = System.Diagnostics.Stopwatch.StartNew();
        var corr = Lines.Corridor(Bodies[name](), degrees);
        Console.Error.WriteLine($"{name} {degrees} corridor {w.ElapsedMilliseconds} samples {corr.Loops.Sum(l => l.Length)}"); w.Restart();
        var gr = Lines.Ground(corr);
        Console.Error.WriteLine($"{name} ground {w.ElapsedMilliseconds} facets {gr.Facets.Count()} {gr.Steepest()}"); w.Restart();
        var up = Halved.Over(Bodies[name](), degrees, gr);
        Console.Error.WriteLine($"{name} terrain {w.ElapsedMilliseconds} "); w.Restart();
        Console.Error.WriteLine($"{name} footprint {w.ElapsedMilliseconds} {up.Footprint.Geometry.NumPoints}"); w.Restart();
        
        Console.Error.WriteLine($"{name} footprint {w.ElapsedMilliseconds} {up.Footprint.Geometry.NumPoints}"); w.Restart();
        foreach (var pc in up.Footprint.Pieces()) Console.Error.WriteLine($"   piece area {pc.Area:0.##} rings {string.Join(' ', pc.Rings().Select(r => $"{r.Length}@{PlanRegion.Polygon(r).InnerPoint} over {up.Over(PlanRegion.Polygon(r).InnerPoint)}"))} box {pc.Geometry.EnvelopeInternal}");
        Console.Error.WriteLine($"{name} creases {up.Creases().Length} {w.ElapsedMilliseconds} "); w.Restart();
        Console.Error.WriteLine($"{name} solid {Halved.Solid(up).Facets.Length} {w.ElapsedMilliseconds} "); w.Restart();
        var halves = Halved.Of(Bodies[name](), degrees);
        foreach (var (body, terrain) in new[] { (halves.UpperBody, halves.Upper), (halves.LowerBody, halves.Lower) })
        {
            MeshAssert.Valid(body);
            var least = LeastDraftDegrees(body, terrain.Ground);
            Assert.True(least >= degrees - 0.05, $"least draft {least}");
            AssertRelative(SampledVolume.Of(terrain), body.Volume(), 4e-4);
        }
    }

    /// <summary>Least angle from the vertical of the facets that do not lie on the ground, degrees.</summary>
    private static double LeastDraftDegrees(TriangleMesh body, FacetedGround ground) => body.Facets.Select(body.AreaNormal).Where(n => n.Z >= 0)
        .Min(n => Math.Atan2(n.Z, n.Plan.Length) * 180 / Math.PI);

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
