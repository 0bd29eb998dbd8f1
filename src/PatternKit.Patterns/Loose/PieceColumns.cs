using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Loose;

/// <summary>The metal of a loose piece over places of the plan.</summary>
internal sealed class PieceColumns(KitLoosePiece piece)
{
    private readonly TriangleMesh mesh = piece.Metal.InMould;

    /// <summary>The box of its metal in the mould.</summary>
    public Box3 Box { get; } = piece.Metal.InMould.Bounds();

    /// <summary>The intervals over a place, ascending.</summary>
    public IEnumerable<ColumnInterval> Over(Vec2 p)
    {
        if (p.X < Box.Low.X || p.Y < Box.Low.Y || p.X > Box.High.X || p.Y > Box.High.Y) return [];
        var heights = new List<double>();
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            // Half open sides, so that a line through an edge meets one of its facets.
            if ((IsLeft(a, b) == IsLeft(b, c)) && (IsLeft(b, c) == IsLeft(c, a)) && Vec2.Cross((b - a).Plan, (c - a).Plan) is not 0 and var area)
                heights.Add((a.Z * Vec2.Cross(b.Plan - p, c.Plan - p) / area) + (b.Z * Vec2.Cross(c.Plan - p, a.Plan - p) / area) + (c.Z * Vec2.Cross(a.Plan - p, b.Plan - p) / area));
        }

        heights.Sort();
        return heights.Count % 2 != 0 ? [] : Enumerable.Range(0, heights.Count / 2).Select(i => new ColumnInterval(heights[2 * i], heights[(2 * i) + 1])).Where(i => i.High > i.Low);

        bool IsLeft(Vec3 from, Vec3 to) => (from.X, from.Y).CompareTo((to.X, to.Y)) < 0
            ? Vec2.Cross(to.Plan - from.Plan, p - from.Plan) >= 0 : Vec2.Cross(from.Plan - to.Plan, p - to.Plan) < 0;
    }
}
