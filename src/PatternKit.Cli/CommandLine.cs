using System.CommandLine;
using System.CommandLine.Parsing;
using PatternKit.Cli.Commands;
using PatternKit.Cli.Output;

namespace PatternKit.Cli;

/// <summary>The one way into the program: arguments in, text and an exit code out.</summary>
public static class CommandLine
{
    /// <summary>Runs a command.</summary>
    /// <param name="args">Arguments as the shell gives them.</param>
    /// <param name="stdout">Takes the results.</param>
    /// <param name="stderr">Takes errors, and progress on a terminal.</param>
    /// <returns>0 done; 1 a finding forbids the kit; 2 wrong usage or input; 3 could not write. Nothing is thrown.</returns>
    public static int Run(string[] args, TextWriter stdout, TextWriter stderr) => Run(args, stdout, stderr, Pipeline.Product);

    internal static int Run(string[] args, TextWriter stdout, TextWriter stderr, Pipeline pipeline)
    {
        var terminal = new Terminal(stdout, stderr);
        return Guard.Run(terminal, () =>
        {
            var root = new RootCommand("Patterns, drawings and a shop sheet for casting metal in sand, from a job file.")
            {
                MakeCommand.Create(terminal, pipeline),
                CheckCommand.Create(terminal, pipeline),
                PartingCommand.Create(terminal),
                GateCommand.Create(terminal, pipeline),
                AlloysCommand.Create(terminal),
                SandsCommand.Create(terminal),
                NewCommand.Create(terminal),
            };
            // A file may begin with "@"; no argument is read out of another file.
            var parsed = root.Parse(args, new ParserConfiguration { ResponseFileTokenReplacer = null });
            if (Problem(parsed) is { } problem)
            {
                var command = parsed.CommandResult.Command;
                var help = command is RootCommand ? "patternkit --help" : $"patternkit {command.Name} --help";
                terminal.Error($"{problem.TrimEnd().TrimEnd('.')}. \"{help}\" tells what can be written.");
                return ExitCode.Unusable;
            }

            return parsed.Invoke(new InvocationConfiguration { Output = stdout, Error = stderr, EnableDefaultExceptionHandler = false });
        });
    }

    private static string? Problem(ParseResult parsed)
    {
        // A mistyped option would otherwise be taken for the name of one more job, and the others made without it.
        var stray = parsed.Tokens.FirstOrDefault(t => t.Type == TokenType.Argument && t.Value.Length > 1 && t.Value[0] == '-');
        if (stray is not null) return $"\"{stray.Value}\" is not an option here; a file of that name is written \"./{stray.Value}\"";
        if (parsed.UnmatchedTokens.Count > 0) return $"\"{parsed.UnmatchedTokens[0]}\" is not a command or argument here";
        return parsed.Errors.Count > 0 ? parsed.Errors[0].Message : null;
    }
}
