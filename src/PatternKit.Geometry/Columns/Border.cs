using NetTopologySuite.Geometries;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// A noded straight piece of linework from A to B, A before B in x then y, and what lies on both sides of it.
/// </summary>
internal sealed record Border(Coordinate A, Coordinate B, int Left, int Right)
{
    /// <summary>No face: the unbounded outside.</summary>
    internal const int Outside = -1;

    /// <summary>The same for a pair of ends in either order.</summary>
    internal static BorderEnds Key(Coordinate p, Coordinate q) => p.CompareTo(q) < 0 ? new(p.X, p.Y, q.X, q.Y) : new(q.X, q.Y, p.X, p.Y);

    /// <summary>A border by its two ends in either order and what lies left and right on the way from the first to the second.</summary>
    internal static Border Between(Coordinate from, Coordinate to, int left, int right) =>
        from.CompareTo(to) < 0 ? new(from, to, left, right) : new(to, from, right, left);

    /// <summary>What lies left on the way from <paramref name="from"/>, which is one of the ends.</summary>
    internal int LeftFrom(Coordinate from) => from.Equals2D(A) ? Left : Right;
}

/// <summary>Both ends of a piece, the smaller first, in ascending order of their coordinates.</summary>
internal readonly record struct BorderEnds(double AX, double AY, double BX, double BY) : IComparable<BorderEnds>
{
    /// <inheritdoc/>
    public int CompareTo(BorderEnds other) =>
        AX != other.AX ? AX.CompareTo(other.AX) : AY != other.AY ? AY.CompareTo(other.AY) : BX != other.BX ? BX.CompareTo(other.BX) : BY.CompareTo(other.BY);
}
