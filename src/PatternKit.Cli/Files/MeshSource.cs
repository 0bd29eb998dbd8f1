using PatternKit.Exchange;
using PatternKit.Exchange.ObjFormat;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Cli.Files;

/// <summary>A part that is a mesh file.</summary>
internal static class MeshSource
{
    private const int Largest_MB = 1024;

    /// <summary>Whether the argument means a mesh.</summary>
    public static bool IsMesh(string argument) => Ending(argument) is ".stl" or ".obj" or ".3mf";

    /// <summary>Reads it, in millimetres.</summary>
    /// <param name="path">The file.</param>
    /// <param name="unit">"mm" or "in" for a format that states none.</param>
    /// <exception cref="InputException">It is no mesh, or cannot be read.</exception>
    public static ReadResult<TriangleMesh> Read(string path, string? unit)
    {
        var (content, name) = (WholeFile.Read(path, Largest_MB), Path.GetFileName(path));
        return Ending(path) switch
        {
            ".3mf" => ThreeMfReader.ReadJoined(content, name),
            ".obj" => Scaled(ObjReader.Read(content, name), name, unit),
            ".stl" => Scaled(StlReader.Read(content, name), name, unit),
            _ => throw new InputException(path, "", "this is no mesh that is read here; name a file that ends in .stl, .obj or .3mf."),
        };
    }

    private static ReadResult<TriangleMesh> Scaled(ReadResult<TriangleMesh> read, string name, string? unit)
    {
        var note = new ReadNote(name, 0, unit is null
            ? "the format has no unit; taken as millimetres. Give --unit in if the box looks 25 times too small."
            : $"taken as {unit}, as given.");
        return new(unit == "in" ? read.Value.Mapped(v => 25.4 * v) : read.Value, read.Notes.Insert(0, note));
    }

    private static string Ending(string path) => Path.GetExtension(path).ToLowerInvariant();
}
