using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Several castings in one mould: each is what one alone would be, and each has its own ingate.</summary>
public sealed class ImpressionTests
{
    private static readonly Job Part = Jobs.Of(Jobs.Block(-40, -15, 40, 15, 0, 12), Jobs.Round(10, 0, 24, 0, 22)) with { Pattern = new(DrawScrews: false), Measures = [new("length", 80, new(-40, 10, 3), new(40, 10, 3))] };

    [Fact]
    public void Two_castings_are_twice_one_each_at_its_place()
    {
        var one = KitCheck.Build(Part);
        var two = KitCheck.Build(Part with { Impressions = new(2, [new(-3, 4), new(-3, 84)], "job.toml, line 4") });
        KitCheck.Sound(two);
        Assert.Equal(one.Scale, two.Scale);
        Assert.Equal(one.PartBox_mm, two.PartBox_mm);
        Assert.Equal(2, two.CastingCount);
        Assert.Equal(one.Metal.Casting_kg, two.EachCasting_kg, 1e-5 * one.Metal.Casting_kg);
        Assert.Equal(Assert.Single(one.Measures).Pattern_mm!.Value, Assert.Single(two.Measures).Pattern_mm!.Value, 1e-3);
        Assert.DoesNotContain(two.Findings, f => f.Code == "separate-pieces");
        // Level sections are those of one, at both places.
        foreach (var z in new[] { 2.0, 8, 11, 18 })
        {
            var alone = one.Cope().Section(one.Parting.PatternHeight_mm + z);
            var both = two.Cope().Section(two.Parting.PatternHeight_mm + z);
            var laid = PlanRegion.Union(new[] { new Vec2(-3, 4), new Vec2(-3, 84) }.Select(at => alone.Transformed(1, 0, one.Scale * at)));
            Assert.True(both.Difference(laid.Offset(0.02, 0.005)).IsEmpty && laid.Difference(both.Offset(0.02, 0.005)).IsEmpty, $"at {z} mm: {both.Area} for {laid.Area} mm²");
        }
    }

    [Fact]
    public void One_runner_passes_all_of_them_and_each_has_an_ingate_before_its_middle()
    {
        var kit = KitCheck.Build(Part with { Impressions = new(3, [new(0, 0), new(0, 70), new(0, 140)], "job.toml, line 4") });
        var gating = kit.Gating!;
        var ingates = gating.Bars.Where(b => b.Kind == BarKind.Ingate).ToArray();
        Assert.Equal(3, ingates.Length);
        Assert.Equal(3, gating.Count.Value);
        Assert.Single(gating.Bars, b => b.Kind == BarKind.Runner);
        // On one side of the row, square to it, before the middles.
        Assert.All(gating.Enters_mm, p => Assert.Equal(gating.Enters_mm[0].X, p.X, 0.2));
        Assert.Equal([0.0, 70, 140], gating.Enters_mm.Select(p => p.Y / kit.Scale).Order(), (a, b) => Math.Abs(a - b) < 12);
        Assert.Equal(3 * kit.EachCasting_kg, gating.Reckoning.Input.Casting_kg, 1e-9);
    }

    [Fact]
    public void By_rule_they_stand_with_the_sand_between_that_the_table_asks_for_in_no_larger_flask_than_in_a_row()
    {
        Kit Made(params Vec2[] at) => KitCheck.Build(Part with { Impressions = new(2, [.. at], "job.toml, line 4") });
        static double Flask_mm2(Kit kit) => kit.Pouring!.Flask.Inside.X_mm * kit.Pouring.Flask.Inside.Y_mm;
        var kit = Made();
        Assert.Equal(default, kit.Impressions_mm[0]);
        Assert.All(kit.Impressions_mm, p => Assert.Equal((Math.Round(p.X), Math.Round(p.Y)), (p.X, p.Y)));
        var pieces = kit.Plan.CopeOutline.Pieces().ToArray();
        Assert.Equal(2, pieces.Length);
        // plates.toml: 30 mm up to 5 kg.
        Assert.True(pieces[0].Geometry.Distance(pieces[1].Geometry) >= 30);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "impressions-near");
        // Side by side and end to end, to the next whole millimetre.
        Assert.True(Flask_mm2(kit) <= Math.Min(Flask_mm2(Made(default, new(0, 61))), Flask_mm2(Made(default, new(111, 0)))), $"{Flask_mm2(kit)} mm²");
    }

    [Fact]
    public void The_runner_goes_along_cores_that_lie_so_that_no_print_is_before_the_gates()
    {
        var bore = new Feature("bore", null, [PlanPath.Polygon(new(-41, 0), new(41, 0), new(41, 6), new(-41, 6))], -6, 6, CutKind.Cored, "job.toml, line 9", new(TurnedAxis.X, default));
        var job = Jobs.Of(Jobs.Block(-40, -15, 40, 15, -12, 12), bore) with { Parting = new(0), Impressions = new(2, [], "job.toml, line 4") };
        var kit = KitCheck.Build(job);
        var runner = Assert.Single(kit.Gating!.Bars, b => b.Kind == BarKind.Runner).Plan.Geometry.EnvelopeInternal;
        Assert.True(runner.Width > runner.Height);
        var core = Assert.Single(kit.Cores);
        Assert.Equal(2, core.Count);
        Assert.DoesNotContain(kit.Findings, f => f.Code is "bar-meets-print" or "impressions-near" or "undercut");
        Assert.Equal(2, kit.Gating!.Bars.Count(b => b.Kind == BarKind.Ingate));
    }

    [Fact]
    public void Sand_too_thin_between_two_is_told_with_the_gap()
    {
        var kit = KitCheck.Build(Part with { Impressions = new(2, [new(0, 0), new(0, 45)], "job.toml, line 4") });
        var near = Assert.Single(kit.Findings, f => f.Code == "impressions-near");
        Assert.Equal(Severity.Warn, near.Severity);
        var pieces = kit.Plan.CopeOutline.Pieces().ToArray();
        Assert.Equal(pieces[0].Geometry.Distance(pieces[1].Geometry), near.Value!.Value, 1e-6);
        Assert.Equal(30.0, near.Limit);
        // Half way between both.
        Assert.Equal(22.5, near.At_mm!.Value.Y, 1.0);
    }

    [Fact]
    public void One_place_alone_has_no_neighbour()
    {
        var kit = KitCheck.Build(Part with { Impressions = new(1, [new(5, 7)], "job.toml, line 4") });
        Assert.Equal(1, kit.CastingCount);
        Assert.Equal(kit.Metal.Casting_kg, kit.EachCasting_kg);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "impressions-near");
    }

    [Fact]
    public void What_runs_together_by_draft_alone_stops()
    {
        var kit = KitCheck.Build(Part with { Impressions = new(2, [new(0, 0), new(0, 30.1)], "job.toml, line 4"), Gating = new(Wanted: false) });
        Assert.Equal(Severity.Stop, Assert.Single(kit.Findings, f => f.Code == "impressions-near").Severity);
    }

    [Fact]
    public void Places_that_overlap_are_refused_at_the_line_of_the_key()
    {
        var refused = Assert.Throws<InputException>(() => KitCheck.Build(Part with { Impressions = new(2, [new(0, 0), new(0, 29)], "job.toml, line 4") }));
        Assert.Contains("line 4", refused.Message, StringComparison.Ordinal);
        Assert.Contains("overlap", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Castings_behind_one_another_have_no_common_runner_and_are_refused_unless_gated_by_hand()
    {
        // Two rows may have the runner between them; of three, one stands behind another whichever way.
        var square = Part with { Impressions = new(9, [.. Enumerable.Range(0, 9).Select(i => new Vec2(120 * (i % 3), 70 * (i / 3)))], "job.toml, line 4") };
        Assert.Contains("one stands behind another", Assert.Throws<InputException>(() => KitCheck.Build(square)).Message, StringComparison.Ordinal);
        KitCheck.Sound(KitCheck.Build(square with { Gating = new(Wanted: false) }));
    }

    // The ends of both cores of the template stand in the faces of the finished part, with stock on their walls.
    [Fact]
    public void The_valve_bodies_have_two_kinds_of_cores_twice_each_in_one_match_plate()
    {
        var kit = KitCheck.Build(KitCheck.Template("pump-body"));
        Assert.Equal([2, 2], kit.Cores.Select(c => c.Count));
        Assert.True(kit.Plate!.IsBackToBack);
        Assert.DoesNotContain(kit.Findings, f => f.Severity >= Severity.Warn);
        Assert.All(kit.AllBodies, b => KitCheck.Valid(b.AsPrinted, b.Name));
        Assert.True(Math.Abs(kit.Bridge.Gap) <= 1e-4, $"{kit.Bridge.Gap:R}");
        Assert.Equal(2, kit.Gating!.Bars.Count(b => b.Kind == BarKind.Ingate));
    }
}
