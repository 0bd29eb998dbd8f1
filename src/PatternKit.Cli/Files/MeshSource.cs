using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Patterns.Meshes;

namespace PatternKit.Cli.Files;

/// <summary>A part as read from a mesh file, in millimetres.</summary>
/// <param name="Mended">The mesh, mended as far as it goes.</param>
/// <param name="Notes">What was guessed, left out or mended.</param>
internal sealed record MeshPart(MendedMesh Mended, ImmutableArray<ReadNote> Notes);

/// <summary>A part that is a mesh file.</summary>
internal static class MeshSource
{
    private const int Largest_MB = 1024;

    /// <summary>Whether the argument means a mesh.</summary>
    public static bool IsMesh(string argument) => MeshFile.ByEnding(argument) is not null;

    /// <summary>Reads and mends it.</summary>
    /// <param name="path">The file.</param>
    /// <param name="unit">"mm" or "in" for a format that states none.</param>
    /// <exception cref="InputException">It is no mesh, or cannot be read.</exception>
    public static MeshPart Read(string path, string? unit)
    {
        if (!IsMesh(path)) throw new InputException(path, "", "this is no mesh that is read here; name a file that ends in .stl, .obj or .3mf.");
        var name = Path.GetFileName(path);
        var read = MeshFile.Read(WholeFile.Read(path, Largest_MB), name, unit switch { null => null, "in" => 25.4, _ => 1 });
        var mended = MeshMending.Mend(read.Value);
        return new(mended, [.. read.Notes, .. MendingNotes.Of(mended.Report, name)]);
    }
}
