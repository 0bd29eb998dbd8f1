using CsCheck;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Grids;

public class LocalThicknessTests
{
    [Fact]
    public void The_widest_ball_over_a_place_is_the_one_found_by_trying_all() =>
        Gen.Select(Gen.Double[0, 14], Gen.Double[0, 14], Gen.Double[0, 14], Gen.Double[0.3, 6]).Array[1, 40].Sample(
            balls =>
            {
                var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 12, 12, 12), Bodies.Box(3, 3, 3, 14, 6, 8));
                InscribedBall[] all = [.. balls.Select(b => new InscribedBall(new(b.Item1, b.Item2, b.Item3), b.Item4, default))];
                var widest = new float[grid.Count];
                LocalThickness.Cover(grid, all, widest);
                for (var cell = 0; cell < grid.Count; cell++)
                {
                    if (!grid.IsSolid(cell)) continue;
                    var (x, y, z) = grid.Split(cell);
                    var expected = all.Where(b => (b.Middle - new Vec3(x, y, z)).Length <= b.Radius).Select(b => b.Radius).DefaultIfEmpty(0).Max();
                    Assert.Equal(expected, widest[cell], 1e-5);
                }
            }, iter: 50);

    // Balls with their middles in the middles of cells are a lower bound for the largest ball between two faces, and half a cell short of it at most.
    [Fact]
    public void Random_bodies_are_as_thick_as_brute_force_finds_them()
    {
        var box = Gen.Select(Gen.Int[0, 8], Gen.Int[0, 8], Gen.Int[0, 8], Gen.Double[3, 9], Gen.Double[3, 9], Gen.Double[3, 9], (x, y, z, a, b, c) => Bodies.Box(x, y, z, x + a, y + b, z + c));
        box.Array[1, 4].Sample(
            boxes =>
            {
                var grid = Bodies.Boxes(1, boxes);
                var skin = SkinDistance.Of(grid);
                var thick = LocalThickness.Of(skin);
                int[] cells = [.. Enumerable.Range(0, grid.Count).Where(grid.IsSolid)];
                var middles = cells.Select(c => grid.Split(c)).Select(s => new Vec3(s.X, s.Y, s.Z)).ToArray();
                for (var i = 0; i < cells.Length; i++)
                {
                    var covered = Enumerable.Range(0, cells.Length).Where(j => (middles[j] - middles[i]).Length <= skin.InCells(cells[j])).Max(j => skin.InCells(cells[j]));
                    Assert.True(thick.At_mm(cells[i]) >= (2 * covered) - 1.0001, $"{middles[i]}: {thick.At_mm(cells[i])} {2 * covered}");
                }

                // Nothing is thicker than the largest of all balls, brute force, moved by half a cell.
                var largest = 2 * cells.Max(c => skin.InCells(c));
                Assert.All(cells, c => Assert.True(thick.At_mm(c) <= largest + 1.2));
            }, iter: 30);
    }

    public static TheoryData<double, double, double> Normals => new()
    {
        { 0, 0, 1 }, { 1, 0, 0 }, { 0, 1, 0 }, { 1, 0, 1 }, { 1, 1, 0 }, { 0.3, 0, 1 }, { 1, 0.035, 0 }, { 1, 2, 3 },
    };

    [Theory]
    [MemberData(nameof(Normals))]
    public void A_plate_is_as_thick_as_it_is_whichever_way_it_lies_on_the_cells(double x, double y, double z)
    {
        // Walls that lean by no more than draft are exact to a sixteenth of a cell on either side, others to about a cell's tenth.
        var leans = new[] { x, y, z }.Count(v => Math.Abs(v) > 0.1) > 1;
        foreach (var thickness in new[] { 2.0, 2.5, 3.3, 6.0 })
        {
            foreach (var shift in new[] { 0, 0.17, 0.4 })
            {
                var grid = Bodies.Plate(new(x, y, z), thickness, 24, 1, shift);
                var thick = LocalThickness.Of(SkinDistance.Of(grid));
                var middle = grid.Nearest(shift / new Vec3(x, y, z).Length * new Vec3(x, y, z));
                Assert.Equal(thickness, thick.At_mm(middle), leans ? 0.12 * thickness : 0.16);
            }
        }
    }

    [Theory]
    [InlineData(1.2)]
    [InlineData(1.6)]
    [InlineData(1.9)]
    public void A_wall_of_a_single_cell_is_measured_too(double thickness)
    {
        var grid = Bodies.Plate(new(1, 0.035, 0), thickness, 24, 1, 0.3);
        Assert.Equal(thickness, LocalThickness.Of(SkinDistance.Of(grid)).At_mm(grid.Nearest(new(0.3, 0, 0))), 0.2);
    }

    [Fact]
    public void Bars_balls_and_round_bars_are_as_thick_as_across()
    {
        double In(SolidGrid grid) => LocalThickness.Of(SkinDistance.Of(grid)).At_mm(grid.Nearest(default));
        Assert.Equal(6.3, In(Bodies.Boxes(1, Bodies.Box(-15, -3.15, -3.15, 15, 3.15, 3.15))), 0.2);
        Assert.Equal(7.4, In(Bodies.Cylinder(7.4, 30, 1, false)), 0.3);
        Assert.Equal(7.4, In(Bodies.Cylinder(7.4, 30, 1, true)), 0.3);
        Assert.Equal(11, In(Bodies.Sphere(11, 1)), 0.3);
    }

    // A wedge of the angle a: the ball that touches both faces at the distance d from the edge has the diameter 2 d sin(a/2) along its middle plane. A place is covered by
    // balls farther from the edge too: the largest reaches back to it, d − d sin(a/2) = the place's own distance.
    [Fact]
    public void A_wedge_gets_thicker_away_from_its_edge()
    {
        const double Angle = 0.3;
        var grid = SolidGrid.Read(new(new(0, -20, -10), new(40, 20, 10)), 0.8, (p, into) =>
        {
            if (p.X is <= 0 or >= 40 || Math.Abs(p.Y) >= 20) return;
            into.Add(new(-p.X * Math.Tan(Angle / 2), p.X * Math.Tan(Angle / 2)));
        });
        var thick = LocalThickness.Of(SkinDistance.Of(grid));
        foreach (var x in new[] { 10.0, 16, 22, 28 })
        {
            var cell = grid.Nearest(new(x, 0, 0));
            var d = grid.Middle(cell).X / (1 - Math.Sin(Angle / 2));
            Assert.Equal(2 * d * Math.Sin(Angle / 2), thick.At_mm(cell), 0.35);
        }
    }

    // A fin on a block: the fin keeps its own thickness to its end and corners, the block its own.
    [Fact]
    public void A_fin_on_a_block_is_told_from_it()
    {
        var grid = Bodies.Boxes(1, Bodies.Box(0, 0, 0, 14, 14, 14), Bodies.Box(14, 5, 0, 60, 7.5, 10));
        var thick = LocalThickness.Of(SkinDistance.Of(grid));
        foreach (var x in new[] { 20.0, 40, 58, 60 })
            foreach (var z in new[] { 0.0, 5, 10 }) Assert.Equal(2.5, thick.At_mm(grid.Nearest(new(x, 6.2, z))), 0.15);
        foreach (var x in new[] { 0.0, 7, 13 }) Assert.Equal(14, thick.At_mm(grid.Nearest(new(x, 1, 1))), 0.3);
    }
}
