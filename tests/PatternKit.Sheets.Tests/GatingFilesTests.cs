using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Tests;

/// <summary>The gating in the files of a kit, for a plate of the pump house.</summary>
public sealed class GatingFilesTests
{
    private static readonly Lazy<Kit> Made = new(() => Plate(null));

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    [Fact]
    public void Every_bar_has_a_mesh_file_and_stands_in_the_assembly_by_its_name()
    {
        string[] names = ["cope", "sprue", "runner", "ingate-1"];
        Assert.All(names, n => Assert.Contains(n + ".stl", Files.Value.Keys));
        Assert.Equal(names, ThreeMfReader.Read(Files.Value["kit.3mf"], "kit.3mf").Value.Select(b => b.Name));
    }

    [Fact]
    public void The_layout_shows_each_bar_on_its_layer_with_the_area_of_its_outline()
    {
        var curves = DxfReader.Read(Files.Value["layout.dxf"], "layout.dxf").Value.Curves;
        foreach (var (layer, kind) in new[] { ("SPRUE", BarKind.Sprue), ("RUNNER", BarKind.Runner), ("INGATE", BarKind.Ingate) })
        {
            var curve = Assert.Single(curves, c => c.Layer == layer);
            var plan = Made.Value.Gating!.Bars.Single(b => b.Kind == kind).Plan;
            Assert.Equal(1, Math.Abs(curve.Path.SignedArea()) / plan.Area, 1e-3);
        }
    }

    [Fact]
    public void Templates_hold_the_sections_to_cut_by()
    {
        var curves = DxfReader.Read(Files.Value["templates.dxf"], "templates.dxf").Value.Curves;
        var r = Made.Value.Gating!.Reckoning;
        // Foot, top and rim of the sprue; runner and well; the ingate.
        Assert.Equal((3, 2, 1), (curves.Count(c => c.Layer == "SPRUE"), curves.Count(c => c.Layer == "RUNNER"), curves.Count(c => c.Layer == "INGATE")));
        Assert.Equal(r.Ingate.Value.Area_mm2, Math.Abs(curves.Single(c => c.Layer == "INGATE").Path.SignedArea()), 0.02 * r.Ingate.Value.Area_mm2);
    }

    [Fact]
    public void Json_has_every_figure_with_its_unit_rules_with_sources_and_measured_sections()
    {
        var gating = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("gating");
        var r = Made.Value.Gating!.Reckoning;
        Assert.Equal(r.Choke_mm2.Value, gating.GetProperty("choke_mm2").GetDouble());
        Assert.Equal(r.PourTime_s.Value, gating.GetProperty("pour_time_s").GetDouble());
        Assert.Equal(r.EffectiveHead_mm.Value, gating.GetProperty("effective_head_mm").GetDouble());
        Assert.Equal([1, 4, 4], gating.GetProperty("ratio_by_rule").EnumerateArray().Select(v => v.GetDouble()));
        Assert.All(GatingLines.Of(Made.Value.Gating!), l => Assert.True(gating.TryGetProperty(l.Key, out _), l.Key));
        // Metal that runs: litres a second through the choke at C √(2gH) fill the casting in the time told.
        var speed = r.Discharge.Value * Math.Sqrt(2 * 9810 * gating.GetProperty("effective_head_mm").GetDouble());
        var volume = gating.GetProperty("through_kg").GetDouble() / (r.LiquidDensity_kg_m3.Value * 1e-9);
        Assert.Equal(volume / (speed * gating.GetProperty("choke_mm2").GetDouble()), gating.GetProperty("fill_time_s").GetDouble(), 1e-9);
        Assert.All(gating.GetProperty("rules").EnumerateArray(), rule => Assert.NotEmpty(rule.GetProperty("rule").GetString()!));
        Assert.All(gating.GetProperty("bars").EnumerateArray().SelectMany(b => b.GetProperty("sections").EnumerateArray()), s =>
            Assert.Equal(1, s.GetProperty("measured_mm2").GetDouble() / s.GetProperty("reckoned_mm2").GetDouble(), 0.02));
        var bodies = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("bodies").EnumerateArray().Select(b => b.GetProperty("file").GetString());
        Assert.Equal(["cope.stl", "sprue.stl", "runner.stl", "ingate-1.stl"], bodies);
    }

    [Fact]
    public void The_sheet_tells_the_reckoning_the_bars_and_the_cautions()
    {
        var text = Encoding.UTF8.GetString(Files.Value["shop-sheet.html"]);
        var sheet = XDocument.Parse(text["<!DOCTYPE html>".Length..].Trim());
        var section = Assert.Single(sheet.Descendants(), e => (string?)e.Attribute("id") == "gating").Parent!;
        Assert.All(GatingLines.Of(Made.Value.Gating!), l => Assert.Contains(l.Label, section.Value, StringComparison.Ordinal));
        Assert.Contains("common practice", section.Value, StringComparison.Ordinal);
        Assert.Contains("licensed practice", section.Value, StringComparison.Ordinal);
        Assert.Contains("runner.stl", section.Value, StringComparison.Ordinal);
    }

    // Sizes of the bar are those of its STL file. The rings of a section, scaled back, have the area that kit.json tells.
    [Theory]
    [InlineData("sprue")]
    [InlineData("runner")]
    [InlineData("ingate-1")]
    public void Each_bar_has_a_drawing_with_its_sizes_and_the_sections_that_were_reckoned(string name)
    {
        XNamespace drawn = "http://www.w3.org/2000/svg";
        var svg = XElement.Parse(Encoding.UTF8.GetString(Files.Value[$"drawing-{name}.svg"]).Split("?>")[1]);
        var told = svg.Descendants(drawn + "g").Where(g => (string?)g.Attribute("class") == "dimension")
            .Select(g => double.Parse(g.Descendants(drawn + "text").Single().Value.TrimStart('⌀', '\u00A0').Split('\u00A0')[0], System.Globalization.CultureInfo.InvariantCulture)).ToList();
        var size = StlReader.Read(Files.Value[name + ".stl"], name).Value.Bounds().Size;
        Assert.All([size.X, size.Y, size.Z], s => Assert.Contains(told, t => Math.Abs(t - s) < 0.006));
        var sections = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("gating").GetProperty("bars").EnumerateArray().Single(b => b.GetProperty("name").GetString() == name).GetProperty("sections").EnumerateArray().ToArray();
        var cuts = svg.Elements(drawn + "path").Where(p => (string?)p.Attribute("class") == "cope-cut").ToArray();
        Assert.Equal(sections.Length, cuts.Length);
        for (var i = 0; i < cuts.Length; i++)
        {
            var letter = (char)('A' + i);
            // At both ends of the plane, and over the section.
            Assert.Equal(2, svg.Descendants(drawn + "text").Count(t => t.Value == letter.ToString()));
            var head = svg.Descendants(drawn + "text").SkipWhile(t => t.Value != $"{letter}–{letter}").Take(3).Select(t => t.Value).ToArray();
            Assert.StartsWith(sections[i].GetProperty("name").GetString()![..12], head[1], StringComparison.Ordinal);
            var ratio = head[2].Split(", ")[1].Split(':').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
            var ring = ((string)cuts[i].Attribute("d")!).TrimStart('M').TrimEnd('Z').Split('L').Select(p => p.Split(' ').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture) * ratio[1] / ratio[0]).ToArray()).ToArray();
            var area = Math.Abs(ring.Select((p, k) => (p[0] * ring[(k + 1) % ring.Length][1]) - (p[1] * ring[(k + 1) % ring.Length][0])).Sum()) / 2;
            Assert.Equal(1, area / sections[i].GetProperty("measured_mm2").GetDouble(), 0.003);
            Assert.Contains(told, t => Math.Abs(t - sections[i].GetProperty("width_mm").GetDouble()) < 0.006);
        }
    }

    [Fact]
    public void Bars_that_are_alike_are_drawn_once()
    {
        var bars = Made.Value.Gating!.Bars;
        var again = bars[^1] with { Body = bars[^1].Body with { Name = "ingate-2" } };
        Assert.Equal(["sprue", "runner", "ingate-1 ingate-2"], Plans.BarDrawing.Distinct([.. bars, again]).Select(g => string.Join(' ', g.Select(b => b.Body.Name))));
    }

    [Fact]
    public void Without_gating_the_kit_has_no_bars_and_says_so()
    {
        var files = KitFiles.Render(Plate(new(Wanted: false)));
        Assert.DoesNotContain(files, f => f.Name == "sprue.stl");
        Assert.Equal(JsonValueKind.Null, JsonDocument.Parse(files.Single(f => f.Name == "kit.json").Content).RootElement.GetProperty("gating").ValueKind);
        Assert.Contains("wants no gating", Encoding.UTF8.GetString(files.Single(f => f.Name == "shop-sheet.html").Content), StringComparison.Ordinal);
    }

    private static Kit Plate(GatingSettings? gating)
    {
        var outline = PlanPath.Polygon(new Vec2(0, 0), new(120, 0), new(120, 60), new(0, 60));
        var job = new Job(
            "plate", "Plate of the pump house", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
            [new("plate", null, [outline], 0, 12, CutKind.None, "job.toml, line 7")], new(0), new(), [], [], [], Gating: gating);
        return KitBuilder.Build(job, FoundryTables.Default);
    }
}
