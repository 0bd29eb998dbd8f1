using System.CommandLine;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Cli.Commands;

/// <summary><c>parting PART</c>: ranks how a mesh can lie and where it can part.</summary>
internal static class PartingCommand
{
    public static Command Create(Terminal terminal)
    {
        var part = new Argument<string>("PART") { Description = "A part as a mesh: STL, OBJ or 3MF." };
        var unit = UnitOption.Of("a file");
        var into = new Option<string?>("--out") { Description = "Folder for a picture of the ways side by side; without it nothing is written.", HelpName = "DIR" };
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command("parting", "Ranks how a part can lie in the mould and where it can part.") { part, unit, into, json };
        command.SetAction(parsed =>
        {
            var path = parsed.GetRequiredValue(part);
            var report = terminal.Working($"Turning {path}", () => LiesReport.Of(path, MeshSource.Read(path, parsed.GetValue(unit)), ShopFile.Beside(path).Tables));
            IReadOnlyList<string> files = parsed.GetValue(into) is { } folder
                ? ResultFiles.Write(folder, [new($"{JobName.Safe(Path.GetFileNameWithoutExtension(path))}-ways.png", terminal.Working($"Drawing {path}", report.Picture))])
                : [];
            if (parsed.GetValue(json))
            {
                terminal.Results.WriteLine(JsonText.Of(report.Json(files)));
                return ExitCode.Done;
            }

            report.Write(terminal);
            foreach (var file in files) terminal.Results.WriteLine($"  written: {file}");
            return ExitCode.Done;
        });
        return command;
    }
}
