using System.Collections.Frozen;
using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Patterns;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Pictures;

/// <summary>Pictures of parts that are meshes.</summary>
public static class MeshPictures
{
    private const int ViewWidth = 860, SmallViewWidth = 440;

    /// <summary>So many findings are written out below the picture.</summary>
    private const int MostLines = 24;

    /// <summary>A part from above and from below, with leaders from every finding to its number, its facets hatched by kind, and the joint as a thick line.</summary>
    /// <param name="title">What it is.</param>
    /// <param name="mesh">The part, z along the draw.</param>
    /// <param name="joint_mm">Height of the joint; null where there is none.</param>
    /// <param name="findings">In the order of their numbers, from 1.</param>
    /// <returns>PNG, black on white.</returns>
    public static byte[] Findings(string title, TriangleMesh mesh, double? joint_mm, ImmutableArray<Finding> findings)
    {
        var hatches = Hatched(mesh, findings);
        var places = findings.Select((f, i) => (Number: i + 1, Facets: (IReadOnlySet<int>)f.Facets.ToFrozenSet(), Place: f.At_mm)).ToArray();
        var (above, below) = (Panel("from above and the front right", Camera.Above), Panel("from below and the back left", Camera.Below));
        // What is hidden in one view and seen in the other needs no broken leader.
        var seenBelow = below.Marks.Where(m => m.IsSeen).Select(m => m.Number).ToHashSet();
        above = above with { Marks = [.. above.Marks.Where(m => m.IsSeen || !seenBelow.Contains(m.Number))] };
        below = below with { Marks = [.. below.Marks.Where(m => m.IsSeen)] };
        var lines = findings.Take(MostLines).Select((f, i) => $"{i + 1}  {Mark(f.Severity)} {f.Code}: {CleanText.Of(f.Message)}");
        if (findings.Length > MostLines) lines = lines.Append($"and {findings.Length - MostLines} more");
        return PicturePage.Draw(CleanText.Of(title), [above, below], 2, Legend(findings, joint_mm is not null), [.. lines]).Png;

        PicturePanel Panel(string name, Camera camera) => PicturePanel.Of(name, mesh, camera, ViewWidth, hatches, joint_mm, places, 0);
    }

    /// <summary>Ways for a part to lie, side by side, each from above and from below, with the joint as a thick line and what is caught, or left to the other half's sand, hatched.</summary>
    /// <param name="title">What the part is.</param>
    /// <param name="ways">The best first: a line of text each, the part with the draw along z, the height of the joint and what was found. At least one.</param>
    /// <returns>PNG, black on white.</returns>
    public static byte[] Ways(string title, IReadOnlyList<(string Text, TriangleMesh Mesh, double Joint_mm, ImmutableArray<Finding> Findings)> ways)
    {
        var hidden = ways.Select(w => w.Findings.Where(f => f.Code is "undercut" or "recess").ToImmutableArray()).ToArray();
        var panels = ways.SelectMany((w, i) =>
        {
            var hatches = Hatched(w.Mesh, hidden[i]);
            return new[] { Panel($"{i + 1}  from above", Camera.Above) with { Up = "up" }, Panel($"{i + 1}  from below", Camera.Below) };

            PicturePanel Panel(string name, Camera camera) => PicturePanel.Of(name, w.Mesh, camera, SmallViewWidth, hatches, w.Joint_mm, [], 0);
        });
        return PicturePage.Draw(CleanText.Of(title), [.. panels], 4, Legend([.. hidden.SelectMany(h => h)], true), [.. ways.Select((w, i) => $"{i + 1}  {CleanText.Of(w.Text)}")]).Png;
    }

    /// <summary>For every facet the hatching of the first finding that it lies in.</summary>
    private static Hatch[] Hatched(TriangleMesh mesh, ImmutableArray<Finding> findings)
    {
        var hatches = new Hatch[mesh.Facets.Length];
        foreach (var finding in findings.Reverse())
            if (Hatches.Of(finding.Code) is not Hatch.None and var hatch)
                foreach (var f in finding.Facets) hatches[f] = hatch;
        return hatches;
    }

    private static ImmutableArray<(Hatch?, string)> Legend(ImmutableArray<Finding> findings, bool hasJoint)
    {
        var used = findings.Where(f => !f.Facets.IsEmpty).Select(f => f.Code).Distinct().Where(c => Hatches.Of(c) != Hatch.None)
            .Select(c => ((Hatch?)Hatches.Of(c), c switch { "undercut" => "caught sand", "recess" => "recess", "no-draft" => "too little draft", _ => "thin metal" }));
        return [.. used, .. hasJoint ? [((Hatch?)null, "the joint")] : Array.Empty<(Hatch?, string)>()];
    }

    private static string Mark(Severity severity) => severity switch
    {
        Severity.Stop => "stop",
        Severity.Warn => "warn",
        _ => "note",
    };
}
