using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Kits of simple parts against closed forms; planes within 0.001 mm and volumes within 0.02 %, as the design promises.</summary>
public sealed class DraftedKitTests
{
    private const double Plane_mm = 0.001;
    private const double Volume = 2e-4;

    [Theory]
    [InlineData(0.5)]
    [InlineData(2)]
    [InlineData(5)]
    public void A_block_parted_at_mid_height_gives_two_halves_of_steiners_volume(double degrees)
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 30)).Bare(degrees, joint_mm: 15));
        KitCheck.Sound(kit);
        var expected = DraftedBlock.Added(80, 50, 15, Math.Tan(degrees * KitCheck.Degree));
        Assert.Equal(2, kit.Bodies.Length);
        Near(2 * expected, kit.Unpocketed_mm3());
        foreach (var body in kit.Bodies)
            Near(expected, body.AsPrinted.Volume() + kit.Plan.Marks.Where(m => m.Half == body.Half).Sum(m => m.Region.Area * MarkDepth(body)));
        Assert.Equal(0, kit.Parting.Ledge_mm, Plane_mm);
        Assert.Equal((0.0, 15.0), (kit.Drag().InMould.Bounds().Low.Z, kit.Cope().InMould.Bounds().Low.Z));
        Assert.Equal((15.0, 30.0), (kit.Drag().InMould.Bounds().High.Z, kit.Cope().InMould.Bounds().High.Z));
    }

    [Fact]
    public void Taper_plus_keeps_the_size_at_the_tip_and_adds_at_the_joint()
    {
        var kit = Flat(SizeHolds.Tip);
        Size(80, 50, kit, 19.999);
        Size(80 + (40 * T), 50 + (40 * T), kit, 0.0005);
        Near(DraftedBlock.Added(80, 50, 20, T), kit.Unpocketed_mm3());
    }

    [Fact]
    public void Taper_minus_keeps_the_size_at_the_joint_and_stays_within_the_block()
    {
        var kit = Flat(SizeHolds.Parting);
        Size(80, 50, kit, 0.0005);
        Size(80 - (40 * T), 50 - (40 * T), kit, 19.999);
        // The tip is smaller by the run of the wall all round; from there it is drafted, so that corners come out round.
        Near(DraftedBlock.Added(80 - (40 * T), 50 - (40 * T), 20, T), kit.Unpocketed_mm3());
        Assert.All(kit.Cope().InMould.Vertices, v => Assert.True(Math.Abs(v.X) <= 40 + Plane_mm && Math.Abs(v.Y) <= 25 + Plane_mm, $"{v} is outside the block"));
    }

    [Fact]
    public void Taper_split_keeps_the_size_at_half_height()
    {
        var kit = Flat(SizeHolds.Middle);
        Size(80, 50, kit, 10);
        Size(80 - (20 * T), 50 - (20 * T), kit, 19.999);
        Size(80 + (20 * T), 50 + (20 * T), kit, 0.0005);
        Near(DraftedBlock.Added(80 - (20 * T), 50 - (20 * T), 20, T), kit.Unpocketed_mm3());
    }

    [Theory]
    [InlineData(1, 1)]
    [InlineData(1, 4)]
    [InlineData(4, 1.5)]
    public void Walls_of_a_hole_have_the_inside_angle_and_outer_walls_the_outside_angle(double outside, double inside)
    {
        var kit = KitCheck.Build(Jobs.Of(
            Jobs.Block(-40, -25, 40, 25, 0, 20),
            Jobs.Block(-12, -8, 12, 8, 0, 20, CutKind.Drawn, "window")).Bare(outside, inside, 0));
        KitCheck.Sound(kit);
        var (to, ti) = (Math.Tan(outside * KitCheck.Degree), Math.Tan(inside * KitCheck.Degree));
        foreach (var z in new[] { 4.0, 10, 19 })
        {
            var section = kit.Cope().Section(z);
            Assert.Equal(80 + (2 * (20 - z) * to), section.Extent().X, Plane_mm);
            var hole = section.Filled().Difference(section).Extent();
            Assert.Equal(24 - (2 * (20 - z) * ti), hole.X, Plane_mm);
            Assert.Equal(16 - (2 * (20 - z) * ti), hole.Y, Plane_mm);
        }

        Near(DraftedBlock.Added(80, 50, 20, to) - DraftedBlock.Frustum(24, 16, 20, ti), kit.Unpocketed_mm3());
    }

    [Fact]
    public void A_cup_has_its_recess_in_the_underside_of_the_cope()
    {
        var kit = KitCheck.Build(Jobs.Of(
            Jobs.Block(-40, -25, 40, 25, 0, 30),
            Jobs.Block(-30, -15, 30, 15, 0, 18, CutKind.Drawn, "hollow")).Bare(2, 3, 0));
        KitCheck.Sound(kit);
        Assert.Single(kit.Bodies);
        var inside = Math.Tan(3 * KitCheck.Degree);
        // Above the marks, 0.6 mm deep in the face. The sand that stands in the hollow is that of the drag: it narrows upward, so metal is added towards its tip.
        foreach (var z in new[] { 1.0, 9, 17.9 })
        {
            var section = kit.Cope().Section(z);
            var hollow = section.Filled().Difference(section).Extent();
            Assert.Equal(60 - (2 * z * inside), hollow.X, Plane_mm);
            Assert.Equal(30 - (2 * z * inside), hollow.Y, Plane_mm);
        }

        Assert.Equal(kit.Cope().Section(18.01).Filled().Area, kit.Cope().Section(18.01).Area, 1e-9);
        Near(DraftedBlock.Added(80, 50, 30, T) - DraftedBlock.Frustum(60, 30, 18, inside), kit.Unpocketed_mm3());
    }

    [Fact]
    public void A_hole_out_of_a_recess_below_goes_through_and_lets_the_sand_out()
    {
        var kit = KitCheck.Build(Jobs.Of(
            Jobs.Block(-40, -25, 40, 25, 0, 14),
            Jobs.Block(-30, -15, 30, 15, 0, 6, CutKind.Drawn, "recess"),
            Jobs.Block(-8, -6, 8, 6, 0, 14, CutKind.Drawn, "hole")).Bare(2, 3, 0));
        KitCheck.Sound(kit);
        var body = kit.Cope();
        double[] heights = [6.5, 8, 10, 12, 13.5];
        var holes = heights.Select(z => body.Section(z).Filled().Difference(body.Section(z))).ToArray();
        Assert.All(holes, h => Assert.True(h.Contains(new Vec2(0, 0)), "the hole does not go through"));
        // Sand of the drag stands in the hole as far as it parts from the cope's; below, the hole narrows upward, above, downward.
        var widths = holes.Select(h => h.Extent().X).ToArray();
        var ti = Math.Tan(3 * KitCheck.Degree);
        var up = widths.Zip(widths.Skip(1), (a, b) => b - a).ToArray();
        var turn = Array.FindIndex(up, d => d > 0);
        Assert.All(up.Select((d, i) => (d, i)), s => Assert.Equal(turn >= 0 && s.i >= turn ? 1 : -1, Math.Sign(s.d)));
        for (var i = 0; i < up.Length; i++) Assert.Equal(2 * (heights[i + 1] - heights[i]) * ti, Math.Abs(up[i]), Plane_mm);
        // Nowhere wider than drawn.
        Assert.All(widths, w => Assert.True(w <= 16 + Plane_mm));
    }

    [Fact]
    public void The_joint_is_drawn_with_the_mouth_of_a_recess_from_below()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 14), Jobs.Block(-30, -15, 30, 15, 0, 6, CutKind.Drawn, "recess")).Bare(2, 3, 0));
        var (run, mouth) = (14 * T, 60.0 * 30);
        // Plate and mouth as wide as at the joint; the recess narrows upward from its drawn size.
        var outline = kit.Plan.CopeOutline;
        Assert.False(outline.Contains(new Vec2(0, 0)));
        Assert.True(outline.Contains(new Vec2(35, 0)));
        Assert.Equal(((80 + (2 * run)) * (50 + (2 * run))) - mouth, outline.Area, 0.01 * mouth);
    }

    [Theory]
    [InlineData(SizeHolds.Tip)]
    [InlineData(SizeHolds.Middle)]
    [InlineData(SizeHolds.Parting)]
    public void A_lip_over_a_window_is_sound(SizeHolds holds) => KitCheck.Sound(KitCheck.Build(LipOverWindow(holds)));

    /// <summary>The lip reaches over a part of the window, so that sand of the drag ends under it and sand of both halves meets beside it.</summary>
    private static Job LipOverWindow(SizeHolds holds) => Jobs.Of(
        Jobs.Block(-45, -35, 45, 35, -3, 7),
        Jobs.Block(-2, -22.5, 36, 0.5, -20, 30, CutKind.Drawn, "window"),
        Jobs.Block(3, -18, 33, 4, 5, 7, name: "lip")).Bare(3, holds: holds);

    /// <summary>Job heights reach from -24 to 44 mm, the printed half 69 mm up: single precision is coarser there than at any job coordinate.</summary>
    [Fact]
    public void A_half_taller_than_any_coordinate_is_exact_as_printed() => KitCheck.Sound(KitCheck.Build(
        Jobs.Of(Jobs.Block(-31, -31, 31, 31, -24.353, 24.353), Jobs.Round(0, 0, 32, 0, 44.353)).Bare(2, joint_mm: -24.353)));

    [Fact]
    public void Contraction_scales_about_the_jobs_origin()
    {
        var bare = Jobs.Of(Jobs.Block(100, -60, 160, -20, 5, 25)).Bare(2, joint_mm: 5);
        var kit = KitCheck.Build(bare with { Pattern = bare.Pattern with { Contraction = 0.013 } });
        KitCheck.Sound(kit);
        Assert.Equal(1.013, kit.Scale, 12);
        var (box, run) = (kit.Cope().InMould.Bounds(), 1.013 * 20 * T);
        double[] expected = [(1.013 * 100) - run, (1.013 * 160) + run, (1.013 * -60) - run, (1.013 * -20) + run, 1.013 * 5, 1.013 * 25];
        Assert.Equal(expected, [box.Low.X, box.High.X, box.Low.Y, box.High.Y, box.Low.Z, box.High.Z], (a, b) => Math.Abs(a - b) <= Plane_mm);
        Near(Math.Pow(1.013, 3) * DraftedBlock.Added(60, 40, 20, T), kit.Unpocketed_mm3());
    }

    [Fact]
    public void A_round_boss_has_the_volume_of_a_cones_frustum()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Round(0, 0, 40, 0, 25)).Bare(3, joint_mm: 0));
        KitCheck.Sound(kit);
        // A circle becomes a polygon within 0.01 mm; 0.01 mm of 20 mm radius is 0.1 % of the area at most.
        Assert.Equal(1, kit.Unpocketed_mm3() / DraftedBlock.Cone(40, 25, Math.Tan(3 * KitCheck.Degree)), 1e-3);
    }

    private static double T => Math.Tan(2 * KitCheck.Degree);

    private static Kit Flat(SizeHolds holds)
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 20)).Bare(2, joint_mm: 0, holds: holds));
        KitCheck.Sound(kit);
        return kit;
    }

    private static void Size(double x, double y, Kit kit, double z)
    {
        var (width, depth) = kit.Cope().Section(z).Extent();
        Assert.Equal(x, width, Plane_mm);
        Assert.Equal(y, depth, Plane_mm);
    }

    /// <summary>How deep marks are sunk, read off the mesh: the one height between the face and the cover above the marks.</summary>
    private static double MarkDepth(KitBody body) =>
        body.AsPrinted.Facets.Where(f => body.AsPrinted.AreaNormal(f) is { Z: < 0 } n && n.Plan.Length == 0)
            .Max(f => body.AsPrinted.Vertices[f.A].Z);

    private static void Near(double expected, double actual) =>
        Assert.True(Math.Abs(actual / expected - 1) <= Volume, $"volume {actual}, {expected} by the closed form: {100 * (actual / expected - 1):0.00000} %");
}
