using System.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// Signs of sums that floating point would round: non-overlapping expansions
/// (Shewchuk 1997, Adaptive Precision Floating-Point Arithmetic, sections 2.2 to 2.4) and whole numbers.
/// </summary>
internal static class ExactSum
{
    /// <summary>The rounded product and what the rounding lost; exact while neither under- nor overflows.</summary>
    public static (double Product, double Lost) Product(double a, double b)
    {
        var p = a * b;
        return (p, Math.FusedMultiplyAdd(a, b, -p));
    }

    /// <summary>Whether a − b is a double: the rounding of the difference loses nothing.</summary>
    public static bool DifferenceIsExact(double a, double b)
    {
        var x = a - b;
        var partB = a - x;
        var partA = x + partB;
        return a - partA + (partB - b) == 0;
    }

    /// <summary>Sign of the exact sum of the terms. At most 32 terms.</summary>
    public static int Sign(ReadOnlySpan<double> terms)
    {
        // Components in rising size that do not overlap, so the last one carries the sign.
        Span<double> sum = stackalloc double[32];
        var count = 0;
        foreach (var term in terms)
        {
            if (term == 0) continue;
            var carry = term;
            var kept = 0;
            for (var i = 0; i < count; i++)
            {
                var (a, b) = (carry, sum[i]);
                carry = a + b;
                var virtualB = carry - a;
                var lost = a - (carry - virtualB) + (b - virtualB);
                if (lost != 0) sum[kept++] = lost;
            }

            if (carry != 0) sum[kept++] = carry;
            count = kept;
        }

        return count == 0 ? 0 : Math.Sign(sum[count - 1]);
    }

    /// <summary>The numbers as whole multiples of one power of two. All must be finite.</summary>
    public static BigInteger[] Whole(ReadOnlySpan<double> numbers)
    {
        var lowest = int.MaxValue;
        foreach (var number in numbers)
            if (number != 0) lowest = Math.Min(lowest, Exponent(number));
        var whole = new BigInteger[numbers.Length];
        for (var i = 0; i < whole.Length; i++)
        {
            if (numbers[i] == 0) continue;
            whole[i] = new BigInteger(Mantissa(numbers[i])) << (Exponent(numbers[i]) - lowest);
        }

        return whole;
    }

    private static int Exponent(double number) =>
        Math.Max((int)((BitConverter.DoubleToInt64Bits(number) >> 52) & 0x7FF), 1) - 1075;

    private static long Mantissa(double number)
    {
        var bits = BitConverter.DoubleToInt64Bits(number);
        var mantissa = bits & 0xF_FFFF_FFFF_FFFF;
        if (((bits >> 52) & 0x7FF) != 0) mantissa |= 1L << 52;
        return bits < 0 ? -mantissa : mantissa;
    }
}
