using System.Collections.Immutable;
using PatternKit.Exchange;

namespace PatternKit.Patterns.JobFile;

/// <summary>What every reader of a job needs: where messages point to, the unit of bare lengths, the notes so far.</summary>
internal sealed class JobText(string source)
{
    private readonly ImmutableArray<ReadNote>.Builder _notes = ImmutableArray.CreateBuilder<ReadNote>();

    /// <summary>The job file as the user gave it.</summary>
    public string Source { get; } = source;

    /// <summary>Unit of bare lengths; set once, before any length is read.</summary>
    public LengthUnit Unit { get; set; }

    /// <summary>Repairs and omissions.</summary>
    public ImmutableArray<ReadNote> Notes => _notes.ToImmutable();

    /// <summary>An error at a line of the job file.</summary>
    public InputException Refuse(int line, string problem) => new(Source, line > 0 ? $"line {line}" : "", problem);

    /// <summary>Writes down a repair or an omission in the job file.</summary>
    public void Note(int line, string text) => _notes.Add(new(Source, line, text));

    /// <summary>Takes over the notes of another file.</summary>
    public void Note(IEnumerable<ReadNote> notes) => _notes.AddRange(notes);
}
