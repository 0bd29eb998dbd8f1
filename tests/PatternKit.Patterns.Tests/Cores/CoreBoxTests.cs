using CsCheck;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Cores;

/// <summary>Boxes of cores of any steps and tapers, by arithmetic on their meshes.</summary>
public sealed class CoreBoxTests
{
    private static readonly Gen<PlannedCore> AnyCore = Gen.Select(
        Gen.Double[2, 15].Array[1, 4], Gen.Double[3, 30], Gen.Double[5, 40], Gen.Double[0, 12], Gen.Int[0, 2], Gen.Bool, Gen.Int[-400, 400]).Select(
        (radii, step, length, taper, axis, both, at) =>
        {
            var hollow = PlanRegion.Union(radii.Select((r, i) => RoundProfile.Frustum(i * step, r, (i + 1) * step, r)));
            CorePrint Print(bool high) => new(high, high ? radii.Length * step : 0, Math.Min(length, radii[high ? ^1 : 0] * 3), radii[high ? ^1 : 0], taper * KitCheck.Degree, new(length, "", ""));
            return new PlannedCore("bore", [0], new((TurnedAxis)axis, new(at / 3.0, at / 7.0, at / 11.0)), hollow, both ? [Print(false), Print(true)] : [Print(at > 0)], 0.4, 0.6, new(0.4, "", ""), 5 * KitCheck.Degree, 2 * KitCheck.Degree)
            {
                Within = axis == 2 || at % 3 == 0 ? null : at % 3 > 0 ? MouldHalf.Cope : MouldHalf.Drag,
            };
        });

    [Fact]
    public void The_box_of_any_core_holds_it_exactly_and_draws() => AnyCore.Sample(core =>
    {
        var (body, box) = CoreBoxBuilder.Build(core, "core-1", new(-50, 200, 3.3), FoundryTables.Default, new(0.005));
        KitBody[] all = [body, .. box.Halves];
        foreach (var b in all)
        {
            KitCheck.Valid(b.InMould, b.Name);
            KitCheck.InSinglePrecision(b);
        }

        var kit = new KitCore(1, "bore", [core.Axis], body, box, core.Prints, [], 0.4, 0.6, new(0, 0, 0, [], 0, 0), new(25, "", ""), FoundryTables.Default.Cores.CoreSand_kg_m3, new(3, "", ""));
        CoreCheck.Holds(kit);
        CoreCheck.Drafted(kit);
        // Frusta and cylinders, by their profile; shoulders and closed ends get the draft of the box on top.
        var volume = core.Share * core.Profile.Volume_mm3;
        Assert.Equal(core.Within is not null, box.IsDumped);
        Assert.InRange(body.InMould.Volume(), volume * 0.998, volume * 1.3);
        // Walls all round, and the dowels stand clear of the cavity.
        var wall = FoundryTables.Default.Cores.BoxWall_mm.Value;
        var (plan, cavity) = (box.Plan.Geometry.EnvelopeInternal, body.AsPrinted.Bounds());
        Assert.True(plan.Height / 2 >= (cavity.High.Y - cavity.Low.Y) / 2 + wall - 0.01);
        Assert.InRange(Math.Max(plan.MaxX - cavity.High.X, cavity.Low.X - plan.MinX), wall - 0.01, wall + 0.6);
        Assert.Equal(wall, box.Depth_mm - core.Profile.Largest, 0.01);
        if (box.IsDumped)
        {
            // Half a core lies flat in the joint, on its own side of it, and takes the box's one block.
            Assert.Empty(box.Dowels);
            Assert.Equal(0, cavity.Low.Z);
            var (z, joint) = (body.InMould.Bounds(), core.Axis.At.Z);
            Assert.Equal(joint, core.Within == MouldHalf.Drag ? z.High.Z : z.Low.Z, 1e-3);
            return;
        }

        Assert.NotEqual(box.Dowels[0].Diameter_mm, box.Dowels[1].Diameter_mm);
        Assert.All(box.Dowels, d => Assert.True(Math.Abs(d.At_mm.Y) - (d.Hole_mm / 2) > cavity.High.Y + 1));
    }, iter: 40);

    [Fact]
    public void A_profile_knows_its_radius_and_volume_by_frusta()
    {
        // A cone of 30 mm on a cylinder of 10 mm: π/3 · 36 · 30 and π · 36 · 10; its centre is a quarter of its height over its base.
        var profile = new RoundProfile(RoundProfile.Frustum(0, 6, 10, 6).Union(PlanRegion.Polygon([new(10, 0), new(40, 0), new(10, 6)])));
        Assert.Equal(Math.PI * 36 * 20, profile.Volume_mm3, 1e-6);
        Assert.Equal(((5 * 10) + (17.5 * 10)) / 20, profile.Centre, 1e-9);
        Assert.Equal((6.0, 3.0, 0.0), (profile.Radius(5), profile.Radius(25), profile.Radius(41)));
        Assert.Equal([(0.0, 25.0)], profile.Thicker(3));
    }
}
