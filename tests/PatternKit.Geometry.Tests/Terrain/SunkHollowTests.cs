using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Hollows sunk into meshes and roots grown below them: volumes by arithmetic, soundness by the inspection of meshes.</summary>
public sealed class SunkHollowTests
{
    private static readonly Lattice Lattice = Lattice.For(100);

    /// <summary>A drafted block on z = 0, whose walls lean so that no face is along an axis but base and top.</summary>
    private static TriangleMesh Block(double turn = 0) => TerrainSolid.Build(
        new DraftedTerrain([new(PlanRegion.UnionOn(Lattice, [PlanRegion.Rectangle(new(-20, -10), new(20, 10)).Transformed(1, turn, default)]), 30)], 0, 0.1, 0.1, Lattice, 0.01), null, [], [], Lattice, new());

    private static Vec3 Snapped(Vec3 p) => new(Lattice.Snap(p.X), Lattice.Snap(p.Y), Lattice.Snap(p.Z));

    [Fact]
    public void A_pocket_in_a_level_face_takes_away_what_it_holds()
    {
        ImmutableArray<Vec3> mouth = [new(-5, -4, 30), new(6, -4, 30), new(6, 3, 30), new(-5, 3, 30)];
        ImmutableArray<Vec3> floor = [.. mouth.Select(p => p with { Z = 22 })];
        var walls = mouth.Select((p, i) => ImmutableArray.Create(floor[(i + 1) % 4], floor[i], p, mouth[(i + 1) % 4]));
        var body = Block();
        var sunk = SunkHollow.Of(body, [mouth], [floor, .. walls], Lattice);
        MeshAssert.Valid(sunk);
        Assert.Equal(body.Volume() - (11 * 7 * 8), sunk.Volume(), 1e-6);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.3)]
    [InlineData(2.0)]
    public void A_notch_over_an_edge_opens_both_faces(double turn)
    {
        // In the frame of the wall that looks to −y before it is turned: along it, up it, out of it.
        var (s, c) = Math.SinCos(0.1);
        var wide = 10 + (30 * Math.Tan(0.1));
        Vec3 Placed(double along, double height, double inward)
        {
            // A place so far below the surface of the leaning wall, level inward.
            var p = new Vec2(along, -wide + (height * Math.Tan(0.1)) + inward);
            var (sin, cos) = Math.SinCos(turn);
            return Snapped(new((p.X * cos) - (p.Y * sin), (p.X * sin) + (p.Y * cos), height));
        }

        Vec3[] low = [Placed(-3, 12, 0), Placed(3, 12, 0), Placed(4, 12, 5), Placed(-4, 12, 5)];
        Vec3[] high = [Placed(-3, 30, 0), Placed(3, 30, 0), Placed(4, 30, 5), Placed(-4, 30, 5)];
        var body = Block(turn);
        var sunk = SunkHollow.Of(body, [[low[0], low[1], high[1], high[0]], [high[3], high[0], high[1], high[2]]],
            [[low[0], low[1], low[2], low[3]], [low[3], low[2], high[2], high[3]], [low[2], low[1], high[1], high[2]], [low[0], low[3], high[3], high[0]]], Lattice);
        MeshAssert.Valid(sunk);
        // A trapezoid 6 and 8 mm wide and 5 mm deep at every height of 18 mm; it follows the wall.
        Assert.Equal(body.Volume() - (7 * 5 * 18), sunk.Volume(), 1e-2);
    }

    [Fact]
    public void A_mouth_that_lies_in_no_face_is_refused()
    {
        ImmutableArray<Vec3> beside = [new(-5, -4, 25), new(6, -4, 25), new(6, 3, 25), new(-5, 3, 25)];
        Assert.Throws<ArgumentException>(() => SunkHollow.Of(Block(), [beside], [[.. beside.Reverse()]], Lattice));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(7)]
    [InlineData(30)]
    public void A_root_below_the_ground_adds_its_volume_wherever_it_reaches(double shift)
    {
        var disc = new DraftedTerrain([new(PlanRegion.UnionOn(Lattice, [PlanRegion.EvenOdd([PlanPath.Circle(default, 24)], 0.01)]), 12)], 0, 0.05, 0.05, Lattice, 0.01);
        var standing = TerrainSolid.Build(disc, null, [], [], Lattice, new());
        // A stem that is wider below and sticks out at one end by the shift.
        Vec3[] top = [Snapped(new(-3, -8, 0)), Snapped(new(3, -8, 0)), Snapped(new(4, 8 + shift, 0)), Snapped(new(-4, 8 + shift, 0))];
        Vec3[] foot = [Snapped(new(-4, -8, -6)), Snapped(new(4, -8, -6)), Snapped(new(5, 8 + shift, -6)), Snapped(new(-5, 8 + shift, -6))];
        ImmutableArray<ImmutableArray<Vec3>> faces = [[foot[3], foot[2], foot[1], foot[0]], .. Enumerable.Range(0, 4).Select(i => ImmutableArray.Create(foot[i], foot[(i + 1) % 4], top[(i + 1) % 4], top[i]))];
        var rooted = RootedSolid.Of(standing, [.. top.Select(p => p.Plan)], faces, Lattice);
        MeshAssert.Valid(rooted);
        // Width over the length grows evenly along both ways: the mean of 6 and 8 above, of 8 and 10 below.
        Assert.Equal(standing.Volume() + (6 * 8 * (16 + shift)), rooted.Volume(), 1e-2);
        Assert.Equal(-6, rooted.Bounds().Low.Z, 1e-5);
    }
}
