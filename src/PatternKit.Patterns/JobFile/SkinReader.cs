using PatternKit.Foundry;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads what is made of the printed skin before moulding.</summary>
internal static class SkinReader
{
    /// <summary>The skin; null by rule.</summary>
    public static PatternSkin? Read(JobText text, TomlEntry? entry) => entry is null ? null : Values.Word(text, entry, "auto", "printed", "sanded", "smoothed") switch
    {
        "printed" => PatternSkin.Printed,
        "sanded" => PatternSkin.Sanded,
        "smoothed" => PatternSkin.Smoothed,
        _ => null,
    };
}
