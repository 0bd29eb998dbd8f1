namespace PatternKit.Cli;

/// <summary>What the program answers to the shell. Of several jobs the gravest counts.</summary>
internal static class ExitCode
{
    /// <summary>Done; warnings are allowed.</summary>
    public const int Done = 0;

    /// <summary>A finding forbids the kit.</summary>
    public const int Stopped = 1;

    /// <summary>Wrong usage, input that cannot be read, or a defect of the program.</summary>
    public const int Unusable = 2;

    /// <summary>The result could not be written.</summary>
    public const int NotWritten = 3;
}
