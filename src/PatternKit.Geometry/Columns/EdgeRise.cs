using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>How far the outer edge of a body, seen along a direction, lies off a plane square to it.</summary>
/// <param name="Above_mm">The farthest above, 0 where none is.</param>
/// <param name="Below_mm">The farthest below, 0 where none is.</param>
/// <param name="At">The farthest place of both; null where the plane meets the body's edge all round.</param>
public sealed record EdgeRise(double Above_mm, double Below_mm, Vec3? At)
{
    /// <summary>So many cells outside an edge nothing may be in the way: it is the outermost there.</summary>
    private const double Beside = 1.5;

    /// <summary>
    /// The outer edge is where a facet that looks down meets one that does not, with nothing of the body beside it along the direction; rims of holes
    /// through it are inside. Where its walls are upright the plane may meet it anywhere on them, so that above the plane the lower end of a wall counts, and below it the upper end.
    /// </summary>
    /// <param name="mesh">Closed, facing outward.</param>
    /// <param name="columns">The same, along the direction.</param>
    /// <param name="plane">Height of the plane.</param>
    public static EdgeRise Of(TriangleMesh mesh, MeshColumns columns, double plane)
    {
        var frame = columns.Frame;
        var normals = mesh.Facets.Select(f => Unit(frame.FromSpace(mesh.AreaNormal(f)))).ToArray();
        var heights = mesh.Vertices.Select(v => Vec3.Dot(v, frame.Direction)).ToArray();
        var outside = Outside(columns);
        double above = 0, below = 0;
        Vec3? at = null;
        foreach (var edge in new MeshEdges(mesh.Facets, [.. Enumerable.Range(0, mesh.Vertices.Length)]).Groups())
        {
            if (edge.Count != 2) continue;
            var (p, q) = (Ends(mesh, edge[0]).From, Ends(mesh, edge[0]).To);
            var middle = (heights[p] + heights[q]) / 2;
            var side = middle > plane ? 1 : -1;
            var (f, g) = (edge[0] / 3, edge[1] / 3);
            // Above the plane it is facets that look down that keep it from the edge, below it those that look up.
            var (first, second) = (side * normals[f].Z, side * normals[g].Z);
            if (first < -Level == second < -Level) continue;
            var off = side * (middle - plane);
            if (off <= (side > 0 ? above : below) || !IsOutermost(0.5 * (mesh.Vertices[p] + mesh.Vertices[q]), normals[f] + normals[g])) continue;
            if (off > Math.Max(above, below)) at = 0.5 * (mesh.Vertices[p] + mesh.Vertices[q]);
            if (side > 0) above = off;
            else below = off;
        }

        return new(above, below, at);

        bool IsOutermost(Vec3 place, Vec3 outward)
        {
            var way = outward.Plan;
            if (!(way.Length > 0)) return false;
            var cell = Math.Max(columns.Grid.Cell.X, columns.Grid.Cell.Y);
            var beside = frame.FromSpace(place).Plan + (Beside * cell / way.Length * way);
            var column = (int)Math.Floor((beside.X - columns.Grid.Low.X) / columns.Grid.Cell.X);
            var row = (int)Math.Floor((beside.Y - columns.Grid.Low.Y) / columns.Grid.Cell.Y);
            return column < 0 || row < 0 || column >= columns.Grid.Columns || row >= columns.Grid.Rows || outside[(row * columns.Grid.Columns) + column];
        }
    }

    /// <summary>Sine of what counts as upright: rounding of an upright wall makes it look neither up nor down.</summary>
    private const double Level = 1e-6;

    /// <summary>Cells without anything solid that hang together with the outside.</summary>
    private static bool[] Outside(MeshColumns columns)
    {
        var grid = columns.Grid;
        var outside = new bool[grid.Columns * grid.Rows];
        var next = new Stack<(int Column, int Row)>();
        for (var c = 0; c < grid.Columns; c++) Reach(c, 0, c, grid.Rows - 1);
        for (var r = 0; r < grid.Rows; r++) Reach(0, r, grid.Columns - 1, r);
        while (next.TryPop(out var cell))
        {
            Reach(cell.Column - 1, cell.Row, cell.Column + 1, cell.Row);
            Reach(cell.Column, cell.Row - 1, cell.Column, cell.Row + 1);
        }

        return outside;

        void Reach(int column, int row, int otherColumn, int otherRow)
        {
            Enter(column, row);
            Enter(otherColumn, otherRow);
        }

        void Enter(int column, int row)
        {
            if (column < 0 || row < 0 || column >= grid.Columns || row >= grid.Rows || outside[(row * grid.Columns) + column] || !columns.At(column, row).IsEmpty) return;
            outside[(row * grid.Columns) + column] = true;
            next.Push((column, row));
        }
    }

    private static (int From, int To) Ends(TriangleMesh mesh, int side)
    {
        var f = mesh.Facets[side / 3];
        return (side % 3) switch { 0 => (f.A, f.B), 1 => (f.B, f.C), _ => (f.C, f.A) };
    }

    private static Vec3 Unit(Vec3 n) => n.Length > 0 ? (1 / n.Length) * n : n;
}
