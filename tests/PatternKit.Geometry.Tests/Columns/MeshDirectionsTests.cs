using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>
/// That the numbers of a direction are right, and that with plain weights on them the direction and height come out that a
/// moulder would choose. Those choices are common practice; the reason stands beside each.
/// </summary>
public class MeshDirectionsTests
{
    private const double Degree = Math.PI / 180;

    private static readonly DirectionSearch Search = new(
        Spread: 40, Merge: 2 * Degree, Steep: 5 * Degree, Flat_mm: 0.01, CoarseCells: 150, FineCells: 400, Best: 4);

    [Fact]
    public void Half_a_cylinder_lies_on_its_flat_side() =>
        RandomBodies.Direction.Sample(turn =>
        {
            // Common practice: one piece with a flat back, and the least depth; on end the draw would be four times as deep, all of it steep.
            var body = TestBodies.HalfCylinder(10, 40, 60);
            MeshAssert.Valid(body);
            var best = Best(body.TurnedTo(turn));
            var up = Upward(best, turn);
            Assert.True(Math.Abs(up) > 1 - 1e-9);
            Assert.Equal(1, best.FlatInPlane, 0.01);
            Assert.Equal(up > 0 ? best.Range.Low : best.Range.High, best.Plane_mm);
            Assert.Equal(0, best.Added_mm3, 1e-6);
        }, iter: 4);

    [Fact]
    public void A_hexagon_bar_is_parted_through_two_opposite_edges() =>
        RandomBodies.Direction.Sample(turn =>
        {
            // Common practice: parted across corners, all four slanting sides leave at 30 degrees; parted across flats two would stand upright. The axis is at height 0.
            var best = Best(HexagonBar().TurnedTo(turn));
            Assert.True(IsSquareToAny(best.Direction, turn, [0, 60, 120]), $"{best}");
            Assert.Equal(0, best.Plane_mm, 1e-3);
            Assert.Equal(0, best.Added_mm3, 1e-6);
        }, iter: 4);

    [Fact]
    public void A_channel_lies_on_its_web() =>
        RandomBodies.Direction.Sample(turn =>
        {
            // Common practice: open side up, the cope's sand hangs in the channel and the web is the flat back; on its side it would need a core.
            var body = TestBodies.Bar(60, (0, 0), (30, 0), (30, 20), (26, 20), (26, 4), (4, 4), (4, 20), (0, 20));
            MeshAssert.Valid(body);
            var best = Best(body.TurnedTo(turn));
            var up = Upward(best, turn);
            Assert.True(Math.Abs(up) > 1 - 1e-9);
            Assert.Equal(1, best.FlatInPlane, 0.02);
            Assert.Equal(up > 0 ? best.Range.Low : best.Range.High, best.Plane_mm);
            Assert.Equal(0, best.Added_mm3, 1e-6);

            // On its side the space between the flanges, 22 × 16 × 60, is hidden, and the inside of the upper flange looks down to the plane.
            var side = MeshDirections.Score(body, new(new(1, 0, 0), DirectionSource.Spread), 0.1, Search);
            Assert.Equal(22 * 16 * 60, side.Gaps_mm3, 1e-3 * 22 * 16 * 60);
            Assert.Equal(16 * 60, side.Overhung_mm2, 1e-6);
        }, iter: 4);

    [Fact]
    public void A_narrow_angle_bracket_lies_on_its_profile() =>
        RandomBodies.Direction.Sample(turn =>
        {
            // Common practice: the profile in the joint, 12 deep with a flat back, rather than one leg down and the other 40 deep in the sand.
            var body = TestBodies.Bar(12, (0, 0), (40, 0), (40, 5), (5, 5), (5, 40), (0, 40));
            MeshAssert.Valid(body);
            var best = Best(body.TurnedTo(turn));
            Assert.True(Math.Abs(Vec3.Dot(best.Direction, DirectionFrame.Along(turn).ToSpace(new(0, 1, 0)))) > 1 - 1e-9);
            Assert.Equal(best.Range.Low, best.LeastFrom_mm, 1e-9);
            Assert.Equal(best.Range.High, best.LeastTo_mm, 1e-9);
            // The shadow may be off by half a cell along its outline of 160 round 375 mm².
            Assert.Equal(1, best.FlatInPlane, best.Spacing_mm / 2 * 160 / 375);
            Assert.Equal(12, best.Range.Length, 1e-9);
        }, iter: 4);

    [Fact]
    public void A_spool_lies_with_its_axis_in_the_plane() =>
        RandomBodies.Direction.Sample(turn =>
        {
            // Common practice: two equal halves parted through the axis; standing, the groove would need a ring of cores.
            var best = Best(TestBodies.Spool(96).TurnedTo(turn));
            Assert.Equal(0, Upward(best, turn), 1e-6);
            Assert.Equal(0, best.Plane_mm, 0.05);
            Assert.Equal(0, best.Gaps_mm3, 1e-6);
        }, iter: 4);

    [Fact]
    public void A_round_bar_lies_with_its_axis_in_the_plane() =>
        RandomBodies.Direction.Sample(turn =>
        {
            // Common practice: the axis in the joint gives full draft all round; upright the whole side would stand without any.
            var best = Best(TestBodies.Turned(96, (10, 0), (10, 40)).TurnedTo(turn));
            Assert.Equal(0, Upward(best, turn), 1e-6);
            Assert.Equal(0, best.Plane_mm, 0.05);
        }, iter: 4);

    [Fact]
    public void The_numbers_of_half_a_cylinder_are_those_of_its_closed_forms()
    {
        var body = TestBodies.HalfCylinder(10, 40, 60);
        var search = Search with { Steep = Degree };
        var flat = MeshDirections.Score(body, new(new(0, 0, 1), DirectionSource.FlatFace), 0.05, search);
        Assert.Equal(2 * 10 * 40, flat.Shadow_mm2, 1e-6);
        Assert.Equal((1, 0), (Math.Round(flat.FlatBelow, 9), Math.Round(flat.FlatAbove, 3)));
        Assert.Equal(60 * 50 * Math.Sin(Math.PI / 60) * 2, flat.Steep_mm2, 1e-9); // both ends, each 60 triangles ½ r² sin 3°
        Assert.Equal((0, 10), (flat.Range.Low, flat.Range.High));
        Assert.Equal(0, flat.Added_mm3, 1e-9);
        Assert.Equal(0, flat.Overhung_mm2);

        // With the flat side upright, nothing faces back to a plane through the middle.
        var side = MeshDirections.Score(body, new(new(1, 0, 0), DirectionSource.Spread), 0.05, search);
        Assert.Equal(0, side.Overhung_mm2);
        Assert.Equal(0, side.Plane_mm, 1e-3);

        var end = MeshDirections.Score(body, new(new(0, 1, 0), DirectionSource.FlatFace), 0.05, search);
        Assert.Equal(Math.PI * 50, end.Shadow_mm2, 0.01 * Math.PI * 50);
        Assert.Equal(1, end.FlatBelow, 0.01);
        Assert.Equal(1, end.FlatAbove, 0.01);
        Assert.Equal(40 * (20 + (60 * 20 * Math.Sin(Math.PI / 120))), end.Steep_mm2, 1e-6); // flat side and 60 chords
        Assert.Equal((0, 40), (end.LeastFrom_mm, end.LeastTo_mm));
    }

    [Fact]
    public void A_turned_body_scores_as_it_did_before_and_facets_in_another_order_too() =>
        Gen.Select(RandomBodies.Bumpy, RandomBodies.Direction, RandomBodies.Direction, Gen.Int[0, int.MaxValue]).Sample((body, turn, d, seed) =>
        {
            var shuffled = body.Facets.ToArray();
            new Random(seed).Shuffle(shuffled);
            // An angle that no ring of the ball stands at.
            var search = Search with { Steep = 0.0731 };
            var one = MeshDirections.Score(body, new(d, DirectionSource.Spread), 0.2, search);
            var other = MeshDirections.Score(new TriangleMesh(body.Vertices, [.. shuffled]).TurnedTo(turn), new(DirectionFrame.Along(turn).ToSpace(d), DirectionSource.Spread), 0.2, search);
            var volume = body.Volume();
            Assert.Equal(one.Added_mm3, other.Added_mm3, 2e-3 * volume);
            Assert.Equal(one.Shadow_mm2, other.Shadow_mm2, 5e-3 * one.Shadow_mm2);
            Assert.Equal(one.Steep_mm2, other.Steep_mm2, 1e-6);
            Assert.Equal(one.Range.Length, other.Range.Length, 1e-9);
        }, iter: 20);

    [Fact]
    public void Walls_thinner_than_a_cell_are_not_missed()
    {
        // A frame of 120 × 100 × 15 inside walls of 0.6, upright at z; the middles of cells of 7 fall beside them. On its side the space in it, 120 × 100 × 15, is hidden.
        var frame = Shapes.Box(default, new(121.2, 101.2, 15)).WithFacets(f => f.RemoveRange(0, 4))
            .Plus(Shapes.Box(new(0.6, 0.6, 0), new(120.6, 100.6, 15)).WithFacets(f => f.RemoveRange(0, 4)).Reversed())
            .Plus(new(
                [.. Square(0, 121.2, 101.2, 0), .. Square(0.6, 120.6, 100.6, 0), .. Square(0, 121.2, 101.2, 15), .. Square(0.6, 120.6, 100.6, 15)],
                [.. Enumerable.Range(0, 4).SelectMany(i => Rim(i, 0)), .. Enumerable.Range(0, 4).SelectMany(i => Rim(i, 8))])).Welded();
        MeshAssert.Valid(frame);
        Assert.Throws<ArgumentException>(() => HiddenSpace.Of(MeshColumns.Cast(frame, new(0, 0, 1), 7)));
        var up = MeshDirections.Score(frame, new(new(0, 0, 1), DirectionSource.CoordinateAxis), 7, Search);
        Assert.True(up.Spacing_mm < 7);
        Assert.Equal(0, up.Added_mm3, 1e-6);
        var side = MeshDirections.Score(frame, new(new(1, 0, 0), DirectionSource.CoordinateAxis), 7, Search);
        Assert.Equal(120 * 100 * 15, side.Gaps_mm3, 0.05 * 120 * 100 * 15);

        IEnumerable<Vec3> Square(double low, double x, double y, double z) => [new(low, low, z), new(x, low, z), new(x, y, z), new(low, y, z)];

        IEnumerable<Facet> Rim(int i, int first)
        {
            var (a, b, c, d) = (first + i, first + ((i + 1) % 4), first + 4 + i, first + 4 + ((i + 1) % 4));
            return first == 0 ? [new(a, c, b), new(b, c, d)] : [new(a, b, c), new(b, d, c)];
        }
    }

    [Fact]
    public void The_ranking_is_the_same_each_time_and_ordered_by_the_cost()
    {
        var mesh = RandomBodies.Bumps(30, 20, 0.4, 3, 1);
        var (one, other) = (MeshDirections.Rank(mesh, Search, s => s.Added_mm3), MeshDirections.Rank(mesh, Search, s => s.Added_mm3));
        Assert.Equal(one.Best, other.Best);
        Assert.Equal(one.Rest, other.Rest);
        Assert.Equal(Search.Best, one.Best.Length);
        Assert.Equal(one.Best.OrderBy(s => s.Added_mm3), one.Best);
        Assert.Equal(one.Rest.OrderBy(s => s.Added_mm3), one.Rest);
        Assert.Equal(DirectionCandidates.Of(mesh, Search.Spread, Search.Merge).Length, one.Best.Length + one.Rest.Length);
    }

    /// <summary>
    /// The best by plain weights. Metal added is cut off again by hand: a hundredth of the casting counts as much as a fifth of the skin without draft.
    /// Depth and steep walls weigh alike. A wall that leans the wrong way must be turned back twice as far, so it counts twice: else a body
    /// would gain by lying a little askew. A flat back in the joint is worth half of all depth.
    /// </summary>
    private static DirectionScore Best(TriangleMesh mesh)
    {
        var (volume, area, diagonal) = (mesh.Volume(), mesh.Area(), mesh.Bounds().Size.Length);
        return MeshDirections.Rank(mesh, Search, s =>
            (20 * s.Added_mm3 / volume) + (s.Range.Length / diagonal) + ((s.Steep_mm2 + (2 * s.Overhung_mm2)) / area) - (0.5 * s.FlatInPlane)).Best[0];
    }

    /// <summary>Cosine between the direction and the body's own z.</summary>
    private static double Upward(DirectionScore score, Vec3 turn) => Vec3.Dot(score.Direction, DirectionFrame.Along(turn).Direction);

    private static bool IsSquareToAny(Vec3 direction, Vec3 turn, double[] flats) => flats.Any(f =>
    {
        var (sin, cos) = Math.SinCos(f * Degree);
        return Math.Abs(Vec3.Dot(direction, DirectionFrame.Along(turn).ToSpace(new(sin, 0, cos)))) > 1 - 1e-9;
    });

    /// <summary>Side 10, length 50, axis y; two flats level.</summary>
    private static TriangleMesh HexagonBar() =>
        TestBodies.Bar(50, [.. Enumerable.Range(0, 6).Select(i => Math.SinCos(i * 60 * Degree)).Select(a => (10 * a.Cos, 10 * a.Sin))]);
}
