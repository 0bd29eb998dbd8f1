using System.Buffers;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>
/// A grey picture with a depth for every pixel: what lies nearer covers what lies farther. Points are (column, row, depth),
/// columns to the right, rows downward, depth growing toward the viewer; a pixel is covered when its centre is. Its memory, which is large, is lent:
/// disposed of, it serves the next picture.
/// </summary>
internal sealed class DepthRaster : IDisposable
{
    /// <summary>As many are drawn at once as there are processors: each is large, and one after the other they take the same memory.</summary>
    private static readonly SemaphoreSlim Places = new(Environment.ProcessorCount);

    private readonly float[] _depth;
    private readonly byte[] _grey;
    private readonly int[]? _tags;

    /// <summary>An empty picture.</summary>
    /// <param name="width">Pixels across.</param>
    /// <param name="height">Pixels down.</param>
    /// <param name="tagged">Whether pixels know the tags of the triangles that they show.</param>
    public DepthRaster(int width, int height, bool tagged = false)
    {
        Width = width;
        Height = height;
        (_depth, _grey) = (Lent(float.NegativeInfinity), Lent(byte.MaxValue));
        if (tagged) _tags = Lent(-1);

        T[] Lent<T>(T empty)
        {
            var pixels = ArrayPool<T>.Shared.Rent(width * height);
            pixels.AsSpan(0, width * height).Fill(empty);
            return pixels;
        }
    }

    /// <summary>Makes a picture when there is a place for it; the work must not wait for another picture.</summary>
    public static T InTurn<T>(Func<T> work)
    {
        Places.Wait();
        try
        {
            return work();
        }
        finally
        {
            Places.Release();
        }
    }

    /// <summary>Gives the memory back; nothing is drawn or asked after it.</summary>
    public void Dispose()
    {
        ArrayPool<float>.Shared.Return(_depth);
        ArrayPool<byte>.Shared.Return(_grey);
        if (_tags is not null) ArrayPool<int>.Shared.Return(_tags);
    }

    public int Width { get; }

    public int Height { get; }

    /// <summary>Draws a triangle of one grey.</summary>
    public void Fill(Vec3 a, Vec3 b, Vec3 c, byte grey, int tag = -1)
    {
        var area = Vec2.Cross((b - a).Plan, (c - a).Plan);
        if (area == 0) return;
        var slopeX = (((b.Z - a.Z) * (c.Y - a.Y)) - ((c.Z - a.Z) * (b.Y - a.Y))) / area;
        var slopeY = (((c.Z - a.Z) * (b.X - a.X)) - ((b.Z - a.Z) * (c.X - a.X))) / area;
        var first = Math.Max(0, (int)Math.Ceiling(Math.Min(a.Y, Math.Min(b.Y, c.Y)) - 0.5));
        var last = Math.Min(Height - 1, (int)Math.Ceiling(Math.Max(a.Y, Math.Max(b.Y, c.Y)) - 0.5) - 1);
        for (var row = first; row <= last; row++)
        {
            var y = row + 0.5;
            var (left, right) = (double.PositiveInfinity, double.NegativeInfinity);
            Cross(a, b, y, ref left, ref right);
            Cross(b, c, y, ref left, ref right);
            Cross(c, a, y, ref left, ref right);
            if (left > right) continue;
            var from = Math.Max(0, (int)Math.Ceiling(left - 0.5));
            var to = Math.Min(Width - 1, (int)Math.Ceiling(right - 0.5) - 1);
            var depth = a.Z + (slopeY * (y - a.Y)) + (slopeX * (from + 0.5 - a.X));
            for (var at = (row * Width) + from; at <= (row * Width) + to; at++, depth += slopeX)
            {
                if (depth <= _depth[at]) continue;
                _depth[at] = (float)depth;
                _grey[at] = grey;
                if (_tags is not null) _tags[at] = tag;
            }
        }
    }

    /// <summary>Calls for every pixel that shows a triangle with a tag, row by row: column, row, tag.</summary>
    public void Visit(Action<int, int, int> visit)
    {
        if (_tags is null) return;
        for (var row = 0; row < Height; row++)
            for (var column = 0; column < Width; column++)
                if (_tags[(row * Width) + column] is >= 0 and var tag) visit(column, row, tag);
    }

    /// <summary>Gives every pixel that shows a triangle with a tag another grey, by column, row, tag and grey.</summary>
    public void Repaint(Func<int, int, int, byte, byte> paint) =>
        Visit((column, row, tag) => _grey[(row * Width) + column] = paint(column, row, tag, _grey[(row * Width) + column]));

    /// <summary>Whether a point does not lie behind the surface by more than the slack.</summary>
    public bool IsSeen(Vec3 p, double slack) => p.X >= 0 && p.Y >= 0 && p.X < Width && p.Y < Height && p.Z + slack >= _depth[((int)p.Y * Width) + (int)p.X];

    /// <summary>Which pixels a line shows at, drawn black with the thickness in pixels; call after all triangles.</summary>
    /// <param name="a">One end.</param>
    /// <param name="b">Other end.</param>
    /// <param name="radius">Half the thickness, pixels.</param>
    /// <param name="grey">How dark.</param>
    /// <param name="slack">How far it may lie behind the surface and still show: it is an edge of that surface.</param>
    public void Line(Vec3 a, Vec3 b, double radius, byte grey, double slack)
    {
        var steps = (int)Math.Clamp(Math.Ceiling(2 * (b - a).Plan.Length), 1, 4.0 * (Width + Height));
        for (var i = 0; i <= steps; i++)
        {
            var p = a + ((double)i / steps * (b - a));
            if (Shows(p, slack)) Dot(p, radius, grey);
        }
    }

    /// <summary>Whether a point of an edge shows: it lies no farther behind the pixel, or a neighbour of it, than the slack.</summary>
    public bool Shows(Vec3 p, double slack) => p.Z + slack >= Farthest(p);

    /// <summary>The picture at half the size, every pixel the mean of four.</summary>
    public byte[] Halved()
    {
        var (width, height) = (Width / 2, Height / 2);
        var result = new byte[width * height];
        for (var row = 0; row < height; row++)
        {
            var upper = _grey.AsSpan(2 * row * Width, Width);
            var lower = _grey.AsSpan(((2 * row) + 1) * Width, Width);
            for (var column = 0; column < width; column++)
            {
                var x = 2 * column;
                result[(row * width) + column] = (byte)((upper[x] + upper[x + 1] + lower[x] + lower[x + 1] + 2) / 4);
            }
        }

        return result;
    }

    private static void Cross(Vec3 a, Vec3 b, double y, ref double left, ref double right)
    {
        if ((a.Y <= y) == (b.Y <= y)) return;
        // The same point whichever way the edge is walked, so that neighbours leave no seam.
        if (a.Y > b.Y) (a, b) = (b, a);
        var x = a.X + ((b.X - a.X) * ((y - a.Y) / (b.Y - a.Y)));
        left = Math.Min(left, x);
        right = Math.Max(right, x);
    }

    // The farthest of the pixel and its neighbours: at a silhouette that is the background, on a crease the surface itself.
    private double Farthest(Vec3 p)
    {
        var (column, row) = ((int)Math.Floor(p.X), (int)Math.Floor(p.Y));
        var farthest = float.PositiveInfinity;
        for (var y = Math.Max(0, row - 1); y <= Math.Min(Height - 1, row + 1); y++)
            for (var x = Math.Max(0, column - 1); x <= Math.Min(Width - 1, column + 1); x++)
                farthest = Math.Min(farthest, _depth[(y * Width) + x]);
        return farthest;
    }

    private void Dot(Vec3 p, double radius, byte grey)
    {
        for (var y = (int)Math.Floor(p.Y - radius); y <= p.Y + radius; y++)
            for (var x = (int)Math.Floor(p.X - radius); x <= p.X + radius; x++)
            {
                if (x < 0 || y < 0 || x >= Width || y >= Height) continue;
                var (dx, dy) = (x + 0.5 - p.X, y + 0.5 - p.Y);
                if ((dx * dx) + (dy * dy) > radius * radius) continue;
                var at = (y * Width) + x;
                _grey[at] = Math.Min(_grey[at], grey);
            }
    }
}
