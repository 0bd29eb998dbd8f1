using System.CommandLine;
using System.Text;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Exchange;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets;

namespace PatternKit.Cli.Commands;

/// <summary><c>make JOB…</c>: everything for the mould, into one folder a job.</summary>
internal static class MakeCommand
{
    public static Command Create(Terminal terminal, Pipeline pipeline)
    {
        var jobs = new Argument<string[]>("JOB") { Description = "A job file, or a folder that holds a job.toml.", Arity = ArgumentArity.OneOrMore };
        var into = new Option<string>("--out") { Description = "Folder for the kits, each in a folder of its job's name.", HelpName = "DIR", DefaultValueFactory = _ => "out" };
        var json = new Option<bool>("--json") { Description = "Write the content of kit.json instead of a summary; a list when there are several jobs." };
        var force = new Option<bool>("--force") { Description = "Write the kit even where a finding says stop." };
        var command = new Command("make", "Makes the kit of a job: patterns, drawings, shop sheet.") { jobs, into, json, force };
        command.SetAction(parsed => new Make(terminal, pipeline, parsed.GetRequiredValue(into), parsed.GetValue(json), parsed.GetValue(force)).Run(parsed.GetRequiredValue(jobs)));
        return command;
    }

    private sealed class Make(Terminal terminal, Pipeline pipeline, string into, bool json, bool force)
    {
        private readonly HashSet<string> _names = new(StringComparer.OrdinalIgnoreCase);
        private readonly List<string> _json = [];

        /// <summary>One job after the other; one that fails does not keep the others from being made.</summary>
        public int Run(string[] jobs)
        {
            var worst = ExitCode.Done;
            foreach (var job in jobs) worst = Math.Max(worst, Guard.Run(terminal, () => One(job)));
            if (json && jobs.Length == 1 && _json.Count == 1) terminal.Results.WriteLine(_json[0]);
            else if (json && jobs.Length > 1) terminal.Results.WriteLine($"[\n{string.Join(",\n", _json)}\n]");
            return worst;
        }

        private int One(string argument)
        {
            var (kit, files) = terminal.Working($"Making {argument}", () =>
            {
                var source = JobSource.Read(argument);
                if (!_names.Add(source.Job.Name)) throw new InputException(argument, "", $"another job of this run is named \"{source.Job.Name}\" too, and its kit would be overwritten; rename one.");
                var made = pipeline.Build(source.Job, source.Tables);
                return (made, pipeline.Render(made));
            });
            var written = kit.HasStop && !force ? null : KitFolder.Write(into, kit.Job.Name, files);
            if (json) _json.Add(Encoding.UTF8.GetString(files.Single(f => f.Name == KitFolder.Sign).Content).TrimEnd());
            else Tell(kit, files, written);
            return kit.HasStop && !force ? ExitCode.Stopped : ExitCode.Done;
        }

        private void Tell(Kit kit, IReadOnlyList<KitFile> files, string? written)
        {
            KitSummary.Write(terminal.Results, kit);
            terminal.Results.WriteLine(written is null
                ? "  Nothing is written, since a finding says stop. Cure it, or write the kit all the same with --force."
                : $"  written: {written} ({files.Count} files)");
        }
    }
}
