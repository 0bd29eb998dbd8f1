using System.CommandLine;
using System.Text.Json.Nodes;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Foundry;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Texts;
using Spectre.Console;

namespace PatternKit.Cli.Commands;

/// <summary><c>gate JOB</c>: every number between pattern and pour, beside other ways to pour it, without writing anything.</summary>
internal static class GateCommand
{
    public static Command Create(Terminal terminal, Pipeline pipeline)
    {
        var target = new Argument<string>("JOB") { Description = "A job file, or a folder that holds a job.toml." };
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command("gate", "Reckons a job from pattern to pour: pour time, choke, sprue, runner, ingates, whether the mould fills and is fed, what lifts the cope, flask, sand, melt, vents and shake-out, and other ways to pour it; writes nothing.") { target, json };
        command.SetAction(parsed =>
        {
            var argument = parsed.GetRequiredValue(target);
            var kit = terminal.Working($"Reckoning {argument}", () =>
            {
                var source = JobSource.Read(argument);
                return pipeline.Build(source.Job, source.Tables);
            });
            if (parsed.GetValue(json)) terminal.Results.WriteLine(JsonText.Of(Json(kit)));
            else Tell(terminal, kit);
            return kit.HasStop ? ExitCode.Stopped : ExitCode.Done;
        });
        return command;
    }

    private static void Tell(Terminal terminal, Kit kit)
    {
        terminal.Results.WriteLine($"{kit.Job.Title} ({kit.Job.Name}), {kit.AlloyTitle}");
        if (kit.Gating is { } gating)
        {
            var table = new Table().Border(TableBorder.Simple).AddColumns("what", "value", "rule", "source");
            foreach (var l in Lines(gating)) AddRow(table, l);
            terminal.Write(table);
            foreach (var bar in gating.Bars)
                terminal.Results.WriteLine($"  {bar.Body.Name}: {string.Join("; ", bar.Cuts.Select(c => $"{c.Name} {FindingText.Number(c.Region.Area)} mm²"))}");
            FindingText.Write(terminal.Results, gating.Findings);
            Fill(terminal, kit);
            Feed(terminal, kit);
            Pour(terminal, kit);
            WaysTable.Write(terminal, PouringWays.Of(kit));
        }
        else
        {
            terminal.Results.WriteLine("  the job wants no gating");
            Pour(terminal, kit);
        }

        terminal.Results.WriteLine("  A guide, not a guarantee: molten metal kills, moisture under it explodes. Local codes and licensed practice come first.");
    }

    private static void Fill(Terminal terminal, Kit kit)
    {
        if (kit.Filling is not { } filling)
        {
            terminal.Results.WriteLine("  Whether it fills is not reckoned: the heat or the freezing range of this metal is not known.");
            return;
        }

        var table = new Table().Border(TableBorder.Simple).AddColumns("will it fill?", "value", "rule", "source");
        foreach (var l in FillingLines.Of(filling)) AddRow(table, l);
        terminal.Write(table);
        terminal.Results.WriteLine($"  {FillingLines.Verdict(filling)}");
        if (filling.Shares.Length > 1) terminal.Results.WriteLine($"  the ingates get {FillingLines.Shares(filling)} % of the metal, from the sprue outward");
        FindingText.Write(terminal.Results, filling.Findings);
        foreach (var h in filling.HotSpots)
            terminal.Results.WriteLine(FormattableString.Invariant($"  freezes in {h.Freezes_s:0.#} s: ({h.At_mm.X:0.#}, {h.At_mm.Y:0.#}, {h.At_mm.Z:0.#}) mm, modulus {h.Modulus_mm:0.00} mm{(h.CutOff_s is { } cut ? FormattableString.Invariant($", cut off after {cut:0.#} s") : ", last of all")}{(h.Shrinks_mm3 is { } s ? FormattableString.Invariant($", lacks {s:0} mm³") : "")}"));
    }

    private static void Feed(Terminal terminal, Kit kit)
    {
        if (kit.Feeding is not { } feeding) return;
        var table = new Table().Border(TableBorder.Simple).AddColumns("what feeds it", "value", "rule", "source");
        foreach (var l in FeedingLines.Of(feeding)) AddRow(table, l);
        terminal.Write(table);
        terminal.Results.WriteLine($"  {FeedingLines.Verdict(feeding)}");
        foreach (var s in feeding.Sections)
            terminal.Results.WriteLine(FormattableString.Invariant($"  ({s.At_mm.X:0.#}, {s.At_mm.Y:0.#}, {s.At_mm.Z:0.#}) mm lacks {s.Lacks_mm3 / 1000:0.00} cm³: {FeedingLines.Fate(s)}{(s.Size is { } z ? FormattableString.Invariant($"; reckoned {z.Diameter_mm:0.#} mm across, {z.Height_mm:0.#} mm high, by its {(z.Demand == FeederDemand.Modulus ? "modulus" : "volume")}") : "")}{FeedingLines.Instead(s)}"));
        FindingText.Write(terminal.Results, feeding.Findings);
    }

    /// <summary>What the caster needs between pattern and pour, in the lines of the sheet.</summary>
    private static void Pour(Terminal terminal, Kit kit)
    {
        if (kit.Pouring is not { } pouring) return;
        foreach (var (_, title, lines) in Groups(pouring))
        {
            var table = new Table().Border(TableBorder.Simple).AddColumns(title, "value", "rule", "source");
            foreach (var l in lines) AddRow(table, l);
            terminal.Write(table);
        }

        if (!pouring.Vents.Vents.IsEmpty)
            terminal.Results.WriteLine($"  vents at {string.Join("; ", pouring.Vents.Vents.Select(v => FormattableString.Invariant($"({v.At_mm.X:0.#}, {v.At_mm.Y:0.#}) mm{(v.Core.Length == 0 ? "" : $", through the print of {v.Core}")}")))}");
        FindingText.Write(terminal.Results, pouring.Findings);
    }

    private static IEnumerable<(string Key, string Title, IEnumerable<ReckonedLine> Lines)> Groups(PourPlan p) =>
    [
        ("forces", p.Thrust is null ? "what lifts the cope" : "on edge", PourLines.Forces(p)), ("flask", "flask and sand", PourLines.Flask(p)), ("melt", "metal and crucible", PourLines.Melt(p)),
        ("vents", "vents", PourLines.Vents(p)), ("shake_out", "after the pour", PourLines.ShakeOut(p)),
    ];

    private static void AddRow(Table table, ReckonedLine l) =>
        table.AddRow(new Text(l.Label), new Text(double.IsNaN(l.Value) ? "" : $"{FindingText.Number(l.Value)} {l.Unit}".TrimEnd()), new Text(l.Rule), new Text(l.Source));

    private static JsonObject Json(Kit kit) => new()
    {
        ["job"] = kit.Job.Name,
        ["gating"] = kit.Gating is { } g ? Json(Lines(g)) : null,
        ["filling"] = kit.Filling is { } f ? Json(FillingLines.Of(f)) : null,
        ["pouring"] = kit.Pouring is { } p ? new JsonObject(Groups(p).Select(g => KeyValuePair.Create<string, JsonNode?>(g.Key, Json(g.Lines)))) : null,
        ["ingate_shares"] = kit.Filling is { } shared ? JsonText.Row([.. shared.Shares]) : null,
        ["findings"] = FindingText.Json([.. kit.Gating?.Findings ?? [], .. kit.Filling?.Findings ?? [], .. kit.Feeding?.Findings ?? [], .. kit.Pouring?.Findings ?? []]),
        ["hot_spots"] = JsonText.List(kit.Filling?.HotSpots.Select(h => new JsonObject
        {
            ["at_mm"] = JsonText.Row(h.At_mm),
            ["across_mm"] = h.Across_mm,
            ["modulus_mm"] = h.Modulus_mm,
            ["freezes_s"] = h.Freezes_s,
            ["cut_off_s"] = h.CutOff_s,
            ["pool_mm3"] = h.Pool_mm3,
            ["shrinks_mm3"] = h.Shrinks_mm3,
        })),
        ["ways"] = WaysTable.Json(PouringWays.Of(kit)),
        ["feeding_rules"] = kit.Feeding is { } fed ? Json(FeedingLines.Of(fed)) : null,
        ["feeding"] = JsonText.List(kit.Feeding?.Sections.Select(f => new JsonObject { ["at_mm"] = JsonText.Row(f.At_mm), ["modulus_mm"] = f.Modulus_mm, ["beside_modulus_mm"] = f.Beside_mm, ["lacks_mm3"] = f.Lacks_mm3, ["fate"] = FeedingLines.Fate(f), ["sharing"] = f.Sharing, ["diameter_mm"] = f.Size?.Diameter_mm, ["height_mm"] = f.Size?.Height_mm, ["neck_mm"] = f.Size?.Neck_mm, ["chill_face_mm"] = f.Chill?.Face_mm, ["chill_thick_mm"] = f.Chill?.Thick_mm, ["chill_kg"] = f.Chill?.Mass_kg, ["taper_root_mm"] = f.Taper?.Root_mm, ["taper_length_mm"] = f.Taper?.Length_mm })),
    };

    private static JsonArray Json(IEnumerable<ReckonedLine> lines) => JsonText.List(lines.Select(Json));

    private static JsonObject Json(ReckonedLine l) => new() { ["key"] = l.Key, ["value"] = double.IsFinite(l.Value) ? l.Value : (double?)null, ["text"] = l.Label, ["rule"] = l.Rule, ["source"] = l.Source };

    private static IEnumerable<ReckonedLine> Lines(GatingPlan gating) => GatingLines.Of(gating).Concat(GatingLines.Counts(gating));
}
