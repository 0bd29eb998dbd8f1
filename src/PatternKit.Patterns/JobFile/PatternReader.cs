using System.Collections.Immutable;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads [pattern]: draft, where sizes hold, stock, contraction, rapping, camber, dowels, fillets, edges, draw screws, skin, finish.</summary>
internal static class PatternReader
{
    /// <summary>Less taper than this does not leave hand-rammed sand.</summary>
    public const double LeastDraft_deg = 0.25;

    private static readonly string[] Keys = ["draft", "taper", "hold", "stock", "contraction", "rapping", "camber", "dowels", "fillet", "round", "draw_screws", "skin", "finish"];

    /// <summary>The settings; everything by rule when the table is left out.</summary>
    public static PatternSettings Read(JobText text, TomlEntry? entry, ImmutableArray<Feature> features, PartMesh? mesh = null)
    {
        if (entry is null) return new();
        var s = Section.Open(text, entry, "[pattern]", Keys, "[pattern] once, with its keys below it");
        var names = mesh is null ? FeatureNames.Of(features) : [.. mesh.Faces.Select(f => f.Name)];
        var (outside, inside) = Draft(text, s["draft"]);
        var (contraction, master) = ContractionReader.Read(text, s["contraction"]);
        var (dowels, dowel_mm) = Dowels(text, s["dowels"]);
        return new(
            outside,
            inside,
            Holds(text, s["taper"], s["hold"]),
            s["stock"] is { } stock ? StockReader.Read(text, stock, names) : null,
            contraction,
            master,
            Length(text, s["rapping"], 5),
            Camber(text, s["camber"]),
            dowels,
            dowel_mm,
            s["fillet"] is { } fillet ? RadiusReader.Fillets(text, fillet, names) : null,
            s["round"] is { } round ? RadiusReader.Rounds(text, round, names) : null,
            s["draw_screws"] is not { } screws || Values.Word(text, screws, "auto", "none") == "auto",
            SkinReader.Read(text, s["skin"]),
            Length(text, s["finish"], Foundry.PrintGrowth.Most_mm));
    }

    private static (double? Outside, double? Inside) Draft(JobText text, TomlEntry? entry)
    {
        if (entry is null) return (null, null);
        if (entry.Value is not TomlTable table)
        {
            var both = Taper(text, entry.Value, "draft");
            return (both, both);
        }

        var s = Section.Open(text, table, "draft", ["outside", "inside"]);
        return (
            s["outside"] is { } o ? Taper(text, o.Value, "draft outside") : null,
            s["inside"] is { } i ? Taper(text, i.Value, "draft inside") : null);
    }

    private static double? Taper(JobText text, TomlNode node, string what)
    {
        if (Values.Is(node, "auto")) return null;
        var angle = Values.Angle(text, node, what);
        var degrees = angle * (180 / Math.PI);
        if (degrees < LeastDraft_deg - 1e-9)
            throw text.Refuse(node.Line, $"{what} = {node.Quoted} is less than {Values.Number(LeastDraft_deg)} deg, the least that this program draws at; write {Values.Number(LeastDraft_deg)} or more, or \"auto\".");
        return degrees < 45 - 1e-9
            ? angle
            : throw text.Refuse(node.Line, $"{what} = {node.Quoted} is not a draft: it is measured from the draw, and has to be less than 45 deg.");
    }

    /// <summary>Taper says what is done to the metal, hold says where the size holds: one choice in two ways of speaking.</summary>
    private static SizeHolds Holds(JobText text, TomlEntry? taper, TomlEntry? hold)
    {
        SizeHolds? byTaper = taper is null ? null : Values.Word(text, taper, "plus", "minus", "split") switch
        {
            "plus" => SizeHolds.Tip,
            "minus" => SizeHolds.Parting,
            _ => SizeHolds.Middle,
        };
        SizeHolds? byHold = hold is null ? null : Values.Word(text, hold, "parting", "middle", "tip") switch
        {
            "tip" => SizeHolds.Tip,
            "parting" => SizeHolds.Parting,
            _ => SizeHolds.Middle,
        };
        if (byTaper is { } t && byHold is { } h && t != h)
            throw text.Refuse(Math.Max(taper!.Line, hold!.Line), $"taper = {taper.Value.Quoted} and hold = {hold.Value.Quoted} contradict each other: plus goes with tip, split with middle, minus with parting. Keep one of them.");
        return byTaper ?? byHold ?? SizeHolds.Tip;
    }

    private static double? Length(JobText text, TomlEntry? entry, double high_mm) =>
        entry is null || Values.Is(entry.Value, "auto") ? null
        : Values.Is(entry.Value, "none") ? 0
        : Values.Length(text, entry.Value, entry.Key, 0, high_mm);

    // A bow is only made on request: there is no rule for warp, so "auto" is none.
    private static CamberSettings? Camber(JobText text, TomlEntry? entry)
    {
        if (entry is null || Values.Is(entry.Value, "auto") || Values.Is(entry.Value, "none")) return null;
        var rise = Values.Length(text, entry.Value, "camber", -100, 100);
        return rise == 0 ? null : new(rise);
    }

    private static (bool? Dowels, double? Diameter_mm) Dowels(JobText text, TomlEntry? entry) =>
        entry is null || Values.Is(entry.Value, "auto") ? (null, null)
        : Values.Is(entry.Value, "none") ? (false, null)
        : (true, Values.Length(text, entry.Value, "dowels (diameter)", 1, 50));
}
