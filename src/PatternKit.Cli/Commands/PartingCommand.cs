using System.CommandLine;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;

namespace PatternKit.Cli.Commands;

/// <summary><c>parting PART</c>: ranks how a mesh can lie and where it can part.</summary>
internal static class PartingCommand
{
    public static Command Create(Terminal terminal)
    {
        var part = new Argument<string>("PART") { Description = "A part as a mesh: STL, OBJ or 3MF." };
        var unit = UnitOption.Of("a file");
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command("parting", "Ranks how a part can lie in the mould and where it can part; writes nothing.") { part, unit, json };
        command.SetAction(parsed =>
        {
            var path = parsed.GetRequiredValue(part);
            var report = terminal.Working($"Turning {path}", () => LiesReport.Of(path, MeshSource.Read(path, parsed.GetValue(unit))));
            if (parsed.GetValue(json)) terminal.Results.WriteLine(JsonText.Of(report.Json()));
            else report.Write(terminal);
            return ExitCode.Done;
        });
        return command;
    }
}
