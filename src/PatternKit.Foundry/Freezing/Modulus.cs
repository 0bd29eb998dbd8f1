namespace PatternKit.Foundry;

/// <summary>Volume over cooling surface of simple bodies, in the unit of their lengths (Chvorinov 1940). Ends that do not cool are left out where said.</summary>
public static class Modulus
{
    /// <summary>A wide plate: half its thickness.</summary>
    public static double Wall(double thickness) => thickness / 2;

    /// <summary>A long bar of rectangular section: ab / 2(a + b).</summary>
    public static double Bar(double a, double b) => a * b / (2 * (a + b));

    /// <summary>A long round bar: D/4.</summary>
    public static double RoundBar(double diameter) => diameter / 4;

    /// <summary>A block, all faces cooling: abc / 2(ab + bc + ca); a cube has a/6.</summary>
    public static double Block(double a, double b, double c) => a * b * c / (2 * ((a * b) + (b * c) + (c * a)));

    /// <summary>A sphere: D/6.</summary>
    public static double Sphere(double diameter) => diameter / 6;

    /// <summary>A cylinder with both ends cooling: DH / (4H + 2D).</summary>
    public static double Cylinder(double diameter, double height) => diameter * height / ((4 * height) + (2 * diameter));

    /// <summary>A cylinder that stands on metal, so that one end does not cool: DH / (4H + D).</summary>
    public static double StandingCylinder(double diameter, double height) => diameter * height / ((4 * height) + diameter);
}
