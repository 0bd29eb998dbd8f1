using System.Collections.Immutable;

namespace PatternKit.Exchange;

/// <summary>A repair made, or a thing skipped, while reading a file.</summary>
/// <param name="Source">File name as the user gave it.</param>
/// <param name="Line">Line of the file, from 1; 0 where none applies.</param>
/// <param name="Text">What was found and what was done.</param>
public sealed record ReadNote(string Source, int Line, string Text);

/// <summary>What was read, and every repair and omission on the way.</summary>
public sealed record ReadResult<T>(T Value, ImmutableArray<ReadNote> Notes);
