using System.Buffers;
using System.Collections.Immutable;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Unicode;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Json;

/// <summary>
/// kit.json: every figure of the kit for scripts, the unit in the key, keys always in the same order. A number that is
/// not finite is written as null, since JSON has no name for it.
/// </summary>
internal sealed partial class KitJson
{
    private const double Degree = 180 / Math.PI;

    private static readonly JsonWriterOptions Options = new()
    {
        Indented = true,
        IndentSize = 2,
        NewLine = "\n",
        Encoder = JavaScriptEncoder.Create(UnicodeRanges.All),
    };

    private readonly Utf8JsonWriter _json;
    private readonly Kit _kit;

    private KitJson(Utf8JsonWriter json, Kit kit) => (_json, _kit) = (json, kit);

    /// <summary>The bytes of kit.json, UTF-8.</summary>
    public static byte[] Write(Kit kit)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var json = new Utf8JsonWriter(buffer, Options)) new KitJson(json, kit).WriteAll();
        return [.. buffer.WrittenSpan, (byte)'\n'];
    }

    private void WriteAll()
    {
        var job = _kit.Job;
        _json.WriteStartObject();
        _json.WriteNumber("version", Kit.LayoutVersion);
        Text("name", job.Name);
        Text("title", job.Title);
        Text("revision", Revision.Of(job));
        Text("unit", job.Unit == LengthUnit.Inch ? "in" : "mm");
        List("inputs", job.Inputs, i =>
        {
            Text("name", CleanText.FileName(i.Name));
            _json.WriteNumber("bytes", i.Bytes);
            Text("sha256", i.Sha256);
        });
        Text("alloy", job.Alloy);
        Text("alloy_title", _kit.AlloyTitle);
        Text("sand", job.Sand);
        Object("part", () =>
        {
            Number("volume_mm3", _kit.PartVolume_mm3);
            Box("box_mm", _kit.PartBox_mm);
            Numbers("size_mm", _kit.PartBox_mm.Size.X, _kit.PartBox_mm.Size.Y, _kit.PartBox_mm.Size.Z);
        });
        if (!_kit.Bodies.IsEmpty)
        {
            var section = PatternSection.Of(_kit);
            var (plane, box) = (section.Plane, section.Plane.Box);
            Object("pattern", () =>
            {
                Box("box_mm", box);
                Numbers("size_mm", box.Size.X, box.Size.Y, box.Size.Z);
                Text("section_across", plane.AlongX ? "y" : "x");
                Number("section_at_mm", plane.At_mm);
                Text("section_through", plane.Through);
                Numbers("section_size_mm", section.High.X - section.Low.X, section.High.Y - section.Low.Y);
            });
        }

        Number("scale", _kit.Scale);
        Parting(_kit.Parting);
        Bridge(_kit.Bridge);
        List("bodies", _kit.AllBodies, Body);
        List("cut_bodies", _kit.Cut, CutBody);
        List("dowels", _kit.Dowels, Dowel);
        List("handling", _kit.Handling, HandlingOfHalf);
        List("decisions", _kit.Decisions, d =>
        {
            Text("key", d.Key);
            Text("label", d.Label);
            Number("value", d.Value);
            Text("unit", d.Unit);
            Text("rule", d.Rule);
            Text("source", d.Source);
        });
        List("measures", _kit.Measures, m =>
        {
            Text("name", m.Name);
            Number("nominal_mm", m.Nominal_mm);
            Number("pattern_mm", m.Pattern_mm);
            Number("as_cast_mm", m.AsCast_mm);
            Number("tolerance_mm", m.Tolerance_mm);
            Number("least_mm", m.Least_mm);
            Number("most_mm", m.Most_mm);
            Text("source", m.Source);
            Number("spread_mm", m.Spread_mm?.Value);
            Text("spread_rule", m.Spread_mm?.Rule);
            Text("spread_source", m.Spread_mm?.Source);
            Number("rapping_mm", m.Rapping_mm);
            Number("left_mm", m.Left_mm);
            Number("stock_mm", m.Stock_mm);
            if (m.Fit is not { } fit) _json.WriteNull("fit");
            else
                Object("fit", () =>
                {
                    Number("mate_mm", fit.Mate_mm);
                    _json.WriteBoolean("hole", fit.IsHole);
                    Number("asked_mm", fit.Asked_mm);
                    Number("as_cast_mm", fit.AsCast_mm);
                    Number("machined_mm", fit.Machined_mm);
                });
        });
        if (!_kit.CastParts.IsEmpty)
        {
            Object("impressions", () =>
            {
                _json.WriteNumber("count", _kit.CastingCount);
                Number("each_kg", _kit.IsMixed ? null : _kit.EachCasting_kg);
                List("origins_mm", _kit.Impressions_mm, at => { Number("x", at.X); Number("y", at.Y); });
                List("parts", _kit.CastParts, part =>
                {
                    Text("name", part.Name);
                    Text("title", part.Title);
                    _json.WriteNumber("count", part.At_mm.Length);
                    Number("each_kg", part.Each_kg);
                    Number("volume_mm3", part.Volume_mm3);
                    Numbers("size_mm", part.Box_mm.Size.X, part.Box_mm.Size.Y, part.Box_mm.Size.Z);
                });
                List("castings", CastingLines.Of(_kit), casting =>
                {
                    Text("name", casting.Name);
                    Text("part", casting.Part.Name);
                    Numbers("at_mm", casting.At_mm.X, casting.At_mm.Y);
                    Number("full_s", casting.Full_s);
                    List("ingates", casting.Ingates, gate =>
                    {
                        _json.WriteNumber("number", gate.Number);
                        Number("section_mm2", gate.Section_mm2);
                        Number("share_percent", 100 * gate.Share);
                    });
                });
            });
        }

        List("findings", _kit.Findings, FindingItem);
        Object("metal", () =>
        {
            Number("density_kg_m3", _kit.Metal.Density_kg_m3);
            Text("density_source", _kit.Metal.DensitySource);
            Number("casting_kg", _kit.Metal.Casting_kg);
            Number("pour_kg", _kit.Metal.Pour_kg);
            Text("pour_rule", _kit.Metal.PourRule);
        });
        Gating(_kit.Gating);
        Filling(_kit.Filling);
        Feeding(_kit.Feeding);
        Pouring(_kit.Pouring);
        Plate(_kit.Plate);
        FollowBoard(_kit.FollowBoard);
        List("cores", _kit.Cores, Core);
        List("loose", _kit.Loose, Loose);
        Coupon(_kit.Coupon);
        List("notes", job.Notes, n =>
        {
            Text("file", CleanText.FileName(n.Source));
            _json.WriteNumber("line", n.Line);
            Text("text", n.Text);
        });
        _json.WriteStartArray("cautions");
        foreach (var caution in _kit.Cautions) _json.WriteStringValue(CleanText.Of(caution.Text));
        _json.WriteEndArray();
        _json.WriteEndObject();
    }

    private void Dowel(Dowel d)
    {
        Numbers("at_mm", d.At_mm.X, d.At_mm.Y);
        Number("diameter_mm", d.Diameter_mm);
        Number("hole_mm", d.Hole_mm);
        Number("depth_mm", d.Depth_mm);
    }

    private void Parting(PartingSummary parting) => Object("parting", () =>
    {
        Number("height_mm", parting.Height_mm);
        Number("pattern_height_mm", parting.PatternHeight_mm);
        Numbers("interval_mm", parting.Low_mm, parting.High_mm);
        Number("ledge_mm", parting.Ledge_mm);
        Number("cost_mm3", parting.Cost_mm3);
        Text("reason", parting.Reason);
        if (parting.Carved is not { } carved) return;
        Object(carved.Word, () =>
        {
            Number("below_mm", carved.Off.Below_mm);
            Number("above_mm", carved.Off.Above_mm);
            Number("line_slope_deg", Math.Atan(carved.Slope) * Degree);
            Number("steepest_deg", Math.Atan(carved.Surface.Steepest().Slope) * Degree);
            Numbers("low_mm", carved.Surface.LowCorner.X, carved.Surface.LowCorner.Y);
            Numbers("high_mm", carved.Surface.HighCorner.X, carved.Surface.HighCorner.Y);
            if (carved.Steps is not { } steps) return;
            Numbers("levels_mm", [.. steps.Levels_mm]);
            Number("step_draft_deg", steps.Draft.Value * Degree);
        });
    });

    private void Bridge(VolumeBridge bridge) => Object("volume_bridge", () =>
    {
        Number("part_mm3", bridge.Part_mm3);
        Number("stock_mm3", bridge.Stock_mm3);
        Number("filled_mm3", bridge.Filled_mm3);
        Number("contraction_mm3", bridge.Contraction_mm3);
        Number("rapping_mm3", bridge.Rapping_mm3);
        Number("prints_mm3", bridge.Prints_mm3);
        Number("loose_mm3", bridge.Loose_mm3);
        Number("draft_mm3", bridge.Draft_mm3);
        Number("fillet_mm3", bridge.Fillet_mm3);
        Number("round_mm3", bridge.Round_mm3);
        Number("pockets_mm3", bridge.Pockets_mm3);
        Number("sum_mm3", bridge.Sum_mm3);
        Number("pattern_mm3", bridge.Pattern_mm3);
        Number("gap", bridge.Gap);
    });

    // Volume and box are those of the finished body, which the file has unless in_file says otherwise; the transform leads back to the mould.
    private void Body(KitBody body)
    {
        Text("name", body.Name);
        Text("file", body.FileName);
        Number("volume_mm3", body.AsPrinted.Volume());
        Box("box_mm", body.AsPrinted.Bounds());
        _json.WriteNumber("triangles", body.AsPrinted.Facets.Length);
        _json.WriteStartArray("transform");
        foreach (var row in body.ToPrinted) Values([.. row]);
        _json.WriteEndArray();
        Number("min_draft_deg", body.LeastDraft * Degree);
        if (_kit.Inset is not { } inset || inset.Files.GetValueOrDefault(body.Name) is not { } file) return;
        _json.WriteStartObject("in_file");
        Number("taken_off_mm", inset.Growth.Skin_mm);
        Number("taken_off_upright_mm", inset.Growth.Oversize_mm);
        Number("edge_cut_back_mm", file.IsTrimmed ? inset.Growth.Flare_mm : 0);
        Number("volume_mm3", file.AsPrinted.Volume());
        Box("box_mm", file.AsPrinted.Bounds());
        _json.WriteNumber("triangles", file.AsPrinted.Facets.Length);
        _json.WriteEndObject();
    }

    private void FindingItem(Finding finding)
    {
        Text("code", finding.Code);
        Text("severity", SeverityName(finding.Severity));
        Text("message", finding.Message);
        if (finding.At_mm is { } at) Numbers("at_mm", at.X, at.Y, at.Z);
        else _json.WriteNull("at_mm");
        Number("value", finding.Value);
        Number("limit", finding.Limit);
        Text("unit", finding.Unit);
        Text("source", finding.Source);
        Text("remedy", finding.Remedy);
    }

    private static string SeverityName(Severity severity) => severity switch
    {
        Severity.Note => "note",
        Severity.Warn => "warn",
        Severity.Stop => "stop",
        _ => throw new ArgumentOutOfRangeException(nameof(severity)),
    };

    private void Text(string key, string? text)
    {
        if (text is null) _json.WriteNull(key);
        else _json.WriteString(key, CleanText.Of(text));
    }

    private void Number(string key, double? value)
    {
        _json.WritePropertyName(key);
        Value(value);
    }

    private void Value(double? value)
    {
        // Adding zero turns a negative zero into zero.
        if (value is { } v && double.IsFinite(v)) _json.WriteNumberValue(v + 0.0);
        else _json.WriteNullValue();
    }

    private void Numbers(string key, params ReadOnlySpan<double> values)
    {
        _json.WritePropertyName(key);
        Values(values);
    }

    private void Values(ReadOnlySpan<double> values)
    {
        _json.WriteStartArray();
        foreach (var v in values) Value(v);
        _json.WriteEndArray();
    }

    private void Box(string key, Box3 box)
    {
        _json.WriteStartArray(key);
        Values([box.Low.X, box.Low.Y, box.Low.Z]);
        Values([box.High.X, box.High.Y, box.High.Z]);
        _json.WriteEndArray();
    }

    private void Object(string key, Action content)
    {
        _json.WriteStartObject(key);
        content();
        _json.WriteEndObject();
    }

    private void List<T>(string key, IEnumerable<T> items, Action<T> content)
    {
        _json.WriteStartArray(key);
        foreach (var item in items)
        {
            _json.WriteStartObject();
            content(item);
            _json.WriteEndObject();
        }

        _json.WriteEndArray();
    }

    /// <summary>The rules and sources of figures, by their keys.</summary>
    private void Rules(IEnumerable<ReckonedLine> lines) => List("rules", lines, line =>
    {
        Text("key", line.Key);
        Text("rule", line.Rule);
        Text("source", line.Source);
    });
}
