using System.Numerics;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Joining;

/// <summary>
/// A point with rational coordinates: whole numbers over a common positive one, in lowest terms, in steps of a grid. Where lines pass planes is told exactly by it, so that
/// two facets that share a place agree on it to the last digit.
/// </summary>
internal sealed record ExactPoint
{
    private ExactPoint(BigInteger x, BigInteger y, BigInteger z, BigInteger w)
    {
        (X, Y, Z, W) = (x, y, z, w);
        Near = new(Ratio(x, w), Ratio(y, w), Ratio(z, w));
    }

    /// <summary>First coordinate, times <see cref="W"/>.</summary>
    public BigInteger X { get; }

    /// <summary>Second coordinate, times <see cref="W"/>.</summary>
    public BigInteger Y { get; }

    /// <summary>Third coordinate, times <see cref="W"/>.</summary>
    public BigInteger Z { get; }

    /// <summary>What the others are over; positive.</summary>
    public BigInteger W { get; }

    /// <summary>The point in doubles, each coordinate right to a unit of the last place or two.</summary>
    public Vec3 Near { get; }

    /// <summary>A point of the grid.</summary>
    public static ExactPoint At(Vec3 steps) => new(new(steps.X), new(steps.Y), new(steps.Z), BigInteger.One);

    /// <summary>The point α a + β b of the line through both, in homogeneous coordinates.</summary>
    public static ExactPoint On(ExactPoint a, BigInteger alpha, ExactPoint b, BigInteger beta)
    {
        var (x, y, z, w) = ((alpha * a.X) + (beta * b.X), (alpha * a.Y) + (beta * b.Y), (alpha * a.Z) + (beta * b.Z), (alpha * a.W) + (beta * b.W));
        var divisor = BigInteger.GreatestCommonDivisor(BigInteger.GreatestCommonDivisor(x, y), BigInteger.GreatestCommonDivisor(z, w));
        if (w.Sign < 0) divisor = -divisor;
        return new(x / divisor, y / divisor, z / divisor, w / divisor);
    }

    /// <summary>By the first coordinate in which they differ: along any line, in its order.</summary>
    public static int Compare(ExactPoint a, ExactPoint b)
    {
        var x = (a.X * b.W).CompareTo(b.X * a.W);
        if (x != 0) return x;
        var y = (a.Y * b.W).CompareTo(b.Y * a.W);
        return y != 0 ? y : (a.Z * b.W).CompareTo(b.Z * a.W);
    }

    public bool Equals(ExactPoint? other) => other is not null && X == other.X && Y == other.Y && Z == other.Z && W == other.W;

    public override int GetHashCode() => HashCode.Combine(X, Y, Z, W);

    private static double Ratio(BigInteger a, BigInteger w)
    {
        if (w.IsOne) return (double)a;
        const int digits = 64;
        var shift = digits - (int)(a.GetBitLength() - w.GetBitLength());
        return Math.ScaleB((double)(shift >= 0 ? (a << shift) / w : a / (w << -shift)), -shift);
    }
}
