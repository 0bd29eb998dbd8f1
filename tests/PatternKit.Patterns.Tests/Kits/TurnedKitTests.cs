using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Turned features on their way to the halves, against textbook volumes of solids of revolution.</summary>
public sealed class TurnedKitTests
{
    private static readonly Vec2[] Pulley =
        [new(-16, 0), new(16, 0), new(16, 16), new(10, 16), new(10, 40), new(6.65, 40), new(3.3, 29), new(-3.3, 29), new(-6.65, 40), new(-10, 40), new(-10, 16), new(-16, 16)];

    /// <summary>Volume of the groove: a ring of trapezoid section, by Pappus' theorem over its triangles.</summary>
    private static readonly double Groove = Frustum(40, 40, 13.3) - Frustum(29, 29, 6.6) - (2 * Frustum(29, 40, 3.35));

    [Fact]
    public void A_lying_pulley_parts_at_its_axis_and_draws_without_a_finding()
    {
        var kit = KitCheck.Build(Of(Turned(TurnedAxis.X, Pulley)).Bare(2));
        KitCheck.Sound(kit);
        Assert.Equal(0, kit.Parting.Height_mm, 1e-9);
        Assert.Contains("axis", kit.Parting.Reason, StringComparison.Ordinal);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "undercut");
        Assert.Equal(2, kit.Bodies.Length);
        AssertRelative((Math.PI * ((1600 * 20) + (256 * 12))) - Groove, kit.PartVolume_mm3, 1e-5);
        Assert.Equal(40, kit.Cope().InMould.Bounds().High.Z, 0.01);
    }

    [Fact]
    public void The_same_pulley_upright_traps_sand_in_its_groove_which_is_filled_and_told()
    {
        var kit = KitCheck.Build(Of(Turned(TurnedAxis.Z, Pulley)).Bare(2));
        KitCheck.Sound(kit);
        var finding = Assert.Single(kit.Findings, f => f.Code == "undercut");
        Assert.Equal(Severity.Warn, finding.Severity);
        AssertRelative(Groove, finding.Value!.Value, 1e-4);
        Assert.InRange(new Vec2(finding.At_mm!.Value.X, finding.At_mm.Value.Y).Length, 29, 40);
        Assert.InRange(finding.At_mm.Value.Z, -6.65, 6.65);
    }

    [Fact]
    public void A_hollow_under_a_rim_is_trapped_when_the_axis_lies()
    {
        Vec2[] hollow = [new(-10, 0), new(10, 0), new(10, 8), new(2, 8), new(2, 20), new(10, 20), new(10, 26), new(-10, 26)];
        var kit = KitCheck.Build(Of(Turned(TurnedAxis.X, hollow)).Bare(2));
        KitCheck.Sound(kit);
        Assert.Contains(kit.Findings, f => f.Code == "undercut" && f.At_mm!.Value.X > 2);
    }

    [Fact]
    public void A_round_rim_is_a_torus_and_each_half_has_the_drafted_circle()
    {
        // By Pappus' theorem a section of area A at the distance R makes 2 π R A. Under a draft θ the half circle keeps its arc down to r sin θ
        // and goes on in the tangent.
        const double big = 25, r = 6, draft = 2 * KitCheck.Degree;
        var (s, c, t) = (Math.Sin(draft), Math.Cos(draft), Math.Tan(draft));
        var half = (r * r * ((Math.PI / 2) - draft - (s * c))) + (r * s * ((2 * r / c) - (r * s * t)));
        var rim = new Feature("rim", null, [PlanPath.Circle(new(0, big), 2 * r)], -r, r, CutKind.None, "job.toml, line 5", new(TurnedAxis.Z, default));
        var kit = KitCheck.Build(Of(rim).Bare(2) with { Parting = new(0) });
        KitCheck.Sound(kit);
        AssertRelative(2 * Math.PI * Math.PI * big * r * r, kit.PartVolume_mm3, 2e-4);
        AssertRelative(2 * 2 * Math.PI * big * half, kit.Bridge.Pattern_mm3 - kit.Bridge.Pockets_mm3, 3e-4);
    }

    [Fact]
    public void An_eight_sided_rim_has_its_volume_by_level_sections_to_the_lattice()
    {
        Vec2[] rim = [new(-9, 65), new(-4, 60), new(4, 60), new(9, 65), new(9, 73), new(4, 78), new(-4, 78), new(-9, 73)];
        var kit = KitCheck.Build(Of(Turned(TurnedAxis.Z, rim)).Bare(2) with { Parting = new(0) });
        KitCheck.Sound(kit);
        // The octagon, turned, and the wedges of draft below the slopes: 4 · 4 tan 2° / 2 each, their centroids a third of the foot beyond the walls.
        var foot = 4 * Math.Tan(2 * KitCheck.Degree);
        var octagon = 2 * Math.PI * 69 * ((18 * 18) - (2 * 25));
        var wedges = 2 * 2 * Math.PI * (4 * foot / 2) * ((78 + (foot / 3)) + (60 - (foot / 3)));
        AssertRelative(octagon + wedges, kit.Bridge.Pattern_mm3 - kit.Bridge.Pockets_mm3, 1e-4);
        Assert.InRange(Math.Abs(kit.Bridge.Gap), 0, 2e-6);
    }

    // Facets of rim and arm then meet at the height of the arms' tops.
    [Fact]
    public void Level_arms_end_in_the_slope_of_a_rim()
    {
        var rim = Turned(TurnedAxis.Z, new(-9, 26), new(-4, 21), new(4, 21), new(9, 26), new(9, 34), new(4, 39), new(-4, 39), new(-9, 34));
        var kit = KitCheck.Build(Of(rim, Block(-29, -7, 29, 7, -5, 5)) with { Pattern = new(2 * KitCheck.Degree, 2 * KitCheck.Degree, Dowels: false), Parting = new(0) });
        Assert.All(kit.Bodies, b => KitCheck.Valid(b.InMould, b.Name));
        Assert.All(kit.Bodies, b => KitCheck.Drafted(kit, b));
        Assert.Equal(kit.Cope().InMould.Volume(), kit.Drag().InMould.Volume(), 0.01 * kit.Cope().InMould.Volume());
    }

    [Fact]
    public void A_machined_turned_bore_is_filled_and_a_drawn_hole_clips_a_turned_body()
    {
        var rod = Turned(TurnedAxis.X, new(-20, 0), new(20, 0), new(20, 15), new(-20, 15));
        var bore = Turned(TurnedAxis.X, new(-21, 0), new(21, 0), new(21, 5), new(-21, 5)) with { Cut = CutKind.Machined, Name = "bore" };
        var bored = KitCheck.Build(Of(rod, bore).Bare(2));
        AssertRelative(Math.PI * 40 * (225 - 25), bored.PartVolume_mm3, 1e-5);
        AssertRelative(Math.PI * 40 * 25, bored.Bridge.Filled_mm3, 1e-4);

        // A square hole straight through: 2 ∫ 8 √(225 − y²) dy over the half width 4.
        var drilled = KitCheck.Build(Of(rod, Block(-4, -4, 4, 4, -20, 20, CutKind.Drawn)).Bare(2));
        KitCheck.Sound(drilled);
        var hole = 2 * 8 * ((4 * Math.Sqrt(225 - 16)) + (225 * Math.Asin(4 / 15.0)));
        AssertRelative((Math.PI * 40 * 225) - hole, drilled.PartVolume_mm3, 1e-5);
    }

    [Fact]
    public void A_turned_boss_joins_a_plate()
    {
        // A cylinder of radius 12 along x, half of it above a plate whose top is at its axis.
        var plate = Block(-40, -30, 40, 30, -8, 0);
        var boss = Turned(TurnedAxis.X, new(-20, 0), new(20, 0), new(20, 12), new(-20, 12));
        var part = PartBody.From(Of(plate, boss));
        // Below the plate's underside a circular segment of the cylinder is left: R² acos(h / R) − h √(R² − h²).
        var segment = (144 * Math.Acos(8 / 12.0)) - (8 * Math.Sqrt(144 - 64));
        AssertRelative((80 * 60 * 8) + (40 * ((Math.PI * 72) + segment)), part.Volume_mm3, 1e-5);
        KitCheck.Sound(KitCheck.Build(Of(plate, boss).Bare(2)));
    }

    [Fact]
    public void Stock_goes_onto_the_profile_all_round_and_the_axis_stays()
    {
        var rod = Turned(TurnedAxis.X, new(-20, 0), new(20, 0), new(20, 15), new(-20, 15));
        var job = Of(rod).Bare(2);
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Stock = new(Names_mm: Names("turned", 1.5)) } });
        AssertRelative(Math.PI * ((43 * 16.5 * 16.5) - (40 * 225)), kit.Bridge.Stock_mm3, 1e-4);
    }

    [Fact]
    public void What_turned_features_cannot_have_yet_is_refused_by_name()
    {
        var job = Of(Turned(TurnedAxis.X, Pulley)).Bare(2);
        Refused("hold at the tip", job with { Pattern = job.Pattern with { Holds = SizeHolds.Parting } });
        Refused("match = true", job with { Parting = new(Match: true) });
        Refused("camber", job with { Pattern = job.Pattern with { Camber = new(1) } });
        Refused("give it by name", job with { Pattern = job.Pattern with { Stock = new(Top_mm: 2) } });

        static void Refused(string why, Job job) => Assert.Contains(why, Assert.Throws<InputException>(() => KitCheck.Build(job)).Message, StringComparison.Ordinal);
    }

    private static Feature Turned(TurnedAxis axis, params Vec2[] profile)
    {
        var (low, high) = axis == TurnedAxis.Z ? (profile.Min(p => p.X), profile.Max(p => p.X)) : (-profile.Max(p => p.Y), profile.Max(p => p.Y));
        return new("turned", null, [PlanPath.Polygon(profile)], low, high, CutKind.None, "job.toml, line 5", new(axis, default));
    }

    private static double Frustum(double a, double b, double height) => Math.PI * height / 3 * ((a * a) + (a * b) + (b * b));

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
