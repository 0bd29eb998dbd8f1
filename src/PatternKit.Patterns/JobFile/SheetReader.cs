namespace PatternKit.Patterns.JobFile;

/// <summary>Reads [sheet]: projection.</summary>
internal static class SheetReader
{
    private const string Example = "[sheet] with projection = \"first\" or \"third\" below it";

    /// <summary>The projection of the drawings, first angle when left out.</summary>
    /// <exception cref="Exchange.InputException">A key or value that cannot be used.</exception>
    public static ViewAngle Projection(JobText text, TomlEntry? entry) =>
        entry is not null && Section.Open(text, entry, "[sheet]", ["projection"], Example)["projection"] is { } projection && Values.Word(text, projection, "first", "third") == "third"
            ? ViewAngle.Third : ViewAngle.First;
}
