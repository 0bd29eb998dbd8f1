using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>What must hold for any part: random prisms, some of them holes, turned any way, touching or nearly so.</summary>
public class RandomTerrainTests
{
    private const double Tolerance = 0.01;

    private static readonly Gen<PlanRegion> Outline = Gen.Select(
        Gen.Int[0, 2], Gen.Double[-30, 30], Gen.Double[-20, 20], Gen.Double[2, 30], Gen.Double[2, 20], Gen.Double[0, 3.2]).Select(
        (kind, x, y, a, b, turn) => kind switch
        {
            // On a coarse grid and upright, so that sides coincide and corners touch.
            0 => PlanRegion.Rectangle(new(Math.Round(x), Math.Round(y)), new(Math.Round(x) + Math.Round(a), Math.Round(y) + Math.Round(b))),
            1 => PlanRegion.Polygon([.. PlanPath.Polygon(new Vec2(-a, -b), new Vec2(a, -b), new Vec2(a, b), new Vec2(-a, b)).Transformed(0.5, turn, new(x, y)).Flatten(1)]),
            _ => TerrainBuild.Circle(a, new(x, y), 12 + (int)(4 * a)),
        });

    internal static readonly Gen<Prism[]> Parts = Gen.Select(Outline, Gen.Int[1, 24], Gen.Int[0, 3]).Select(
        (region, high, cut) => new Prism(region, 0, cut == 0 ? 25 : high, cut == 0)).Array[1, 6]
        .Select(prisms => prisms.Prepend(new(PlanRegion.Rectangle(new(-35, -25), new(35, 25)), 0, 6)).ToArray());

    [Fact]
    public void The_body_is_valid_drafted_nowhere_below_the_part_and_within_tolerance_of_the_cone_envelope()
    {
        Gen.Select(Parts, Gen.Int[0, 4].Select(i => new[] { 0.5, 1, 2, 3, 7 }[i]), Gen.Int).Sample(
            (prisms, degrees, seed) =>
            {
                var terrain = TerrainBuild.Terrain(prisms, degrees, Tolerance);
                var mesh = TerrainBuild.Solid(terrain, Tolerance);
                MeshAssert.Valid(mesh);
                var least = TerrainBuild.LeastDraftDegrees(mesh);
                Assert.True(least >= degrees - 0.05, $"a facet has a draft of {least} of {degrees} degrees: {TerrainBuild.Describe(prisms)}");

                var slices = TerrainBuild.Plateaus(prisms).GroupBy(p => p.Height)
                    .Select(g => new Slice(PlanRegion.Union(g.Select(p => p.Region)), g.Key)).ToArray();
                var tangent = Math.Tan(degrees * Math.PI / 180);
                var oracle = new OffsetOracle(slices, tangent);
                var random = new Random(seed);
                for (var i = 0; i < 60; i++)
                {
                    var p = new Vec2((random.NextDouble() * 90) - 45, (random.NextDouble() * 70) - 35);
                    var truth = Math.Max(0, oracle.Height(p));
                    var (ours, _, _) = terrain.At(p);
                    Assert.True(ours >= truth - 1e-6, $"at {p} {truth - ours} mm below the cone envelope");
                    Assert.True((ours - truth) * tangent <= Tolerance, $"at {p} the wall stands out by {(ours - truth) * tangent} mm");
                }

                var expected = oracle.VolumeAbove(0);
                Assert.True(Math.Abs(mesh.Volume() - expected) <= 2e-4 * expected, $"volume {mesh.Volume()} for {expected}");
            },
            iter: 60);
    }

    [Fact]
    public void The_mirrored_part_gives_the_mirrored_pattern()
    {
        Parts.Sample(
            prisms =>
            {
                var mirrored = prisms.Select(p => p with
                {
                    Region = PlanRegion.EvenOdd(p.Region.Rings().Select(r => PlanPath.Polygon(r.AsSpan()).Transformed(1, 0, default, mirrored: true)), 1),
                }).ToArray();
                var a = TerrainBuild.Terrain(prisms, 2, Tolerance);
                var b = TerrainBuild.Terrain(mirrored, 2, Tolerance);
                for (var i = 0; i < 200; i++)
                {
                    var p = new Vec2(((i * 37) % 90) - 45.03, ((i * 53) % 70) - 35.07);
                    Assert.Equal(a.At(p).Height, b.At(new(-p.X, p.Y)).Height, 3);
                }
            },
            iter: 20);
    }

    [Fact]
    public void Drafting_the_drafted_body_adds_nothing()
    {
        // The envelope of an envelope under the same cone is the envelope: level sections of the drafted body, drafted again,
        // stay within twice the tolerance.
        Parts.Sample(
            prisms =>
            {
                var terrain = TerrainBuild.Terrain(prisms, 3, Tolerance);
                double[] levels = [0.5, 2, 5, 9, 14, 20];
                var again = TerrainBuild.Terrain(
                    [.. levels.Select(z => new Prism(terrain.Above(z), 0, z)).Where(p => !p.Region.IsEmpty)], 3, Tolerance);
                for (var i = 0; i < 300; i++)
                {
                    var p = new Vec2(((i * 37) % 90) - 45.03, ((i * 53) % 70) - 35.07);
                    Assert.True((again.At(p).Height - terrain.At(p).Height) * Math.Tan(3 * Math.PI / 180) <= 2 * Tolerance);
                }
            },
            iter: 15);
    }
}
