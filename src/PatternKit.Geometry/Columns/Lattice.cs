namespace PatternKit.Geometry.Columns;

/// <summary>
/// The square grid that plan coordinates and heights of a <see cref="ColumnMap"/> lie on. Its step is a power of two,
/// so that every multiple is exact in a double, and in a single-precision number up to 2²⁴ steps.
/// </summary>
public static class Lattice
{
    /// <summary>Bits of a single-precision significand (IEEE 754, binary32).</summary>
    private const int SingleBits = 24;

    /// <summary>
    /// The finest step with which every coordinate up to <paramref name="largest"/>, and a margin of a fifth beyond
    /// for what is added later, is exact in single precision.
    /// </summary>
    /// <param name="largest">Largest absolute coordinate, mm.</param>
    public static double StepFor(double largest)
    {
        if (!double.IsFinite(largest) || largest < 0) throw new ArgumentOutOfRangeException(nameof(largest));
        // A body of no size still needs a step; 1 mm is as good as any.
        var reach = largest == 0 ? 1 : 1.2 * largest;
        return Math.ScaleB(1, (int)Math.Ceiling(Math.Log2(reach)) - SingleBits);
    }

    /// <summary>The multiple of <paramref name="step"/> nearest to <paramref name="value"/>; halves go up, as the noding of outlines has it.</summary>
    public static double Snap(double value, double step) => Math.Floor((value / step) + 0.5) * step;

    /// <summary>Whether <paramref name="step"/> is a power of two, negative exponents included.</summary>
    public static bool IsPowerOfTwo(double step) =>
        double.IsFinite(step) && step > 0 && Math.ScaleB(1, Math.ILogB(step)) == step;
}
