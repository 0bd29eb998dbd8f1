using Spectre.Console;

namespace PatternKit.Cli.Output;

/// <summary>Where a run speaks: results, errors, and progress where a person watches.</summary>
internal sealed class Terminal(TextWriter results, TextWriter errors)
{
    // Wide enough that no row of a table breaks in a pipe, so that lines can be searched.
    private const int PipeWidth = 1000;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(1);

    /// <summary>Takes the results.</summary>
    public TextWriter Results { get; } = results;

    /// <summary>One line on stderr.</summary>
    public void Error(string message) => errors.WriteLine($"patternkit: {OneLine(message)}");

    /// <summary>Writes a table, fitted to the terminal.</summary>
    public void Write(Table table)
    {
        var watched = ReferenceEquals(Results, Console.Out) && !Console.IsOutputRedirected;
        var console = AnsiConsole.Create(new AnsiConsoleSettings
        {
            Out = new AnsiConsoleOutput(Results),
            Ansi = watched ? AnsiSupport.Detect : AnsiSupport.No,
            Interactive = InteractionSupport.No,
        });
        if (!watched) console.Profile.Width = PipeWidth;
        console.Write(table);
    }

    /// <summary>Does the work; past a second, a terminal shows that it goes on. A pipe is left clean.</summary>
    public T Working<T>(string what, Func<T> work)
    {
        if (!ReferenceEquals(errors, Console.Error) || Console.IsErrorRedirected) return work();
        var task = Task.Run(work);
        if (((IAsyncResult)task).AsyncWaitHandle.WaitOne(Patience)) return task.GetAwaiter().GetResult();
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Out = new AnsiConsoleOutput(errors) });
        return console.Status().Start(Markup.Escape(what), _ => task.GetAwaiter().GetResult());
    }

    // Names of files and layers may hold anything, also what would move the cursor.
    private static string OneLine(string message) =>
        string.Concat(message.ReplaceLineEndings(" ").Select(c => char.IsControl(c) ? '·' : c));
}
