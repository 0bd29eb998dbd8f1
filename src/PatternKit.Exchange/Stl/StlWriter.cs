using System.Buffers.Binary;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Stl;

/// <summary>Writes binary STL: an 80-byte header, the count, and 50 bytes a facet, all little-endian float32.</summary>
public static class StlWriter
{
    /// <summary>
    /// The bytes of the file. Coordinates are rounded to float32 (see <see cref="RoundingChange"/>); normals are those
    /// of the rounded corners, zero for a facet without area. Same mesh and header, same bytes.
    /// </summary>
    /// <param name="mesh">The body, in the unit that the reader will assume (millimetres).</param>
    /// <param name="header">
    /// Free text. Must not begin with "solid", by which many readers tell the text form. Characters beyond ASCII become
    /// "?", and what exceeds 80 is cut off.
    /// </param>
    /// <exception cref="ArgumentException">A header that begins with "solid"; a coordinate that is no float32.</exception>
    public static byte[] Write(TriangleMesh mesh, string header)
    {
        if (header.TrimStart().StartsWith("solid", StringComparison.OrdinalIgnoreCase))
            throw new ArgumentException("The header of a binary STL must not begin with \"solid\".", nameof(header));
        var bytes = new byte[checked(84 + (50 * mesh.Facets.Length))];
        bytes.AsSpan(0, 80).Fill((byte)' ');
        for (var i = 0; i < Math.Min(header.Length, 80); i++) bytes[i] = header[i] is >= ' ' and <= '~' ? (byte)header[i] : (byte)'?';
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(80), mesh.Facets.Length);
        var rounded = new Vec3[mesh.Vertices.Length];
        for (var v = 0; v < rounded.Length; v++) rounded[v] = Rounded(mesh.Vertices[v]);
        var at = 84;
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (rounded[f.A], rounded[f.B], rounded[f.C]);
            var normal = Vec3.Cross(b - a, c - a);
            var length = normal.Length;
            Put(bytes, ref at, length > 0 ? (1 / length) * normal : default);
            Put(bytes, ref at, a);
            Put(bytes, ref at, b);
            Put(bytes, ref at, c);
            at += 2;
        }

        return bytes;
    }

    /// <summary>The largest change that rounding to float32 makes to a coordinate, mm; 0 when the file holds the mesh as it is.</summary>
    public static double RoundingChange(TriangleMesh mesh)
    {
        double largest = 0;
        foreach (var v in mesh.Vertices)
        {
            var change = v - Rounded(v);
            largest = Math.Max(largest, Math.Max(Math.Abs(change.X), Math.Max(Math.Abs(change.Y), Math.Abs(change.Z))));
        }

        return largest;
    }

    private static Vec3 Rounded(Vec3 v)
    {
        // Adding zero turns −0 into 0, so that equal positions have equal bytes.
        var rounded = new Vec3((float)v.X + 0.0f, (float)v.Y + 0.0f, (float)v.Z + 0.0f);
        return rounded.IsFinite ? rounded : throw new ArgumentException("A coordinate is not finite or is beyond float32.", nameof(v));
    }

    private static void Put(byte[] bytes, ref int at, Vec3 v)
    {
        BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(at), (float)v.X);
        BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(at + 4), (float)v.Y);
        BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(at + 8), (float)v.Z);
        at += 12;
    }
}
