using PatternKit.Cli.Files;
using PatternKit.Cli.Output;
using PatternKit.Exchange;
using PatternKit.Foundry;

namespace PatternKit.Cli;

/// <summary>Turns what a run throws into one line on stderr and an exit code; a stack trace helps no user.</summary>
internal static class Guard
{
    /// <summary>Runs a piece of work, of which one run may have several.</summary>
    public static int Run(Terminal terminal, Func<int> work)
    {
        try
        {
            return work();
        }
        catch (Exception e) when (e is InputException or TableException or UnknownNameException)
        {
            terminal.Error(e.Message);
            return ExitCode.Unusable;
        }
        catch (CannotWriteException e)
        {
            terminal.Error(e.Message);
            return ExitCode.NotWritten;
        }
        catch (Exception e)
        {
            terminal.Error($"a defect in PatternKit, not in what you did: {e.GetType().Name}: {e.Message} Nothing was written for this. Please report it together with the job.");
            return ExitCode.Unusable;
        }
    }
}
