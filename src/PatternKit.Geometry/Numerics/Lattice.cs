namespace PatternKit.Geometry.Numerics;

/// <summary>
/// A square lattice whose step is a power of two, chosen so that every multiple of the step up to the extent
/// is a float32 exactly. Points snapped to it survive the writing of an STL file unchanged, and signs of
/// areas and circles are computed on whole numbers, so they are never wrong.
/// </summary>
public readonly record struct Lattice
{
    private Lattice(double step, double extent)
    {
        Step = step;
        Extent = extent;
    }

    /// <summary>Distance of neighbouring points, mm; a power of two.</summary>
    public double Step { get; }

    /// <summary>Largest magnitude of a coordinate, mm: 2²⁴ steps.</summary>
    public double Extent { get; }

    /// <summary>The finest lattice that holds coordinates up to <paramref name="largest"/> mm.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not a positive finite length below 10⁶ mm.</exception>
    public static Lattice For(double largest)
    {
        if (!(largest > 0) || largest > 1e6) throw new ArgumentOutOfRangeException(nameof(largest));
        var extent = Math.ScaleB(1, Math.ILogB(largest) + 1);
        return new(Math.ScaleB(extent, -24), extent);
    }

    /// <summary>
    /// The step for coordinates up to <paramref name="largest"/> mm with a margin of a fifth for what is added later;
    /// that of 1 mm for a body of no size.
    /// </summary>
    public static double StepFor(double largest) => For(largest > 0 ? 1.2 * largest : 1).Step;

    /// <summary>The multiple of a step nearest to a value; halves go up, as in the noding of outlines.</summary>
    public static double Snap(double value, double step) => Math.Floor((value / step) + 0.5) * step;

    /// <summary>Whether a step is a power of two, negative exponents included.</summary>
    public static bool IsPowerOfTwo(double step) =>
        double.IsFinite(step) && step > 0 && Math.ScaleB(1, Math.ILogB(step)) == step;

    /// <summary>The nearest multiple of the step.</summary>
    public double Snap(double value) => Snap(value, Step);

    /// <summary>The nearest lattice point.</summary>
    public Vec2 Snap(Vec2 p) => new(Snap(p.X), Snap(p.Y));

    /// <summary>Which multiple of the step is nearest.</summary>
    public int Index(double value) => checked((int)Math.Floor((value / Step) + 0.5));
}
