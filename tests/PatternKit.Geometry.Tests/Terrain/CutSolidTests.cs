using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Pieces that upright cuts with dovetails take out of a body: closed, and all of the body but the gap between them.</summary>
public class CutSolidTests
{
    private const double Gap = 0.25;

    private static readonly Gen<Prism> Heap = Gen.Select(Gen.Bool, Gen.Double[-25, 25], Gen.Double[-15, 15], Gen.Double[4, 24], Gen.Double[4, 18], Gen.Double[0, 3.2], Gen.Int[3, 22], Gen.Int[0, 3]).Select(
        (round, x, y, a, b, turn, high, cut) => new Prism(
            round ? TerrainBuild.Circle(a, new(x, y), 12 + (int)(3 * a))
                : PlanRegion.Polygon([.. PlanPath.Polygon(new Vec2(-a, -b), new Vec2(a, -b), new Vec2(a, b), new Vec2(-a, b)).Transformed(0.5, turn, new(x, y)).Flatten(1)]),
            0, cut == 0 ? 25 : high, cut == 0));

    private static readonly Gen<DovetailCut> Cut = Gen.Select(Gen.Bool, Gen.Double[-20, 20], Gen.Int[0, 2], Gen.Double[3, 8], Gen.Double[2, 5], Gen.Double[0, 0.4]).Select(
        (acrossX, at, tails, neck, depth, flare) =>
            new DovetailCut(acrossX, at, -100, 100, [.. Enumerable.Range(0, tails).Select(i => new Dovetail((i * 14) - 7.3, neck, depth, flare))]));

    // The strip between the pieces is as wide as the gap: its volume is that of the thickness of the body integrated over it, which for the terrain is known
    // without any mesh of a piece.
    [Fact]
    public void Pieces_of_random_bodies_are_closed_and_make_up_the_body_but_the_strip() =>
        Gen.Select(Heap.Array[0, 5], Cut, Gen.Double[0.5, 5]).Sample((heap, cut, degrees) =>
        {
            Prism[] prisms = [new(PlanRegion.Rectangle(new(-35, -25), new(35, 25)), 0, 6), .. heap];
            var terrain = TerrainBuild.Terrain(prisms, degrees, 0.01);
            var whole = TerrainBuild.Solid(terrain, 0.01);
            var (low, high) = Sides(cut);
            var pieces = new[] { low, high }.Select(side => Piece(terrain, side)).ToArray();
            Assert.All(pieces, MeshAssert.Valid);
            var strip = PlanRegion.Rectangle(new(-100, -100), new(100, 100)).Difference(low).Difference(high).Intersection(terrain.Footprint);
            var left = PlanarVolume.Of(strip, terrain.Bendings(), TerrainBuild.Lattice, p => terrain.At(p).Height);
            Assert.Equal(whole.Volume(), pieces.Sum(p => p.Volume()) + left, 2e-4 * whole.Volume());
        }, iter: 80);

    // A plate of constant thickness with upright ends in effect: the gap takes the length of the cut times its width times the thickness; the drafted walls at both
    // ends add a triangle each.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(3)]
    public void The_gap_in_a_plate_takes_its_length_times_width_times_thickness(int tails)
    {
        const double t = 8, width = 50, degrees = 3;
        var terrain = TerrainBuild.Terrain([new(PlanRegion.Rectangle(new(-50, -25), new(50, 25)), 0, t)], degrees, 0.005);
        var cut = new DovetailCut(true, 3, -100, 100, [.. Enumerable.Range(0, tails).Select(i => new Dovetail((i * 15) - 15, 7, 5, 0.25))]);
        var (low, high) = Sides(cut);
        var lost = TerrainBuild.Solid(terrain, 0.005).Volume() - Piece(terrain, low).Volume() - Piece(terrain, high).Volume();
        // In each tail the flanks are longer than straight ahead: 2 √(d² + (d/4)²) + (neck + 2 d/4) − neck.
        var length = width + (tails * ((2 * Math.Sqrt(25 + (25 / 16.0))) + 2.5));
        Assert.Equal(Gap * ((length * t) + (t * t * Math.Tan(degrees * Math.PI / 180))), lost, 0.01 * Gap * length * t);
        Assert.Equal(200 - width + length, cut.Length, 1e-9);
    }

    [Fact]
    public void Curved_ground_is_followed_along_the_cut()
    {
        // A fillet round a boss, cut off its middle: the upper edge of the wall lies on the terrain.
        var filleted = FilletBuild.Terrain(FilletBuild.Cases["round boss"], 2, 4, 0.005).ForMeshing();
        var side = Sides(new(true, 17.3, -100, 100, [])).Low;
        var piece = Piece(filleted, side, 0.005);
        MeshAssert.Valid(piece);
        var x = piece.Vertices.Max(v => v.X);
        var upperEdge = piece.Vertices.Where(v => v.X == x && v.Z > 0).OrderBy(v => v.Y).ToArray();
        Assert.True(upperEdge.Length > 12);
        foreach (var (a, b) in upperEdge.Zip(upperEdge.Skip(1)))
        {
            var middle = 0.5 * (a + b);
            Assert.Equal(filleted.At(middle.Plan).Height, middle.Z, 0.012 * Math.Max(1, Math.Abs(b.Z - a.Z) / Math.Max(1e-3, b.Y - a.Y)));
        }
    }

    private static (PlanRegion Low, PlanRegion High) Sides(DovetailCut cut) => (OnLattice(cut.LowSide(Gap, 100)), OnLattice(cut.HighSide(Gap, 100)));

    private static PlanRegion OnLattice(PlanRegion region) => PlanRegion.UnionOn(TerrainBuild.Lattice, [region]);

    private static TriangleMesh Piece(ITerrain terrain, PlanRegion within, double tolerance = 0.01) => TerrainSolid.Build(terrain, null, [], [], TerrainBuild.Lattice, new(tolerance), within);
}
