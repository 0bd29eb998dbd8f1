namespace PatternKit.Exchange.Dxf;

/// <summary>Drawing unit: the values of the header variable $INSUNITS (DXF reference, HEADER section).</summary>
public enum DxfUnit
{
    /// <summary>The drawing does not say. Ask; never guess.</summary>
    None = 0,
    Inch = 1,
    Foot = 2,
    Mile = 3,
    Millimetre = 4,
    Centimetre = 5,
    Metre = 6,
    Kilometre = 7,
    Microinch = 8,
    Mil = 9,
    Yard = 10,
    Angstrom = 11,
    Nanometre = 12,
    Micrometre = 13,
    Decimetre = 14,
    Decametre = 15,
    Hectometre = 16,
}

/// <summary>Sizes of the drawing units.</summary>
public static class DxfUnits
{
    /// <summary>
    /// Length of one unit in millimetres, exact (international inch of 25.4 mm, 1959); null for <see cref="DxfUnit.None"/>.
    /// </summary>
    public static double? MillimetresPer(DxfUnit unit) => unit switch
    {
        DxfUnit.Inch => 25.4,
        DxfUnit.Foot => 304.8,
        DxfUnit.Mile => 1609344,
        DxfUnit.Millimetre => 1,
        DxfUnit.Centimetre => 10,
        DxfUnit.Metre => 1000,
        DxfUnit.Kilometre => 1e6,
        DxfUnit.Microinch => 25.4e-6,
        DxfUnit.Mil => 25.4e-3,
        DxfUnit.Yard => 914.4,
        DxfUnit.Angstrom => 1e-7,
        DxfUnit.Nanometre => 1e-6,
        DxfUnit.Micrometre => 1e-3,
        DxfUnit.Decimetre => 100,
        DxfUnit.Decametre => 1e4,
        DxfUnit.Hectometre => 1e5,
        _ => null,
    };
}
