using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Meshes;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Pouring;

/// <summary>What presses on the cope, against closed forms and against the finished bodies looked at from above.</summary>
public sealed class LiftOfMetalTests
{
    private static readonly double T = Math.Tan(2 * KitCheck.Degree);

    // A plate in the drag under a flat cope, taper adding metal towards the joint: its outline there times the head.
    [Fact]
    public void A_plate_under_a_flat_cope_lifts_by_its_outline_times_the_head()
    {
        var kit = Ungated(Of(Block(-60, -30, 60, 30, 0, 12)).Bare(2, joint_mm: 12));
        var lift = kit.Pouring!.Lift!;
        var outline_mm2 = (120 + (24 * T)) * (60 + (24 * T));
        Assert.Equal(75, kit.Pouring.Head_mm.Value);
        Assert.Equal(outline_mm2 * 75, lift.Covered_mm3, 0.002 * outline_mm2);
        Assert.Equal(0, lift.Casting_mm3 + lift.Bars_mm3 + lift.Cores_N, 0.05);
        // Pressure of 75 mm of the liquid on that.
        Assert.Equal(kit.Pouring.Metal_kg_m3.Value * 9.81 * 0.075 * outline_mm2 * 1e-6, kit.Pouring.Balance!.Metal_N, 0.01);
    }

    // The same plate in the cope: the head over its top, and over its walls, which lean out: area at the joint times head less the volume of the half.
    [Fact]
    public void A_plate_in_the_cope_lifts_by_the_prism_less_itself()
    {
        var kit = Ungated(Of(Block(-60, -30, 60, 30, 0, 12)).Bare(2, joint_mm: 0));
        var (a, b) = ((120 + (24 * T)) * (60 + (24 * T)), 120.0 * 60);
        var half_mm3 = kit.Unpocketed_mm3();
        Assert.InRange(half_mm3, 12 * b, 12 * a);
        Assert.Equal((a * 75) - half_mm3, kit.Pouring!.Lift!.Under_mm3, 0.002 * a);
        Assert.Equal(0, kit.Pouring.Lift!.Covered_mm3, 1e-6);
    }

    // A tray with its hollow up, all in the drag: the cope's sand hangs into the hollow, and the head reaches down to its floor. So the lift is that of the plate without the
    // hollow, and the hollow's volume more.
    [Fact]
    public void Sand_that_hangs_into_the_drag_is_lifted_from_the_floor_of_the_hollow()
    {
        var (plate, tray) = (Ungated(Of(Block(-60, -30, 60, 30, 0, 20)).Bare(2, joint_mm: 20)), Ungated(Of(Block(-60, -30, 60, 30, 0, 20), Block(-45, -18, 45, 18, 12, 20, CutKind.Drawn, "hollow")).Bare(2, joint_mm: 20)));
        Assert.Contains("drag", tray.Bodies.Select(b => b.Name));
        var hollow_mm3 = plate.Unpocketed_mm3() - tray.Unpocketed_mm3();
        Assert.True(hollow_mm3 > 20000);
        Assert.Equal(plate.Pouring!.Lift!.Under_mm3 + hollow_mm3, tray.Pouring!.Lift!.Under_mm3, 2.0);
    }

    // A window that the sand goes through presses nowhere: what is missing is its plan times the head, less the metal that stood in it.
    [Fact]
    public void A_hole_takes_its_plan_off_the_lift()
    {
        var (solid, holed) = (Ungated(Of(Block(-60, -30, 60, 30, 0, 10)).Bare(2, joint_mm: 0)), Ungated(Of(Block(-60, -30, 60, 30, 0, 10), Block(-30, -15, 30, 15, 0, 10, CutKind.Drawn, "window")).Bare(2, joint_mm: 0)));
        var metal_mm3 = solid.Unpocketed_mm3() - holed.Unpocketed_mm3();
        // Draft narrows it towards the joint.
        var atJoint_mm2 = (60 - (20 * T)) * (30 - (20 * T));
        Assert.Equal((75 * atJoint_mm2) - metal_mm3, solid.Pouring!.Lift!.Under_mm3 - holed.Pouring!.Lift!.Under_mm3, 0.002 * atJoint_mm2 * 75);
        Assert.Equal(atJoint_mm2, solid.Pouring.Lift!.Plan_mm2 - holed.Pouring.Lift!.Plan_mm2, 1.0);
    }

    // All bodies of the kit as they are written, looked at from above on a fine grid: under every place that a body covers lies metal, and what is highest is the roof.
    [Theory]
    [InlineData("strainer-cover")]
    [InlineData("gland-flange")]
    [InlineData("lever-bracket")]
    [InlineData("handwheel")]
    [InlineData("vee-pulley")]
    public void The_lift_is_that_of_the_finished_bodies_seen_from_above(string template)
    {
        var job = KitCheck.Template(template);
        // Without pockets in the joint faces, which are no roof.
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Dowels = false, DrawScrews = false } });
        var seen = SeenFromAbove(kit, 0.25);
        // A plan of two hundred millimetres by a grid of a quarter: borders pass between its points.
        Assert.Equal(1, kit.Pouring!.Lift!.Under_mm3 / seen, 0.002);
    }

    // Joints that are not level: a leaning bar parted along its sides, and a bracket of two flanges at two heights.
    [Theory]
    [InlineData("[parting]\njoint = \"carved\"\n", true)]
    [InlineData("[parting]\njoint = \"stepped\"\nat = 2.5\nlevels = [{ shape = { rectangle = [80, 80], at = [45.5, 10] }, z = 27.5 }]\n", false)]
    public void A_joint_that_is_not_level_has_the_lift_of_its_bodies_seen_from_above(string parting, bool isBar)
    {
        var obj = isBar ? ObjBodies.RoundBar(8, 80, 48, 1, x => x * Math.Tan(10 * KitCheck.Degree)) : ObjBodies.Bar(20, (-45, 0), (6, 0), (6, 25), (45, 25), (45, 30), (0, 30), (0, 5), (-45, 5));
        var kit = KitCheck.Build(JobFolder.Read(obj, "[[part]]\nmesh = \"part.obj\"\n" + parting + "[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\ncontraction = \"none\"\ndowels = \"none\"\n"));
        Assert.NotNull(kit.Parting.Carved);
        var (c, d) = (kit.Pouring!.Lift!, SeenFromAbove(kit, 0.1));
        Assert.True(Math.Abs((c.Under_mm3 / d) - 1) < 0.002, $"{c} seen {d}");
    }

    private static double SeenFromAbove(Kit kit, double step)
    {
        var level = kit.Parting.PatternHeight_mm + kit.Pouring!.Head_mm.Value;
        var bars = (kit.Gating?.Bars ?? []).Where(b => !b.IsOpen).Select(b => b.Body);
        var roof = new Dictionary<(int, int), double>();
        foreach (var mesh in kit.Bodies.Concat(bars).Select(b => b.InMould))
        {
            foreach (var f in mesh.Facets)
            {
                var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
                var twice = Vec2.Cross(b.Plan - a.Plan, c.Plan - a.Plan);
                if (twice <= 0) continue;
                for (var i = (int)Math.Floor(new[] { a.X, b.X, c.X }.Min() / step) - 1; i * step <= new[] { a.X, b.X, c.X }.Max(); i++)
                {
                    for (var j = (int)Math.Floor(new[] { a.Y, b.Y, c.Y }.Min() / step) - 1; j * step <= new[] { a.Y, b.Y, c.Y }.Max(); j++)
                    {
                        // Off the round numbers that borders lie on.
                        var p = new Vec2((i + 0.317) * step, (j + 0.713) * step);
                        var (u, v) = (Vec2.Cross(b.Plan - p, c.Plan - p) / twice, Vec2.Cross(c.Plan - p, a.Plan - p) / twice);
                        if (u < 0 || v < 0 || u + v > 1) continue;
                        var z = (u * a.Z) + (v * b.Z) + ((1 - u - v) * c.Z);
                        roof[(i, j)] = Math.Max(z, roof.GetValueOrDefault((i, j), double.NegativeInfinity));
                    }
                }
            }
        }

        var foot = kit.Gating is { Bars.IsEmpty: false } g ? g.Reckoning.SprueBase_mm2 * g.Reckoning.SprueBaseHead_mm : 0;
        // Over the foot of an open feeder there is no roof.
        var feet = (kit.Feeding?.Sections ?? []).Where(s => s.Body is not null).Select(s => (At: kit.Scale * s.StandsAt_mm!.Value, Radius: s.Foot_mm!.Value / 2)).ToArray();
        return (roof.Where(r => !feet.Any(f => Vec2.Distance(f.At, new((r.Key.Item1 + 0.317) * step, (r.Key.Item2 + 0.713) * step)) < f.Radius)).Sum(r => level - r.Value) * step * step) - foot;
    }

    // Archimedes' law on what of the core lies in the metal, and the roof over block and core as if both were metal.
    [Fact]
    public void A_lying_core_adds_its_own_lift()
    {
        var bored = Ungated(Of(Block(-30, -20, 30, 20, -20, 20), new Feature("bore", null, [Geometry.Plan.PlanPath.Polygon(new Vec2(-31, 0), new(31, 0), new(31, 8), new(-31, 8))], 0, 1, CutKind.Cored, "job.toml, line 8",
            new(Geometry.Columns.TurnedAxis.X, default))).Bare(2, joint_mm: 0));
        var solid = Ungated(Of(Block(-30, -20, 30, 20, -20, 20)).Bare(2, joint_mm: 0));
        var core = Assert.Single(bored.Cores);
        Assert.Equal(core.Load.Lift_N, bored.Pouring!.Lift!.Cores_N, 1e-12);
        Assert.Equal(CoreForces.Lift_N(core.Load.Displaced_mm3, bored.Pouring.Metal_kg_m3.Value, core.CoreSand_kg_m3.Value), bored.Pouring.Balance!.Cores_N, 1e-9);
        Assert.Equal(solid.Pouring!.Lift!.Under_mm3, bored.Pouring.Lift!.Under_mm3, 0.001 * solid.Pouring.Lift!.Under_mm3);
    }

    internal static Kit Ungated(Job job) => KitCheck.Build(job with { Gating = new(Wanted: false) });
}
