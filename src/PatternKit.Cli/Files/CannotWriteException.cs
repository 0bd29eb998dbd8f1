namespace PatternKit.Cli.Files;

/// <summary>A result could not be written; the message names the place and the cause, and nothing is left behind.</summary>
internal sealed class CannotWriteException(string message, Exception? inner = null) : Exception(message, inner);
