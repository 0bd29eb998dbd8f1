namespace PatternKit.Exchange;

/// <summary>
/// Input that cannot be used. The message stands alone for a person: what file, which line or byte,
/// what was found there, what to do. The command line prints it and ends with exit code 2.
/// </summary>
public sealed class InputException : Exception
{
    /// <summary>Input at a place that cannot be used.</summary>
    /// <param name="source">File name as the user gave it.</param>
    /// <param name="place">"line 12", "byte 84", or empty.</param>
    /// <param name="problem">What was found, and what to do about it.</param>
    public InputException(string source, string place, string problem)
        : base(place.Length == 0 ? $"{source}: {problem}" : $"{source}, {place}: {problem}")
    {
    }

    /// <summary>Input that cannot be used, with a lower cause.</summary>
    public InputException(string message, Exception inner) : base(message, inner)
    {
    }
}
