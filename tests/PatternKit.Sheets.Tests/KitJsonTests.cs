using System.Text;
using System.Text.Json;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Json;

namespace PatternKit.Sheets.Tests;

/// <summary>Keys are those of the contract; values are those of the kit.</summary>
public sealed class KitJsonTests
{
    private readonly Kit _kit = SampleKits.Frusta();
    private readonly JsonElement _json;

    public KitJsonTests() => _json = JsonDocument.Parse(KitJson.Write(_kit)).RootElement;

    [Fact]
    public void The_top_has_the_keys_of_the_contract_in_order() =>
        Assert.Equal(
            ["version", "name", "title", "revision", "unit", "inputs", "alloy", "alloy_title", "sand", "part", "pattern", "scale", "parting", "volume_bridge", "bodies",
             "cut_bodies", "dowels", "handling", "decisions", "measures", "findings", "metal", "gating", "filling", "feeding", "pouring", "plate", "follow_board", "cores", "loose", "coupon", "notes", "cautions"],
            _json.EnumerateObject().Select(p => p.Name));

    [Fact]
    public void The_figures_are_those_of_the_kit()
    {
        Assert.Equal(1, _json.GetProperty("version").GetInt32());
        Assert.Equal(91234.567, Number("part", "volume_mm3"));
        Assert.Equal(7.25, Number("parting", "height_mm"));
        Assert.Equal(7.34, Number("parting", "pattern_height_mm"));
        Assert.Equal([6.5, 8.125], _json.GetProperty("parting").GetProperty("interval_mm").EnumerateArray().Select(v => v.GetDouble()));
        Assert.Equal(0.35, Number("parting", "ledge_mm"));
        Assert.Equal(4321.5, Number("parting", "cost_mm3"));
        Assert.Equal(0.2775, Number("metal", "casting_kg"));
        Assert.Equal(0.3125, Number("metal", "pour_kg"));
        Assert.Equal(2680, Number("metal", "density_kg_m3"));
        Assert.Equal([-39, -39, -9, 39, 39, 19], _json.GetProperty("part").GetProperty("box_mm").EnumerateArray().SelectMany(p => p.EnumerateArray()).Select(v => v.GetDouble()));
    }

    [Fact]
    public void The_bridge_has_every_term_and_adds_up()
    {
        var bridge = _json.GetProperty("volume_bridge");
        string[] terms = ["part_mm3", "stock_mm3", "filled_mm3", "contraction_mm3", "rapping_mm3", "prints_mm3", "loose_mm3", "draft_mm3", "fillet_mm3", "round_mm3", "pockets_mm3"];
        Assert.Equal([.. terms, "sum_mm3", "pattern_mm3", "gap"], bridge.EnumerateObject().Select(p => p.Name));
        var sum = terms.Sum(t => bridge.GetProperty(t).GetDouble());
        Assert.Equal(_kit.Bridge.Sum_mm3, sum, 1e-9);
        Assert.Equal((sum - 103543.21) / 103543.21, bridge.GetProperty("gap").GetDouble(), 1e-12);
    }

    [Fact]
    public void A_body_has_the_closed_form_volume_of_its_frustum_and_the_box_of_its_file()
    {
        var cope = _json.GetProperty("bodies")[0];
        Assert.Equal(["name", "file", "volume_mm3", "box_mm", "triangles", "transform", "min_draft_deg"], cope.EnumerateObject().Select(p => p.Name));
        Assert.Equal("cope.stl", cope.GetProperty("file").GetString());
        // h/3 (A1 + A2 + √(A1 A2)), the area of a regular 48-gon being 24 r² sin 7.5°.
        var area = 24 * Math.Sin(Math.PI / 24);
        Assert.Equal(20.0 / 3 * area * ((40 * 40) + (38 * 38) + (40 * 38)), cope.GetProperty("volume_mm3").GetDouble(), 1e-6);
        Assert.Equal(4 * 48 - 4, cope.GetProperty("triangles").GetInt32());
        Assert.Equal([0, 20], cope.GetProperty("box_mm").EnumerateArray().Select(p => p[2].GetDouble()));
        Assert.Equal(1.4987, cope.GetProperty("min_draft_deg").GetDouble(), 1e-12);
    }

    [Fact]
    public void The_transform_leads_from_the_mould_to_the_print()
    {
        var drag = _kit.Bodies[1];
        var rows = _json.GetProperty("bodies")[1].GetProperty("transform").EnumerateArray().Select(r => r.EnumerateArray().Select(v => v.GetDouble()).ToArray()).ToArray();
        Assert.Equal([4, 4, 4], rows.Select(r => r.Length));
        var (from, to) = (drag.InMould.Vertices[7], drag.AsPrinted.Vertices[7]);
        var got = rows.Select(r => (r[0] * from.X) + (r[1] * from.Y) + (r[2] * from.Z) + r[3]).ToArray();
        Assert.True(((to - new Vec3(got[0], got[1], got[2])).Length) < 1e-12);
    }

    [Fact]
    public void A_finding_has_all_keys_and_null_for_what_it_lacks()
    {
        var findings = _json.GetProperty("findings").EnumerateArray().ToList();
        Assert.All(findings, f => Assert.Equal(["code", "severity", "message", "at_mm", "value", "limit", "unit", "source", "remedy"], f.EnumerateObject().Select(p => p.Name)));
        Assert.Equal([12.5, -7.75, 3.25], findings[0].GetProperty("at_mm").EnumerateArray().Select(v => v.GetDouble()));
        Assert.Equal("stop", findings[1].GetProperty("severity").GetString());
        Assert.Equal(JsonValueKind.Null, findings[1].GetProperty("at_mm").ValueKind);
    }

    [Fact]
    public void A_measure_that_met_no_surface_is_null() =>
        Assert.Equal(JsonValueKind.Null, _json.GetProperty("measures")[1].GetProperty("pattern_mm").ValueKind);

    [Fact]
    public void Folders_of_the_machine_are_not_told()
    {
        Assert.Equal(["job.toml", "flange.dxf"], _json.GetProperty("inputs").EnumerateArray().Select(i => i.GetProperty("name").GetString()));
        Assert.DoesNotContain("somewhere", Encoding.UTF8.GetString(KitJson.Write(_kit)), StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_that_are_not_finite_become_null()
    {
        var odd = _kit with { Parting = _kit.Parting with { Ledge_mm = double.NaN, High_mm = double.PositiveInfinity }, Bridge = _kit.Bridge with { Pattern_mm3 = 0 } };
        var json = JsonDocument.Parse(KitJson.Write(odd)).RootElement;
        Assert.Equal(JsonValueKind.Null, json.GetProperty("parting").GetProperty("ledge_mm").ValueKind);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("parting").GetProperty("interval_mm")[1].ValueKind);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("volume_bridge").GetProperty("gap").ValueKind);
    }

    [Fact]
    public void Every_length_key_names_its_unit()
    {
        string[] plain = ["version", "bytes", "line", "triangles", "transform", "scale", "value", "limit", "gap"];
        var keys = NumberKeys(_json).Distinct().Where(k => !plain.Contains(k));
        Assert.All(keys, k => Assert.Matches("_(mm|mm2|mm3|deg|kg|kg_m3)$", k));
    }

    private static IEnumerable<string> NumberKeys(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Object => element.EnumerateObject().SelectMany(p => p.Value.ValueKind == JsonValueKind.Number ? [p.Name] : NumberKeys(p.Value)),
        JsonValueKind.Array => element.EnumerateArray().SelectMany(NumberKeys),
        _ => [],
    };

    private double Number(string group, string key) => _json.GetProperty(group).GetProperty(key).GetDouble();
}
