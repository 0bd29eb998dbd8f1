using System.Text;
using System.Text.Json;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>Different parts in one mould, in the files of its kit: the base of the pump's lever with two washers beside it.</summary>
public sealed class MixedFilesTests
{
    private static readonly Lazy<Kit> Made = new(() =>
    {
        static Job Of(string name, string title, PlanPath outline, double high) => new(
            name, title, LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded", [new(name, null, [outline], 0, high, CutKind.None, "job.toml, line 7")], new(0), new(), [], [], []);
        var washer = Of("washer", "Washer of the lever", PlanPath.Circle(default, 60), 12);
        return KitBuilder.Build(Of("base", "Base of the lever", PlanPath.Polygon(new Vec2(-40, -25), new(40, -25), new(40, 25), new(-40, 25)), 20) with { Others = [new(washer, 2, [], 0, "job.toml, line 20")] }, FoundryTables.Default);
    });

    private static readonly Lazy<Dictionary<string, byte[]>> Files = new(() => KitFiles.Render(Made.Value).ToDictionary(f => f.Name, f => f.Content));

    [Fact]
    public void Kit_json_says_what_lies_where_what_it_weighs_and_by_which_ingates_it_is_filled()
    {
        var mould = JsonDocument.Parse(Files.Value["kit.json"]).RootElement.GetProperty("impressions");
        Assert.Equal(3, mould.GetProperty("count").GetInt32());
        Assert.Equal([("base", 1), ("washer", 2)], mould.GetProperty("parts").EnumerateArray().Select(p => (p.GetProperty("name").GetString()!, p.GetProperty("count").GetInt32())));
        var castings = mould.GetProperty("castings").EnumerateArray().ToArray();
        Assert.Equal(["C1", "C2", "C3"], castings.Select(c => c.GetProperty("name").GetString()));
        Assert.Equal(["base", "washer", "washer"], castings.Select(c => c.GetProperty("part").GetString()));
        // Every ingate fills one of them, and all the metal goes through them.
        var gates = castings.SelectMany(c => c.GetProperty("ingates").EnumerateArray()).ToArray();
        Assert.Equal(Enumerable.Range(1, gates.Length), gates.Select(g => g.GetProperty("number").GetInt32()).Order());
        Assert.Equal(100, gates.Sum(g => g.GetProperty("share_percent").GetDouble()), 1e-6);
        Assert.All(castings, c => Assert.True(c.GetProperty("full_s").GetDouble() > 0));
        var parts = mould.GetProperty("parts").EnumerateArray().Sum(p => p.GetProperty("count").GetInt32() * p.GetProperty("each_kg").GetDouble());
        Assert.Equal(Made.Value.Metal.Casting_kg, parts, 1e-9);
    }

    [Fact]
    public void The_sheet_lists_the_castings_and_plan_and_layout_name_each()
    {
        var sheet = Encoding.UTF8.GetString(Files.Value["shop-sheet.html"]);
        Assert.Contains("Castings of the mould", sheet, StringComparison.Ordinal);
        Assert.Contains("Washer of the lever", sheet, StringComparison.Ordinal);
        Assert.Contains("Ingate 3, section", sheet, StringComparison.Ordinal);
        Assert.All(new[] { "C1 base", "C2 washer", "C3 washer" }, name => Assert.Contains(name, sheet, StringComparison.Ordinal));
        var layout = Encoding.UTF8.GetString(Files.Value["layout.dxf"]);
        Assert.All(new[] { "C1 base", "C2 washer", "C3 washer" }, name => Assert.Contains(name, layout, StringComparison.Ordinal));
    }
}
