using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Meshes;
using static System.FormattableString;

namespace PatternKit.Patterns.Originals;

/// <summary>What was found on a part that is to be its own pattern, in words.</summary>
public static class OriginalWords
{
    private const double DegreesPerRadian = 180 / Math.PI, Mm2PerCm2 = 100, Mm3PerCm3 = 1000;

    /// <summary>The faces that drag, those to be built up most one by one.</summary>
    internal static IEnumerable<Finding> Faces(ImmutableArray<UntaperedFace> faces, Sourced<double> asked)
    {
        const string code = "no-draft";
        var asked_deg = asked.Value * DegreesPerRadian;
        foreach (var f in faces.Take(OriginalAnswer.ListedFaces))
            yield return new(
                code, Severity.Warn,
                Invariant($"A face of {f.Area_mm2 / Mm2PerCm2:0.##} cm² near {Place(f.At_mm)} has {Degrees(f.Draft):0.##}° towards the {Name(f.Half)} where {asked_deg:0.##}° are asked. Built up, it gets {f.BuiltUp_mm:0.##} mm thicker at the most, {f.MeanBuiltUp_mm:0.##} mm on the average."),
                f.At_mm, Degrees(f.Draft), asked_deg, Sources(asked), "Build it up with filler or wax, tapering to nothing at the far end of the draw; or draw it with care and mend the mould.", "deg")
            {
                Facets = f.Facets,
            };
        var rest = faces.Skip(OriginalAnswer.ListedFaces).ToArray();
        if (rest.Length == 0) yield break;
        yield return new(
            code, Severity.Warn,
            Invariant($"{rest.Length} smaller faces, {rest.Sum(f => f.Area_mm2) / Mm2PerCm2:0.##} cm² together, have less than {asked_deg:0.##}° as well; the most to be built up is {rest.Max(f => f.BuiltUp_mm):0.##} mm."),
            null, Degrees(rest.Min(f => f.Draft)), asked_deg, Sources(asked), "As above.", "deg")
        {
            Facets = [.. rest.SelectMany(f => f.Facets).Order()],
        };
    }

    /// <summary>A part whose edge does not lie in one plane needs a bed.</summary>
    internal static IEnumerable<Finding> FollowBoard(EdgeRise rise, Quoted flatWithin)
    {
        var off = Math.Max(rise.Above_mm, rise.Below_mm);
        if (off <= flatWithin.Value) yield break;
        yield return new(
            "follow-board", Severity.Warn,
            Invariant($"The joint is not flat: the edge of the part runs up to {rise.Above_mm:0.#} mm above its plane and {rise.Below_mm:0.#} mm below it."),
            rise.At, off, flatWithin.Value, flatWithin.From.Text,
            "Bed the part up to its edge in a follow board or an odd side of sand or plaster; or ram the drag and cut its sand down to the edge by hand.", "mm");
    }

    /// <summary>Recesses that the other half's sand would have to stand in and that are deeper than it holds. Their width is that of their box: no sand in them is wider.</summary>
    internal static IEnumerable<Finding> NarrowRecesses(MeshLie lie, Sand sand, DrawTable table)
    {
        foreach (var r in lie.Hidden.Regions.Where(r => MeshFindings.IsRecess(r) && !r.IsOpenSideways && r.Depth_mm >= table.LeastDepth_mm.Value))
        {
            var stands = r.Side == HiddenSide.FromAbove;
            var limit = stands ? sand.StandingLimit : sand.HangingLimit;
            var size = r.PlanHigh - r.PlanLow;
            var width = Math.Min(size.X, size.Y);
            if (r.Depth_mm <= limit.Value * width) continue;
            yield return new(
                "sand-tongue", Severity.Warn,
                Invariant($"The sand in the recess near {Place(r.Place)} {(stands ? "stands" : "hangs")} {r.Depth_mm:0.#} mm deep and is at most {width:0.#} mm wide: it may break at the draw. For {sand.Title.ToLowerInvariant()} {limit.Value:0.##} times the width is the usual limit."),
                r.Place, r.Depth_mm, limit.Value * width, limit.From.Text, "Fill the recess for moulding and machine it, or leave it to a core.", "mm");
        }
    }

    /// <summary>Why a printed pattern is the better way.</summary>
    internal static ImmutableArray<string> Reasons(ImmutableArray<Finding> findings, ImmutableArray<UntaperedFace> faces, MeshLie lie, ImmutableArray<MeasureResult> sizes, OriginalTable table)
    {
        var reasons = ImmutableArray.CreateBuilder<string>();
        var caught_mm3 = findings.Where(f => f.Code == "undercut").Sum(f => f.Value ?? 0);
        if (caught_mm3 > 0) reasons.Add(Invariant($"{caught_mm3 / Mm3PerCm3:0.###} cm³ of sand is caught behind the draw. A printed pattern fills it, to be machined away."));
        if (sizes.Where(s => Off(s) > s.Tolerance_mm).OrderByDescending(s => Off(s) - s.Tolerance_mm).FirstOrDefault() is { } worst)
            reasons.Add(Invariant($"The casting comes out {Off(worst):0.##} mm too {(worst.AsCast_mm < worst.Nominal_mm ? "small" : "large")} over {worst.Nominal_mm:0.##} mm (\"{worst.Name}\"), where a casting may be off by {worst.Tolerance_mm:0.##} mm. A printed pattern is made to size."));
        var area = faces.Sum(f => f.Area_mm2);
        if (area > table.Untapered.Value * lie.Walls.Whole_mm2 && faces.Max(f => f.BuiltUp_mm) > table.BuiltUp_mm.Value)
            reasons.Add(Invariant($"{100 * area / lie.Walls.Whole_mm2:0} % of the skin has too little taper, more than {100 * table.Untapered.Value:0} %, and building it up takes up to {faces.Max(f => f.BuiltUp_mm):0.##} mm, more than {table.BuiltUp_mm.Value:0.##} mm ({table.BuiltUp_mm.From.Text}). A printed pattern has the taper."));
        return reasons.ToImmutable();
    }

    /// <summary>What it takes to mould the part itself.</summary>
    internal static ImmutableArray<string> Work(ImmutableArray<Finding> findings, ImmutableArray<UntaperedFace> faces, EdgeRise rise, OriginalTable table)
    {
        var work = ImmutableArray.CreateBuilder<string>();
        if (!faces.IsEmpty)
            work.Add(Invariant($"Build up {faces.Length} {(faces.Length == 1 ? "face" : "faces")}, {faces.Sum(f => f.Area_mm2) / Mm2PerCm2:0.##} cm², by up to {faces.Max(f => f.BuiltUp_mm):0.##} mm, {faces.Sum(f => f.Area_mm2 * f.MeanBuiltUp_mm) / Mm3PerCm3:0.##} cm³ in all; or draw with care."));
        if (Math.Max(rise.Above_mm, rise.Below_mm) > table.FlatWithin_mm.Value) work.Add("Bed it in a follow board or an odd side: the joint is not flat.");
        if (findings.Any(f => f.Code is "deep-hole" or "sand-tongue")) work.Add("Mind the slender sand: fill what can be drilled or machined afterwards.");
        work.Add("Close what must not take sand, such as tapped holes and oil ways; clean and seal the part, and build up faces that are to be machined.");
        return work.ToImmutable();
    }

    private static double Off(MeasureResult s) => Math.Abs(s.AsCast_mm!.Value - s.Nominal_mm);

    /// <summary>The half of the mould that a face drags on.</summary>
    public static string Name(MouldHalf? half) => half switch { MouldHalf.Cope => "cope", MouldHalf.Drag => "drag", _ => "cope and drag" };

    // Rounding of an upright wall is no taper, and no lean either.
    private static double Degrees(double radians) => Math.Round(radians * DegreesPerRadian, 6) + 0.0;

    private static string Place(Vec3 p) => Invariant($"({p.X:0.#}, {p.Y:0.#}, {p.Z:0.#}) mm");

    private static string Sources(Sourced<double> asked) => asked.Source.Length > 0 ? $"{asked.Rule}; {asked.Source}" : asked.Rule;
}
