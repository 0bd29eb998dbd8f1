using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Numbers positions in the order in which they first come: equal ones (0 and −0 are equal) get one number. A hash table with open addressing.</summary>
internal sealed class PositionTable
{
    private const int Least = 64;

    private readonly ImmutableArray<Vec3>.Builder positions;
    private int[] slots;
    private int mask;

    /// <summary>Takes room.</summary>
    /// <param name="expected">How many different positions will come, roughly.</param>
    public PositionTable(int expected)
    {
        positions = ImmutableArray.CreateBuilder<Vec3>(expected);
        slots = new int[(int)System.Numerics.BitOperations.RoundUpToPowerOf2((uint)Math.Max(Least, expected + (expected / 2)))];
        mask = slots.Length - 1;
    }

    /// <summary>How many different positions there are.</summary>
    public int Count => positions.Count;

    /// <summary>The number of a position, a new one if it has none yet.</summary>
    public int Number(Vec3 p)
    {
        var slot = Hash(p) & mask;
        for (; slots[slot] != 0; slot = (slot + 1) & mask)
            if (positions.ItemRef(slots[slot] - 1).Equals(p)) return slots[slot] - 1;
        positions.Add(p);
        slots[slot] = positions.Count;
        // At most two of three are taken.
        if (3L * positions.Count > 2L * slots.Length) Grow();
        return positions.Count - 1;
    }

    /// <summary>The positions by number; the table is of no use afterwards.</summary>
    public ImmutableArray<Vec3> Drained() => positions.DrainToImmutable();

    private void Grow()
    {
        slots = new int[2 * slots.Length];
        mask = slots.Length - 1;
        for (var i = 0; i < positions.Count; i++)
        {
            var slot = Hash(positions[i]) & mask;
            while (slots[slot] != 0) slot = (slot + 1) & mask;
            slots[slot] = i + 1;
        }
    }

    private static int Hash(Vec3 p)
    {
        // Multipliers of the 64-bit mixer of MurmurHash3 (Appleby 2011, memory).
        var h = (Bits(p.X) * 0xff51afd7ed558ccd) ^ (Bits(p.Y) * 0xc4ceb9fe1a85ec53) ^ (Bits(p.Z) * 0x9e3779b97f4a7c15);
        h ^= h >> 33;
        h *= 0xff51afd7ed558ccd;
        return (int)(h >> 33);

        // Adding 0 makes 0 of −0; whatever is no number counts as one.
        static ulong Bits(double x) => double.IsNaN(x) ? 1 : BitConverter.DoubleToUInt64Bits(x + 0.0);
    }
}
