using System.Globalization;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;

namespace PatternKit.Sheets.Texts;

/// <summary>
/// Numbers as the sheet shows them: millimetres alone, or for a job in inches the inch first and millimetres beside it. Where they are worked by, the other unit stands beside in any job.
/// Thousands are parted by a narrow blank, negative numbers have a true minus.
/// </summary>
internal sealed class SheetNumbers(LengthUnit unit, bool inchesBeside = false)
{
    private const double Inch = CustomaryUnits.Inch_mm;
    private const double Pound = CustomaryUnits.Pound_kg;

    private static readonly NumberFormatInfo Format = MakeFormat();

    /// <summary>Whether the inch comes first.</summary>
    public bool Inches { get; } = unit == LengthUnit.Inch;

    /// <summary>A number with a fixed count of decimals.</summary>
    public static string Fixed(double value, int decimals)
    {
        var rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero);
        // Adding zero turns a negative zero into zero.
        return (rounded + 0.0).ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), Format);
    }

    /// <summary>A number with no more decimals than it needs, at most four.</summary>
    public static string Short(double value) => (Math.Round(value, 4) + 0.0).ToString("#,0.####", Format);

    /// <summary>A whole number.</summary>
    public static string Whole(long value) => value.ToString("N0", Format);

    /// <summary>A length with its unit.</summary>
    public string Length(double value_mm, int decimals = 2) => Inches
        ? $"{Fixed(value_mm / Inch, decimals + 1)}\u00A0in ({Fixed(value_mm, decimals)}\u00A0mm)"
        : $"{Fixed(value_mm, decimals)}\u00A0mm" + Beside($"{Fixed(value_mm / Inch, decimals + 1)}\u00A0in");

    /// <summary>A length that is a setting: only the decimals that it has.</summary>
    public string ShortLength(double value_mm) => Inches
        ? $"{Short(value_mm / Inch)}\u00A0in ({Short(value_mm)}\u00A0mm)"
        : $"{Short(value_mm)}\u00A0mm" + Beside($"{Fixed(value_mm / Inch, 2)}\u00A0in");

    /// <summary>Three edge lengths.</summary>
    public string Size(Vec3 size_mm) => Inches
        ? $"{Three(1 / Inch * size_mm, 3)}\u00A0in ({Three(size_mm, 2)}\u00A0mm)"
        : $"{Three(size_mm, 2)}\u00A0mm";

    /// <summary>A place in job coordinates.</summary>
    public string Place(Vec3 at_mm) => Inches
        ? $"x\u00A0{Fixed(at_mm.X / Inch, 3)}, y\u00A0{Fixed(at_mm.Y / Inch, 3)}, z\u00A0{Fixed(at_mm.Z / Inch, 3)}\u00A0in (x\u00A0{Fixed(at_mm.X, 2)}, y\u00A0{Fixed(at_mm.Y, 2)}, z\u00A0{Fixed(at_mm.Z, 2)}\u00A0mm)"
        : $"x\u00A0{Fixed(at_mm.X, 2)}, y\u00A0{Fixed(at_mm.Y, 2)}, z\u00A0{Fixed(at_mm.Z, 2)}\u00A0mm";

    /// <summary>A volume with its unit.</summary>
    public string Volume(double value_mm3) => Inches
        ? $"{Fixed(value_mm3 / (Inch * Inch * Inch), 3)}\u00A0in³ ({Fixed(value_mm3, 1)}\u00A0mm³)"
        : $"{Fixed(value_mm3, 1)}\u00A0mm³";

    /// <summary>A weight with its unit.</summary>
    public string Weight(double value_kg) => Inches
        ? $"{Fixed(value_kg / Pound, 3)}\u00A0lb ({Fixed(value_kg, 3)}\u00A0kg)"
        : $"{Fixed(value_kg, 3)}\u00A0kg" + Beside($"{Fixed(value_kg / Pound, 2)}\u00A0lb");

    /// <summary>A figure of any other unit; one of forces, areas, temperatures and the like has its customary unit before or beside it as lengths have inches.</summary>
    /// <param name="value">In the unit.</param>
    /// <param name="unitName">"N", "mm²", "°C" …</param>
    /// <param name="decimals">So many; left out, no more than it needs.</param>
    public string Figure(double value, string unitName, int? decimals = null)
    {
        var metric = $"{(decimals is { } d ? Fixed(value, d) : Short(value))}\u00A0{unitName}";
        if (CustomaryUnits.Of(unitName) is not { } unit) return metric;
        var customary = $"{Fixed(unit.From + (unit.Factor * value), unit.Decimals)}\u00A0{unit.Name}";
        return Inches ? $"{customary} ({metric})" : metric + Beside(customary);
    }

    /// <summary>A length in plain letters, for drawings that machines read.</summary>
    public string PlainLength(double value_mm) => Inches
        ? string.Create(CultureInfo.InvariantCulture, $"{value_mm / Inch:0.###} in ({value_mm:0.###} mm)")
        : string.Create(CultureInfo.InvariantCulture, $"{value_mm:0.###} mm");

    /// <summary>An area in plain letters.</summary>
    public string PlainArea(double value_mm2) => Inches
        ? string.Create(CultureInfo.InvariantCulture, $"{value_mm2 / (Inch * Inch):0.###} in² ({value_mm2:0.#} mm²)")
        : string.Create(CultureInfo.InvariantCulture, $"{value_mm2:0.#} mm²");

    /// <summary>The same with inches and pounds beside millimetres and kilograms.</summary>
    public SheetNumbers WithInchesBeside() => Inches ? this : new(LengthUnit.Millimetre, true);

    private string Beside(string other) => inchesBeside ? $" ({other})" : "";

    /// <summary>An angle of radians, in degrees.</summary>
    public static string Angle(double radians) => $"{Fixed(radians * 180 / Math.PI, 2)}°";

    /// <summary>A value with the unit that a decision names.</summary>
    public string WithUnit(double value, string unitName) => unitName switch
    {
        "mm" => ShortLength(value),
        "mm3" or "mm³" => Volume(value),
        "kg" => Weight(value),
        "mm2" => Figure(value, "mm²"),
        "deg" => $"{Short(value)}°",
        "" => Short(value),
        _ => Figure(value, CleanText.Of(unitName)),
    };

    private static string Three(Vec3 size, int decimals) =>
        $"{Fixed(size.X, decimals)} × {Fixed(size.Y, decimals)} × {Fixed(size.Z, decimals)}";

    private static NumberFormatInfo MakeFormat()
    {
        var format = (NumberFormatInfo)CultureInfo.InvariantCulture.NumberFormat.Clone();
        format.NumberGroupSeparator = "\u202F";
        format.NegativeSign = "\u2212";
        return NumberFormatInfo.ReadOnly(format);
    }
}
