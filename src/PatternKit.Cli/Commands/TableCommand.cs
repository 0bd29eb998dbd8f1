using System.CommandLine;
using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Foundry;

namespace PatternKit.Cli.Commands;

/// <summary>A command that lists one table of the trade, the user's own rows included.</summary>
internal static class TableCommand
{
    public static Command Create(Terminal terminal, string name, string description, Func<FoundryTables, IEnumerable<ValueRows>> rows)
    {
        var json = new Option<bool>("--json") { Description = "Write JSON for scripts." };
        var command = new Command(name, description) { json };
        command.SetAction(parsed =>
        {
            ValueTable.Write(terminal, parsed.GetValue(json), name[..^1], rows(ShopFile.OfUser().Tables));
            return ExitCode.Done;
        });
        return command;
    }
}
