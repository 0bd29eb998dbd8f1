using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Cores;

/// <summary>Half cores, flat on the joint, and their dump boxes, against closed forms and distances between meshes.</summary>
public sealed class HalfCoreTests
{
    private const double R = 12, Theta = 2 * KitCheck.Degree;

    private static readonly Feature Waterway = new(
        "waterway", null, [PlanPath.Polygon(new Vec2(-31, 0), new(31, 0), new(31, R), new(-31, R))], -R, R, CutKind.Cored, "job.toml, line 7", new(TurnedAxis.X, default));

    /// <summary>A chest whose waterway has a flat roof, or a flat floor.</summary>
    private static Job Roofed(bool below = true) => (below
        ? Of(Block(-30, -20, 30, 20, -20, 10), Waterway, Block(-30, -20, 30, 20, 0, 10, name: "roof"))
        : Of(Block(-30, -20, 30, 20, -10, 20), Waterway, Block(-30, -20, 30, 20, -10, 0, name: "floor"))).Bare(2);

    /// <summary>The same without the roof.</summary>
    private static readonly Job Open = Of(Block(-30, -20, 30, 20, -20, 0), Waterway).Bare(2);

    [Theory]
    [InlineData(true, MouldHalf.Drag)]
    [InlineData(false, MouldHalf.Cope)]
    public void Where_later_metal_fills_half_of_a_cored_cut_half_a_core_is_made(bool below, MouldHalf within)
    {
        var kit = KitCheck.Build(Roofed(below));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.True(core.Box.IsDumped);
        Assert.Equal("core-1-box.stl", Assert.Single(core.Box.Printed).FileName);
        Assert.Equal(within == MouldHalf.Drag ? (-R, 0.0) : (0.0, R), (Math.Round(core.Body.InMould.Bounds().Low.Z, 1), Math.Round(core.Body.InMould.Bounds().High.Z, 1)));
        Assert.DoesNotContain(kit.Findings, f => f.Code is "undercut" or "no-draft" or "open-mesh");
        // Prints lie in the half of the core alone: beyond the face of the block the other half has nothing.
        var (with, without) = within == MouldHalf.Drag ? (kit.Drag(), kit.Cope()) : (kit.Cope(), kit.Drag());
        Assert.True(with.InMould.Bounds().High.X > 50);
        Assert.InRange(without.InMould.Bounds().High.X, 30, 31);
    }

    // A half circle of R; at the joint its sides run off by θ along tangents, which adds R² (tan θ − θ); each end slopes out by θ, which adds ∫ (R² − y²) tan θ / 2 dy = 2/3 R³ tan θ.
    [Fact]
    public void Core_and_casting_have_the_volumes_of_closed_forms()
    {
        var kit = KitCheck.Build(Roofed());
        var core = Assert.Single(kit.Cores);
        var (t, face) = (Math.Tan(Theta), 30 + (20 * Math.Tan(Theta)));
        var length = 2 * (face + core.Prints[0].Length_mm);
        Relative((R * R * ((Math.PI / 2) + t - Theta) * length) + (2 * 2.0 / 3 * R * R * R * t), core.Body.InMould.Volume(), 1e-3);
        Relative(core.Body.InMould.Volume(), core.Box.Holds_mm3, 5e-4);
        // In the metal: the half disc from face to face of the drag, whose ends slope in by θ below the joint: ∫ |z| dA of a half disc is 2 R³ / 3.
        var inMetal = (Math.PI / 2 * R * R * 2 * face) - (2 * t * 2 / 3 * R * R * R);
        Relative(inMetal, core.Load.Displaced_mm3, 5e-4);
        // Both halves of the chest are frusta of draft.
        double Area(double h, double z) => (60 + (2 * (h - z) * t)) * (40 + (2 * (h - z) * t));
        double Block(double h) => h / 6 * (Area(h, 0) + (4 * Area(h, h / 2)) + Area(h, h));
        var alloy = FoundryTables.Default.Alloy(kit.Job.Alloy);
        Relative((Block(20) + Block(10) - inMetal) * 1e-9 * alloy.Density_kg_m3.Value, kit.Metal.Casting_kg, 5e-4);
        // Example F2: V (ρ metal − ρ core) g; and the weight of half a bar of core sand of 1600 kg/m³.
        var metal = (alloy.LiquidDensity_kg_m3 ?? alloy.Density_kg_m3).Value;
        Relative(inMetal * 1e-9 * (metal - 1600) * 9.81, core.Load.Lift_N, 5e-4);
        Relative(Math.PI / 2 * R * R * length * 1e-9 * 1600 * 9.81, core.Load.Weight_N, 5e-4);
        Assert.Equal(2 * R * core.Prints[0].Length_mm * 25e-3, core.Load.Prints[0].MostLift_N, 1e-9);
    }

    [Fact]
    public void Where_no_metal_comes_over_the_joint_half_a_core_does_too_unless_halves_are_asked_for()
    {
        var kit = KitCheck.Build(Open);
        CoreCheck.Sound(kit);
        Assert.True(Assert.Single(kit.Cores).Box.IsDumped);
        Assert.Equal(MouldHalf.Drag, Assert.Single(kit.Bodies).Half);
        var whole = KitCheck.Build(Open with { Cores = new() { BoxesInHalves = true } });
        CoreCheck.Sound(whole);
        Assert.Equal(["core-1-box-a", "core-1-box-b"], Assert.Single(whole.Cores).Box.Halves.Select(h => h.Name));
        // Either leaves the same casting.
        Relative(whole.Metal.Casting_kg, kit.Metal.Casting_kg, 2e-4);
        Relative(whole.Cores[0].Load.Lift_N, kit.Cores[0].Load.Lift_N, 2e-4);
    }

    [Fact]
    public void Under_a_roof_no_whole_core_can_lie()
    {
        var kit = KitCheck.Build(Roofed() with { Cores = new() { BoxesInHalves = true } });
        Assert.Empty(kit.Cores);
        Assert.Contains("comes after it", Assert.Single(kit.Findings, f => f.Code == "undercut").Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bore_with_metal_on_both_sides_keeps_its_whole_core() =>
        Assert.False(Assert.Single(KitCheck.Build(Of(Block(-30, -20, 30, 20, -20, 14), Waterway).Bare(2)).Cores).Box.IsDumped);

    [Fact]
    public void The_job_asks_for_boxes_in_halves()
    {
        const string rest = "title = \"x\"\nunit = \"mm\"\nalloy = \"AlSi7Mg\"\nsand = \"green\"\n[[part]]\nshape = { circle = 40 }\nz = [0, 12]\n[cores]\nbox = ";
        Assert.True(JobFolder.Read(rest + "\"halves\"\n").Cores!.BoxesInHalves);
        Assert.False(JobFolder.Read(rest + "\"auto\"\n").Cores!.BoxesInHalves);
    }

    private static void Relative(double expected, double actual, double by) => Assert.Equal(1, actual / expected, by);
}
