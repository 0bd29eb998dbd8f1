using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Parts;

/// <summary>The finished metal part: every cut made, whoever makes it.</summary>
/// <param name="Map">The part in job millimetres, on a lattice that single precision holds exactly.</param>
/// <param name="Volume_mm3">Its volume.</param>
/// <param name="Box">Its box.</param>
/// <param name="Step">Lattice step of the map, mm.</param>
/// <param name="ChordTolerance_mm">How far a chord may lie inside its arc.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record PartBody(
    ColumnMap Map,
    double Volume_mm3,
    Box3 Box,
    double Step,
    double ChordTolerance_mm,
    ImmutableArray<Finding> Findings)
{
    /// <summary>Default for the distance of a chord from its arc, mm.</summary>
    public const double DefaultChordTolerance_mm = 0.01;

    /// <summary>Puts the features of a job together, in order.</summary>
    /// <param name="job">The job as read.</param>
    /// <param name="chordTolerance_mm">How far a chord may lie inside its arc; its ends lie on it.</param>
    /// <exception cref="InputException">
    /// A feature is no prism, a drawn cut opens neither up nor down, or no metal is left; with the place in the job file.
    /// </exception>
    public static PartBody From(Job job, double chordTolerance_mm = DefaultChordTolerance_mm)
    {
        foreach (var f in job.Features) FeatureOutline.Check(f);
        if (job.Features.All(f => f.Cut != CutKind.None)) throw new InputException(Source(job), "", "no feature adds metal; give at least one [[part]] without a cut.");
        var solids = FeatureSolid.Of(job.Features, chordTolerance_mm);
        var lattice = Lattice.For(1.2 * Farthest(job, solids));
        var stack = new FeatureStack(solids, lattice.Step);
        var map = stack.Map((over, at) => FeatureStack.Column(job.Features, over, at));
        if (map.Volume <= 0) throw new InputException(Source(job), "", "the cuts leave no metal; a cut removes from every feature before it.");
        var findings = CutFindings(job, stack, chordTolerance_mm).Concat(PieceFindings(map));
        return new(map, map.Volume, map.Box, lattice.Step, chordTolerance_mm, [.. findings]);
    }

    /// <summary>The file that messages about the whole job name.</summary>
    internal static string Source(Job job) => job.Inputs.IsDefaultOrEmpty ? "job" : job.Inputs[0].Name;

    private static double Farthest(Job job, ImmutableArray<FeatureSolid> solids) => job.Features.Zip(solids, (f, s) =>
    {
        var e = s.Plan.Geometry.EnvelopeInternal;
        return new[] { e.MinX, e.MaxX, e.MinY, e.MaxY, f.Low_mm, f.High_mm }.Max(Math.Abs);
    }).Max();

    private static IEnumerable<Finding> CutFindings(Job job, FeatureStack stack, double chordTolerance_mm)
    {
        var (met, opens) = (new double[job.Features.Length], new double[job.Features.Length]);
        foreach (var face in stack.Faces)
        {
            var at = face.Region.InnerPoint;
            var over = stack.Over(face.Members, at).ToList();
            for (var i = 0; i < over.Count; i++)
            {
                var (k, filled) = over[i];
                if (job.Features[k].Cut == CutKind.None || filled.IsEmpty) continue;
                var before = FeatureStack.Column(job.Features, over.Take(i), at);
                var after = filled.Aggregate(before, (solid, s) => ColumnSpans.Remove(solid, s.Low, s.High, at));
                if (ColumnSpans.Length(after, at) == ColumnSpans.Length(before, at)) continue;
                met[k] += face.Region.Area;
                if (filled[0].Low.At(at) <= before[0].Low.At(at) || filled[^1].High.At(at) >= before[^1].High.At(at)) opens[k] += face.Region.Area;
            }
        }

        for (var k = 0; k < job.Features.Length; k++)
        {
            var (feature, plan) = (job.Features[k], stack.Solids[k].Plan);
            if (feature.Cut == CutKind.None) continue;
            // Slivers between chords of one wall drawn twice are not metal that the cut meets.
            var least_mm2 = chordTolerance_mm * plan.Geometry.Length;
            var (met_mm2, opens_mm2) = (met[k], opens[k]);
            if (met_mm2 <= Math.Min(least_mm2, plan.Area / 2))
            {
                var p = plan.InnerPoint;
                yield return new(
                    "no-effect", Severity.Note, $"{feature.Name} ({feature.Where}) removes nothing: no metal that comes before it lies there.",
                    new(p.X, p.Y, (feature.Low_mm + feature.High_mm) / 2), Remedy: "Move it, or put it after the feature that it cuts.");
            }
            else if (feature.Cut == CutKind.Drawn && opens_mm2 <= Math.Min(least_mm2, met_mm2 / 2))
            {
                throw new InputException(feature.Where, "", string.Create(
                    CultureInfo.InvariantCulture,
                    $"{feature.Name}: a drawn cut must open upward or downward, but z = [{feature.Low_mm:0.###}, {feature.High_mm:0.###}] mm reaches neither the top nor the bottom of the metal there; extend z, or make it cored or machined."));
            }
        }
    }

    private static IEnumerable<Finding> PieceFindings(ColumnMap map)
    {
        var pieces = SolidPieces.Of(map);
        if (pieces.Length < 2) yield break;
        var small = pieces[^1];
        yield return new(
            "separate-pieces", Severity.Note,
            string.Create(CultureInfo.InvariantCulture, $"The part comes as {pieces.Length} pieces that do not touch; the smallest has {small.Volume_mm3:0.#} mm³."),
            small.At_mm, small.Volume_mm3, Remedy: "Join them if they are one part, or make a job of each.", Unit: "mm3");
    }
}
