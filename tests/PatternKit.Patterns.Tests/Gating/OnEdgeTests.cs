using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Gating;

/// <summary>Moulds that stand on edge while they are poured: heads, filling, thrust, bars, vents and flask, against hydrostatics and Torricelli's law.</summary>
public class OnEdgeTests
{
    private static Job Plate(GatingSettings gating) => Jobs.Of(Jobs.Block(0, 0, 160, 70, 0, 12)) with { Gating = gating };

    private static Kit OnEdge(Vec2? up = null) => KitCheck.Build(Plate(new() { OnEdge = true, Up = up }));

    [Fact]
    public void The_longer_side_stands_upright_and_the_cup_is_over_it()
    {
        var kit = OnEdge();
        var g = kit.Gating!;
        Assert.True(g.Position.IsOnEdge);
        Assert.Equal(new GridUp(0), g.Position.Up);
        var box = kit.Bodies.Single().InMould.Bounds();
        Assert.Equal(box.Size.X, g.Reckoning.Input.Height_mm, 1e-6);
        Assert.Equal(box.Size.X, g.Reckoning.Input.AboveJoint_mm, 0.01);
        // 40 mm of sand above castings up to 5 kg.
        Assert.Equal(box.Size.X + 40, g.Reckoning.Head_mm.Value, 0.01);
        Assert.Equal(box.High.X + 40, g.Level_mm, 0.01);
        Assert.Equal(box.Low.X, g.Enters_mm.Single().X, 0.1);
    }

    [Theory]
    [InlineData(0, 30, false)]
    [InlineData(130, 160, true)]
    public void The_end_with_the_higher_metal_lies_down(double from, double to, bool reversed)
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 160, 30, 0, 12), Jobs.Block(from, 0, to, 30, 0, 30, name: "boss")) with { Gating = new() { OnEdge = true } });
        Assert.Equal(new GridUp(0, reversed), kit.Gating!.Position.Up);
    }

    // A plate on edge is a prism filled from below: √H is the mean of √h and √(h − c). (Torricelli's law, integrated)
    [Fact]
    public void The_effective_head_of_a_plate_on_edge_is_that_of_a_prism_from_below_and_so_is_its_fill_time()
    {
        var kit = OnEdge();
        var r = kit.Gating!.Reckoning;
        var exact = EffectiveHead.Exact(r.Head_mm.Value, r.Input.Height_mm, r.Input.Height_mm);
        Assert.Equal(exact, r.EffectiveHead_mm.Value, 0.005 * exact);
        Assert.Equal(r.FillTime_s, kit.Filling!.FillTime_s, 0.01 * kit.Filling.FillTime_s);
        Assert.Equal(kit.Bridge.Pattern_mm3, r.Fills_mm3, 0.01 * r.Fills_mm3);
        // The farthest place is the other end.
        Assert.InRange(kit.Filling.FarthestWay_mm, 155, 200);
    }

    // Flat and on edge the same choke takes longer where the head is lower.
    [Fact]
    public void On_edge_the_head_is_larger_and_the_choke_smaller()
    {
        var (flat, edge) = (KitCheck.Build(Plate(new())).Gating!.Reckoning, OnEdge().Gating!.Reckoning);
        Assert.True(edge.EffectiveHead_mm.Value > 1.5 * flat.EffectiveHead_mm.Value);
        Assert.True(edge.Choke_mm2.Value < flat.Choke_mm2.Value);
        // Where the time for both is the same, choke times root of the head is the same. (continuity)
        Assert.Equal(flat.ChokeByTime_mm2.Value * Math.Sqrt(flat.EffectiveHead_mm.Value), edge.ChokeByTime_mm2.Value * Math.Sqrt(edge.EffectiveHead_mm.Value), 1e-6 * flat.ChokeByTime_mm2.Value * 100);
    }

    // Thrust on a plane figure: ρ g A (depth of its centroid), acting at ∫h²dA / ∫h dA. (hydrostatics, any textbook) The figure is summed here over fine strips of the plans as seen.
    [Fact]
    public void The_thrust_is_the_pressure_over_casting_and_bars_at_the_joint()
    {
        var kit = OnEdge();
        var (g, p) = (kit.Gating!, kit.Pouring!);
        var wetted = PlanRegion.Union([kit.Plan.CopeOutline, .. g.Bars.Select(b => b.Plan)]);
        double first = 0, second = 0;
        var box = wetted.Geometry.EnvelopeInternal;
        const int Strips = 800;
        var step = box.Width / Strips;
        for (var i = 0; i < Strips; i++)
        {
            var x = box.MinX + ((i + 0.5) * step);
            var area = wetted.Intersection(PlanRegion.Rectangle(new(x - (step / 2), box.MinY - 1), new(x + (step / 2), box.MaxY + 1))).Area;
            first += area * (g.Level_mm - x);
            second += area * (g.Level_mm - x) * (g.Level_mm - x);
        }

        Assert.Null(p.Lift);
        Assert.Null(p.Balance);
        Assert.Equal(first * 1e-9 * p.Metal_kg_m3.Value * 9.81, p.Thrust!.Metal_N, 1e-3 * p.Thrust.Metal_N);
        Assert.Equal(second / first, p.Thrust.Centre_mm, 0.05);
        Assert.Equal((g.Level_mm - box.MinX) * 1e-3 * p.Metal_kg_m3.Value * 9.81 / 1000, p.Thrust.Deepest_kPa, 1e-6);
        Assert.Equal(1.5 * p.Thrust.Metal_N, p.Thrust.Clamps_N, 1e-9);
        var finding = Assert.Single(kit.Findings, f => f.Code == "side-thrust");
        Assert.Contains("clamp", finding.Remedy, StringComparison.Ordinal);
        Assert.Contains("runs out", finding.Message, StringComparison.Ordinal);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "cope-lift");
        // Beam on two supports across the flask, 1.5 times the pressure of the lowest place over all of it. (law of bending)
        var board = p.Board!;
        Assert.Equal(p.Flask.Inside.Y_mm, board.Span_mm, 1e-9);
        Assert.Equal(1.5 * p.Thrust.Deepest_kPa, board.Load_kPa, 1e-9);
        Assert.Equal(board.Stress_MPa.Value, board.Load_kPa / 1000 * board.Span_mm * board.Span_mm / 8 / (board.Thick_mm * board.Thick_mm / 6), 1e-9);
        Assert.Contains(FormattableString.Invariant($"{Math.Ceiling(board.Thick_mm):0} mm thick"), finding.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, 0)]
    [InlineData(-1, 0)]
    [InlineData(0, 1)]
    [InlineData(0, -1)]
    public void Bars_lie_on_the_joint_sprue_beside_the_casting_runner_below_it(double x, double y)
    {
        var up = new Vec2(x, y);
        var kit = OnEdge(up);
        var g = kit.Gating!;
        Assert.Equal(up, g.Position.Up.Direction.Plan);
        Assert.Equal(["sprue", "runner", "ingate-1"], g.Bars.Select(b => b.Body.Name));
        var casting = kit.Plan.CopeOutline;
        foreach (var bar in g.Bars)
        {
            KitCheck.Valid(bar.Body.InMould, bar.Body.Name);
            KitCheck.Valid(bar.Body.AsPrinted, bar.Body.Name);
            Assert.False(bar.IsOpen);
            // All on the joint.
            var z = bar.Body.InMould.Bounds();
            Assert.Equal(g.Joint_mm, bar.Body.Half == MouldHalf.Cope ? z.Low.Z : z.High.Z, 1e-4);
            Assert.True(bar.Plan.Intersection(casting).Area < 1e-6, $"{bar.Body.Name} lies over the casting");
            Assert.NotEmpty(bar.Cuts);
            foreach (var cut in bar.Cuts) Assert.True(Math.Abs((cut.Region.Area / cut.Reckoned_mm2) - 1) <= 0.02, $"{bar.Body.Name}, {cut.Name}: {cut.Region.Area} mm² for {cut.Reckoned_mm2} mm²");
        }

        var (sprue, runner, ingate) = (g.Bars[0], g.Bars[1], g.Bars[2]);
        double High(PlanRegion r) => r.Rings().SelectMany(p => p).Max(p => Vec2.Dot(p, up));
        double Low(PlanRegion r) => -r.Rings().SelectMany(p => p).Max(p => Vec2.Dot(p, -up));
        // The cup is at the level of the metal, draft apart; the runner below the casting by the sand between, the ingate from one to the other.
        Assert.Equal(g.Level_mm, High(sprue.Plan), 1.0);
        Assert.True(High(runner.Plan) <= Low(casting) - g.Clearance_mm.Value + 0.1);
        Assert.True(ingate.Plan.Geometry.Distance(casting.Geometry) < 0.5 && ingate.Plan.Intersection(runner.Plan).Area > 100);
        Assert.True(sprue.Plan.Geometry.Distance(casting.Geometry) >= g.Clearance_mm.Value - 6, $"{sprue.Plan.Geometry.Distance(casting.Geometry)}");
        Assert.True(sprue.Plan.Intersection(runner.Plan).Area > g.Reckoning.SprueBase_mm2 / 2);
        Assert.NotEqual(sprue.Body.Half, runner.Body.Half);
        Assert.Equal(sprue.Body.Half, ingate.Body.Half);
    }

    [Fact]
    public void The_flask_ends_at_the_level_of_the_metal_and_leaves_sand_on_the_other_sides()
    {
        var kit = OnEdge();
        var (g, f) = (kit.Gating!, kit.Pouring!.Flask);
        var box = PlanRegion.Union([kit.Plan.CopeOutline, .. g.Bars.Select(b => b.Plan)]).Geometry.EnvelopeInternal;
        var inside = f.Plan.Geometry.EnvelopeInternal;
        Assert.Equal(Math.Max(g.Level_mm, box.MaxX), inside.MaxX, 1.0);
        Assert.Equal(box.MinX - f.Wall_mm.Value, inside.MinX, 1.0);
        Assert.Equal(box.MinY - f.Wall_mm.Value, inside.MinY, 1.0);
        Assert.Equal(box.MaxY + f.Wall_mm.Value, inside.MaxY, 1.0);
        // The casting is 12 mm thick: the cope need not hold the head.
        Assert.True(f.Cope_mm < 60, $"{f.Cope_mm}");
    }

    // Two posts of unlike height on a foot: air is caught at the top of both and nowhere else.
    [Fact]
    public void Vents_go_from_the_high_places_of_the_outline_to_the_edge()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 160, 40, 0, 12), Jobs.Block(10, 30, 40, 120, 0, 12), Jobs.Block(120, 30, 150, 90, 0, 12)) with
        { Gating = new() { OnEdge = true, Up = new(0, 1) } });
        var vents = kit.Pouring!.Vents.Pricked;
        Assert.Equal(2, vents.Length);
        var scale = kit.Scale;
        Assert.Equal([120 * scale, 90 * scale], vents.Select(v => v.At_mm.Y).ToArray(), (a, b) => Math.Abs(a - b) < 1.5);
        Assert.Equal([25 * scale, 135 * scale], vents.Select(v => v.At_mm.X).ToArray(), (a, b) => Math.Abs(a - b) < 1.5);
        Assert.All(vents, v => Assert.Equal(kit.Gating!.Level_mm - v.At_mm.Y - kit.Pouring.Vents.Short_mm.Value, v.Depth_mm, 1e-6));
    }

    [Fact]
    public void A_place_asked_for_lies_down_and_both_ends_lie_on_the_long_side()
    {
        var near = KitCheck.Build(Plate(new(At_mm: new(160, 20)) { OnEdge = true }));
        Assert.Equal(new GridUp(0, true), near.Gating!.Position.Up);
        Assert.Equal(20 * near.Scale, near.Gating.Enters_mm.Single().Y, 12.0);
        var both = KitCheck.Build(Plate(new() { OnEdge = true, Where = GatedAt.BothEnds }));
        Assert.Equal(1, both.Gating!.Position.Up.Axis);
        Assert.Equal(2, both.Gating.Enters_mm.Length);
        Assert.True(both.Gating.Enters_mm.Max(p => p.X) - both.Gating.Enters_mm.Min(p => p.X) > 100);
        Assert.Equal(1, both.Filling!.Shares.Sum(), 1e-9);
        Assert.Equal(2, both.Gating.Bars.Count(b => b.Kind == BarKind.Ingate));
    }

    [Fact]
    public void From_the_bottom_the_head_counts_from_there_and_no_bars_are_made_where_the_joint_is_higher()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 120, 60, -20, 12)) with { Parting = new(0), Gating = new() { Where = GatedAt.Bottom } };
        var (bottom, joint) = (KitCheck.Build(job), KitCheck.Build(job with { Gating = new() }));
        var (r, j) = (bottom.Gating!.Reckoning, joint.Gating!.Reckoning);
        Assert.Equal(r.Input.Height_mm, r.Input.AboveJoint_mm, 1e-9);
        Assert.Empty(bottom.Gating.Bars);
        Assert.Contains(bottom.Findings, f => f.Code == "no-bars");
        // All of the metal rises against a lower mean head than where half of it falls under the full one.
        Assert.True(r.EffectiveHead_mm.Value / r.Head_mm.Value < j.EffectiveHead_mm.Value / j.Head_mm.Value);
        // Where the drag is empty the joint is the bottom.
        var plate = KitCheck.Build(Plate(new() { Where = GatedAt.Bottom }));
        Assert.Equal(KitCheck.Build(Plate(new())).Gating!.Bars.Select(b => b.Body.InMould.Vertices.Length), plate.Gating!.Bars.Select(b => b.Body.InMould.Vertices.Length));
    }

    [Fact]
    public void A_head_below_the_top_of_a_casting_on_edge_is_refused() =>
        Assert.Contains("over the ingates", Assert.Throws<InputException>(() => KitCheck.Build(Plate(new(Head_mm: 120) { OnEdge = true }))).Message, StringComparison.Ordinal);

    // A heavy boss asks for a feeder; it is reckoned, and not stood on a face that stands upright.
    [Fact]
    public void No_feeder_stands_on_a_cope_that_is_upright()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 10), Jobs.Round(60, 40, 50, 0, 45, name: "boss"));
        Assert.Contains(KitCheck.Build(job).Feeding!.Sections, s => s.Fate == Patterns.Feeding.FeedingFate.Fed);
        var edge = KitCheck.Build(job with { Gating = new() { OnEdge = true } });
        Assert.Empty(edge.Feeding!.Bodies);
        var section = Assert.Single(edge.Feeding.Sections, s => s.Fate == Patterns.Feeding.FeedingFate.ByHand);
        Assert.NotNull(section.Size);
        // Cut by hand, as high as the metal in the cup: it is in the melt and in the choke like any other.
        var held = Assert.Single(section.Holds);
        Assert.Equal(edge.Gating!.Level_mm, held.High_mm, 1e-9);
        var kg = Math.PI / 4 * section.Size.Diameter_mm * section.Size.Diameter_mm * (held.High_mm - held.Low_mm) * 1e-9 * FoundryTables.Default.Alloy(job.Alloy).Density_kg_m3.Value;
        Assert.Equal(kg, edge.Gating.Reckoning.Feeders_kg, 1e-9);
        Assert.Equal(edge.Metal.Casting_kg + kg + (edge.Gating.Bars.Sum(b => b.Body.AsPrinted.Volume()) * 1e-9 * FoundryTables.Default.Alloy(job.Alloy).Density_kg_m3.Value), edge.Metal.Pour_kg, 1e-9);
        Assert.Contains(edge.Findings, f => f.Code == "shrinkage" && f.Message.Contains("on edge", StringComparison.Ordinal));
        // It lies on the joint over its section, clear of the bars, and its metal presses the halves apart too: ρ g ∫ h dA over all that is wet (hydrostatics), of which it is more than a hundredth here.
        Assert.Equal(section.Size.Diameter_mm * (held.High_mm - held.Low_mm), section.CutOnJoint.Area, 1e-6);
        Assert.All(edge.Gating.Bars, b => Assert.True(b.Plan.Intersection(section.CutOnJoint).IsEmpty));
        var others = PlanRegion.Union([edge.Plan.CopeOutline, edge.Plan.DragOutline, .. edge.Gating.Bars.Where(b => !b.IsOpen).Select(b => b.Plan)]);
        Assert.Equal(Thrust_N(others.Union(section.CutOnJoint)), edge.Pouring!.Thrust!.Metal_N, 1e-3 * edge.Pouring.Thrust.Metal_N);
        Assert.True(Thrust_N(others) < 0.99 * edge.Pouring.Thrust.Metal_N);

        double Thrust_N(PlanRegion wet)
        {
            var m = PlanMoments.Of(wet, edge.Gating!.Position.Up.Direction.Plan);
            return ((edge.Gating.Level_mm * m.Area) - m.First) * 1e-9 * edge.Pouring!.Metal_kg_m3.Value * 9.81;
        }
    }

    [Fact]
    public void A_mould_that_lies_flat_is_as_it_was()
    {
        var kit = KitCheck.Build(Plate(new()));
        Assert.False(kit.Gating!.Position.IsOnEdge);
        Assert.Equal(kit.Gating.Joint_mm, kit.Gating.Position.Gate_mm);
        Assert.Null(kit.Pouring!.Thrust);
        Assert.NotNull(kit.Pouring.Lift);
    }
}
