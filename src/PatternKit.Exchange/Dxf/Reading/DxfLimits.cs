namespace PatternKit.Exchange.Dxf;

/// <summary>Bounds that no drawing of a part reaches; they stop a hostile or broken file early.</summary>
internal static class DxfLimits
{
    /// <summary>
    /// Largest coordinate in drawing units: 1 km where the unit is the micrometre, 1000 km where it is the millimetre; a double
    /// still resolves 1e-7 of a unit there.
    /// </summary>
    public const double Coordinate = 1e9;

    /// <summary>Entities visited, those of inserted blocks once for each insert.</summary>
    public const int Visits = 1_000_000;

    /// <summary>Vertices of all curves together.</summary>
    public const int Vertices = 1_000_000;

    /// <summary>Blocks within blocks.</summary>
    public const int Depth = 32;

    /// <summary>Degree of a spline.</summary>
    public const int Degree = 25;
}
