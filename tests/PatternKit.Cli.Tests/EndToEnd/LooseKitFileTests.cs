using System.Globalization;
using System.Text.Json;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>The rod guide with its loose pieces: every STL file against ADMesh (Debian package admesh), and what program, sheet and kit.json say of them.</summary>
public sealed class LooseKitFileTests(MadeKits kits)
{
    [Theory]
    [InlineData("cope")]
    [InlineData("loose-oil-boss")]
    [InlineData("loose-stop")]
    public void Admesh_finds_nothing_to_repair(string name)
    {
        var made = kits.Of("rod-guide");
        var text = ExternalTool.Output("admesh", "admesh", ["--version"], Path.Combine(made.Kit, name + ".stl"));
        foreach (var defect in new[] { "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added", "Facets reversed", "Backwards edges", "Normals fixed" })
            Assert.True(Figure(text, defect) == 0, $"{name}: {defect}\n{text}");
        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(made.Kit, "kit.json")));
        var body = json.RootElement.GetProperty("bodies").EnumerateArray().Single(b => b.GetProperty("name").GetString() == name);
        Assert.Equal(1, Figure(text, "Number of parts"));
        Assert.Equal(1, Figure(text, "Volume") / body.GetProperty("volume_mm3").GetDouble(), 1e-4);
        Assert.Equal(0, Figure(text, "Min Z"), 1e-5);
    }

    [Fact]
    public void Check_says_that_the_pieces_draw_and_the_sheet_how()
    {
        var made = kits.Of("rod-guide");
        var check = MadeKits.Do("check", made.Job);
        Assert.Equal(0, check.Code);
        Assert.Equal(2, check.Out.Split("loose-piece:").Length - 1);
        Assert.DoesNotContain("loose-blocked", check.Out, StringComparison.Ordinal);
        using var json = JsonDocument.Parse(File.ReadAllText(Path.Combine(made.Kit, "kit.json")));
        var loose = json.RootElement.GetProperty("loose").EnumerateArray().ToArray();
        Assert.Equal(["oil boss", "stop"], loose.Select(l => l.GetProperty("name").GetString()));
        Assert.All(loose, l => Assert.True(l.GetProperty("free_mm").GetDouble() > l.GetProperty("travel_mm").GetDouble()));
        Assert.Equal((JsonValueKind.Object, JsonValueKind.Null), (loose[0].GetProperty("dovetail").ValueKind, loose[0].GetProperty("pins").ValueKind));
        var sheet = File.ReadAllText(Path.Combine(made.Kit, "shop-sheet.html"));
        // Ram, pull the pin, draw the pattern, then each piece sideways and out, in this order.
        var order = new[] { "into its slot from above", "the sand stands halfway", "Rap lightly to all sides", "Draw “oil boss” sideways", "Draw “stop” sideways", "Mend broken edges" }.Select(w => sheet.IndexOf(w, StringComparison.Ordinal)).ToArray();
        Assert.All(order, i => Assert.True(i > 0));
        Assert.Equal(order.Order(), order);
    }

    private static double Figure(string text, string name)
    {
        var rest = text[(text.IndexOf(name, StringComparison.Ordinal) + name.Length)..].TrimStart(' ', ':', '=');
        return double.Parse(new string([.. rest.TakeWhile(c => char.IsAsciiDigit(c) || c is '.' or '-')]), CultureInfo.InvariantCulture);
    }
}
