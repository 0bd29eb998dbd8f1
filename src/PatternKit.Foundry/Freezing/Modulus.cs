namespace PatternKit.Foundry;

/// <summary>Volume over cooling surface of simple bodies, in the unit of their lengths (Chvorinov 1940). Ends that do not cool are left out where said.</summary>
/// <exception cref="ArgumentOutOfRangeException">Of all of them: a length is below 0 or not a number, or, of those of two lengths and more, not positive.</exception>
public static class Modulus
{
    /// <summary>A wide plate: half its thickness.</summary>
    public static double Wall(double thickness) => Length(thickness) / 2;

    /// <summary>A long bar of rectangular section: ab / 2(a + b).</summary>
    public static double Bar(double a, double b) => Side(a) * Side(b) / (2 * (a + b));

    /// <summary>A long round bar: D/4.</summary>
    public static double RoundBar(double diameter) => Length(diameter) / 4;

    /// <summary>A block, all faces cooling: abc / 2(ab + bc + ca); a cube has a/6.</summary>
    public static double Block(double a, double b, double c) => Side(a) * Side(b) * Side(c) / (2 * ((a * b) + (b * c) + (c * a)));

    /// <summary>A sphere: D/6.</summary>
    public static double Sphere(double diameter) => Length(diameter) / 6;

    /// <summary>A cylinder with both ends cooling: DH / (4H + 2D).</summary>
    public static double Cylinder(double diameter, double height) => Side(diameter) * Side(height) / ((4 * height) + (2 * diameter));

    /// <summary>A cylinder that stands on metal, so that one end does not cool: DH / (4H + D).</summary>
    public static double StandingCylinder(double diameter, double height) => Side(diameter) * Side(height) / ((4 * height) + diameter);

    private static double Length(double value)
    {
        Checked.Within(value, 0, double.MaxValue, "length");
        return value;
    }

    private static double Side(double value)
    {
        Checked.Positive(value, "length");
        return value;
    }
}
