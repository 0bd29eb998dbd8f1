using System.Collections.Immutable;

namespace PatternKit.Foundry.Tests;

/// <summary>
/// What every formula has to hold whatever its numbers are, from the laws alone: the power of each quantity in it, which its units ask for (analysis of dimensions); that it grows or falls all the way; and what it does at nothing,
/// at huge sizes and at what is no size.
/// </summary>
public class FormulaLimitTests
{
    private static readonly FoundryTables Tables = FoundryTables.Default;

    private static readonly Quoted Stress = new(5, "", Tables.Mould.BoardStress_MPa.From);

    private static readonly Sourced<double> Once = new(1, "", "");

    private static FeederSize Feeder(double section_mm, double fed_mm3, double shrinkage = 5, double room_mm = 1e15) => FeederSize.OnTop(section_mm, 4 * section_mm, fed_mm3, shrinkage, room_mm, Tables.Feeding)!;

    private static double Network(double head_mm, double wide) =>
        GateNetwork.Solve(head_mm, 200 * wide, 0.8, [.. Enumerable.Repeat(new GateBranch(400 * wide, 20 * Math.Sqrt(wide), 60 * Math.Sqrt(wide), 100 * wide), 3)], 0.03, 0.7).Total_mm3_s;

    // Powers by the laws: Chvorinov (t = B M²), Torricelli (v = √(2gh)) and continuity, hydrostatics (F = ρ g V), Laplace (h = 2γ / ρgd), Darcy and Weisbach, bending of a beam (t = L √(3p / 4σ)), shrinkage by volume (D ~ ∛V).
    private static readonly ImmutableArray<(string Name, Func<double, double> Of, double Power)> Powers =
    [
        ("modulus of a wall", Modulus.Wall, 1),
        ("modulus of a round bar", Modulus.RoundBar, 1),
        ("modulus of a sphere", Modulus.Sphere, 1),
        ("modulus of a bar, all its lengths", x => Modulus.Bar(x, 3 * x), 1),
        ("modulus of a block, all its lengths", x => Modulus.Block(x, 2 * x, 3 * x), 1),
        ("modulus of a cylinder, all its lengths", x => Modulus.Cylinder(x, 2 * x), 1),
        ("modulus of a standing cylinder, all its lengths", x => Modulus.StandingCylinder(x, 2 * x), 1),
        ("freezing time by modulus", x => MouldConstant.Time_s(2, x), 2),
        ("freezing time by mould constant", x => MouldConstant.Time_s(x, 3), 1),
        ("mould constant by heat", x => MouldConstant.Of(x, 500, 0.8, 1600, 1100), 2),
        ("mould constant by excess of temperature", x => MouldConstant.Of(1e9, x, 0.8, 1600, 1100), -2),
        ("mould constant by conductivity", x => MouldConstant.Of(1e9, 500, x, 1600, 1100), -1),
        ("mould constant by density of the sand", x => MouldConstant.Of(1e9, 500, 0.8, x, 1100), -1),
        ("mould constant by heat of the sand", x => MouldConstant.Of(1e9, 500, 0.8, 1600, x), -1),
        ("freezing time of a wall by modulus", x => MouldConstant.Time_s(BodyShape.Plate, x, 1e9, 500, 0.8, 1600, 1100), 2),
        ("speed by head", x => Flow.Speed_mm_s(x), 0.5),
        ("choke by mass", x => Flow.Choke_mm2(x, 7000, 5, 0.8, 100), 1),
        ("choke by density", x => Flow.Choke_mm2(10, x, 5, 0.8, 100), -1),
        ("choke by time", x => Flow.Choke_mm2(10, 7000, x, 0.8, 100), -1),
        ("choke by head", x => Flow.Choke_mm2(10, 7000, 5, 0.8, x), -0.5),
        ("sprue's top by its base", x => Flow.SprueTop_mm2(x, 30, 120), 1),
        ("sprue's top by all heads", x => Flow.SprueTop_mm2(100, 30 * x, 120 * x), 0),
        ("diameter by area", Flow.Diameter_mm, 0.5),
        ("area by diameter", Flow.Circle_mm2, 2),
        ("effective head by all lengths", x => EffectiveHead.Exact(100 * x, 80 * x, 50 * x), 1),
        ("effective head, simple, by all lengths", x => EffectiveHead.Simple(100 * x, 80 * x, 50 * x), 1),
        ("effective head of a cavity by all lengths", x => EffectiveHead.OfCavity(100 * x, [new(0, 20 * x, 300 * x * x), new(20 * x, 60 * x, 50 * x * x)]), 1),
        ("fill time by choke", x => new FillClock(x, 0.8, 100).Time_s([new(0, 50, 1000)]), -1),
        ("fill time by the area of the cavity", x => new FillClock(60, 0.8, 100).Time_s([new(0, 50, x)]), 1),
        ("fill time by all heights", x => new FillClock(60, 0.8, 100 * x).Time_s([new(0, 50 * x, 1000)]), 0.5),
        ("rate of several ingates by head", x => Network(x, 1), 0.5),
        ("rate of several ingates by all widths and ways", x => Network(100, x), 1),
        ("reach by heat", x => MetalStream.Reach_m(x, 0.5, 1000, 0.002, 600), 1),
        ("reach by speed", x => MetalStream.Reach_m(1e9, x, 1000, 0.002, 600), 1),
        ("reach by heat transfer", x => MetalStream.Reach_m(1e9, 0.5, x, 0.002, 600), -1),
        ("reach by modulus", x => MetalStream.Reach_m(1e9, 0.5, 1000, x, 600), 1),
        ("reach by excess of temperature", x => MetalStream.Reach_m(1e9, 0.5, 1000, 0.002, x), -1),
        ("head of a slot by surface tension", x => MetalStream.EntryHead_mm(x, 2400, 3), 1),
        ("head of a slot by density", x => MetalStream.EntryHead_mm(0.9, x, 3), -1),
        ("head of a slot by its width", x => MetalStream.EntryHead_mm(0.9, 2400, x), -1),
        ("height of a front by surface tension", x => MetalStream.FrontHeight_mm(x, 2400), 0.5),
        ("height of a front by density", x => MetalStream.FrontHeight_mm(0.9, x), -0.5),
        ("slope of a stream by speed", x => MetalStream.Slope(0.03, x, 4), 2),
        ("slope of a stream by wall", x => MetalStream.Slope(0.03, 0.5, x), -1),
        ("feeder by modulus", x => Feeder(x, 1).ByModulus_mm, 1),
        ("feeder by volume", x => Feeder(1, x).ByVolume_mm, 1 / 3.0),
        ("what a feeder must hold", x => FeederSize.Needed_mm3(x, 5, 14), 1),
        ("weight by volume", x => CoreForces.Weight_N(x, 7000), 1),
        ("lift of a core by volume", x => CoreForces.Lift_N(x, 7000, 1600), 1),
        ("volume of a core by lift", x => CoreForces.Displaced_mm3(x, 7000, 1600), 1),
        ("pressure of a print by all lengths", x => CoreForces.Pressure_kPa(100, 30 * x, 40 * x, 5 * x), -2),
        ("area that bears by load", x => CoreForces.Area_mm2(x, 25), 1),
        ("lift of the cope by space", x => CopeBalance.PressureLift_N(x, 7000), 1),
        ("lift of the cope by density", x => CopeBalance.PressureLift_N(1e6, x), 1),
        ("side thrust by all lengths", x => JointThrust.Over(x * x, x * x * x, x * x * x * x, x, 7000, Once).Metal_N, 3),
        ("centre of a side thrust by all lengths", x => JointThrust.Over(x * x, x * x * x, x * x * x * x, x, 7000, Once).Centre_mm, 1),
        ("board by span", x => BackingBoard.Of(x, 5, Stress).Thick_mm, 1),
        ("board by load", x => BackingBoard.Of(300, x, Stress).Thick_mm, 0.5),
        ("fillet by both walls", x => Fillets.Corner(Tables.Fillets, x, 2 * x).Value, 1),
        ("pattern by casting", x => Contraction.PatternSize(x, 0.013), 1),
    ];

    // Of those that are no power of the quantity: with what they begin, where they end, and whether they grow.
    private static readonly ImmutableArray<(string Name, Func<double, double> Of, double AtNothing, double AtHuge, bool Grows)> Limits =
    [
        ("a bar that gets wide is a wall", x => Modulus.Bar(10, x), 0, Modulus.Wall(10), true),
        ("a block that gets long is a bar", x => Modulus.Block(10, 20, x), 0, Modulus.Bar(10, 20), true),
        ("a cylinder that gets long is a round bar", x => Modulus.Cylinder(10, x), 0, Modulus.RoundBar(10), true),
        ("a cylinder that gets wide is a wall", x => Modulus.Cylinder(x, 10), 0, Modulus.Wall(10), true),
        ("a standing cylinder that gets long is a round bar", x => Modulus.StandingCylinder(10, x), 0, Modulus.RoundBar(10), true),
        ("a stream that runs far is as cold as the sand", x => MetalStream.Temperature_C(700, 20, x, 1000, 2.7e6, 0.3, 0.002), 700, 20, false),
        ("a gate far below a high basin has all of the head", x => EffectiveHead.Exact(100 + x, 80, 80) / (100 + x), EffectiveHead.Exact(100, 80, 80) / 100, 1, true),
        ("a feeder with ever more room is as slender as it may be", x => -Feeder(5, 1e5, 5, FeederSize.LeastRoom_mm(5, Tables.Feeding) + 1e-3 + x).ByVolume_mm, -Feeder(5, 1e5, 5, FeederSize.LeastRoom_mm(5, Tables.Feeding) + 1e-3).ByVolume_mm, -Feeder(5, 1e5).ByVolume_mm, true),
        ("a wall that tapers over no length stays as thick", x => FeedingTaper.Root_mm(8, x, 1e15, 1.1), 8, double.PositiveInfinity, true),
        ("rapping", x => Rapping.For(Tables.Rapping, x).Value, double.NaN, double.NaN, true),
        ("draft", x => DraftRule.For(Tables.Draft, x, false, PatternSkin.Sanded).Value, double.NaN, double.NaN, false),
        ("least fillet", x => Fillets.Least(Tables.Fillets, x).Value, Tables.Fillets.Least_mm.Value, double.PositiveInfinity, true),
        ("print that stands", x => PrintRules.Standing(x, false, Tables.Cores).Value, 0, Tables.Cores.Standing.Longest_mm, true),
    ];

    [Fact]
    public void Every_quantity_has_the_power_that_its_law_gives_it() => Assert.All(Powers, f =>
    {
        foreach (var x in new[] { 0.37, 5.1, 83.0 })
        {
            foreach (var times in new[] { 1.5, 8.0, 1000.0 })
            {
                var (one, other) = (f.Of(x), f.Of(times * x));
                Assert.True(one > 0, f.Name);
                Assert.True(Math.Abs((other / one / Math.Pow(times, f.Power)) - 1) < 1e-6, $"{f.Name}: {one} {other}");
            }
        }
    });

    [Fact]
    public void Formulas_grow_or_fall_all_the_way_and_end_where_they_have_to() => Assert.All(Limits, f =>
    {
        double[] values = [.. Enumerable.Range(-24, 49).Select(i => f.Of(Math.Pow(10, i / 6.0)))];
        Assert.All(values.Zip(values.Skip(1)), p => Assert.True(f.Grows ? p.Second >= p.First - (1e-12 * Math.Abs(p.First)) : p.Second <= p.First + (1e-12 * Math.Abs(p.First)), $"{f.Name}: {p}"));
        if (!double.IsNaN(f.AtNothing)) Assert.True(Math.Abs(f.Of(1e-9) - f.AtNothing) <= 1e-6 * Math.Max(1e-2, Math.Abs(f.AtNothing)), $"{f.Name}: {f.Of(1e-9)}");
        if (double.IsFinite(f.AtHuge)) Assert.True(Math.Abs(f.Of(1e9) - f.AtHuge) <= 1e-6 * Math.Abs(f.AtHuge), $"{f.Name}: {f.Of(1e9)}");
        else if (!double.IsNaN(f.AtHuge)) Assert.True(f.Of(1e9) > 1e8 || f.Of(1e9) > f.AtNothing, f.Name);
    });

    // Nothing is nothing, or there is no answer and it says so; a huge size gives a finite number; what is below nothing, or no number, is never answered.
    [Fact]
    public void At_nothing_at_huge_sizes_and_at_what_is_no_size_no_formula_gives_nonsense() => Assert.All(Powers, f =>
    {
        Assert.True(Refused(() => f.Of(0)) || (f.Power >= 0 && f.Of(0) == 0), f.Name);
        Assert.True(double.IsFinite(f.Of(1e9)) && f.Of(1e9) > 0, f.Name);
        if (f.Power == 0) return;
        foreach (var none in new[] { -1, double.NaN, double.NegativeInfinity })
            Assert.True(Refused(() => f.Of(none)), $"{f.Name}: {none}");
    });

    private static bool Refused(Func<double> of)
    {
        try
        {
            of();
            return false;
        }
        catch (ArgumentOutOfRangeException)
        {
            return true;
        }
    }
}
