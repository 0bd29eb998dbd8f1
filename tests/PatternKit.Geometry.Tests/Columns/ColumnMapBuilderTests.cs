using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>Volumes by closed form of the solids named; point checks against the ordered operations evaluated anew.</summary>
public class ColumnMapBuilderTests
{
    private const double Step = 1.0 / (1 << 17);

    [Fact]
    public void A_plate_with_a_boss_and_a_bore_has_the_volume_of_arithmetic()
    {
        var map = ColumnMapBuilder.Build(
            [
                new(Rectangle(0, 0, 100, 60), 0, 12),
                new(Rectangle(20, 20, 40, 40), 0, 25),
                new(Rectangle(25, 25, 35, 35), 0, 25, Removes: true),
            ],
            Step);
        Assert.Equal((100 * 60 * 12) + (20 * 20 * 13) - (10 * 10 * 25), map.Volume, 1e-9);
        // Plate around, boss ring, bore: nothing more.
        Assert.Equal(3, map.Cells.Length);
        Assert.Single(map.Cells, c => c.Solid.IsEmpty);
    }

    [Fact]
    public void A_removal_takes_nothing_from_what_comes_after_it()
    {
        var plate = new Prism(Rectangle(0, 0, 10, 10), 0, 5);
        var cut = new Prism(Rectangle(2, 2, 8, 8), 0, 5, Removes: true);
        var plug = new Prism(Rectangle(4, 4, 6, 6), 1, 3);
        Assert.Equal(500 - 180 + 8, ColumnMapBuilder.Build([plate, cut, plug], Step).Volume, 1e-9);
        Assert.Equal(500 - 180, ColumnMapBuilder.Build([plate, plug, cut], Step).Volume, 1e-9);
    }

    [Fact]
    public void Prisms_that_touch_in_plan_and_in_height_become_one_cell_with_one_interval()
    {
        var map = ColumnMapBuilder.Build(
            [
                new(Rectangle(0, 0, 10, 10), 0, 5),
                new(Rectangle(10, 0, 20, 10), 0, 5),
                new(Rectangle(0, 0, 20, 10), 5, 7),
            ],
            Step);
        var cell = Assert.Single(map.Cells);
        Assert.Equal(new Span(0, 7), Assert.Single(cell.Solid));
        Assert.Equal(5, cell.Region.Geometry.NumPoints);
    }

    [Fact]
    public void A_slot_from_the_side_leaves_two_intervals()
    {
        var map = ColumnMapBuilder.Build([new(Rectangle(0, 0, 10, 10), 0, 10), new(Rectangle(5, -1, 11, 11), 4, 6, Removes: true)], Step);
        Assert.Contains(map.Cells, c => c.Solid.SequenceEqual([new Span(0, 4), new Span(6, 10)]));
        Assert.Equal(1000 - 100, map.Volume, 1e-9);
    }

    [Fact]
    public void Outlines_apart_by_less_than_the_lattice_close_without_a_sliver()
    {
        var map = ColumnMapBuilder.Build(
            [new(Rectangle(0, 0, 10, 10), 0, 5), new(Rectangle(10 + (Step / 3), 0, 20, 10), 0, 5), new(Rectangle(0, -1, 20, Step / 5), 0, 5)],
            Step);
        Assert.Single(map.Cells);
        Assert.Equal(20 * 11 * 5, map.Volume, 1e-9);
    }

    [Fact]
    public void Regions_empty_or_smaller_than_the_lattice_leave_no_trace()
    {
        Prism[] tiny = [new(PlanRegion.Empty, 0, 5), new(Rectangle(3, 3, 3 + (Step / 10), 3 + (Step / 10)), 0, 9)];
        Assert.Empty(ColumnMapBuilder.Build(tiny, Step).Cells);
        Assert.Equal(500, ColumnMapBuilder.Build([.. tiny, new(Rectangle(0, 0, 10, 10), 0, 5)], Step).Volume, 1e-9);
        Assert.Empty(ColumnMapBuilder.Build([], Step).Cells);
    }

    [Fact]
    public void A_neighbour_that_ends_half_way_along_an_edge_leaves_its_corner_in_that_edge()
    {
        var map = ColumnMapBuilder.Build([new(Rectangle(0, 0, 10, 10), 0, 5), new(Rectangle(10, 2, 20, 7), 0, 3)], Step);
        Check(map);
        Assert.Contains(map.Cells[0].Region.Rings()[0], p => p == new Vec2(10, 2));
    }

    [Fact]
    public void Hundreds_of_features_with_thousands_of_vertices_still_partition_the_plan()
    {
        var prisms = new List<Prism> { new(Rectangle(-10, -10, 210, 210), 0, 10) };
        for (var i = 0; i < 300; i++)
        {
            // A rosette whose neighbours touch, cross and coincide.
            var c = new Vec2(10 * (i % 20), 10 * (i / 20));
            prisms.Add(new(PlanRegion.EvenOdd([PlanPath.Circle(c, 10 + (i % 3))], 0.02), i % 4, 10 + (i % 5), i % 7 == 0));
        }

        var map = ColumnMapBuilder.Build(prisms, Step);
        Check(map);
        Assert.Equal(220.0 * 220, map.Cells.Sum(c => c.Region.Area), 1e-6);
    }

    [Fact]
    public void Random_prisms_are_solid_where_their_ordered_operations_say()
    {
        var corner = Gen.Int[0, 24];
        var prism = Gen.Select(corner.Array[4], Gen.Int[0, 7].Array[2], Gen.Bool, Gen.Int[0, 3], Gen.Double[0, 1])
            .Select(t => Make(t.Item1[0], t.Item1[1], t.Item1[2], t.Item1[3], t.Item2[0], t.Item2[1], t.Item3, t.Item4, t.Item5));
        Gen.Select(prism.List[1, 12], Gen.Double[-1, 26].Array[120], Gen.Double[-0.5, 7.5].Array[40]).Sample(
            (prisms, xy, zs) =>
            {
                var map = ColumnMapBuilder.Build(prisms, Step);
                Check(map);
                for (var i = 0; i < 40; i++)
                {
                    var p = new Vec2(xy[i], xy[i + 40]);
                    // On an outline or an end face either answer is right; ask only clear of all of them (heights are whole).
                    var point = new NetTopologySuite.Geometries.Point(p.X, p.Y);
                    if (Math.Abs(zs[i] - Math.Round(zs[i])) < 4 * Step || prisms.Any(q => q.Region.Geometry.Boundary.Distance(point) < 4 * Step)) continue;
                    var expected = false;
                    foreach (var q in prisms)
                        if (q.Low.AtOrigin < zs[i] && zs[i] < q.High.AtOrigin && q.Region.Contains(p)) expected = !q.Removes;
                    var cell = map.Cells.FirstOrDefault(c => c.Region.Contains(p));
                    Assert.Equal(expected, cell is not null && cell.Solid.Any(s => s.Low.AtOrigin < zs[i] && zs[i] < s.High.AtOrigin));
                }
            },
            iter: 150);
    }

    [Fact]
    public void The_same_input_gives_the_same_cells_in_the_same_order()
    {
        Prism[] prisms =
        [
            new(PlanRegion.EvenOdd([PlanPath.Circle(new(0, 0), 20)], 0.01), 0, 5),
            new(PlanRegion.EvenOdd([PlanPath.Circle(new(7, 3), 20)], 0.01), 2, 8),
            new(PlanRegion.EvenOdd([PlanPath.Circle(new(3, -4), 5)], 0.01), 0, 8, true),
        ];
        static string Text(ColumnMap m) => string.Join('\n', m.Cells.Select(c => $"{c.Region.Geometry} {string.Join(' ', c.Solid)}"));
        Assert.Equal(Text(ColumnMapBuilder.Build(prisms, Step)), Text(ColumnMapBuilder.Build(prisms, Step)));
    }

    [Fact]
    public void A_step_that_is_no_power_of_two_is_refused() =>
        Assert.Throws<ArgumentException>(() => ColumnMapBuilder.Build([], 0.001));

    private static Prism Make(int x0, int y0, int x1, int y1, int z0, int z1, bool removes, int kind, double jitter)
    {
        var (low, high) = (new Vec2(Math.Min(x0, x1), Math.Min(y0, y1)), new Vec2(Math.Max(x0, x1) + 1, Math.Max(y0, y1) + 1));
        var region = kind switch
        {
            // Integer corners coincide often; a jitter of a lattice step nearly does.
            0 => PlanRegion.Rectangle(low, high),
            1 => PlanRegion.Rectangle(low + new Vec2(jitter * Step, -jitter * Step), high),
            2 => PlanRegion.EvenOdd([PlanPath.Circle(0.5 * (low + high), high.X - low.X)], 0.05),
            _ => PlanRegion.Polygon([low, new(high.X, low.Y + jitter), new(low.X + jitter, high.Y)]),
        };
        return new(region, Math.Min(z0, z1), Math.Max(z0, z1), removes);
    }

    /// <summary>Cells are valid, on the lattice, disjoint, fill their union, and share border vertices.</summary>
    private static void Check(ColumnMap map)
    {
        foreach (var c in map.Cells)
        {
            Assert.True(c.Region.Geometry.IsValid);
            foreach (var p in c.Region.Geometry.Coordinates)
            {
                Assert.Equal(Math.Round(p.X / Step), p.X / Step);
                Assert.Equal(Math.Round(p.Y / Step), p.Y / Step);
            }

            foreach (var s in c.Solid) Assert.True(s.Low.AtOrigin < s.High.AtOrigin);
            for (var i = 1; i < c.Solid.Length; i++) Assert.True(c.Solid[i - 1].High.AtOrigin < c.Solid[i].Low.AtOrigin);
        }

        // Every edge belongs to one cell, or to two that walk it in opposite directions; so the borders of all cells
        // add up to the border of their union, whose area the shoelace sum over the single edges must give.
        var edges = map.Cells.SelectMany(c => c.Region.Rings().SelectMany(r => r.Select((p, i) => (From: p, To: r[(i + 1) % r.Length])))).ToList();
        Assert.Equal(edges.Count, edges.Distinct().Count());
        var single = edges.Except(edges.Select(e => (From: e.To, To: e.From))).ToList();
        var area = single.Sum(e => Vec2.Cross(e.From, e.To)) / 2;
        Assert.Equal(map.Cells.Sum(c => c.Region.Area), area, 1e-6);
        var union = NetTopologySuite.Operation.Union.CascadedPolygonUnion.Union([.. map.Cells.Select(c => c.Region.Geometry)]);
        Assert.Equal(union?.Area ?? 0, area, 1e-6);
    }

    private static PlanRegion Rectangle(double x0, double y0, double x1, double y1) => PlanRegion.Rectangle(new(x0, y0), new(x1, y1));
}
