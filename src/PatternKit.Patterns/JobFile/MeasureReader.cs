using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads the [[measure]] tables: the dimensions that matter.</summary>
internal static class MeasureReader
{
    private const int Most = 200;

    /// <summary>All measures, in the order of the file.</summary>
    public static ImmutableArray<Measure> Read(JobText text, TomlEntry? entry)
    {
        if (entry is null) return [];
        if (entry.Value is not TomlList { OfHeaders: true } list) throw text.Refuse(entry.Line, "measure is written in double brackets, once for every dimension: [[measure]].");
        if (list.Items.Length > Most) throw text.Refuse(entry.Line, $"the job has {list.Items.Length} [[measure]] tables; at most {Most}.");
        return [.. list.Items.Cast<TomlTable>().Select(t => One(text, t))];
    }

    private static Measure One(JobText text, TomlTable table)
    {
        var s = Section.Open(text, table, "[[measure]]", ["name", "nominal", "from", "to", "mate", "clearance"]);
        TomlEntry Need(string key, string example) => s[key] ?? throw text.Refuse(table.Line, $"this [[measure]] has no {key}; write {example}.");
        var name = Values.Line(text, Need("name", "name = \"boss height\""), 100);
        var nominal = Values.Size(text, Need("nominal", "nominal = 25").Value, "nominal");
        var from = Values.Point3(text, Need("from", "from = [x, y, z]").Value, "from");
        var to = Values.Point3(text, Need("to", "to = [x, y, z]").Value, "to");
        var mate = s["mate"] is { } m ? Values.Size(text, m.Value, "mate") : (double?)null;
        if (mate is null && s["clearance"] is { } alone) throw text.Refuse(alone.Line, "clearance is that to a mate; write the size of what goes in or over, mate = 30, beside it, or take it out.");
        var clearance = s["clearance"] is { } c ? Values.Size(text, c.Value, "clearance") : 0;
        return from != to ? new(name, nominal, from, to) { Mate_mm = mate, Clearance_mm = clearance } : throw text.Refuse(s["to"]!.Value.Line, "from and to are the same point; a measure runs from one point to another.");
    }
}
