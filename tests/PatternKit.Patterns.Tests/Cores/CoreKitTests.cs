using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Cores;

/// <summary>Cores from cored cuts to prints, bodies and boxes, against closed forms and distances between meshes.</summary>
public sealed class CoreKitTests
{
    private const double Tan2 = 0.034920769491747730501;

    /// <summary>A block with a bore lying in its joint, through it from end to end.</summary>
    private static Job Bored(double radius = 8, params Vec2[] profile) => Of(
        Block(-30, -20, 30, 20, -20, 20),
        Turned(TurnedAxis.X, "bore", profile.Length > 0 ? profile : [new(-31, 0), new(31, 0), new(31, radius), new(-31, radius)])).Bare(2);

    [Fact]
    public void The_bore_of_the_bearing_pedestal_is_cored()
    {
        var kit = KitCheck.Build(KitCheck.Template("bearing-pedestal"));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.Equal(("bore", 1, 2, 2), (core.Title, core.Count, core.Prints.Length, core.Box.Halves.Length));
        Assert.Empty(kit.Findings.Where(f => f.Code is "undercut" or "core-lift" or "no-draft" or "open-mesh" or "bar-meets-print" && !f.Message.Contains("bolt", StringComparison.Ordinal)));
        // A bore of 26 mm less 1.5 mm of stock, contraction put on; common practice: prints as long as the diameter, at least 25 mm.
        Assert.All(core.Prints, p => Assert.Equal(11.5 * kit.Scale, p.Radius_mm, 1e-9));
        Assert.All(core.Prints, p => Assert.Equal(25, p.Length_mm));
    }

    [Fact]
    public void A_block_with_a_lying_bore_has_metal_core_and_forces_by_closed_forms()
    {
        const double r = 8, half = 20;
        var kit = KitCheck.Build(Bored(r));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        // Each half of the block is a frustum of draft, V = h (A₁ + 4 A_m + A₂) / 6; the ends slope, so that over the disc of the bore the core has
        // π r² (60 + 2 · 20 tan θ) − 2 tan θ · ∫ |z| dA in the metal, the last being 4 r³ / 3.
        double Area(double z) => (60 + (2 * (half - z) * Tan2)) * (40 + (2 * (half - z) * Tan2));
        var block = 2 * half / 6 * (Area(0) + (4 * Area(half / 2)) + Area(half));
        var inMetal = (Math.PI * r * r * (60 + (2 * half * Tan2))) - (2 * Tan2 * 4 / 3 * r * r * r);
        AssertRelative(inMetal, core.Load.Displaced_mm3, 2e-4);
        var alloy = FoundryTables.Default.Alloy(kit.Job.Alloy);
        AssertRelative((block - inMetal) * 1e-9 * alloy.Density_kg_m3.Value, kit.Metal.Casting_kg, 2e-4);
        // From face to face at the joint and both prints.
        var face = 30 + (half * Tan2);
        Assert.All(core.Prints, p => Assert.Equal(face, Math.Abs(p.Face_mm), 0.001));
        Assert.All(core.Prints, p => Assert.Equal(25, p.Length_mm));
        AssertRelative(Math.PI * r * r * (2 * (face + 25)), core.Body.InMould.Volume(), 2e-3);
        // F2 of the examples: V (ρ metal − ρ core) g.
        var metal = (alloy.LiquidDensity_kg_m3 ?? alloy.Density_kg_m3).Value;
        AssertRelative(inMetal * 1e-9 * (metal - 1600) * 9.81, core.Load.Lift_N, 2e-4);
        AssertRelative(core.Load.Weight_N, Math.PI * r * r * 2 * (face + 25) * 1e-9 * 1600 * 9.81, 1e-4);
        Assert.Equal(core.Load.Lift_N, core.Load.Prints.Sum(p => p.Lift_N), 1e-9);
        Assert.Equal(core.Load.Prints[0].Lift_N, core.Load.Prints[1].Lift_N, 1e-3);
        Assert.Equal(2 * r * 25 * 25e-3, core.Load.Prints[0].MostLift_N, 1e-9);
    }

    // Closed forms: what lifts is the same whichever way is up; a seat bears on the print's side, 2 r l, or on its end, π r², at half the green strength (common practice).
    [Theory]
    [InlineData(0, 1)]
    [InlineData(1, 0)]
    [InlineData(-1, 0)]
    public void In_a_mould_on_edge_prints_bear_as_the_core_stands_or_lies_then(double x, double y)
    {
        const double r = 8, bearing = 25e-3;
        var lying = Assert.Single(KitCheck.Build(Bored(r)).Cores);
        var kit = KitCheck.Build(Bored(r) with { Gating = new() { OnEdge = true, Up = new(x, y) } });
        var (core, up) = (Assert.Single(kit.Cores), kit.Gating!.Position.Up);
        Assert.Equal(new Vec3(x, y, 0), up.Direction);
        Assert.Equal(lying.Load.Lift_N, core.Load.Lift_N, 1e-9);
        Assert.Equal(core.Load.Lift_N, core.Load.Prints.Sum(p => p.Lift_N), 1e-9);
        if (x == 0)
        {
            Assert.Equal(lying.Load.Prints.AsEnumerable(), core.Load.Prints);
            return;
        }

        var (upper, lower) = x > 0 ? (core.Load.Prints[1], core.Load.Prints[0]) : (core.Load.Prints[0], core.Load.Prints[1]);
        Assert.Equal((core.Load.Lift_N, 0.0, 0.0), (upper.Lift_N, upper.Weight_N, upper.MostWeight_N));
        Assert.Equal((core.Load.Weight_N, 0.0, 0.0), (lower.Weight_N, lower.Lift_N, lower.MostLift_N));
        Assert.Equal(Math.PI * r * r * bearing, upper.MostLift_N, 1e-9);
        Assert.Equal(Math.PI * r * r * bearing, lower.MostWeight_N, 1e-9);
    }

    [Fact]
    public void Metal_core_sand_and_clearance_fill_the_flask()
    {
        var kit = KitCheck.Build(Bored());
        // The same part cast solid is the casting without prints.
        var bored = kit.Job.Features[1];
        var solid = KitCheck.Build(kit.Job with { Features = [kit.Job.Features[0], bored with { Cut = CutKind.Machined }] });
        WindingNumber[] Of(Kit k) => [.. k.Bodies.Select(b => new WindingNumber(b.InMould))];
        var (pattern, bare, core) = (Of(kit), Of(solid), new WindingNumber(kit.Cores[0].Body.InMould));
        var (low, high, all) = (new Vec3(-70, -28, -26), new Vec3(70, 28, 26), 40_000);
        var (sand, sandCore, metal, gap) = (0, 0, 0, 0);
        for (var i = 1; i <= all; i++)
        {
            // Halton's sequence.
            Vec3 p = new(low.X + (Radical(i, 2) * (high - low).X), low.Y + (Radical(i, 3) * (high - low).Y), low.Z + (Radical(i, 5) * (high - low).Z));
            var (isPattern, isBare, isCore) = (pattern.Any(w => w.At(p) > 0.5) || InMark(kit, p), bare.Any(w => w.At(p) > 0.5) || InMark(solid, p), core.At(p) > 0.5);
            Assert.True(!isCore || isPattern, $"the core meets the sand of the mould at {p}");
            if (!isPattern) sand++;
            else if (isCore) sandCore++;
            else if (isBare) metal++;
            else gap++;
        }

        var box = (high - low).X * (high - low).Y * (high - low).Z;
        double Share(int count) => box * count / all;
        Assert.Equal(all, sand + sandCore + metal + gap);
        var alloy = FoundryTables.Default.Alloy(kit.Job.Alloy);
        var cast = kit.Metal.Casting_kg / alloy.Density_kg_m3.Value * 1e9;
        var cavity = kit.Unpocketed_mm3();
        AssertRelative(box - cavity, Share(sand), 5e-3);
        AssertRelative(kit.Cores[0].Body.InMould.Volume(), Share(sandCore), 1e-2);
        AssertRelative(cast, Share(metal), 5e-3);
        // What the figures of the kit leave is the room between prints and seats.
        var left = cavity - cast - kit.Cores[0].Body.InMould.Volume();
        Assert.True(left > 0);
        AssertRelative(left, Share(gap), 0.05);
    }

    // Common practice: half the green strength, 25 kPa, over the print in plan.
    [Fact]
    public void A_small_print_raises_core_lift_and_tells_of_chaplets()
    {
        var job = Bored(14) with { Alloy = "gray-iron", Sand = "green" };
        Assert.DoesNotContain(KitCheck.Build(job).Findings, f => f.Code == "core-lift");
        var kit = KitCheck.Build(job with { Cores = new(Print_mm: 1) });
        var finding = Assert.Single(kit.Findings, f => f.Code == "core-lift");
        var core = kit.Cores[0];
        Assert.Equal((Severity.Warn, core.Load.Lift_N), (finding.Severity, finding.Value));
        Assert.Equal(2 * 28 * 1 * 0.025, finding.Limit!.Value, 1e-9);
        Assert.Equal((core.Load.Lift_N - finding.Limit.Value) / 0.025, core.Chaplet_mm2, 1e-6);
        Assert.Contains("chaplets", finding.Remedy, StringComparison.Ordinal);
        // Seats of next to no strength let go of long prints too; they are lengthened as far as practice goes.
        var tables = FoundryTables.Default.With("[sands.green]\nstrength = { kPa = 1 }", "shop.toml");
        var lengthened = KitBuilder.Build(job, tables);
        Assert.Equal(56, lengthened.Cores[0].Prints[0].Length_mm, 1e-9);
    }

    [Fact]
    public void A_blind_bore_gets_one_print_longer_than_the_hollow()
    {
        var kit = KitCheck.Build(Bored(8, new(-5, 0), new(31, 0), new(31, 8), new(-5, 8)));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        var print = Assert.Single(core.Prints);
        Assert.True(print.IsHigh);
        Assert.Equal(1.25 * (print.Face_mm + 5), print.Length_mm, 1e-9);
        // The load lies off the print's middle, so that its seat bears less than half strength times area.
        Assert.True(core.Load.Prints[0].MostLift_N < 16 * print.Length_mm * 0.025 / 2);
    }

    [Fact]
    public void A_stepped_bore_gets_unlike_prints_unless_they_are_so_already()
    {
        // A counterbore half way: both ends are alike, the core is not.
        var even = KitCheck.Build(Bored(8, new(-31, 0), new(31, 0), new(31, 8), new(10, 8), new(10, 12), new(0, 12), new(0, 8), new(-31, 8)));
        CoreCheck.Sound(even);
        Assert.Equal(1.25, even.Cores[0].Prints[1].Length_mm / even.Cores[0].Prints[0].Length_mm, 1e-9);
        // Bore and counterbore as two cuts are one core, whose ends differ by themselves.
        var job = Bored(8);
        var counter = Turned(TurnedAxis.X, "counterbore", new(20, 0), new(31, 0), new(31, 12), new(20, 12));
        var stepped = KitCheck.Build(job with { Features = job.Features.Add(counter) });
        CoreCheck.Sound(stepped);
        var core = Assert.Single(stepped.Cores);
        Assert.Equal("bore and counterbore", core.Title);
        Assert.Equal((8.0, 12.0), (core.Prints[0].Radius_mm, core.Prints[1].Radius_mm));
        Assert.Equal(25.0, core.Prints[1].Length_mm, 1e-9);
    }

    [Fact]
    public void Cuts_that_abut_on_one_axis_are_one_core_with_their_stock()
    {
        var job = Bored(8, new(-31, 0), new(0, 0), new(0, 8), new(-31, 8));
        Feature[] further = [Turned(TurnedAxis.X, "far end", new(15, 0), new(31, 0), new(31, 12), new(15, 12)), Turned(TurnedAxis.X, "step", new(0, 0), new(15, 0), new(15, 10), new(0, 10))];
        var kit = KitCheck.Build(job with { Features = [.. job.Features, .. further], Pattern = job.Pattern with { Stock = new(Holes_mm: 1) } });
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.Equal((7.0, 11.0), (core.Prints[0].Radius_mm, core.Prints[1].Radius_mm));
        Assert.All(new[] { "bore", "step", "far end" }, n => Assert.Contains(n, core.Title, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(TurnedAxis.Y)]
    [InlineData(TurnedAxis.Z)]
    public void Cores_lie_along_y_and_stand_too(TurnedAxis axis)
    {
        var bore = Turned(axis, "bore", new(-31, 0), new(31, 0), new(31, 8), new(-31, 8));
        var block = axis == TurnedAxis.Y ? Block(-20, -30, 20, 30, -20, 20) : Block(-20, -25, 20, 25, -30, 30);
        var kit = KitCheck.Build(Of(block, bore).Bare(2) with { Parting = new(0) });
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.Equal(axis, core.Axes[0].Axis);
        if (axis == TurnedAxis.Y) return;
        // Modern Mechanical Engineering vol. I: as long as the diameter, the top print half of that; common practice: 6 and 12 degrees.
        Assert.Equal((16.0, 8.0), (core.Prints[0].Length_mm, core.Prints[1].Length_mm));
        Assert.Equal(8 - (16 * Math.Tan(6 * KitCheck.Degree)), core.Prints[0].EndRadius_mm, 1e-9);
        Assert.Equal(8 - (8 * Math.Tan(12 * KitCheck.Degree)), core.Prints[1].EndRadius_mm, 1e-9);
        Assert.Equal(-46, kit.Drag().InMould.Bounds().Low.Z, 0.001);
        // The closed end of the box has a draft of 2 degrees, down from its joint through the axis; the room is over that.
        Assert.Equal(38 + core.Axial_mm + (core.Prints[1].EndRadius_mm * Tan2), kit.Cope().InMould.Bounds().High.Z, 0.001);
    }

    [Fact]
    public void Upright_circles_of_one_size_share_a_box()
    {
        var holes = new Feature("bolt holes", null, [PlanPath.Circle(new(-20, 0), 12), PlanPath.Circle(new(20, 5), 12)], -1, 21, CutKind.Cored, "job.toml, line 5");
        var kit = KitCheck.Build(Of(Block(-40, -25, 40, 25, 0, 20), holes).Bare(2));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.Equal((2, 0.0), (core.Count, kit.Parting.Height_mm));
        Assert.Equal(2 * core.Body.InMould.Volume() * 1600e-9, core.Sand_kg, 1e-9);
        // The drag has nothing but the lower prints.
        Assert.Equal(2, MeshInspection.Inspect(kit.Drag().AsPrinted).Shells);
    }

    [Fact]
    public void Where_no_core_is_made_the_reason_is_told_and_the_pattern_is_solid()
    {
        Unmade("only round cores", Of(Block(-30, -20, 30, 20, -20, 20), Block(-5, -5, 5, 5, -21, 21, CutKind.Cored, "slot")).Bare(2));
        Unmade("[parting] at = 0", Bored() with { Parting = new(10) });
        Unmade("both its ends", Bored(8, new(-20, 0), new(20, 0), new(20, 8), new(-20, 8)));
        Unmade("metal round the axis", Bored(8, new(-31, 3), new(31, 3), new(31, 8), new(-31, 8)));
        var hole = Round(0, 0, 12, -21, 21, CutKind.Cored, "hole");
        Unmade("hold at the tip", Of(Block(-30, -20, 30, 20, -20, 20), hole).Bare(2, holds: SizeHolds.Parting));
        Unmade("match = true", Of(Block(-30, -20, 30, 20, -20, 20), hole).Bare(2) with { Parting = new(0, true) });
        Unmade("in one half", Of(Block(-30, -20, 30, 20, 0, 10), Block(-30, -20, 0, 20, 10, 40), Round(15, 0, 12, -1, 11, CutKind.Cored, "hole")).Bare(2) with { Parting = new(40) });
        Unmade("comes after it", Bored() is var job ? job with { Features = job.Features.Add(Block(-10, -8, 10, 8, -8, 8)) } : job);
        Unmade("where its print would", Bored() is var beside ? beside with { Features = beside.Features.Insert(0, Block(40, -20, 50, 20, -20, 20)) } : beside);

        static void Unmade(string why, Job job)
        {
            var kit = KitCheck.Build(job);
            Assert.Empty(kit.Cores);
            var finding = Assert.Single(kit.Findings, f => f.Code == "undercut" && f.Message.Contains("is cored", StringComparison.Ordinal));
            Assert.Contains(why, finding.Message, StringComparison.Ordinal);
            Assert.Contains("must be drilled", finding.Message, StringComparison.Ordinal);
            Assert.Equal(0, kit.Bridge.Prints_mm3);
        }
    }

    [Fact]
    public void Blind_holes_stand_in_the_drag_or_hang_in_the_cope_and_what_nothing_bears_is_told()
    {
        var block = Block(-30, -20, 30, 20, -20, 20);
        // Iron floats the core that stands; nothing is above it.
        var standing = KitCheck.Build(Of(block, Round(0, 0, 16, -21, 5, CutKind.Cored, "hole")).Bare(2, joint_mm: 0) with { Alloy = "gray-iron" });
        CoreCheck.Sound(standing);
        Assert.False(Assert.Single(standing.Cores[0].Prints).IsHigh);
        Assert.Equal(0, Assert.Single(standing.Findings, f => f.Code == "core-lift").Limit);
        var hanging = KitCheck.Build(Of(block, Round(0, 0, 16, -5, 21, CutKind.Cored, "hole")).Bare(2, joint_mm: 0) with { Alloy = "gray-iron" });
        CoreCheck.Sound(hanging);
        // A single upper print is as long as a lower one.
        Assert.Equal((true, 16.0), (hanging.Cores[0].Prints[0].IsHigh, Assert.Single(hanging.Cores[0].Prints).Length_mm));
        Assert.Contains("hangs in the cope", Assert.Single(hanging.Findings, f => f.Code == "core-lift").Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void The_foot_of_a_print_stays_sharp_and_what_carries_it_keeps_its_fillet()
    {
        var job = Of(Round(0, 0, 90, 0, 12), Round(0, 0, 56, 0, 45), Round(0, 0, 30, -1, 46, CutKind.Cored, "bore")).Bare(2);
        job = job with { Pattern = job.Pattern with { Fillet = new(3, System.Collections.Immutable.ImmutableDictionary<string, double>.Empty) } };
        var kit = KitCheck.Build(job);
        CoreCheck.Sound(kit);
        Assert.DoesNotContain(kit.Findings, f => f.Code is "square-corner" or "fillet-capped");
        // The fillet at the neck: a ring of section r² (1 − π/4) and a little less for the draft, turned about R + r/5 or so; and none at the print, which
        // would add half as much again.
        Assert.InRange(kit.Bridge.Fillet_mm3, 0.8 * 9 * (1 - (Math.PI / 4)) * 2 * Math.PI * 28, 1.15 * 9 * (1 - (Math.PI / 4)) * 2 * Math.PI * 28);
        // The print's section a millimetre over its foot: 15 mm less the taper of 12 degrees, and the clearance.
        var section = kit.Cope().Section(46);
        Assert.Equal(15 - Math.Tan(12 * KitCheck.Degree) + (0.4 / Math.Cos(12 * KitCheck.Degree)), section.Extent().X / 2, 0.03);
        Assert.Contains("core prints lie in the half", kit.Parting.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Prints_stand_on_plates_too_and_bars_keep_clear_of_them()
    {
        var job = Bored() with { Plate = new(PlateKind.Match), Gating = new() };
        var kit = KitCheck.Build(job with { Features = [.. job.Features.Select(f => f.Turned is { } t ? f with { Turned = t with { At_mm = new(3, 5, 0) } } : f)] });
        Assert.All(kit.Plate!.Bodies, b => KitCheck.Valid(b.AsPrinted, b.Name));
        Assert.Equal(new Vec3(3, 5, 0), kit.Cores[0].Axes[0].At);
        // Across the plate, over the end of the longer way out, the print stands 8.4 mm high and no wall of the block does.
        var plate = kit.Plate.Bodies.Single(b => b.Half == MouldHalf.Cope).AsPrinted;
        Assert.Equal(kit.Plate.Thickness_mm + 8.4, plate.Vertices.Where(v => v.X > 40).Max(v => v.Z), 0.03);
        // The longest sides of the block are along the bore; its ends have the prints before them.
        Assert.NotEmpty(kit.Gating!.Bars);
        Assert.All(kit.Gating.Bars.Where(b => b.Kind != BarKind.Feeder), b => Assert.True(b.Plan.Intersection(kit.Cores[0].Plans[0]).IsEmpty, b.Body.Name));
        // Turned by a quarter, the longest sides have them.
        var turned = Of(Block(-20, -40, 20, 40, -20, 20), job.Features[1] with { Turned = new(TurnedAxis.X, default) }).Bare(2) with { Gating = new() };
        Assert.All(KitCheck.Build(turned) is var k ? k.Gating!.Bars.Where(b => b.Kind != BarKind.Feeder) : [], b => Assert.True(b.Plan.Intersection(k.Cores[0].Plans[0]).IsEmpty, b.Body.Name));
        var there = KitCheck.Build(turned with { Gating = new(At_mm: new(20, 0)) });
        Assert.Contains(there.Findings, f => f.Code == "bar-meets-print");
    }

    [Fact]
    public void Cores_that_meet_are_refused_by_name()
    {
        var job = Bored();
        var cross = Turned(TurnedAxis.Y, "cross bore", new(-21, 0), new(21, 0), new(21, 5), new(-21, 5));
        var refused = Assert.Throws<InputException>(() => KitCheck.Build(job with { Features = job.Features.Add(cross) }));
        Assert.Contains("bore and cross bore", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_lying_bore_settles_the_joint()
    {
        var job = Of(Block(-30, -20, 30, 20, 0, 40), Turned(TurnedAxis.X, "bore", new(-31, 0), new(31, 0), new(31, 8), new(-31, 8)) is var b ? b with { Turned = new(TurnedAxis.X, new(0, 0, 15)), Low_mm = 7, High_mm = 23 } : b).Bare(2);
        var kit = KitCheck.Build(job);
        Assert.Equal(15, kit.Parting.Height_mm, 1e-6);
        Assert.Contains("axis of the cores", kit.Parting.Reason, StringComparison.Ordinal);
        CoreCheck.Sound(kit);
    }

    [Fact]
    public void Contraction_is_put_on_the_core_once_and_stock_makes_it_smaller()
    {
        var job = Bored();
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Contraction = 0.02, Stock = new(Names_mm: Names("bore", 1.5)) } });
        CoreCheck.Sound(kit);
        Assert.All(kit.Cores[0].Prints, p => Assert.Equal(1.02 * 6.5, p.Radius_mm, 1e-9));
        Assert.Equal(25, kit.Cores[0].Prints[0].Length_mm, 1e-9);
        // The half width of the core at the joint, where its polygon has a corner and the draft of the box is.
        var box = kit.Cores[0].Body.InMould.Bounds();
        Assert.Equal(1.02 * 6.5, box.High.Z, 0.01);
    }

    [Fact]
    public void Rapping_does_not_eat_the_clearance()
    {
        var job = Bored();
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Rapping_mm = 0.25 }, Cores = new(Clearance_mm: 0.5) });
        var cope = kit.Cope().InMould;
        // Out at the prints the pattern is as high as radius, clearance and what rapping does not add.
        var high = cope.Vertices.Where(v => v.X > 45).Max(v => v.Z);
        Assert.Equal(8 + 0.5 - 0.25, high, 0.02);
    }

    private static double Radical(int i, int radix)
    {
        var (value, digit) = (0.0, 1.0 / radix);
        for (; i > 0; i /= radix, digit /= radix) value += digit * (i % radix);
        return value;
    }

    /// <summary>Marks sunk into the joint faces are filled with sand by nobody.</summary>
    private static bool InMark(Kit kit, Vec3 p) => Math.Abs(p.Z) <= FoundryTables.Default.Joint.Mark.Depth_mm
        && kit.Plan.Marks.Any(m => (m.Half == MouldHalf.Cope) == (p.Z >= 0) && m.Region.Contains(p.Plan));

    private static Feature Turned(TurnedAxis axis, string name, params Vec2[] profile)
    {
        var (low, high) = axis == TurnedAxis.Z ? (profile.Min(p => p.X), profile.Max(p => p.X)) : (-profile.Max(p => p.Y), profile.Max(p => p.Y));
        return new(name, null, [PlanPath.Polygon(profile)], low, high, CutKind.Cored, "job.toml, line 5", new(axis, default));
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
