using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parts;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Casting;

/// <summary>Sizes and volumes by arithmetic.</summary>
public class CastingBodyTests
{
    private static readonly Allowances Nothing = Allowances.None(0.03, FoundryTables.Default.Fillets);

    [Fact]
    public void Without_allowances_the_casting_is_the_part_with_machined_and_cored_cuts_filled()
    {
        var casting = Cast(Nothing,
            Block(0, 0, 100, 60, 0, 12),
            Block(10, 10, 20, 20, 0, 12, CutKind.Drawn),
            Block(30, 10, 40, 20, 0, 12, CutKind.Machined, "bolt hole"),
            Block(-1, 40, 101, 45, 4, 8, CutKind.Cored, "cross bore"));
        Assert.Equal(72000 - 1200, casting.Map.Volume, 1e-6);
        Assert.Equal(1200 + 2000, casting.Volumes.Filled_mm3, 1e-6);
        Assert.Equal(0, casting.Volumes.Stock_mm3);
        Assert.Empty(casting.Findings);
    }

    [Fact]
    public void Contraction_scales_everything_about_the_origin()
    {
        var casting = Cast(With(contraction: 0.013), Block(10, 20, 110, 80, 5, 17));
        var box = casting.Map.Box;
        AssertNear(1.013 * new Vec3(10, 20, 5), box.Low);
        AssertNear(1.013 * new Vec3(110, 80, 17), box.High);
        Assert.Equal((Math.Pow(1.013, 3) - 1) * 72000, casting.Volumes.Contraction_mm3, 0.2);
        Assert.Equal(72000, casting.RawVolume_mm3, 1e-6);
    }

    [Fact]
    public void A_circle_stays_a_circle_under_stock_and_contraction()
    {
        var casting = Cast(With(contraction: 0.01, stock: new(Sides_mm: 2)), Round(0, 0, 1.6, 0, 5));
        Assert.All(casting.Map.Cells[0].Region.Rings()[0], p => Assert.Equal(1.01 * 2.8, p.Length, 1e-6));
        Assert.Equal(PolygonArea(2 * 1.01 * 2.8) * 5 * 1.01, casting.Map.Volume, 1e-3);
    }

    [Fact]
    public void Stock_goes_onto_top_bottom_sides_and_holes_and_square_corners_stay_square()
    {
        var casting = Cast(With(stock: new(Top_mm: 3, Bottom_mm: 1, Sides_mm: 2, Holes_mm: 1.5)),
            Block(0, 0, 100, 60, 0, 12), Block(20, 20, 40, 40, 0, 12, CutKind.Drawn));
        Assert.Equal(((104 * 64) - (17 * 17)) * 16, casting.Map.Volume, 0.1);
        AssertNear(new(-2, -2, -1), casting.Map.Box.Low);
        AssertNear(new(102, 62, 15), casting.Map.Box.High);
        Assert.Equal((((104 * 64) - (17 * 17)) * 16) - ((6000 - 400) * 12), casting.Volumes.Stock_mm3, 0.1);
    }

    [Fact]
    public void A_boss_on_a_plate_gains_no_stock_at_the_joint()
    {
        var casting = Cast(With(stock: new(Top_mm: 2, Bottom_mm: 1)), Block(0, 0, 100, 60, 0, 12), Block(20, 20, 40, 40, 12, 25));
        Assert.Equal((6000 * 15) + (400 * 13), casting.Map.Volume, 0.1);
        Assert.All(casting.Map.Cells, c => Assert.Single(c.Solid));
        // Boss from the ground: its bottom falls together with that of the plate.
        Assert.Equal((6000 * 15) + (400 * 13), Cast(With(stock: new(Top_mm: 2, Bottom_mm: 1)), Block(0, 0, 100, 60, 0, 12), Block(20, 20, 40, 40, 0, 25)).Map.Volume, 0.1);
    }

    [Fact]
    public void A_blind_pocket_keeps_its_mouth_open_and_gains_stock_on_its_floor()
    {
        var casting = Cast(With(stock: new(Top_mm: 2, Holes_mm: 1)), Block(0, 0, 100, 60, 0, 12), Block(20, 20, 40, 40, 5, 12, CutKind.Drawn));
        Assert.Equal((6000 * 14) - (18 * 18 * 8), casting.Map.Volume, 0.1);
    }

    [Fact]
    public void A_notch_flush_with_the_edge_stays_open_through_the_stock()
    {
        var casting = Cast(With(stock: new(Sides_mm: 2, Holes_mm: 2)), Block(0, 0, 100, 60, 0, 12), Block(80, 20, 100, 40, 0, 12, CutKind.Drawn));
        // 104 x 64 outside; the notch runs from x = 82 to the outside, 16 wide.
        Assert.Equal(((104 * 64) - (20 * 16)) * 12, casting.Map.Volume, 0.1);
    }

    [Fact]
    public void Stock_by_name_or_layer_overrides_the_rest()
    {
        var byName = Cast(With(stock: new(Top_mm: 2, Names_mm: Names("pad", 5))), Block(0, 0, 100, 60, 0, 12), Block(20, 20, 40, 40, 0, 25, name: "pad"));
        Assert.Equal(30, byName.Map.Box.High.Z, 1e-5);
        Assert.Equal(-5, byName.Map.Box.Low.Z, 1e-5);
        var byLayer = Cast(With(stock: new(Top_mm: 2, Names_mm: Names("BASE", 0))), Block(0, 0, 100, 60, 0, 12).On("BASE"));
        Assert.Equal(72000, byLayer.Map.Volume, 1e-6);
    }

    [Fact]
    public void A_hole_that_its_stock_closes_is_told()
    {
        var casting = Cast(With(stock: new(Holes_mm: 3)), Block(0, 0, 100, 60, 0, 12), Round(50, 30, 6, 0, 12, CutKind.Drawn, "oil hole"));
        Assert.Equal(72000, casting.Map.Volume, 1e-6);
        Assert.Contains("oil hole", Assert.Single(casting.Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Rapping_takes_metal_off_walls_and_widens_holes_but_leaves_heights()
    {
        var casting = Cast(With(rapping: 0.5), Block(0, 0, 100, 60, 0, 12), Block(20, 20, 40, 40, 0, 12, CutKind.Drawn), Round(70, 30, 10, 0, 12, CutKind.Drawn));
        Assert.Equal(((99 * 59) - (21 * 21) - PolygonArea(11)) * 12, casting.Map.Volume, 0.1);
        Assert.Equal(casting.Map.Volume - ((6000 - 400 - PolygonArea(10)) * 12), casting.Volumes.Rapping_mm3, 0.1);
        AssertNear(new(0.5, 0.5, 0), casting.Map.Box.Low);
        Assert.Equal(12, casting.Map.Box.High.Z, 1e-5);
    }

    [Fact]
    public void Rapping_does_not_open_the_joint_of_blocks_that_butt()
    {
        var casting = Cast(With(rapping: 0.5), Block(0, 0, 50, 60, 0, 12), Block(50, 0, 100, 60, 0, 25));
        // 49 mm of each, and between them 1 mm as high as the lower one.
        Assert.Equal((49 * 59 * 12) + (49 * 59 * 25) + (1 * 59 * 12), casting.Map.Volume, 0.1);
        Assert.Equal(2, casting.Map.Cells.Length);
    }

    /// <summary>Volumes of cylinders: π r² h.</summary>
    [Fact]
    public void Moving_walls_opens_no_gap_between_features_turned_about_one_axis()
    {
        static Feature Disc(string name, double from, double length, double radius, TurnedAxis axis, CutKind cut = CutKind.None) => new(
            name, null, [PlanPath.Polygon([new(0, 0), new(length, 0), new(length, radius), new(0, radius)])], -radius, radius, cut, "job.toml, line 5",
            new(axis, axis == TurnedAxis.X ? new(0.1 + from, 0, 0) : axis == TurnedAxis.Y ? new(0, 0.1 + from, 0) : new(0, 0, 0.1 + from)));
        static double Cylinder(double radius, double length) => Math.PI * radius * radius * length;
        static double Sharp_mm3(CastingBody casting) => casting.Map.Volume - casting.Volumes.Fillet_mm3 - casting.Volumes.Draft_mm3;

        foreach (var axis in Enum.GetValues<TurnedAxis>())
        {
            Feature[] roller = [Disc("roller", 0, 40.3, 20, axis), Disc("hub", 40.3, 14.1, 10, axis), Disc("end", 54.4, 5, 12, axis)];
            // Every wall comes in by 0.2, the shoulder of the roller too, and hub and end hang together.
            var rapped = Cylinder((1.013 * 20) - 0.2, (1.013 * 40.3) - 0.4) + Cylinder((1.013 * 10) - 0.2, (1.013 * 14.1) + 0.4) + Cylinder((1.013 * 12) - 0.2, (1.013 * 5) - 0.4);
            Assert.Equal(rapped, Sharp_mm3(Cast(With(contraction: 0.013, rapping: 0.2), roller)), 1e-6 * rapped);
        }

        // A bore in two steps, with stock: none stands where they meet.
        var bored = Cylinder(20, 40) - Cylinder(4, 20) - Cylinder(7, 20);
        Feature[] bore = [Disc("wheel", 0, 40, 20, TurnedAxis.Z), Disc("bore", -1, 20, 5, TurnedAxis.Z, CutKind.Drawn), Disc("seat", 19, 22, 8, TurnedAxis.Z, CutKind.Drawn)];
        Assert.Equal(bored, Sharp_mm3(Cast(With(stock: new(0, 0, 0, 1)), bore)), 1e-6 * bored);
    }

    [Fact]
    public void Rapping_leaves_no_hole_where_four_blocks_meet()
    {
        var casting = Cast(With(rapping: 0.5), Block(0, 0, 50, 30, 0, 12), Block(50, 0, 100, 30, 0, 12), Block(0, 30, 50, 60, 0, 12), Block(50, 30, 100, 60, 0, 12));
        Assert.Equal(99 * 59 * 12, casting.Map.Volume, 0.1);
        Assert.Single(casting.Map.Cells);
    }

    [Fact]
    public void Ribs_that_cross_a_boss_need_no_joint()
    {
        var casting = Cast(With(rapping: 0.3), Round(0, 0, 40, 0, 20), Block(-60, -4, 60, 4, 0, 12));
        var expected = (PolygonArea(39.4) * 20) + (((119.4 * 7.4) - Chord(19.7, 3.7)) * 12);
        // Where the rib leaves the boss on both sides, chords lie up to 0.01 mm inside the arc.
        Assert.InRange(casting.Map.Volume, expected, expected + (2 * 7.4 * 0.01 * 12));

        // Area of a circle between two parallel lines, h above and below its centre.
        static double Chord(double r, double h) => 2 * ((h * Math.Sqrt((r * r) - (h * h))) + (r * r * Math.Asin(h / r)));
    }

    [Fact]
    public void Camber_bows_the_plan_towards_plus_y_and_keeps_area_and_heights()
    {
        var casting = Cast(With(contraction: 0.01, camber: new(1.5)), Block(0, 0, 400, 20, 0, 10));
        Assert.Equal((1.01 * 20) + 1.5, casting.Map.Box.High.Y, 1e-3);
        Assert.Equal(0, casting.Map.Box.Low.Y, 1e-5);
        // Inside chords of a parabola: two thirds of the sag, above and below cancel.
        Assert.Equal(0, casting.Volumes.Camber_mm3, 1);
        var mid = casting.Frame.ToPattern(new(200, 0, 5));
        AssertNear(new(202, 1.5, 5.05), mid);
        AssertNear(new(200, 0, 5), casting.Frame.ToJob(mid));
        Assert.All(casting.Map.Cells[0].Region.Rings()[0].Where(p => p.Y < 5), p => Assert.Equal(6 * p.X / 404 * (1 - (p.X / 404)), p.Y, 1e-4));
    }

    [Fact]
    public void A_part_long_in_y_is_bowed_towards_plus_x() =>
        Assert.Equal(21.5, Cast(With(camber: new(1.5)), Block(0, 0, 20, 400, 0, 10)).Map.Box.High.X, 1e-3);

    [Fact]
    public void The_volume_terms_add_up_to_the_casting()
    {
        var casting = Cast(With(contraction: 0.013, stock: new(1, 1, 1, 1), rapping: 0.2, camber: new(0.5)),
            Block(0, 0, 100, 60, 0, 12), Round(70, 30, 24, 0, 25), Round(70, 30, 10, 0, 25, CutKind.Drawn), Round(20, 30, 6, 0, 12, CutKind.Machined));
        var v = casting.Volumes;
        Assert.Equal(casting.Map.Volume, v.Part_mm3 + v.Filled_mm3 + v.Stock_mm3 + v.Contraction_mm3 + v.Rapping_mm3 + v.Camber_mm3 + v.Fillet_mm3 + v.Draft_mm3, 1e-6);
        Assert.All(casting.Map.Cells.SelectMany(c => c.Region.Geometry.Coordinates), p => Assert.Equal((p.X, p.Y), ((float)p.X, (float)p.Y)));
    }

    internal static Allowances With(double contraction = 0, StockSettings? stock = null, double rapping = 0, CamberSettings? camber = null) =>
        Nothing with
        {
            Contraction = Nothing.Contraction with { Value = contraction },
            Rapping_mm = Nothing.Rapping_mm with { Value = rapping },
            Stock = Nothing.Stock with { Value = stock ?? new() },
            Camber = Nothing.Camber with { Value = camber },
        };

    internal static CastingBody Cast(Allowances allowances, params Feature[] features)
    {
        var job = Of(features);
        return CastingBody.From(job, PartBody.From(job), allowances);
    }

    private static void AssertNear(Vec3 expected, Vec3 actual) => Assert.True((expected - actual).Length < 2e-5, $"{expected} {actual}");
}
