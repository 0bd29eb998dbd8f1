using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Cores.Hollows;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>What the draw check finds on a part that is a mesh, as it lies.</summary>
public static class MeshFindings
{
    private const double DegreesPerRadian = 180 / Math.PI, Mm3PerCm3 = 1000, Mm2PerCm2 = 100;

    /// <summary>Lines at the rim of a recess may see both of its sides.</summary>
    private const double Rim = 0.02;

    /// <summary>So small a part of the body is not told.</summary>
    private const double Negligible = 1e-4;

    /// <summary>So many recesses are listed.</summary>
    private const int Listed = 5;

    /// <summary>The findings, the gravest first.</summary>
    public static ImmutableArray<Finding> Of(MeshLie lie) =>
    [
        .. Numbered(lie).Where(r => !IsRecess(r.Region)).Select(r => Undercut(r.Region, lie.HiddenFacets.Value[r.Index])), .. NoDraft(lie), .. Recesses([.. Numbered(lie).Where(r => IsRecess(r.Region))], lie),
    ];

    /// <summary>What the pattern of a mesh leaves to the other half's sand and what it fills, the largest first, and what walls it gives draft to.</summary>
    /// <param name="lie">How it lies.</param>
    /// <param name="left">What is left to the sand.</param>
    /// <param name="hollows">What is left to cores.</param>
    internal static IEnumerable<Finding> Filled(MeshLie lie, LeftRecesses left, MeshHollows hollows)
    {
        foreach (var told in Recesses([.. Numbered(lie).Where(n => left.Has(n.Index))], lie, rest: false))
            yield return told with { Remedy = "Nothing, if the sand in it holds; recess = \"fill\" fills it, to be machined." };
        var filled = Numbered(lie).Where(n => !left.Has(n.Index) && !hollows.Has(n.Index)).ToArray();
        foreach (var (r, index) in filled.Take(Listed))
        {
            var caught = IsRecess(r) ? $"lies between the joint and the metal, open only to the other half{(r.IsOpenSideways ? " and sideways" : "")}," : "is caught behind metal and could not leave the sand,";
            yield return new(
                "undercut", Severity.Warn, $"{Volume(r.Volume_mm3)} {caught} {Where(r)}: the pattern fills it.{(hollows.Why(index) is { } why ? $" No core is made for it: {why}." : "")}",
                r.Place, r.Volume_mm3, 0, "nothing may hang behind the draw",
                "Machine it after casting; or leave it to a core with undercuts in [cores], where it stands on the joint and opens sideways; or turn the part with lie (\"patternkit parting\" ranks how it can lie), or move the joint.", "mm3")
            {
                Facets = lie.HiddenFacets.Value[index],
            };
        }

        var (count, rest_mm3) = (Math.Max(0, filled.Length - Listed) + lie.Hidden.SmallCount, filled.Skip(Listed).Sum(n => n.Region.Volume_mm3) + lie.Hidden.Small_mm3);
        if (rest_mm3 >= Negligible * lie.Part_mm3)
            yield return new("undercut", Severity.Note, $"{count} smaller places lie behind the joint, {Volume(rest_mm3)} together; the pattern fills them.", Value: rest_mm3, Unit: "mm3");
        foreach (var walls in NoDraft(lie))
            yield return walls with { Severity = Severity.Note, Message = $"{walls.Message} The pattern gives it.", Remedy = "Nothing; or draw the part with taper, so that the casting is as drawn." };
    }

    /// <summary>A mesh that bounds no body cannot be looked through.</summary>
    public static Finding Open(MendingReport report)
    {
        Vec3? at = !report.Holes.IsEmpty ? report.Holes[0].At : report.After.Defects.IsEmpty ? null : report.After.Defects[0].First;
        var holes = report.Holes.IsEmpty ? "" : Invariant($" {report.Holes.Length} {(report.Holes.Length == 1 ? "hole is" : "holes are")} still open, the first {report.Holes[0].Length_mm:0.#} mm around.");
        var what = string.Join(", ", report.After.Defects.Select(Words));
        return new(
            "open-mesh", Severity.Stop, $"The mesh bounds no body, so that nothing can be told of its draw: {what}.{holes}", at,
            Remedy: report.After.CrossingPairs > 0 && report.Holes.IsEmpty ? "Join its bodies to one in the program that it was made with." : "Close it in the program that it was made with, or scan what is missing.");
    }

    private static string Words(MeshDefect d) => Invariant($"{d.Count} ") + (d.Kind, d.Count == 1) switch
    {
        (MeshDefectKind.NonFiniteVertex, true) => "corner that is no number",
        (MeshDefectKind.NonFiniteVertex, _) => "corners that are no numbers",
        (MeshDefectKind.BoundaryEdge, true) => "open edge",
        (MeshDefectKind.BoundaryEdge, _) => "open edges",
        (MeshDefectKind.OverusedEdge or MeshDefectKind.CoincidentEdge, true) => "edge with more than two facets",
        (MeshDefectKind.OverusedEdge or MeshDefectKind.CoincidentEdge, _) => "edges with more than two facets",
        (MeshDefectKind.InconsistentEdge, true) => "edge between facets that face opposite ways",
        (MeshDefectKind.InconsistentEdge, _) => "edges between facets that face opposite ways",
        (MeshDefectKind.PinchedVertex, true) => "corner at which parts of the skin touch in a point",
        (MeshDefectKind.PinchedVertex, _) => "corners at which parts of the skin touch in a point",
        (MeshDefectKind.DegenerateFacet, true) => "facet without area",
        (MeshDefectKind.DegenerateFacet, _) => "facets without area",
        (MeshDefectKind.DuplicateFacet, true) => "facet that is there twice",
        (MeshDefectKind.DuplicateFacet, _) => "facets that are there twice",
        (MeshDefectKind.UnusedVertex, true) => "corner without a facet",
        (MeshDefectKind.UnusedVertex, _) => "corners without a facet",
        (MeshDefectKind.CrossingPair, true) => "pair of facets that run through each other",
        (MeshDefectKind.CrossingPair, _) => "pairs of facets that run through each other",
        (_, true) => "shell that faces the wrong way",
        _ => "shells that face the wrong way",
    };

    /// <summary>Whether the way from the joint is free, so that the other half's sand could stand in it.</summary>
    internal static bool IsRecess(HiddenRegion r) => r.Volume_mm3 - r.OpenAcross_mm3 <= Rim * r.Volume_mm3;

    private static IEnumerable<(HiddenRegion Region, int Index)> Numbered(MeshLie lie) => lie.Hidden.Regions.Select((r, i) => (r, i));

    private static Finding Undercut(HiddenRegion r, ImmutableArray<int> facets)
    {
        var above = r.Side == HiddenSide.FromAbove;
        return new(
            "undercut", Severity.Stop, $"{Volume(r.Volume_mm3)} of sand is caught {(above ? "under" : "over")} metal {(above ? "above" : "below")} the joint and cannot leave, {Where(r)}.",
            r.Place, r.Volume_mm3, 0, "nothing may hang behind the draw",
            "Turn the part: \"patternkit parting\" ranks how it can lie. Else, in this order: move the joint, make it a loose piece, leave it to a core, or fill it and machine the casting.", "mm3")
        {
            Facets = facets,
        };
    }

    private static IEnumerable<Finding> Recesses((HiddenRegion Region, int Index)[] recesses, MeshLie lie, bool rest = true)
    {
        foreach (var (r, index) in rest ? recesses.Take(Listed) : recesses)
        {
            var above = r.Side == HiddenSide.FromAbove;
            yield return new(
                "recess", Severity.Note, $"{Volume(r.Volume_mm3)} {(above ? "above" : "below")} the joint is left to the sand of the {(above ? "drag, which stands up into it" : "cope, which hangs down into it")}, {Where(r)}.",
                r.Place, r.Volume_mm3, Remedy: "It draws if its walls have draft towards the joint and the sand is not too slender; else fill it and machine the casting, or let the joint follow the part: [parting] joint = \"carved\" in a job.", Unit: "mm3")
            {
                Facets = lie.HiddenFacets.Value[index],
            };
        }

        if (!rest) yield break;
        var (count, rest_mm3) = (Math.Max(0, recesses.Length - Listed) + lie.Hidden.SmallCount, recesses.Skip(Listed).Sum(r => r.Region.Volume_mm3) + lie.Hidden.Small_mm3);
        if (rest_mm3 < Negligible * lie.Part_mm3) yield break;
        yield return new(
            "recess", Severity.Note, $"{count} smaller places lie behind the joint, {Volume(rest_mm3)} together.",
            Remedy: "Lettering, the roughness of a scan, or facets; a drafted pattern fills them.", Value: rest_mm3, Unit: "mm3")
        {
            Facets = [.. recesses.Skip(Listed).SelectMany(r => lie.HiddenFacets.Value[r.Index]).Distinct().Order()],
        };
    }

    private static string Volume(double mm3) => Invariant($"{mm3 / Mm3PerCm3:0.###} cm³");

    private static string Where(HiddenRegion r)
    {
        var size = r.PlanHigh - r.PlanLow;
        return Invariant($"near ({r.Place.X:0.#}, {r.Place.Y:0.#}, {r.Place.Z:0.#}) mm, up to {r.Depth_mm:0.#} mm along the draw and {size.X:0.#} × {size.Y:0.#} mm across");
    }

    private static IEnumerable<Finding> NoDraft(MeshLie lie)
    {
        var (w, asked_deg) = (lie.Walls, lie.AskedDraft.Value * DegreesPerRadian);
        if (w.Area_mm2 <= 0) yield break;
        var at = w.At_mm is { } p ? Invariant($", most of it near ({p.X:0.#}, {p.Y:0.#}, {p.Z:0.#}) mm") : "";
        yield return new(
            "no-draft", Severity.Warn,
            Invariant($"{w.Area_mm2 / Mm2PerCm2:0.##} cm² of the skin, {100 * w.Area_mm2 / w.Whole_mm2:0.#} %, has less draft than the {asked_deg:0.##}° asked, down to {Math.Round(w.Least * DegreesPerRadian, 2) + 0.0:0.##}°{at}."),
            w.At_mm, w.Least * DegreesPerRadian, asked_deg, $"{lie.AskedDraft.Rule}; {lie.AskedDraft.Source}",
            "Draw the part with taper, or let a pattern add it; moulding from the part itself tears the sand there.", "deg")
        {
            Facets = w.Facets,
        };
    }
}
