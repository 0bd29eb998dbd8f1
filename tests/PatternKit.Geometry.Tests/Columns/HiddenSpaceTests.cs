using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

public class HiddenSpaceTests
{
    private static readonly Vec3 Up = new(0, 0, 1);

    [Fact]
    public void A_ball_on_a_stem_hides_the_ring_under_it_down_to_the_plane()
    {
        // Ball of radius 10 about z = 20 on a stem of radius 4, its profile as chords over half a degree, with a corner at the equator. Under the
        // ball from the stem to its rim, plane at height p: ∫ 2πρ (20 − p − √(100 − ρ²)) dρ from 4 to 10 = π (100 − 16)(20 − p) − 2π/3 · 84^{3/2}.
        var foot = Math.Asin(0.4);
        var below = Enumerable.Range(0, 150).Select(i => foot + (((Math.PI / 2) - foot) * i / 150));
        var above = Enumerable.Range(0, 180).Select(i => (Math.PI / 2) + (((Math.PI / 2) - 0.01) * i / 179));
        var ball = below.Concat(above).Select(a => (10 * Math.Sin(a), 20 - (10 * Math.Cos(a))));
        var mesh = TestBodies.Turned(240, [(4, 0), .. ball]);
        MeshAssert.Valid(mesh);
        var hidden = HiddenSpace.Of(MeshColumns.Cast(mesh, Up, 0.03));
        Assert.Equal(0, hidden.Gaps_mm3, 1e-9);
        foreach (var p in new[] { 0.0, 4, 8 })
        {
            var ring = (Math.PI * 84 * (20 - p)) - (2 * Math.PI / 3 * Math.Pow(84, 1.5));
            Assert.Equal(ring, hidden.At(p), 1e-3 * ring);
            var region = Assert.Single(hidden.RegionsAt(p, 1).Regions);
            Assert.Equal(HiddenSide.FromAbove, region.Side);
            Assert.Equal(ring, region.Volume_mm3, 1e-3 * ring);
            Assert.Equal(region.Volume_mm3, region.OpenAcross_mm3, 1e-9);
            Assert.Equal(20 - p, region.Depth_mm, 0.8);
            Assert.Equal(10, region.PlanHigh.X, 0.04);
            Assert.Equal(-10, region.PlanLow.Y, 0.04);
        }

        // The equator hides nothing.
        Assert.Equal(0, hidden.At(20), 1e-9);
        Assert.Equal(0, hidden.Least_mm3, 1e-9);
        Assert.InRange(20, hidden.Reach.LeastFrom, hidden.Reach.LeastTo);
    }

    [Fact]
    public void A_spool_standing_hides_what_lies_between_its_flanges_wherever_the_plane_is()
    {
        // π (20² − 8²) · 20, less nothing to speak of where the flanks slope.
        var groove = Math.PI * 336 * 20;
        var hidden = HiddenSpace.Of(MeshColumns.Cast(TestBodies.Spool(180), Up, 0.04));
        Assert.Equal(groove, hidden.Gaps_mm3, 1e-3 * groove);
        Assert.Equal(groove, hidden.Least_mm3, 1e-3 * groove);
        Assert.Equal((0, 30), (hidden.Reach.LeastFrom, hidden.Reach.LeastTo));
        var whole = Assert.Single(hidden.RegionsAt(2, 1).Regions);
        Assert.Equal((HiddenSide.FromAbove, 0), (whole.Side, whole.OpenAcross_mm3));
        Assert.Equal(20, whole.Depth_mm, 1e-3);

        // A plane through the groove shares it out.
        var shares = hidden.RegionsAt(10, 1).Regions;
        Assert.Equal([HiddenSide.FromAbove, HiddenSide.FromBelow], shares.Select(r => r.Side));
        Assert.Equal(groove * 0.75, shares[0].Volume_mm3, 1e-3 * groove);
        Assert.Equal(groove * 0.25, shares[1].Volume_mm3, 1e-3 * groove);
    }

    [Fact]
    public void A_spool_lying_hides_nothing_with_its_axis_in_the_plane()
    {
        var hidden = HiddenSpace.Of(MeshColumns.Cast(TestBodies.Spool(180).Laid(), Up, 0.05));
        Assert.Equal(0, hidden.Gaps_mm3, 1e-9);
        Assert.Equal(0, hidden.At(0), 1e-9);
        Assert.InRange(0, hidden.Reach.LeastFrom, hidden.Reach.LeastTo);
        Assert.Equal(0, (hidden.Reach.LeastFrom + hidden.Reach.LeastTo) / 2, 1e-6);
    }

    [Fact]
    public void A_block_with_a_side_groove_hides_the_groove_and_tells_where_it_is()
    {
        // 40 × 30 × 20, a groove 6 deep and 5 high along the side x = 40 from z = 8 to 13.
        var block = TestBodies.Bar(30, (0, 0), (40, 0), (40, 8), (34, 8), (34, 13), (40, 13), (40, 20), (0, 20));
        MeshAssert.Valid(block);
        var columns = MeshColumns.Cast(block, Up, 0.1);
        var hidden = HiddenSpace.Of(columns);
        Assert.Equal(6 * 5 * 30, hidden.Gaps_mm3, 1e-6);
        Assert.Equal(900, hidden.Least_mm3, 1e-6);
        var region = Assert.Single(hidden.RegionsAt(0, 0).Regions);
        Assert.Equal(HiddenSide.FromAbove, region.Side);
        Assert.Equal(900, region.Volume_mm3, 1e-6);
        Assert.Equal(0, region.OpenAcross_mm3);
        Assert.Equal(5, region.Depth_mm, 1e-9);
        Assert.Equal((34, 40), (Math.Round(region.PlanLow.X, 6), Math.Round(region.PlanHigh.X, 6)));
        Assert.Equal((0, 30), (Math.Round(region.PlanLow.Y, 6), Math.Round(region.PlanHigh.Y, 6)));
        Assert.Equal((8, 13), (region.Range.Low, region.Range.High));
        Assert.InRange(region.Place.X, 34, 40);
        Assert.Equal(10.5, region.Place.Z, 9);

        // Seen along the groove it is open.
        Assert.Equal(0, HiddenSpace.Of(MeshColumns.Cast(block, new(0, 1, 0), 0.1)).Least_mm3, 1e-9);
    }

    [Fact]
    public void A_cylinder_parted_off_its_axis_hides_two_wedges()
    {
        // Radius 10, length 40, plane at height h above the axis: between the lower half's skin mirrored up and the plane, on both sides,
        // for |x| > √(r² − h²): 2 ∫ (h − √(r² − x²)) dx = 2 h (r − a) − (r² (π/2 − asin(a/r)) − a h), a = √(r² − h²).
        // Turned askew in plan: an outline along the rows of the grid would be off by part of a cell over its whole length.
        var (sin, cos) = Math.SinCos(0.5);
        var cylinder = TestBodies.Turned(2000, (10, 0), (10, 40)).Laid().Mapped(p => new((cos * p.X) - (sin * p.Y), (sin * p.X) + (cos * p.Y), p.Z));
        var hidden = HiddenSpace.Of(MeshColumns.Cast(cylinder, Up, 0.03));
        foreach (var h in new[] { 3.0, 6, -5, 9 })
        {
            var a = Math.Sqrt(100 - (h * h));
            var wedges = 40 * ((2 * Math.Abs(h) * (10 - a)) - ((100 * ((Math.PI / 2) - Math.Asin(a / 10))) - (a * Math.Abs(h))));
            Assert.Equal(wedges, hidden.At(h), 1e-3 * wedges);
            var regions = hidden.RegionsAt(h, 0.01).Regions;
            Assert.Equal(2, regions.Length);
            Assert.All(regions, r => Assert.Equal(h > 0 ? HiddenSide.FromBelow : HiddenSide.FromAbove, r.Side));
            Assert.All(regions, r => Assert.Equal(wedges / 2, r.Volume_mm3, 1e-3 * wedges));
        }

        Assert.Equal(0, hidden.Least_mm3, 1e-6);
        Assert.Equal(0, (hidden.Reach.LeastFrom + hidden.Reach.LeastTo) / 2, 0.01);
    }

    [Fact]
    public void A_void_is_hidden_and_small_regions_are_only_counted()
    {
        var body = Shapes.Cube(20).Plus(Shapes.Box(new(2, 2, 2), new(8, 8, 8)).Reversed())
            .Plus(Shapes.Box(new(12, 12, 12), new(13, 13, 13)).Reversed()).Plus(Shapes.Box(new(16, 16, 3), new(17, 17, 5)).Reversed());
        var regions = HiddenSpace.Of(MeshColumns.Cast(body, Up, 0.25)).RegionsAt(0, 10);
        Assert.Equal(216, Assert.Single(regions.Regions).Volume_mm3, 1e-6);
        Assert.Equal(2, regions.SmallCount);
        Assert.Equal(3, regions.Small_mm3, 1e-6);
    }

    [Fact]
    public void Regions_that_meet_in_plan_but_not_in_height_are_apart()
    {
        // Two grooves in one side, one above the other, and one in the side beside them that both meet nowhere.
        var block = TestBodies.Bar(30, (0, 0), (40, 0), (40, 4), (34, 4), (34, 7), (40, 7), (40, 12), (30, 12), (30, 16), (40, 16), (40, 20), (0, 20));
        MeshAssert.Valid(block);
        var regions = HiddenSpace.Of(MeshColumns.Cast(block, Up, 0.5)).RegionsAt(0, 1).Regions;
        Assert.Equal([10 * 4 * 30, 6 * 3 * 30], regions.Select(r => Math.Round(r.Volume_mm3, 6)));
    }

    [Fact]
    public void Regions_sum_up_to_the_cost_at_any_height_and_the_least_is_least() =>
        Gen.Select(RandomBodies.Bumpy, RandomBodies.Direction, Gen.Double[0, 1], Gen.Double[0, 50]).Sample((body, d, t, small) =>
        {
            var columns = MeshColumns.Cast(body, d, 0.8);
            var hidden = HiddenSpace.Of(columns);
            var z = columns.Range.Low + (t * columns.Range.Length);
            var regions = hidden.RegionsAt(z, small);
            Assert.Equal(hidden.At(z), regions.Regions.Sum(r => r.Volume_mm3) + regions.Small_mm3, 1e-6 * body.Volume());
            Assert.True(hidden.At(z) >= hidden.Least_mm3 - (1e-9 * body.Volume()));
            Assert.Equal(hidden.Least_mm3, hidden.At(hidden.Reach.LeastTo), 1e-9 * body.Volume());
        }, iter: 60);

    [Fact]
    public void Columns_give_what_lines_by_lot_through_all_facets_give() =>
        Gen.Select(RandomBodies.Direction, Gen.Double[0.2, 0.5], Gen.Double[2, 5], Gen.Double[0, 6]).Sample((d, height, waves, phase) =>
        {
            // Independent: 20 000 places spread by the R2 sequence (Roberts 2018), each tried against every facet by areas of its plan in doubles.
            var mesh = RandomBodies.Bumps(16, 10, height, waves, phase);
            var frame = DirectionFrame.Along(d);
            var turned = mesh.Mapped(frame.FromSpace);
            var box = turned.Bounds();
            var hidden = HiddenSpace.Of(MeshColumns.Cast(mesh, d, 0.1));
            var z = box.Low.Z + (0.4 * box.Size.Z);
            double gaps = 0, cost = 0, shadow = 0;
            const int Lines = 20_000;
            for (var i = 0; i < Lines; i++)
            {
                var p = new Vec2(box.Low.X + (Part(0.7548776662466927 * i) * box.Size.X), box.Low.Y + (Part(0.5698402909980532 * i) * box.Size.Y));
                var hits = Hits(turned, p);
                if (hits.Count == 0) continue;
                shadow++;
                var between = 0.0;
                for (var k = 1; k + 1 < hits.Count; k += 2) between += hits[k + 1] - hits[k];
                gaps += between;
                cost += between + Math.Max(0, z - hits[^1]) + Math.Max(0, hits[0] - z);
            }

            var area = box.Size.X * box.Size.Y / Lines;
            var volume = mesh.Volume();
            Assert.Equal(shadow * area, hidden.Shadow_mm2, 0.01 * hidden.Shadow_mm2);
            Assert.Equal(gaps * area, hidden.Gaps_mm3, (0.01 * hidden.Gaps_mm3) + (1e-3 * volume));
            Assert.Equal(cost * area, hidden.At(z), (0.01 * hidden.At(z)) + (1e-3 * volume));
        }, iter: 6);

    [Fact]
    public void Bodies_of_random_blocks_have_the_sums_of_their_columns() =>
        Gen.Select(Gen.Bool.Array[4 * 4 * 4], RandomBodies.Direction).Where(t => t.Item1.Any(b => b)).Sample((solid, turn) =>
        {
            // Each block is a cube of 5 of its own; what touches is joined, what shares a face too. Turned in space and looked at along its own z.
            const int N = 4;
            bool Is(int x, int y, int z) => solid[(x * N * N) + (y * N) + z];
            TriangleMesh? mesh = null;
            double gaps = 0;
            var cost = new double[N + 1];
            for (var x = 0; x < N; x++)
                for (var y = 0; y < N; y++)
                {
                    var heights = Enumerable.Range(0, N).Where(z => Is(x, y, z)).ToArray();
                    if (heights.Length == 0) continue;
                    foreach (var z in heights)
                    {
                        var cube = Shapes.Cube(5).Shifted(5 * x, 5 * y, 5 * z);
                        mesh = mesh is null ? cube : mesh.Plus(cube);
                    }

                    gaps += heights[^1] + 1 - heights[0] - heights.Length;
                    for (var z = 0; z <= N; z++) cost[z] += Math.Max(0, z - heights[^1] - 1) + Math.Max(0, heights[0] - z);
                }

            var hidden = HiddenSpace.Of(MeshColumns.Cast(mesh!.TurnedTo(turn), turn, 0.1));
            var (block, volume) = (125.0, 125.0 * solid.Count(b => b));
            Assert.Equal(gaps * block, hidden.Gaps_mm3, 0.01 * (volume + (gaps * block)));
            for (var z = 0; z <= N; z++) Assert.Equal((gaps + cost[z]) * block, hidden.At(5 * z), 0.01 * (volume + ((gaps + cost[z]) * block)));
            Assert.Equal((gaps + cost.Min()) * block, hidden.Least_mm3, 0.01 * (volume + ((gaps + cost.Min()) * block)));
        }, iter: 30);

    private static double Part(double x) => x - Math.Floor(x);

    private static List<double> Hits(TriangleMesh mesh, Vec2 p)
    {
        var heights = new List<double>();
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            var (u, v, w) = (Vec2.Cross(b.Plan - p, c.Plan - p), Vec2.Cross(c.Plan - p, a.Plan - p), Vec2.Cross(a.Plan - p, b.Plan - p));
            if ((u >= 0 && v >= 0 && w >= 0) || (u <= 0 && v <= 0 && w <= 0)) heights.Add(((u * a.Z) + (v * b.Z) + (w * c.Z)) / (u + v + w));
        }

        heights.Sort();
        return heights;
    }
}
