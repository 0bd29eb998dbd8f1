using CsCheck;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Cores;

/// <summary>Hollows of a mesh that the job leaves to cores, against closed forms.</summary>
public sealed class HollowCoreTests
{
    private const string Cored = "[[part]]\nmesh = \"part.obj\"\n[cores]\nundercuts = \"auto\"\n";

    /// <summary>Draft of the block, and of the box (cores.toml).</summary>
    private static readonly double Tan2 = Math.Tan(2 * KitCheck.Degree);

    [Fact]
    public void A_square_bore_through_a_block_gets_a_core_by_closed_forms()
    {
        var kit = Built(HollowBodies.Block(-30, 30, 8, -8, 8), Cored);
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.DoesNotContain(kit.Findings, f => f.Code is "undercut" or "core-lift" or "open-mesh");
        Assert.Equal((2, 2, false), (core.Box.Halves.Length, core.Prints.Length, core.Box.IsMirrored));
        // The sides of the core lean in by the draft of its box, the ends of the block out by its own: ∫ (16 − 2 z t) (60 + 2 (20 − z) t) dz over both halves.
        var inMetal = 2 * Integral(0, 8, z => (16 - (2 * z * Tan2)) * (60 + (2 * (20 - z) * Tan2)));
        AssertRelative(inMetal, core.Load.Displaced_mm3, 5e-4);
        var alloy = FoundryTables.Default.Alloy(kit.Job.Alloy);
        double Area(double z) => (60 + (2 * (20 - z) * Tan2)) * (40 + (2 * (20 - z) * Tan2));
        AssertRelative(((2 * Integral(0, 20, Area)) - inMetal) * 1e-9 * alloy.Density_kg_m3.Value, kit.Metal.Casting_kg, 5e-4);
        // Common practice: 25 mm, more than the diameter of a circle with as much area; they begin where the draft of the block ends.
        Assert.All(core.Prints, p => Assert.Equal((25.0, 16.0, 16.0), (p.Length_mm, Math.Round(p.Width_mm, 6), Math.Round(p.Height_mm, 6))));
        Assert.All(core.Prints, p => Assert.Equal(20 * Tan2, p.Face_mm, 2e-3));
        Assert.All(core.Prints, p => Assert.Null(p.Flat));
        Assert.Equal(["left", "right"], core.Prints.Select(core.End).Order());
        // The box is open at one end; the other slopes with its draft.
        var whole = 2 * Integral(0, 8, z => (16 - (2 * z * Tan2)) * (60 + (2 * ((20 * Tan2) + 25)) - (z * Tan2)));
        AssertRelative(whole, core.Body.InMould.Volume(), 3e-4);
        // F2 of the examples: V (ρ metal − ρ core) g; the middle of the block bears on both prints alike.
        var metal = (alloy.LiquidDensity_kg_m3 ?? alloy.Density_kg_m3).Value;
        AssertRelative(inMetal * 1e-9 * (metal - 1600) * 9.81, core.Load.Lift_N, 5e-4);
        Assert.Equal(core.Load.Lift_N, core.Load.Prints.Sum(p => p.Lift_N), 1e-9);
        Assert.Equal(core.Load.Prints[0].Lift_N, core.Load.Prints[1].Lift_N, 1e-2 * core.Load.Lift_N);
        Assert.Equal(16 * 25 * 25e-3, core.Load.Prints[0].MostLift_N, 0.02);
    }

    [Fact]
    public void A_pipe_bend_is_cored_from_end_to_end()
    {
        const double inner = 9, outer = 15, bend = 40, straight = 20;
        const int around = 64, steps = 48;
        var kit = Built(HollowBodies.Tube(inner, outer, around, HollowBodies.Elbow(bend, straight, steps)), Cored);
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.Equal(["front", "left"], core.Prints.Select(core.End).Order());
        // Pappus: area times the way of its middle; chords of the bend are shorter. In the metal the core reaches to its drafted ends, at the joint by outer · t and less above.
        var area = around / 2.0 * inner * inner * Math.Sin(2 * Math.PI / around);
        var way = (2 * straight) + (2 * steps * bend * Math.Sin(Math.PI / 4 / steps));
        Assert.InRange(core.Load.Displaced_mm3, 0.995 * area * way, area * (way + (2 * outer * Tan2)));
        // Nowhere larger than the bore: no corner of it lies in the part's metal, none that lies in the bore farther from its skin than the box's draft takes.
        var part = new WindingNumber(kit.Job.Mesh!.Body);
        var seen = 0;
        foreach (var v in core.Body.InMould.Vertices.Where((_, i) => i % 7 == 0))
        {
            if (v.X < -straight + 0.1 || v.Y < -straight + 0.1) continue;
            seen++;
            var toAxis = v.X > 0 && v.Y > 0 ? Math.Abs(v.Plan.Length - bend) : Math.Abs((v.X > 0 ? v.X : v.Y) - bend);
            var r = Math.Sqrt((toAxis * toAxis) + (v.Z * v.Z));
            Assert.True(r <= inner + 0.03, $"{v}: {r}");
            Assert.True(r >= (inner * Math.Cos(Math.PI / around)) - 0.06, $"{v}: {r}");
            Assert.True(r > inner - 0.03 || part.Exact(v) < 0.01, $"{v} lies in the metal");
        }

        Assert.True(seen > 300, $"{seen}");
    }

    [Fact]
    public void A_pocket_in_a_side_is_cored_from_one_print_and_the_joint_goes_through_it()
    {
        var job = JobFolder.Read(HollowBodies.Block(-5, 30, 8, -2, 10), Cored);
        var kit = KitCheck.Build(job.Bare(2));
        CoreCheck.Sound(kit);
        // The middle of the pocket's height, where the job gives none.
        Assert.Equal(4, kit.Parting.Height_mm);
        Assert.Contains("cores can be set", kit.Parting.Reason, StringComparison.Ordinal);
        var core = Assert.Single(kit.Cores);
        // Longer than the hollow it carries ("Geometer"), by a quarter (common practice).
        Assert.Equal(1.25 * 35, Assert.Single(core.Prints).Length_mm, 1e-6);
        Assert.Equal("right", core.End(core.Prints[0]));
        // Navier: F / (w l) (1 + 6 e / l), from the middle of the pocket to that of the print.
        var off = 17.5 + core.Prints[0].Face_mm + (core.Prints[0].Length_mm / 2);
        var most = CoreForces.Pressure_kPa(1, 16, core.Prints[0].Length_mm, off);
        AssertRelative(core.Bearing_kPa.Value / most, core.Load.Prints[0].MostLift_N, 0.01);
    }

    [Fact]
    public void A_core_that_is_not_alike_above_and_below_has_a_flat_and_goes_in_one_way_only()
    {
        // The same bore with a chamber over its middle.
        double[] xs = [-30, -10, 10, 30], ys = [-20, -8, 8, 20], zs = [-20, -8, 8, 14, 20];
        var kit = Built(HollowBodies.Grid(xs, ys, zs, (x, y, z) => !(Math.Abs(y) < 8 && ((z > -8 && z < 8) || (Math.Abs(x) < 10 && z > -8 && z < 14)))), Cored);
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        var keyed = Assert.Single(core.Prints, p => p.Flat is not null);
        // 3 mm wider on each side and deeper (cores.toml).
        Assert.Equal((22.0, 19.0), (Math.Round(keyed.Width_mm, 6), Math.Round(keyed.Height_mm, 6)));
        // Turned over about its length, or end for end, the seat does not take it: the flat stands far out of the other print's room.
        var flat = core.Body.InMould.Vertices.Where(v => v.Z < -10).ToArray();
        Assert.NotEmpty(flat);
        Assert.All(flat, v => Assert.True(Vec2.Dot(v.Plan - keyed.Mouth!.Middle, keyed.Mouth.Outward) > keyed.Face_mm - 0.01));
    }

    [Fact]
    public void A_channel_under_a_roof_is_half_a_core_from_a_dump_box()
    {
        var kit = Built(HollowBodies.Block(-30, 30, 8, -20, -10), "[[part]]\nmesh = \"part.obj\"\n[cores]\nundercuts = \"auto\"\n", joint_mm: -20);
        Assert.True(kit.Cores.Length == 1, string.Join("\n", kit.Findings.Select(f => f.Message)));
        CoreCheck.Sound(kit);
        var core = Assert.Single(kit.Cores);
        Assert.True(core.Box.IsDumped);
        Assert.Equal(-20, core.Body.InMould.Bounds().Low.Z, 1e-4);
        var inMetal = Integral(0, 10, z => (16 - (2 * z * Tan2)) * (60 + (2 * (40 - z) * Tan2)));
        AssertRelative(inMetal, core.Load.Displaced_mm3, 5e-4);
    }

    [Fact]
    public void One_of_two_bores_is_chosen_by_a_place_in_it_or_by_named_faces_and_the_other_is_filled()
    {
        double[] xs = [-30, 30], ys = [-20, -14, -4, 4, 14, 20], zs = [-20, -5, 5, 20];
        var obj = HollowBodies.Grid(xs, ys, zs, (_, y, z) => !(Math.Abs(z) < 5 && Math.Abs(y) is > 4 and < 14));
        var by = Built(obj, "[[part]]\nmesh = \"part.obj\"\n[cores]\nundercuts = [[0, 9, 0]]\n");
        var core = Assert.Single(by.Cores);
        Assert.InRange(core.Plans[0].Centroid.Y, 8.9, 9.1);
        Assert.Equal(2, by.Findings.Count(f => f.Code == "undercut"));
        Assert.All(by.Findings.Where(f => f.Code == "undercut"), f => Assert.Equal(-9, f.At_mm!.Value.Y, 5.1));
        var named = Built(obj, "[[part]]\nmesh = \"part.obj\"\nfaces = { waterway = { box = [[-31, -14, -5], [31, -4, 5]] } }\n[cores]\nundercuts = [\"waterway\"]\n");
        Assert.Equal("waterway", Assert.Single(named.Cores).Title);
        Assert.InRange(named.Cores[0].Plans[0].Centroid.Y, -9.1, -8.9);
        var both = Built(obj, Cored);
        // Both come out of one box.
        var shared = Assert.Single(both.Cores);
        Assert.Equal((2, 2, 2), (shared.Count, shared.Axes.Length, shared.Plans.Length));
        Assert.Equal(18, Vec2.Distance(shared.Axes[0].At.Plan, shared.Axes[1].At.Plan) / both.Scale, 1e-3);
        Assert.Equal(shared.Plans[0].Area, shared.Plans[1].Area, 1e-2);
        Assert.Equal(shared.Plans.SelectMany((p, i) => shared.Prints.Select(e => (Inside: p.Contains(shared.Tip(e, shared.Axes[i]) - (0.1 * e.Mouth!.Outward)), Beyond: p.Contains(shared.Tip(e, shared.Axes[i]) + (0.1 * e.Mouth.Outward))))), Enumerable.Repeat((true, false), 4));
        CoreCheck.Sound(both);
        // One that is a tenth of a millimetre wider is another core.
        var unlike = Built(HollowBodies.Grid(xs, [-20, -14.1, -4, 4, 14, 20], zs, (_, y, z) => !(Math.Abs(z) < 5 && Math.Abs(y) is > 4 and < 14.1 && y < 14)), Cored);
        Assert.Equal([1, 1], unlike.Cores.Select(c => c.Count));
        AssertRelative(by.Metal.Casting_kg - both.Metal.Casting_kg, named.Metal.Casting_kg - both.Metal.Casting_kg, 1e-3);
    }

    [Fact]
    public void What_opens_nowhere_or_all_round_or_not_to_the_joint_gets_no_core_and_is_told()
    {
        var kit = Built(HollowBodies.Block(-20, 20, 8, -8, 8), Cored);
        Assert.Empty(kit.Cores);
        Assert.Contains(kit.Findings, f => f.Code == "undercut" && f.Message.Contains("opens nowhere sideways", StringComparison.Ordinal));
        var ring = Built(Meshes.ObjBodies.Stack((-20, -5, 20), (-5, 5, 12), (5, 20, 20)), Cored);
        Assert.Empty(ring.Cores);
        Assert.Contains(ring.Findings, f => f.Code == "undercut" && f.Message.Contains("open all round", StringComparison.Ordinal));
        var split = KitCheck.Build(JobFolder.Read(HollowBodies.Block(-30, 30, 8, -8, 8), Cored).Bare(2, joint_mm: 0, holds: SizeHolds.Middle));
        Assert.Empty(split.Cores);
        Assert.Contains(split.Findings, f => f.Code == "undercut" && f.Message.Contains("sizes hold at the tip only", StringComparison.Ordinal));
        var high = Built(HollowBodies.Block(-5, 30, 8, -2, 10), Cored, joint_mm: -20);
        Assert.Empty(high.Cores);
        Assert.Contains(high.Findings, f => f.Code == "undercut" && f.Message.Contains("its way to the joint is not free", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("undercuts = [[0, 0, 19]]", "nothing lies behind the draw at (0, 0, 19) mm")]
    [InlineData("undercuts = [\"bore\"]", "no faces are called \"bore\"")]
    [InlineData("undercuts = \"some\"", "is no choice")]
    [InlineData("undercuts = 3", "is no choice")]
    [InlineData("undercuts = [[1, 2]]", "a place of undercuts")]
    [InlineData("box = \"halves\"", "box")]
    public void A_choice_that_means_nothing_is_refused_with_what_there_is(string key, string why)
    {
        var message = Assert.Throws<InputException>(() => Built(HollowBodies.Block(-30, 30, 8, -8, 8), $"[[part]]\nmesh = \"part.obj\"\n[cores]\n{key}\n")).Message;
        Assert.Contains(why, message, StringComparison.Ordinal);
        Assert.Contains("line 8", message, StringComparison.Ordinal);
    }

    [Fact]
    public void Spaces_of_any_size_that_open_at_one_end_or_both_leave_what_closed_forms_say()
    {
        Gen.Select(Gen.Int[-26, 18], Gen.Bool, Gen.Int[3, 16], Gen.Int[-14, 4], Gen.Int[4, 10]).Sample(
            (from, isThrough, half, low, tall) =>
            {
                var (start, high) = (isThrough ? -30 : from, low + tall);
                var joint = (low + high) / 2.0;
                var kit = Built(HollowBodies.Block(start, 30, half, low, high), Cored, joint);
                CoreCheck.Sound(kit);
                var core = Assert.Single(kit.Cores);
                Assert.Equal(isThrough ? 2 : 1, core.Prints.Length);
                double Side(double outer) => Integral(0, tall / 2.0, z => 2 * (half - (z * Tan2)) * (30 - start + ((outer - z) * Tan2 * (isThrough ? 2 : 1)) - (isThrough ? 0 : z * Tan2)));
                AssertRelative(Side(20 - joint) + Side(20 + joint), core.Load.Displaced_mm3, 1e-3);
            },
            iter: 6);
    }

    [Fact]
    public void Cores_whose_prints_meet_are_refused_by_name()
    {
        // Two bores 2 mm apart, each with a chamber over its middle, so that each has a flat that is 3 mm wider.
        double[] xs = [-30, -10, 10, 30], ys = [-20, -13, -1, 1, 13, 20], zs = [-20, -5, 5, 12, 20];
        var obj = HollowBodies.Grid(xs, ys, zs, (x, y, z) => !(Math.Abs(y) is > 1 and < 13 && z > -5 && z < (Math.Abs(x) < 10 ? 12 : 5)));
        var message = Assert.Throws<InputException>(() => Built(obj, Cored)).Message;
        Assert.Contains("prints included, meet", message, StringComparison.Ordinal);
        Assert.Contains("(0, 7, ", message, StringComparison.Ordinal);
        Assert.Single(Built(obj, Cored.Replace("\"auto\"", "[[0, 7, 0]]", StringComparison.Ordinal)).Cores);
    }

    [Fact]
    public void Print_and_clearance_are_those_that_the_job_gives()
    {
        var kit = Built(HollowBodies.Block(-30, 30, 8, -8, 8), Cored + "print = 30\nclearance = 0.2\n");
        CoreCheck.Sound(kit);
        Assert.All(kit.Cores[0].Prints, p => Assert.Equal(30.0, p.Length_mm));
        Assert.Equal(0.2, kit.Cores[0].Side_mm);
    }

    private static Kit Built(string obj, string rest, double? joint_mm = 0) => KitCheck.Build(JobFolder.Read(obj, rest).Bare(2, joint_mm: joint_mm));

    /// <summary>By Simpson's rule, exact for these.</summary>
    private static double Integral(double from, double to, Func<double, double> of) => (to - from) / 6 * (of(from) + (4 * of((from + to) / 2)) + of(to));

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
