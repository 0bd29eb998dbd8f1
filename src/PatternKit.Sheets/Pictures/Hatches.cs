namespace PatternKit.Sheets.Pictures;

/// <summary>How facets are marked, so that kinds of findings are told apart without colour.</summary>
internal enum Hatch
{
    /// <summary>Not at all.</summary>
    None,

    /// <summary>Lines that rise to the right.</summary>
    Rising,

    /// <summary>Lines both ways.</summary>
    Crossed,

    /// <summary>Upright lines.</summary>
    Upright,

    /// <summary>Dots.</summary>
    Dotted,
}

/// <summary>Hatching of a picture, by pixels.</summary>
internal static class Hatches
{
    /// <summary>Grey of the lines.</summary>
    public const byte Ink = 40;

    private const int Period = 9, Line = 2, Dot = 3;

    /// <summary>How the facets of a finding are marked.</summary>
    /// <param name="code">Code of the finding.</param>
    public static Hatch Of(string code) => code switch
    {
        "undercut" => Hatch.Crossed,
        "recess" => Hatch.Rising,
        "no-draft" => Hatch.Upright,
        "thin-section" => Hatch.Dotted,
        _ => Hatch.None,
    };

    /// <summary>Whether a pixel is on a line of the hatching.</summary>
    public static bool IsInk(Hatch hatch, int column, int row) => hatch switch
    {
        Hatch.Rising => (column + row) % Period < Line,
        Hatch.Crossed => (column + row) % Period < Line || (((column - row) % Period) + Period) % Period < Line,
        Hatch.Upright => column % Period < Line,
        Hatch.Dotted => column % Period < Dot && row % Period < Dot,
        _ => false,
    };
}
