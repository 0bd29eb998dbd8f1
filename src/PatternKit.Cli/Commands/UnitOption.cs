using System.CommandLine;

namespace PatternKit.Cli.Commands;

/// <summary>The unit of a file, for commands that read files which may lack one.</summary>
internal static class UnitOption
{
    /// <summary>The option; null where it is not given.</summary>
    /// <param name="what">What may lack a unit, such as "a file".</param>
    public static Option<string?> Of(string what)
    {
        var unit = new Option<string?>("--unit") { Description = $"Unit of {what} that does not state its own.", HelpName = "mm|in" };
        unit.AcceptOnlyFromAmong("mm", "in");
        return unit;
    }
}
