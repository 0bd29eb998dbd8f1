using System.Collections.Immutable;
using System.CommandLine;
using System.Text.Json.Nodes;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Patterns;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Originals;
using PatternKit.Sheets.Findings;

namespace PatternKit.Cli.Commands;

/// <summary><c>check PART|JOB</c>: what would be found, without making anything; on request drawn.</summary>
internal static class CheckCommand
{
    public static Command Create(Terminal terminal, Pipeline pipeline)
    {
        var target = new Argument<string>("PART|JOB") { Description = "A DXF drawing, a mesh (STL, OBJ, 3MF), a job file, or a folder that holds a job.toml." };
        var unit = UnitOption.Of("a drawing or mesh");
        var alloy = new Option<string?>("--alloy") { Description = "Metal that a mesh is to be cast in, to judge its thin walls by; \"patternkit alloys\" lists them.", HelpName = "KEY" };
        var into = new Option<string?>("--out") { Description = "Folder for a picture and a coloured mesh that show what was found on a part that is a mesh; without it nothing is written.", HelpName = "DIR" };
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command("check", "Tells what is in a drawing, whether a mesh will draw, or what is wrong with a job.") { target, unit, alloy, into, json };
        command.SetAction(parsed => new Check(
            terminal, pipeline, parsed.GetRequiredValue(target), parsed.GetValue(unit), parsed.GetValue(alloy), parsed.GetValue(into), parsed.GetValue(json)).Run());
        return command;
    }

    private sealed class Check(Terminal terminal, Pipeline pipeline, string what, string? unit, string? alloy, string? into, bool json)
    {
        public int Run()
        {
            if (MeshSource.IsMesh(what)) return Mesh();
            Refuse(alloy, "--alloy", "it is for a part that is a mesh; a job names its alloy itself, and a drawing has no walls. Take it out.");
            if (!JobSource.IsJob(what)) return Drawing();
            Refuse(unit, "--unit", "it is for drawings and meshes; a job states its unit itself. Take it out.");
            var source = terminal.Working($"Reading {what}", () => JobSource.Read(what));
            return source.Job.Original ? Original(source) : Job(source);
        }

        private static void Refuse(string? given, string option, string why)
        {
            if (given is not null) throw new InputException(option, "", why);
        }

        private int Job(JobSource source)
        {
            if (source.Job.Mesh is null) Refuse(into, "--out", "it draws parts that are meshes; for this job \"patternkit make\" draws the findings on its sheet. Take it out.");
            var kit = terminal.Working($"Checking {what}", () => pipeline.Build(source.Job, source.Tables));
            var files = source.Job.Mesh is { } mesh ? Drawn(kit.Job.Name, kit.Job.Title, mesh.Body, kit.Parting.Height_mm, kit.Findings) : [];
            if (json)
            {
                terminal.Results.WriteLine(JsonText.Of(new JsonObject { ["job"] = kit.Job.Name, ["findings"] = FindingText.Json(kit.Findings), ["notes"] = DrawingReport.Json(kit.Job.Notes), ["files"] = JsonText.Words(files) }));
            }
            else
            {
                terminal.Results.WriteLine($"{kit.Job.Title} ({kit.Job.Name}): {kit.Findings.Length switch { 0 => "nothing found", 1 => "1 finding", var n => $"{n} findings" }}");
                FindingText.Write(terminal.Results, kit.Job.Notes);
                FindingText.Write(terminal.Results, kit.Findings, numbered: files.Count > 0);
                Tell(files);
            }

            return kit.HasStop ? ExitCode.Stopped : ExitCode.Done;
        }

        private int Original(JobSource source)
        {
            var report = terminal.Working($"Checking {what}", () => new OriginalReport(OriginalCheck.Of(source.Job, source.Tables)));
            var files = Drawn(source.Job.Name, source.Job.Title, source.Job.Mesh!.Body, report.Answer.Lie.Joint_mm, report.Answer.Findings);
            if (json) terminal.Results.WriteLine(JsonText.Of(report.Json(files)));
            else report.Write(terminal);
            Tell(files);
            return report.Answer.HasStop ? ExitCode.Stopped : ExitCode.Done;
        }

        private int Mesh()
        {
            var tables = ShopFile.Beside(what).Tables;
            var metal = alloy is null ? null : Known(alloy, tables);
            var report = terminal.Working($"Checking {what}", () => MeshPartReport.Of(what, MeshSource.Read(what, unit), metal, tables));
            var files = Drawn(JobName.Safe(Path.GetFileNameWithoutExtension(what)), Path.GetFileName(what), report.Mesh, report.Lie?.Joint_mm, report.Findings);
            if (json) terminal.Results.WriteLine(JsonText.Of(report.Json(files)));
            else report.Write(terminal);
            Tell(files);
            return report.HasStop ? ExitCode.Stopped : ExitCode.Done;
        }

        private int Drawing()
        {
            Refuse(into, "--out", "it draws parts that are meshes. Take it out.");
            var report = terminal.Working($"Checking {what}", () => DrawingReport.Of(what, unit));
            if (json) terminal.Results.WriteLine(JsonText.Of(report.Json()));
            else report.Write(terminal);
            return ExitCode.Done;
        }

        private IReadOnlyList<string> Drawn(string name, string title, TriangleMesh mesh, double? joint_mm, ImmutableArray<Finding> findings)
        {
            if (into is null) return [];
            var files = terminal.Working($"Drawing {what}", () => FindingFiles.Render(name, title, mesh, joint_mm, FindingText.Ordered(findings)));
            return ResultFiles.Write(into, files);
        }

        private void Tell(IReadOnlyList<string> files)
        {
            if (json) return;
            foreach (var file in files) terminal.Results.WriteLine($"  written: {file}");
        }

        private static Alloy Known(string key, FoundryTables tables)
        {
            try
            {
                return tables.Alloy(key);
            }
            catch (UnknownNameException e)
            {
                throw new InputException($"--alloy: {e.Message}", e);
            }
        }
    }
}
