using System.CommandLine;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Patterns.Originals;

namespace PatternKit.Cli.Commands;

/// <summary><c>check PART|JOB</c>: what would be found, without writing anything.</summary>
internal static class CheckCommand
{
    public static Command Create(Terminal terminal, Pipeline pipeline)
    {
        var target = new Argument<string>("PART|JOB") { Description = "A DXF drawing, a mesh (STL, OBJ, 3MF), a job file, or a folder that holds a job.toml." };
        var unit = UnitOption.Of("a drawing or mesh");
        var alloy = new Option<string?>("--alloy") { Description = "Metal that a mesh is to be cast in, to judge its thin walls by; \"patternkit alloys\" lists them.", HelpName = "KEY" };
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command("check", "Tells what is in a drawing, whether a mesh will draw, or what is wrong with a job; writes nothing.") { target, unit, alloy, json };
        command.SetAction(parsed =>
        {
            var (what, given, asJson) = (parsed.GetRequiredValue(target), parsed.GetValue(unit), parsed.GetValue(json));
            var metal = parsed.GetValue(alloy);
            if (MeshSource.IsMesh(what)) return Mesh(terminal, what, given, metal, asJson);
            if (metal is not null) throw new InputException("--alloy", "", "it is for a part that is a mesh; a job names its alloy itself, and a drawing has no walls. Take it out.");
            if (!JobSource.IsJob(what)) return Drawing(terminal, what, given, asJson);
            return given is null ? Job(terminal, pipeline, what, asJson) : throw new InputException("--unit", "", "it is for drawings and meshes; a job states its unit itself. Take it out.");
        });
        return command;
    }

    private static int Job(Terminal terminal, Pipeline pipeline, string argument, bool json)
    {
        var source = terminal.Working($"Reading {argument}", () => JobSource.Read(argument));
        if (source.Job.Original) return Original(terminal, source, json);
        var kit = terminal.Working($"Checking {argument}", () => pipeline.Build(source.Job, source.Tables));
        if (json)
        {
            terminal.Results.WriteLine(JsonText.Of(new { job = kit.Job.Name, findings = kit.Findings.Select(FindingText.Json), notes = kit.Job.Notes.Select(DrawingReport.Json) }));
        }
        else
        {
            terminal.Results.WriteLine($"{kit.Job.Title} ({kit.Job.Name}): {kit.Findings.Length switch { 0 => "nothing found", 1 => "1 finding", var n => $"{n} findings" }}");
            FindingText.Write(terminal.Results, kit.Job.Notes);
            FindingText.Write(terminal.Results, kit.Findings);
        }

        return kit.HasStop ? ExitCode.Stopped : ExitCode.Done;
    }

    private static int Original(Terminal terminal, JobSource source, bool json)
    {
        var report = terminal.Working($"Checking {source.Job.Name}", () => new OriginalReport(OriginalCheck.Of(source.Job, source.Tables)));
        if (json) terminal.Results.WriteLine(JsonText.Of(report.Json()));
        else report.Write(terminal);
        return report.Answer.HasStop ? ExitCode.Stopped : ExitCode.Done;
    }

    private static int Mesh(Terminal terminal, string path, string? unit, string? alloy, bool json)
    {
        var metal = alloy is null ? null : Known(alloy);
        var report = terminal.Working($"Checking {path}", () => MeshPartReport.Of(path, MeshSource.Read(path, unit), metal));
        if (json) terminal.Results.WriteLine(JsonText.Of(report.Json()));
        else report.Write(terminal);
        return report.HasStop ? ExitCode.Stopped : ExitCode.Done;
    }

    private static Alloy Known(string key)
    {
        try
        {
            return FoundryTables.Default.Alloy(key);
        }
        catch (UnknownNameException e)
        {
            throw new InputException($"--alloy: {e.Message}", e);
        }
    }

    private static int Drawing(Terminal terminal, string path, string? unit, bool json)
    {
        var report = terminal.Working($"Checking {path}", () => DrawingReport.Of(path, unit));
        if (json) terminal.Results.WriteLine(JsonText.Of(report.Json()));
        else report.Write(terminal);
        return ExitCode.Done;
    }
}
