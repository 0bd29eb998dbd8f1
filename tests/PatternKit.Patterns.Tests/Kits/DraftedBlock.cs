namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Closed forms of drafted bodies.</summary>
internal static class DraftedBlock
{
    /// <summary>
    /// Upright block under a cone: its level section at a depth d below the top is the rectangle grown by d·tan θ with round corners, of
    /// area LW + 2(L + W) d·tan θ + π d² tan² θ (Steiner's formula for parallel bodies), integrated over the height.
    /// </summary>
    public static double Added(double length, double width, double height, double tangent) =>
        (length * width * height) + ((length + width) * height * height * tangent) + (Math.PI / 3 * Math.Pow(height, 3) * tangent * tangent);

    /// <summary>Frustum of a rectangular pyramid of equal slopes, by the prismoidal rule: sand in a square-cornered hole, whose corners stay square.</summary>
    public static double Frustum(double length, double width, double height, double tangent)
    {
        var shrink = 2 * height * tangent;
        return height / 6 * ((length * width) + (4 * (length - (shrink / 2)) * (width - (shrink / 2))) + ((length - shrink) * (width - shrink)));
    }

    /// <summary>Frustum of a circular cone, πh/3 (R² + Rr + r²).</summary>
    public static double Cone(double diameter, double height, double tangent)
    {
        var (a, b) = (diameter / 2, (diameter / 2) + (height * tangent));
        return Math.PI * height / 3 * ((a * a) + (a * b) + (b * b));
    }
}
