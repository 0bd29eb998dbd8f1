using System.Collections.Immutable;
using System.Text.Json.Nodes;
using PatternKit.Cli.Files;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Meshes;
using static System.FormattableString;

namespace PatternKit.Cli.Output;

/// <summary>Whether a part that is a mesh will draw as it lies in its file, z up.</summary>
/// <param name="Path">The file.</param>
/// <param name="Mesh">As read and mended.</param>
/// <param name="Lie">How it lies; null where the mesh bounds no body.</param>
/// <param name="Findings">What was found.</param>
/// <param name="Notes">What was repaired or guessed while reading.</param>
internal sealed record MeshPartReport(string Path, TriangleMesh Mesh, MeshLie? Lie, ImmutableArray<Finding> Findings, ImmutableArray<ReadNote> Notes)
{
    /// <summary>Checks the part.</summary>
    /// <param name="path">For the report.</param>
    /// <param name="part">The part.</param>
    /// <param name="alloy">What it is to be cast in; null where that is not known.</param>
    /// <param name="tables">Alloys and rules, the shop's own included.</param>
    public static MeshPartReport Of(string path, MeshPart part, Alloy? alloy, FoundryTables tables)
    {
        var (mesh, report) = part.Mended;
        if (!report.IsMended) return new(path, mesh, null, [MeshFindings.Open(report)], part.Notes);
        var lie = MeshLie.Of(mesh, new(0, 0, 1), null, DraftRule.UsualSkin, tables.Lying, tables.Draft);
        var thin = alloy is null ? MeshThinMetal.Thinnest(mesh, tables) : MeshThinMetal.Of(mesh, alloy);
        return new(path, mesh, lie, [.. MeshFindings.Of(lie), .. thin], part.Notes);
    }

    /// <summary>Whether a finding says stop.</summary>
    public bool HasStop => Findings.Any(f => f.Severity == Severity.Stop);

    /// <summary>Writes it for people: the answer first.</summary>
    public void Write(Terminal terminal)
    {
        var to = terminal.Results;
        var size = Mesh.Bounds().Size;
        to.WriteLine(Lie is null ? $"{Path}: no body" : HasStop ? $"{Path}: will not draw as it lies, z up" : Findings.IsEmpty ? $"{Path}: draws as it lies, z up" : $"{Path}: draws as it lies, z up, with findings");
        to.WriteLine(Invariant($"  {Mesh.Facets.Length} triangles, {size.X:0.##} × {size.Y:0.##} × {size.Z:0.##} mm{(Lie is null ? "" : Invariant($", {Lie.Part_mm3 / 1000:0.##} cm³"))}"));
        if (Lie is { } lie)
        {
            to.WriteLine(Invariant($"  joint at z = {lie.Joint_mm:0.##} mm: {(lie.FlatBack_mm2 > 0 ? Invariant($"one half with a flat back of {lie.FlatBack_mm2 / 100:0.#} cm²") : "two halves")}, {Filled(lie)}"));
            to.WriteLine(Invariant($"  looked through along lines {lie.Spacing_mm:0.###} mm apart"));
        }

        FindingText.Write(to, Notes);
        FindingText.Write(to, Findings, numbered: true);
    }

    /// <summary>The same for scripts.</summary>
    /// <param name="files">What was drawn.</param>
    public JsonObject Json(IReadOnlyList<string> files) => new()
    {
        ["file"] = Path,
        ["triangles"] = Mesh.Facets.Length,
        ["box_mm"] = JsonText.List([JsonText.Row(Mesh.Bounds().Low), JsonText.Row(Mesh.Bounds().High)]),
        ["lie"] = Lie is { } lie ? Json(lie) : null,
        ["findings"] = FindingText.Json(Findings),
        ["notes"] = DrawingReport.Json(Notes),
        ["files"] = JsonText.Words(files),
    };

    /// <summary>A way to lie for scripts.</summary>
    public static JsonObject Json(MeshLie lie) => new()
    {
        ["up"] = JsonText.Row(lie.Up),
        ["joint_mm"] = lie.Joint_mm,
        ["low_mm"] = lie.Range.Low,
        ["high_mm"] = lie.Range.High,
        ["part_mm3"] = lie.Part_mm3,
        ["caught_mm3"] = lie.Caught_mm3,
        ["added_mm3"] = lie.Added_mm3,
        ["flat_back_mm2"] = lie.FlatBack_mm2,
        ["shadow_mm2"] = lie.Shadow_mm2,
        ["upright_mm2"] = lie.Walls.Area_mm2,
        ["skin_mm2"] = lie.Walls.Whole_mm2,
        ["asked_draft_deg"] = lie.AskedDraft.Value * 180 / Math.PI,
        ["spacing_mm"] = lie.Spacing_mm,
    };

    private static string Filled(MeshLie lie)
    {
        const double Nothing = 1e-4;
        if (lie.Added_mm3 < Nothing * lie.Part_mm3) return "nothing in the way of the draw";
        if (lie.Caught_mm3 < Nothing * lie.Part_mm3) return Invariant($"recesses of {lie.Added_mm3 / 1000:0.##} cm³ for the other half's sand");
        return Invariant($"{lie.Caught_mm3 / 1000:0.##} cm³ caught behind the draw ({100 * lie.Caught_mm3 / lie.Part_mm3:0.#} % of the part)");
    }
}
