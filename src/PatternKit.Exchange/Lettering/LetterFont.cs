namespace PatternKit.Exchange.Lettering;

/// <summary>How heavy letters are drawn.</summary>
public enum LetterWeight
{
    /// <summary>Stems 0.12 of the cap height wide.</summary>
    Regular,

    /// <summary>Stems 0.18 of the cap height wide; draws better in sand.</summary>
    SemiBold,
}

/// <summary>
/// The typeface that travels with the product: Inter 3.19 (Copyright 2020 The Inter Project Authors, SIL Open Font
/// License 1.1, see <see cref="License"/>), Latin, Greek and Cyrillic. A bare machine has no font at all, and another
/// machine's font would give another pattern.
/// </summary>
public static class LetterFont
{
    /// <summary>The TrueType file of a weight; the caller disposes the stream.</summary>
    public static Stream Open(LetterWeight weight) => Resource(weight switch
    {
        LetterWeight.Regular => "Inter-Regular.ttf",
        LetterWeight.SemiBold => "Inter-SemiBold.ttf",
        _ => throw new ArgumentOutOfRangeException(nameof(weight)),
    });

    /// <summary>The copyright line and the licence of the typeface.</summary>
    public static string License()
    {
        using var reader = new StreamReader(Resource("OFL.txt"));
        return reader.ReadToEnd();
    }

    private static Stream Resource(string name) =>
        typeof(LetterFont).Assembly.GetManifestResourceStream(name) ?? throw new InvalidOperationException($"The resource {name} is not built in.");
}
