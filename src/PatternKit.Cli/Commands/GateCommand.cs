using System.CommandLine;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using Spectre.Console;

namespace PatternKit.Cli.Commands;

/// <summary><c>gate JOB</c>: the gating reckoning alone, without writing anything.</summary>
internal static class GateCommand
{
    public static Command Create(Terminal terminal, Pipeline pipeline)
    {
        var target = new Argument<string>("JOB") { Description = "A job file, or a folder that holds a job.toml." };
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command("gate", "Reckons the gating of a job: pour time, choke, sprue, runner, ingates; writes nothing.") { target, json };
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
            foreach (var l in Lines(gating))
                table.AddRow(new Text(l.Label), new Text(double.IsNaN(l.Value) ? "" : $"{FindingText.Number(l.Value)} {l.Unit}".TrimEnd()), new Text(l.Rule), new Text(l.Source));
            terminal.Write(table);
            foreach (var bar in gating.Bars)
                terminal.Results.WriteLine($"  {bar.Body.Name}: {string.Join("; ", bar.Cuts.Select(c => $"{c.Name} {FindingText.Number(c.Region.Area)} mm²"))}");
            FindingText.Write(terminal.Results, gating.Findings);
        }
        else
        {
            terminal.Results.WriteLine("  the job wants no gating");
        }

        terminal.Results.WriteLine("  A guide, not a guarantee: molten metal kills, moisture under it explodes. Local codes and licensed practice come first.");
    }

    private static object Json(Kit kit) => new
    {
        job = kit.Job.Name,
        gating = kit.Gating is { } g ? Lines(g).Select(l => new { key = l.Key, value = double.IsFinite(l.Value) ? l.Value : (double?)null, text = l.Label, rule = l.Rule, source = l.Source }) : null,
    };

    private static IEnumerable<GatingLine> Lines(GatingPlan gating) => GatingLines.Of(gating).Concat(GatingLines.Counts(gating));
}
