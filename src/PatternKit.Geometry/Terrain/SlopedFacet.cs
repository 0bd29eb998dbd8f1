using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>A triangle of a sloped plateau.</summary>
/// <param name="A">First corner.</param>
/// <param name="B">Second corner.</param>
/// <param name="C">Third corner.</param>
/// <param name="Angle">The draft that its slope keeps, radians.</param>
/// <param name="Plateau">Number of the plateau.</param>
internal readonly record struct SlopedFacet(Vec3 A, Vec3 B, Vec3 C, double Angle, int Plateau)
{
    /// <summary>Height of the highest corner.</summary>
    public double Highest => Math.Max(A.Z, Math.Max(B.Z, C.Z));

    /// <summary>Height of the lowest corner.</summary>
    public double Lowest => Math.Min(A.Z, Math.Min(B.Z, C.Z));

    /// <summary>The corners of the part above a height, in plan. Neighbours of one plateau that share two corners share the cut of their side.</summary>
    public Vec2[] Above(double height)
    {
        var points = new List<Vec2>(4);
        Walk(A, B);
        Walk(B, C);
        Walk(C, A);
        if (points.Count > 1 && points[^1] == points[0]) points.RemoveAt(points.Count - 1);
        return points.Count < 3 ? [] : [.. points];

        void Walk(Vec3 from, Vec3 to)
        {
            if (from.Z > height) points.Add(from.Plan);
            if (from.Z > height == to.Z > height) return;
            var (high, low) = from.Z > to.Z ? (from, to) : (to, from);
            var cut = low.Z == height ? low.Plan : high.Plan + ((high.Z - height) / (high.Z - low.Z) * (low.Plan - high.Plan));
            if (points.Count == 0 || points[^1] != cut) points.Add(cut);
        }
    }
}
