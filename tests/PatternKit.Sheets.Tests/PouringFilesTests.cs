using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Tests;

/// <summary>Forces, flask, melt, vents and the wait in the files of a kit, for a cover plate of the pump house.</summary>
public sealed class PouringFilesTests
{
    private const string Shop = """
        [[flask]]
        name = "oak, twelve by ten"
        length_mm = 305
        width_mm = 254
        cope_mm = 90
        drag_mm = 90
        cope_kg = 2.5
        [[crucible]]
        name = "A4"
        aluminium_kg = 1.8

        """;

    private static readonly Lazy<Kit> Made = new(() => Plate(Shop));

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    private static JsonElement Pouring => JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("pouring");

    private static PourPlan Plan => Made.Value.Pouring!;

    [Theory]
    [InlineData(0.5)]
    [InlineData(5)]
    public void The_section_of_the_mould_has_weights_where_the_cope_needs_them(double metal_N)
    {
        var pour = Plan with { Balance = new(metal_N, 0, 2, 0, new(1.5, "", "")) };
        var svg = Plans.MouldSection.Draw(Made.Value, pour, new(LengthUnit.Millimetre))!;
        var told = svg.Descendants().Where(e => e.Name.LocalName == "text").Select(t => t.Value).Where(t => t.StartsWith("weights", StringComparison.Ordinal)).ToArray();
        // 1.5 times 5 N less 2 N, over the standard fall of 9.80665 m/s².
        Assert.Equal(metal_N > 1 ? ["weights 0.561\u00A0kg"] : [], told);
    }

    [Fact]
    public void Json_has_every_figure_of_the_sheet_with_its_rule_by_the_same_key()
    {
        foreach (var (group, lines) in Groups())
        {
            var json = Pouring.GetProperty(group);
            foreach (var line in lines)
            {
                var value = json.GetProperty(line.Key);
                if (double.IsNaN(line.Value)) Assert.Equal(JsonValueKind.Null, value.ValueKind);
                else Assert.Equal(line.Value, value.GetDouble());
            }

            Assert.Equal(lines.Where(l => l.Rule.Length > 0).Select(l => l.Key), json.GetProperty("rules").EnumerateArray().Select(r => r.GetProperty("key").GetString()));
        }

        Assert.Equal(["forces", "flask", "melt", "vents", "shake_out"], Pouring.EnumerateObject().Select(p => p.Name));
        Assert.Equal("oak, twelve by ten", Pouring.GetProperty("flask").GetProperty("owned").GetString());
        Assert.Equal("A4", Pouring.GetProperty("melt").GetProperty("crucible").GetString());
    }

    // The balance by hand from what the file says: lift, sand and flask add up, and the weights bring 1.5 times the lift.
    [Fact]
    public void The_forces_of_the_file_add_up()
    {
        double F(string key) => Pouring.GetProperty("forces").GetProperty(key).GetDouble();
        Assert.Equal(F("casting_N") + F("bars_N") + F("covered_N") + F("cores_N"), F("lift_N"), 1e-9);
        Assert.Equal(2.5 * 9.81, F("flask_N"), 1e-9);
        Assert.Equal(Math.Max(0, F("lift_N") - F("sand_N") - F("flask_N")), F("net_N"), 1e-9);
        Assert.Equal(Math.Max(0, (F("hold_factor") * F("lift_N")) - F("sand_N") - F("flask_N")), F("added_N"), 1e-9);
        Assert.Equal(F("added_N") / 9.81, F("weights_kg"), 1e-9);
    }

    [Fact]
    public void The_layout_has_the_inside_of_the_flask_and_a_circle_for_every_vent()
    {
        var curves = DxfReader.Read(Files.Value["layout.dxf"], "layout.dxf").Value.Curves;
        Assert.Equal(305 * 254, Math.Abs(Assert.Single(curves, c => c.Layer == "FLASK").Path.SignedArea()), 0.1);
        var vents = curves.Where(c => c.Layer == "VENT").ToArray();
        Assert.Equal(Plan.Vents.Vents.Length, vents.Length);
        Assert.All(vents, v => Assert.Equal(Flow.Circle_mm2(Plan.Vents.Wire_mm.Value), Math.Abs(v.Path.SignedArea()), 1e-6));
    }

    [Fact]
    public void The_sheet_has_a_section_for_each_with_every_line_and_the_cautions_at_their_step()
    {
        var sheet = Sheet(Files.Value["shop-sheet.html"]);
        foreach (var (id, lines) in new[] { ("forces", PourLines.Forces(Plan)), ("flask", PourLines.Flask(Plan)), ("melt", PourLines.Melt(Plan)), ("vents", PourLines.Vents(Plan)), ("shake-out", PourLines.ShakeOut(Plan)) })
        {
            var section = Assert.Single(sheet.Descendants(), e => (string?)e.Attribute("id") == id).Parent!;
            Assert.All(lines, l => Assert.Contains(l.Label, section.Value, StringComparison.Ordinal));
        }

        string Of(string id) => sheet.Descendants().Single(e => (string?)e.Attribute("id") == id).Parent!.Value;
        Assert.Contains("until the casting, its sprue and its basin are solid", Of("forces"), StringComparison.Ordinal);
        Assert.Contains("Never quench", Of("shake-out"), StringComparison.Ordinal);
        Assert.Contains("licensed practice", Of("forces"), StringComparison.Ordinal);
        Assert.Contains("[HSE", Of("cautions"), StringComparison.Ordinal);
        Assert.Contains(Plan.Vents.Vents.Length > 0 ? "V1" : "", Of("vents"), StringComparison.Ordinal);
    }

    [Fact]
    public void Sizes_have_spread_stock_mate_and_a_line_to_learn_from()
    {
        var measure = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("measures")[0];
        Assert.Equal(["name", "nominal_mm", "pattern_mm", "as_cast_mm", "tolerance_mm", "least_mm", "most_mm", "source", "spread_mm", "spread_rule", "spread_source", "rapping_mm", "left_mm", "stock_mm", "fit"], measure.EnumerateObject().Select(p => p.Name));
        var m = Made.Value.Measures[0];
        Assert.Equal(m.Fit!.AsCast_mm, measure.GetProperty("fit").GetProperty("as_cast_mm").GetDouble());
        var section = Sheet(Files.Value["shop-sheet.html"]).Descendants().Single(e => (string?)e.Attribute("id") == "dimensions").Parent!.Value;
        Assert.Contains(FormattableString.Invariant($"pattern_mm = {m.Pattern_mm:0.00}, rapping_mm = {m.Rapping_mm:0.00}"), section, StringComparison.Ordinal);
        Assert.Contains("goes over", section, StringComparison.Ordinal);
    }

    [Fact]
    public void A_kit_without_metal_to_pour_says_nothing_of_it()
    {
        var kit = SampleKits.Frusta();
        Assert.Null(kit.Pouring);
        Assert.DoesNotContain("id=\"forces\"", Encoding.UTF8.GetString(KitFiles.Render(kit).Single(f => f.Name == "shop-sheet.html").Content), StringComparison.Ordinal);
    }

    [Fact]
    public void A_mould_on_edge_has_its_thrust_its_clamps_and_its_run_out_on_sheet_and_in_json()
    {
        var kit = KitBuilder.Build(Made.Value.Job with { Gating = new() { OnEdge = true } }, FoundryTables.Default);
        var files = KitFiles.Render(kit).ToDictionary(f => f.Name, f => f.Content);
        var json = JsonDocument.Parse(files["kit.json"]).RootElement;
        var forces = json.GetProperty("pouring").GetProperty("forces");
        Assert.Equal(kit.Pouring!.Thrust!.Metal_N, forces.GetProperty("thrust_N").GetDouble());
        Assert.Equal(kit.Pouring.Thrust.Clamps_N, forces.GetProperty("clamps_N").GetDouble());
        Assert.False(forces.TryGetProperty("lift_N", out _));
        Assert.Equal(("on edge", "+x"), (json.GetProperty("gating").GetProperty("pour").GetString(), json.GetProperty("gating").GetProperty("up").GetString()));
        var sheet = Sheet(files["shop-sheet.html"]);
        string Of(string id) => sheet.Descendants().Single(e => (string?)e.Attribute("id") == id).Parent!.Value;
        Assert.All(PourLines.Forces(kit.Pouring), l => Assert.Contains(l.Label, Of("forces"), StringComparison.Ordinal));
        Assert.All(["stiff boards", "clamp", "runs out at its joint", "licensed practice"], t => Assert.Contains(t, Of("forces"), StringComparison.Ordinal));
        Assert.DoesNotContain("weights across the edges", Of("forces"), StringComparison.Ordinal);
        Assert.Contains("stands on edge, +x up", Of("gating"), StringComparison.Ordinal);
        Assert.DoesNotContain("draw it out of the top of the cope", Of("gating"), StringComparison.Ordinal);
        Assert.Contains("above the ingates", Of("gating"), StringComparison.Ordinal);
        Assert.Contains("scratch", Of("vents"), StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("straight down", Of("vents"), StringComparison.Ordinal);
        // The sprue lies on the joint, and is a bar to print as the others.
        Assert.Contains("sprue.stl", files.Keys);
    }

    // A heavy boss on a plate that stands on edge: its feeder is cut by hand on the joint, and whoever cuts it has to see where.
    [Fact]
    public void What_is_cut_by_hand_stands_in_plan_and_layout_and_json()
    {
        PlanPath plate = PlanPath.Polygon(new Vec2(0, 0), new(120, 0), new(120, 80), new(0, 80)), boss = PlanPath.Circle(new(60, 40), 50);
        var kit = KitBuilder.Build(
            Made.Value.Job with
            {
                Features = [new("plate", null, [plate], 0, 10, CutKind.None, "job.toml, line 7"), new("boss", null, [boss], 0, 45, CutKind.None, "job.toml, line 12")],
                Measures = [],
                Gating = new() { OnEdge = true },
            }, FoundryTables.Default);
        var cut = Assert.Single(kit.Feeding!.Sections).CutOnJoint;
        Assert.True(cut.Area > 0);
        var files = KitFiles.Render(kit).ToDictionary(f => f.Name, f => f.Content);
        var corners = JsonDocument.Parse(files["kit.json"]).RootElement.GetProperty("feeding").GetProperty("sections")[0].GetProperty("cut_on_joint_mm").EnumerateArray()
            .Select(p => new Vec2(p.GetProperty("x").GetDouble(), p.GetProperty("y").GetDouble())).ToArray();
        Assert.Equal(cut.Rings()[0], corners);
        Assert.Contains(">F1<", Encoding.UTF8.GetString(files["drawing-mould.svg"]), StringComparison.Ordinal);
        Assert.Contains("FEEDER", Encoding.UTF8.GetString(files["layout.dxf"]), StringComparison.Ordinal);
        Assert.Contains("F1: ", Encoding.UTF8.GetString(files["shop-sheet.html"]), StringComparison.Ordinal);
    }

    private static IEnumerable<(string Group, ReckonedLine[] Lines)> Groups() =>
    [
        ("forces", [.. PourLines.Forces(Plan)]), ("flask", [.. PourLines.Flask(Plan)]), ("melt", [.. PourLines.Melt(Plan)]), ("vents", [.. PourLines.Vents(Plan)]),
        ("shake_out", [.. PourLines.ShakeOut(Plan)]),
    ];

    private static XDocument Sheet(byte[] html) => XDocument.Parse(Encoding.UTF8.GetString(html)["<!DOCTYPE html>".Length..].Trim());

    private static Kit Plate(string shop)
    {
        var outline = PlanPath.Polygon(new Vec2(0, 0), new(120, 0), new(120, 60), new(0, 60));
        var job = new Job(
            "plate", "Cover plate of the pump house", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
            [new("plate", null, [outline], 0, 12, CutKind.None, "job.toml, line 7")], new(0), new(),
            [new("length", 120, new(0, 30, 6), new(120, 30, 6)) { Mate_mm = 122, Clearance_mm = 0.2 }], [], []);
        return KitBuilder.Build(job, FoundryTables.Default.With(shop, "shop.toml"));
    }
}
