using System.Text.Json;
using System.Xml;
using System.Xml.Linq;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>What the whole program leaves in the folder of a kit.</summary>
public sealed class KitFileTests(MadeKits kits)
{
    // The keys that the contract of the design names.
    private static readonly string[] Keys =
    [
        "version", "inputs", "part.volume_mm3", "parting.height_mm", "parting.ledge_mm", "volume_bridge.part_mm3", "volume_bridge.stock_mm3",
        "volume_bridge.contraction_mm3", "volume_bridge.filled_mm3", "volume_bridge.draft_mm3", "volume_bridge.fillet_mm3",
        "volume_bridge.round_mm3", "volume_bridge.pattern_mm3", "bodies", "findings", "metal.casting_kg", "metal.pour_kg",
    ];

    private static readonly string[] BodyKeys = ["name", "file", "volume_mm3", "box_mm", "triangles", "transform", "min_draft_deg"];

    private static readonly string[] FindingKeys = ["code", "severity", "message", "at_mm", "value", "limit", "source", "remedy"];

    internal static JsonElement Json(Made made) => JsonDocument.Parse(File.ReadAllText(Path.Combine(made.Kit, "kit.json"))).RootElement;

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void A_template_is_made_with_0_and_nothing_on_stderr(string template)
    {
        var made = kits.Of(template);
        Assert.Equal((0, ""), (made.First.Code, made.First.Error));
        Assert.Equal((0, ""), (made.Second.Code, made.Second.Error));
        Assert.Equal(0, MadeKits.Do("check", made.Job).Code);
    }

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void Made_again_every_file_has_the_same_bytes(string template)
    {
        var made = kits.Of(template);
        var names = made.Files("*").Select(f => Path.GetFileName(f)!).ToArray();
        Assert.Equal(names, Directory.GetFiles(made.Again).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        Assert.All(names, n => Assert.True(
            File.ReadAllBytes(Path.Combine(made.Kit, n)).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(made.Again, n))), $"{n} differs"));
    }

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void Kit_json_has_the_keys_of_the_contract(string template)
    {
        var json = Json(kits.Of(template));
        Assert.All(Keys, key => Has(json, key));
        Assert.Equal(1, json.GetProperty("version").GetInt32());
        Assert.All(json.GetProperty("inputs").EnumerateArray(), i => Assert.Matches("^[0-9a-f]{64}$", i.GetProperty("sha256").GetString()!));
        Assert.NotEqual(0, json.GetProperty("bodies").GetArrayLength());
        Assert.All(json.GetProperty("bodies").EnumerateArray(), b => Assert.All(BodyKeys, key => Has(b, key)));
        Assert.All(json.GetProperty("findings").EnumerateArray(), f => Assert.All(FindingKeys, key => Has(f, key)));
        Assert.InRange(Math.Abs(json.GetProperty("volume_bridge").GetProperty("gap").GetDouble()), 0, 1e-4);
        Assert.True(json.GetProperty("metal").GetProperty("casting_kg").GetDouble() > 0);
    }

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void The_shop_sheet_is_well_formed_and_fetches_nothing(string template)
    {
        var text = File.ReadAllText(Path.Combine(kits.Of(template).Kit, "shop-sheet.html"));
        using var reader = XmlReader.Create(new StringReader(text), new() { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null });
        var sheet = XDocument.Load(reader);
        Assert.Equal("html", sheet.Root!.Name.LocalName);
        var fetched = sheet.Descendants().Where(e => e.Name.LocalName is "script" or "link" or "iframe" || e.Attribute("src") is { } s && !s.Value.StartsWith("data:", StringComparison.Ordinal));
        Assert.Empty(fetched);
    }

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void Nothing_but_the_kit_is_left_behind(string template)
    {
        var made = kits.Of(template);
        Assert.Equal([template], Directory.GetFileSystemEntries(Path.GetDirectoryName(made.Kit)!).Select(f => Path.GetFileName(f)));
        Assert.All(made.Files("*"), f => Assert.True(new FileInfo(f).Length > 0, f));
    }

    [Fact]
    public void A_job_that_cannot_be_read_ends_with_2_and_leaves_nothing()
    {
        using var run = new CliRun();
        var bad = run.Put("pump/job.toml", CliRun.Job.Replace("circle = 40", "circel = 40", StringComparison.Ordinal));
        var answer = MadeKits.Do("make", bad, "--out", run.Path("kits"));
        Assert.Equal(2, answer.Code);
        Assert.Contains("circle", answer.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(run.Path("kits")));
    }

    [Fact]
    public void A_hazardous_alloy_ends_with_1_and_writes_nothing_until_forced()
    {
        using var run = new CliRun();
        var hazardous = Foundry.FoundryTables.Default.Alloys.First(a => a.Hazardous).Key;
        var job = run.Put("pump/job.toml", CliRun.Job.Replace("AlSi7Mg", hazardous, StringComparison.Ordinal));
        var answer = MadeKits.Do("make", job, "--out", run.Path("kits"));
        Assert.Equal(1, answer.Code);
        Assert.Contains("hazardous-alloy", answer.Out, StringComparison.Ordinal);
        Assert.False(Directory.Exists(run.Path("kits")));
        Assert.Equal(0, MadeKits.Do("make", job, "--out", run.Path("kits"), "--force").Code);
        Assert.True(File.Exists(run.Path("kits", "pump", "cope.stl")));
    }

    [Fact]
    public void A_place_that_cannot_be_written_ends_with_3()
    {
        using var run = new CliRun();
        var (job, file) = (run.Put("pump/job.toml", CliRun.Job), run.Put("taken", "a file"));
        Assert.Equal(3, MadeKits.Do("make", job, "--out", Path.Combine(file, "kits")).Code);
    }

    private static void Has(JsonElement json, string path)
    {
        foreach (var key in path.Split('.'))
            Assert.True(json.ValueKind == JsonValueKind.Object && json.TryGetProperty(key, out json), $"kit.json has no {path}");
    }
}
