using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Nodes;
using PatternKit.Foundry;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Originals;
using Spectre.Console;
using static System.FormattableString;

namespace PatternKit.Cli.Output;

/// <summary>Whether a part will do as its own pattern: the answer first, then why, what it takes, sizes, faces and all that was found.</summary>
/// <param name="Answer">What is to be said.</param>
internal sealed record OriginalReport(OriginalAnswer Answer)
{
    private const double DegreesPerRadian = 180 / Math.PI;

    /// <summary>Writes it for people.</summary>
    public void Write(Terminal terminal)
    {
        var (to, a, lie) = (terminal.Results, Answer, Answer.Lie);
        to.WriteLine($"{a.Job.Title} ({a.Job.Name}), {a.AlloyTitle}, {a.Job.Sand} sand: the part itself as the pattern");
        to.WriteLine($"  {Words(a.Verdict)}");
        foreach (var reason in a.Reasons) to.WriteLine($"    – {reason}");
        to.WriteLine(a.Verdict == OriginalVerdict.CannotBeDrawn ? "  If the caught places are filled for moulding:" : "  To mould it:");
        foreach (var work in a.Work) to.WriteLine($"    – {work}");
        to.WriteLine(Invariant($"  joint at z = {lie.Joint_mm:0.##} mm, {(lie.FlatBack_mm2 > 0 ? "at a flat back" : "with metal on both sides")}; taper held against {a.Draft.Value * DegreesPerRadian:0.##}°"));
        to.WriteLine($"  contraction: {Told(a.Contraction, 100, "%")}");
        to.WriteLine($"  rapping widens the cavity: {Told(a.Rapping_mm, 1, "mm a side")}");
        var sizes = new Table().Border(TableBorder.Simple).AddColumns("size, mm", "asked", "on the part", "on the casting", "off by", "a casting may be off by");
        foreach (var m in a.Measures.Concat(a.Overall))
            sizes.AddRow(new Text(m.Name), Cell(m.Nominal_mm), Cell(m.Pattern_mm!.Value), Cell(m.AsCast_mm!.Value), new Text(Invariant($"{m.AsCast_mm.Value - m.Nominal_mm:+0.00;-0.00;0}")), new Text(Invariant($"± {m.Tolerance_mm:0.##}")));
        terminal.Write(sizes);
        if (!a.Faces.IsEmpty)
        {
            var faces = new Table().Border(TableBorder.Simple).AddColumns("finding", "face near, mm", "drags on", "area, cm²", "taper", "to build up, mm", "on the average");
            foreach (var (face, number) in Numbered())
                faces.AddRow(
                    new Text(number.ToString(CultureInfo.InvariantCulture)), new Text(Invariant($"({face.At_mm.X:0.#}, {face.At_mm.Y:0.#}, {face.At_mm.Z:0.#})")), new Text(OriginalWords.Name(face.Half)),
                    Cell(face.Area_mm2 / 100), new Text(Invariant($"{Math.Round(face.Draft * DegreesPerRadian, 6) + 0.0:0.##}°")), Cell(face.BuiltUp_mm), Cell(face.MeanBuiltUp_mm));
            terminal.Write(faces);
            var first = a.Findings.First(f => f.Facets == a.Faces[0].Facets);
            to.WriteLine($"  taper asked: {first.Source}");
            to.WriteLine($"      → {first.Remedy}");
        }

        FindingText.Write(to, a.Job.Notes);
        FindingText.Write(to, a.Findings, numbered: true, f => a.Faces.Take(OriginalAnswer.ListedFaces).Any(face => face.Facets == f.Facets));
    }

    /// <summary>The same for scripts.</summary>
    /// <param name="files">What was drawn.</param>
    public JsonObject Json(IReadOnlyList<string> files) => new()
    {
        ["job"] = Answer.Job.Name,
        ["original"] = true,
        ["verdict"] = Answer.Verdict switch { OriginalVerdict.WillDo => "will-do", OriginalVerdict.PatternIsBetter => "pattern-is-better", _ => "cannot-be-drawn" },
        ["answer"] = Words(Answer.Verdict),
        ["reasons"] = JsonText.Words(Answer.Reasons),
        ["work"] = JsonText.Words(Answer.Work),
        ["contraction"] = new JsonObject { ["value"] = Answer.Contraction.Value, ["rule"] = Answer.Contraction.Rule, ["source"] = Answer.Contraction.Source },
        ["rapping_mm"] = new JsonObject { ["value"] = Answer.Rapping_mm.Value, ["rule"] = Answer.Rapping_mm.Rule, ["source"] = Answer.Rapping_mm.Source },
        ["lie"] = MeshPartReport.Json(Answer.Lie),
        ["draft_deg"] = Answer.Draft.Value * DegreesPerRadian,
        ["edge_above_joint_mm"] = Answer.Rise.Above_mm,
        ["edge_below_joint_mm"] = Answer.Rise.Below_mm,
        ["measures"] = JsonText.List(Answer.Measures.Select(Json)),
        ["overall"] = JsonText.List(Answer.Overall.Select(Json)),
        ["untapered_mm2"] = Answer.Faces.Sum(f => f.Area_mm2),
        ["skin_mm2"] = Answer.Skin_mm2,
        ["faces"] = JsonText.List(Answer.Faces.Select(f => new JsonObject
        {
            ["half"] = OriginalWords.Name(f.Half),
            ["at_mm"] = JsonText.Row(f.At_mm),
            ["area_mm2"] = f.Area_mm2,
            ["taper_deg"] = f.Draft * DegreesPerRadian,
            ["build_up_mm"] = f.BuiltUp_mm,
            ["mean_build_up_mm"] = f.MeanBuiltUp_mm,
        })),
        ["findings"] = FindingText.Json(Answer.Findings),
        ["notes"] = DrawingReport.Json(Answer.Job.Notes),
        ["files"] = JsonText.Words(files),
    };

    private static JsonObject Json(MeasureResult m) => new()
    {
        ["name"] = m.Name,
        ["nominal_mm"] = m.Nominal_mm,
        ["part_mm"] = m.Pattern_mm,
        ["as_cast_mm"] = m.AsCast_mm,
        ["tolerance_mm"] = m.Tolerance_mm,
        ["source"] = m.Source,
    };

    private static string Words(OriginalVerdict verdict) => verdict switch
    {
        OriginalVerdict.WillDo => "Yes: the part itself will do as the pattern.",
        OriginalVerdict.PatternIsBetter => "It can be moulded, but a printed pattern is the better way:",
        _ => "No: the part cannot leave the sand as it lies. A printed pattern is the way:",
    };

    private IEnumerable<(UntaperedFace Face, int Number)> Numbered()
    {
        ImmutableArray<Finding> ordered = FindingText.Ordered(Answer.Findings);
        foreach (var face in Answer.Faces.Take(OriginalAnswer.ListedFaces))
            yield return (face, 1 + Enumerable.Range(0, ordered.Length).First(i => ordered[i].Facets == face.Facets));
    }

    private static string Told(Sourced<double> value, double times, string unit) =>
        $"{FindingText.Number(times * value.Value)} {unit} ({value.Rule}{(value.Source.Length > 0 ? $"; {value.Source}" : "")})";

    private static Text Cell(double value) => new(value.ToString("0.00", CultureInfo.InvariantCulture));
}
