using NetTopologySuite.Geometries;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Kits;

/// <summary>The casting at pattern size before draft, stock put on, asked again and again along lines.</summary>
internal sealed class UndraftedMetal
{
    private readonly Func<Vec3, Vec3, Func<Vec3, bool>> between;

    private UndraftedMetal(Func<Vec3, Vec3, Func<Vec3, bool>> between) => this.between = between;

    /// <summary>Of a part made of features.</summary>
    /// <param name="map">Pattern millimetres.</param>
    public static UndraftedMetal Of(ColumnMap map) => new((from, to) =>
    {
        var line = new Envelope(from.X, to.X, from.Y, to.Y);
        Cell[] cells = [.. map.Cells.Where(c => !c.Solid.IsEmpty && c.Region.Geometry.EnvelopeInternal.Intersects(line))];
        return p => Array.Exists(cells, c => Holds(c, p));
    });

    /// <summary>Of a part that is a mesh.</summary>
    /// <param name="stocked">With its stock, job millimetres.</param>
    /// <param name="scale">Pattern over job.</param>
    public static UndraftedMetal Of(TriangleMesh stocked, double scale)
    {
        var winding = new Lazy<WindingNumber>(() => new(stocked));
        return new((_, _) => p => winding.Value.At((1 / scale) * p) > 0.5);
    }

    /// <summary>Whether there is metal at places of a line.</summary>
    /// <param name="from">One end, pattern millimetres.</param>
    /// <param name="to">The other.</param>
    public Func<Vec3, bool> Between(Vec3 from, Vec3 to) => between(from, to);

    private static bool Holds(Cell cell, Vec3 p) => cell.Solid.Any(s => s.Low.At(p.Plan) <= p.Z && p.Z < s.High.At(p.Plan)) && cell.Region.Contains(p.Plan);
}
