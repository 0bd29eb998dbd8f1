using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Tests;

/// <summary>How a mould fills in the files of a kit, for a boss with a fin that is too long for aluminium.</summary>
public sealed partial class FillingFilesTests
{
    private static readonly Lazy<Kit> Made = new(() => Boss("AlSi7Mg"));

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    [Fact]
    public void Json_has_every_figure_with_its_unit_rule_and_source()
    {
        var filling = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("filling");
        var plan = Made.Value.Filling!;
        Assert.All(FillingLines.Of(plan), l => Assert.Equal(l.Value, filling.GetProperty(l.Key).GetDouble(), 1e-12));
        Assert.All(FillingLines.Of(plan).Select(l => l.Key), k => Assert.Matches("_(mm|mm3|s|C|W_m2K|s_mm2|percent|ratio)$", k));
        var place = filling.GetProperty("places")[0];
        Assert.Equal(["at_mm", "risk", "wall_mm", "way_mm", "arrives_s", "front_ratio", "front_ratio_low", "front_ratio_high", "choked_ratio", "choked_ratio_low", "choked_ratio_high", "head_ratio", "head_ratio_low", "head_ratio_high", "volume_mm3", "remedies", "hottest_clears"], place.EnumerateObject().Select(p => p.Name));
        Assert.Equal(plan.Places[0].Ratios.Front, place.GetProperty("front_ratio").GetDouble());
        Assert.Equal(plan.Places[0].Remedies.Select(r => r.Text), place.GetProperty("remedies").EnumerateArray().Select(r => r.GetProperty("text").GetString()));
        Assert.Equal(["at_mm", "across_mm", "modulus_mm", "freezes_s", "cut_off_s", "pool_mm3", "shrinks_mm3"], filling.GetProperty("hot_spots")[0].EnumerateObject().Select(p => p.Name));
        Assert.Equal(1, filling.GetProperty("ingate_shares").EnumerateArray().Sum(s => s.GetDouble()), 1e-9);
    }

    [Fact]
    public void The_sheet_tells_places_remedies_temperature_hot_spots_and_cautions()
    {
        var text = Encoding.UTF8.GetString(Files.Value["shop-sheet.html"]);
        var sheet = XDocument.Parse(text["<!DOCTYPE html>".Length..].Trim());
        var section = Assert.Single(sheet.Descendants(), e => (string?)e.Attribute("id") == "filling").Parent!;
        var plan = Made.Value.Filling!;
        Assert.All(FillingLines.Of(plan), l => Assert.Contains(l.Label, section.Value, StringComparison.Ordinal));
        Assert.Contains($"Poured at {plan.Pour.Taken_C.Value:0}\u00A0°C", section.Value, StringComparison.Ordinal);
        Assert.Contains("mm there instead of", section.Value.Replace('\u00A0', ' '), StringComparison.Ordinal);
        Assert.All(["no pouring temperature up to 790\u00A0°C", "last of all", "licensed practice", "common practice"], t => Assert.Contains(t, section.Value, StringComparison.Ordinal));
        // A number is parted from its unit by a blank that does not break.
        Assert.DoesNotMatch(BreakingUnit(), string.Concat(section.Descendants().Where(e => e.Name.LocalName == "td" && (string?)e.Attribute("class") == "number").Select(e => e.Value + "|")));
    }

    [Fact]
    public void Of_a_metal_whose_heat_is_not_known_the_sheet_says_so()
    {
        var files = KitFiles.Render(Boss("AlMg7"));
        Assert.Equal(JsonValueKind.Null, JsonDocument.Parse(files.Single(f => f.Name == "kit.json").Content).RootElement.GetProperty("filling").ValueKind);
        Assert.Contains("Not reckoned: latent heat", Encoding.UTF8.GetString(files.Single(f => f.Name == "shop-sheet.html").Content), StringComparison.Ordinal);
    }

    [GeneratedRegex(@"\d (mm|°C|s|mm³)\b")]
    private static partial Regex BreakingUnit();

    private static Kit Boss(string alloy)
    {
        static Feature Block(string name, double x0, double y0, double x1, double y1, double high) =>
            new(name, null, [PlanPath.Polygon(new Vec2(x0, y0), new(x1, y0), new(x1, y1), new(x0, y1))], 0, high, CutKind.None, "job.toml, line 7");
        var job = new Job(
            "cover", "Strainer cover with a fin", LengthUnit.Millimetre, alloy, "oil-bonded",
            [Block("boss", -60, -7, 0, 7, 30), Block("fin", -10, -1.25, 90, 1.25, 12)], new(0), new(), [], [], [], Gating: new(At_mm: new(-30, -20), Ingates: 1));
        return KitBuilder.Build(job, FoundryTables.Default);
    }
}
