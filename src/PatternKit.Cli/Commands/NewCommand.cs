using System.CommandLine;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Cli.Commands;

/// <summary><c>new NAME</c>: a job folder to start from.</summary>
internal static class NewCommand
{
    public static Command Create(Terminal terminal)
    {
        var name = new Argument<string>("NAME") { Description = "The folder to make; the job is named by it." };
        var from = new Option<string>("--from")
        {
            Description = $"The template: {string.Join(", ", Templates.Names)}.",
            HelpName = "TEMPLATE",
            DefaultValueFactory = _ => Templates.Usual,
        };
        var command = new Command("new", "Makes a job folder to start from.") { name, from };
        command.SetAction(parsed => Run(terminal, parsed.GetRequiredValue(name), parsed.GetRequiredValue(from)));
        return command;
    }

    private static int Run(Terminal terminal, string name, string from)
    {
        var files = Templates.Read(from);
        var full = name.Length > 0 && !name.Contains('\0', StringComparison.Ordinal) ? Path.TrimEndingDirectorySeparator(Path.GetFullPath(name)) : "";
        var (folder, leaf) = (Path.GetDirectoryName(full), Path.GetFileName(full));
        if (string.IsNullOrEmpty(folder) || leaf != JobName.Safe(leaf))
            throw new InputException("NAME", "", $"\"{name}\" cannot name a job; use letters, digits, \"-\", \"_\" and \".\", such as \"{JobName.Safe(leaf)}\".");
        var made = KitFolder.Create(folder, leaf, files);
        terminal.Results.WriteLine($"{made}: a job from the template {from} ({string.Join(", ", files.Select(f => f.Name))}).");
        terminal.Results.WriteLine($"Change job.toml to your part, then: patternkit make {name}");
        return ExitCode.Done;
    }
}
