using System.Globalization;
using System.Text;
using PatternKit.Exchange.ObjFormat;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange;

/// <summary>A format in which a mesh can come.</summary>
public enum MeshFormat
{
    /// <summary>Loose triangles, binary or text; no unit.</summary>
    Stl,

    /// <summary>Numbered vertices and polygons in text; no unit.</summary>
    Obj,

    /// <summary>A package of placed bodies with a unit.</summary>
    ThreeMf,
}

/// <summary>Reads a mesh in any format that is known, in millimetres. What the file holds decides, then how its name ends.</summary>
public static class MeshFile
{
    private static readonly string[] ObjBeginnings = ["v", "vn", "vt", "vp", "f", "o", "g", "s", "mtllib", "usemtl"];

    /// <summary>The format that a file name ends in; null for any other ending.</summary>
    public static MeshFormat? ByEnding(string fileName) => Path.GetExtension(fileName).ToUpperInvariant() switch
    {
        ".STL" => MeshFormat.Stl,
        ".OBJ" => MeshFormat.Obj,
        ".3MF" => MeshFormat.ThreeMf,
        _ => null,
    };

    /// <summary>The format that the beginning and the length of a file tell; null where they tell none.</summary>
    public static MeshFormat? ByContent(byte[] content)
    {
        if (content.AsSpan().StartsWith("PK\u0003\u0004"u8)) return MeshFormat.ThreeMf;
        if (StlReader.HasBinaryLength(content)) return MeshFormat.Stl;
        var beginning = Encoding.Latin1.GetString(content, 0, Math.Min(content.Length, 4096));
        if (beginning.StartsWith("\u00ef\u00bb\u00bf", StringComparison.Ordinal)) beginning = beginning[3..];
        if (beginning.TrimStart().StartsWith("solid", StringComparison.OrdinalIgnoreCase)) return MeshFormat.Stl;
        if (beginning.Contains('\0', StringComparison.Ordinal)) return null;
        var statement = beginning.Split('\n', '\r').Select(line => line.Trim()).FirstOrDefault(line => line.Length > 0 && line[0] != '#');
        return statement is not null && ObjBeginnings.Contains(statement.Split(' ', '\t')[0]) ? MeshFormat.Obj : null;
    }

    /// <summary>Reads a whole file.</summary>
    /// <param name="content">The bytes of the file.</param>
    /// <param name="sourceName">File name as the user gave it, for its ending and for messages.</param>
    /// <param name="millimetresPerUnit">Length of one unit of the file, for formats that have none. Left out, it is a millimetre, with a note.</param>
    /// <returns>The mesh in millimetres, which may still be open or crossed, and what was assumed, repaired or skipped.</returns>
    /// <exception cref="InputException">No mesh in a known format, or one that cannot be used.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The unit is no length.</exception>
    public static ReadResult<TriangleMesh> Read(byte[] content, string sourceName, double? millimetresPerUnit = null)
    {
        if (millimetresPerUnit is { } length && !(length > 0 && double.IsFinite(length)))
            throw new ArgumentOutOfRangeException(nameof(millimetresPerUnit), length, "A unit is a length.");
        var (byContent, byEnding) = (ByContent(content), ByEnding(sourceName));
        var notes = new List<ReadNote>();
        if (byContent is { } found && byEnding is { } named && found != named)
            notes.Add(new(sourceName, 0, $"the name ends as if it were {Name(named)}, but the file is {Name(found)} and was read so."));
        var read = (byContent ?? byEnding) switch
        {
            MeshFormat.Stl => StlReader.Read(content, sourceName),
            MeshFormat.Obj => ObjReader.Read(content, sourceName),
            MeshFormat.ThreeMf => ThreeMfReader.ReadJoined(content, sourceName),
            _ => throw Unknown(content, sourceName),
        };
        var mesh = read.Value;
        if ((byContent ?? byEnding) == MeshFormat.ThreeMf)
        {
            if (millimetresPerUnit is not null) notes.Add(new(sourceName, 0, "3MF says its own unit; the one given was not used."));
        }
        else if (millimetresPerUnit is { } unit)
        {
            mesh = Scaled(mesh, unit, sourceName);
        }
        else
        {
            var size = mesh.Bounds().Size;
            notes.Add(new(sourceName, 0, string.Create(CultureInfo.InvariantCulture, $"the file says no unit; millimetres were taken, so it measures {size.X:0.###} × {size.Y:0.###} × {size.Z:0.###} mm.")));
        }

        return new(mesh, [.. notes, .. read.Notes]);
    }

    private static TriangleMesh Scaled(TriangleMesh mesh, double unit, string source)
    {
        if (unit == 1) return mesh;
        var scaled = mesh.Mapped(v => unit * v);
        var (low, high) = (scaled.Bounds().Low, scaled.Bounds().High);
        foreach (var x in (ReadOnlySpan<double>)[low.X, low.Y, low.Z, high.X, high.Y, high.Z])
            if (!(Math.Abs(x) <= MeshLimits.LargestCoordinate)) throw new InputException(source, "", "in the unit given, a coordinate is beyond 1e9 mm. Give the unit that the part was drawn in.");
        return scaled;
    }

    private static InputException Unknown(byte[] content, string source)
    {
        if (content.Length == 0) return new(source, "", "the file is empty. Export the part again.");
        var kind = FileKind.Other(content) is { } other ? $"this is {other}" : "this is no format that is known";
        return new(source, "", $"{kind}, not a mesh in STL, OBJ or 3MF. Export the part in one of these.");
    }

    private static string Name(MeshFormat format) => format switch
    {
        MeshFormat.Stl => "STL",
        MeshFormat.Obj => "OBJ",
        _ => "3MF",
    };
}
