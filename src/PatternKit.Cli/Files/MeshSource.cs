using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Mesh.Mending;
using static System.FormattableString;

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
        return new(mended, [.. read.Notes, .. mended.Report.Done.Select(d => new ReadNote(name, 0, $"mended: {Words(d.Step, d.Count)}."))]);
    }

    private static string Words(MendingStep step, int count) => step switch
    {
        MendingStep.NonFiniteFacetsDropped => Invariant($"{count} facets with corners that are no numbers dropped"),
        MendingStep.IdleVerticesDropped => Invariant($"{count} corners that no facet has dropped"),
        MendingStep.VerticesJoined => Invariant($"{count} corners joined to others at the same place"),
        MendingStep.NearVerticesJoined => Invariant($"{count} corners of open edges moved onto others close by"),
        MendingStep.DegenerateFacetsDropped => Invariant($"{count} facets without area dropped"),
        MendingStep.FacetsSplit => Invariant($"{count} facets cut where a corner lies on their open edge"),
        MendingStep.DuplicateFacetsDropped => Invariant($"{count} facets that were there twice dropped"),
        MendingStep.InnerWallFacetsDropped => Invariant($"{count} facets of walls between bodies that touch dropped"),
        MendingStep.FacetsTurned => Invariant($"{count} facets turned to face outward"),
        MendingStep.HolesFilled => Invariant($"{count} holes filled"),
        MendingStep.FacetsAdded => Invariant($"{count} facets added for that"),
        MendingStep.StrayShellsDropped => Invariant($"{count} shells too small to matter dropped"),
        _ => Invariant($"{count} corners copied where parts of the skin touch in a point"),
    };
}
