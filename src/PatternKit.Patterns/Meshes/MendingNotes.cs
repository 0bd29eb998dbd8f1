using PatternKit.Exchange;
using PatternKit.Geometry.Mesh.Mending;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>What was mended on a mesh, in words.</summary>
public static class MendingNotes
{
    /// <summary>One note for every step that changed anything.</summary>
    /// <param name="report">What was done.</param>
    /// <param name="file">Name of the file, for the notes.</param>
    public static IEnumerable<ReadNote> Of(MendingReport report, string file) =>
        report.Done.Select(d => new ReadNote(file, 0, $"mended: {Words(d.Step, d.Count)}."));

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
        MendingStep.ShellsJoined when count == 1 => "a skin that runs through itself joined to what it holds together",
        MendingStep.ShellsJoined => Invariant($"{count} shells that run through each other joined to one body"),
        _ => Invariant($"{count} corners copied where parts of the skin touch in a point"),
    };
}
