using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>The finished metal part: every cut made, whoever makes it.</summary>
/// <param name="Map">The part in job millimetres, on a lattice that single precision holds exactly.</param>
/// <param name="Volume_mm3">Its volume.</param>
/// <param name="Box">Its box.</param>
/// <param name="Outlines">The plan of every feature of the job, in order, as flattened.</param>
/// <param name="Step">Lattice step of the map, mm.</param>
/// <param name="ChordTolerance_mm">How far a chord may lie inside its arc.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record PartBody(
    ColumnMap Map,
    double Volume_mm3,
    Box3 Box,
    ImmutableArray<PlanRegion> Outlines,
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
        var outlines = FeatureOutline.Of([.. job.Features.Select(f => (f, 0.0))], 1, chordTolerance_mm);
        var prisms = job.Features.Zip(outlines, (f, o) => new Prism(o, f.Low_mm, f.High_mm, f.Cut != CutKind.None)).ToArray();
        if (!prisms.Any(p => !p.Removes)) throw new InputException(Source(job), "", "no feature adds metal; give at least one [[part]] without a cut.");
        var lattice = Lattice.For(1.2 * Farthest(prisms));
        var faces = PlanPartition.Overlay(outlines, lattice.Step);
        var map = ColumnMapBuilder.Build(faces, members => ColumnSpans.Of(prisms, members), lattice.Step);
        if (map.Volume <= 0) throw new InputException(Source(job), "", "the cuts leave no metal; a cut removes from every feature before it.");
        var findings = CutFindings(job, prisms, faces, chordTolerance_mm).Concat(PieceFindings(map));
        return new(map, map.Volume, map.Box, outlines, lattice.Step, chordTolerance_mm, [.. findings]);
    }

    /// <summary>The file that messages about the whole job name.</summary>
    internal static string Source(Job job) => job.Inputs.IsDefaultOrEmpty ? "job" : job.Inputs[0].Name;

    private static double Farthest(Prism[] prisms) => prisms.Max(p =>
    {
        var e = p.Region.Geometry.EnvelopeInternal;
        return new[] { e.MinX, e.MaxX, e.MinY, e.MaxY, p.Low, p.High }.Max(Math.Abs);
    });

    private static IEnumerable<Finding> CutFindings(Job job, Prism[] prisms, ImmutableArray<PartitionFace> faces, double chordTolerance_mm)
    {
        for (var k = 0; k < prisms.Length; k++)
        {
            if (!prisms[k].Removes) continue;
            var (feature, cut) = (job.Features[k], prisms[k]);
            // Slivers between chords of one wall drawn twice are not metal that the cut meets.
            var least_mm2 = chordTolerance_mm * cut.Region.Geometry.Length;
            var (met_mm2, opens_mm2) = (0.0, 0.0);
            foreach (var face in faces.Where(f => f.Members.BinarySearch(k) >= 0))
            {
                var before = ColumnSpans.Of(prisms, face.Members.TakeWhile(i => i < k));
                if (before.IsEmpty || ColumnSpans.Length(ColumnSpans.Remove(before, cut.Low, cut.High)) == ColumnSpans.Length(before)) continue;
                met_mm2 += face.Region.Area;
                if (cut.Low <= before[0].Low || cut.High >= before[^1].High) opens_mm2 += face.Region.Area;
            }

            if (met_mm2 <= Math.Min(least_mm2, cut.Region.Area / 2))
            {
                var p = cut.Region.Geometry.InteriorPoint;
                yield return new(
                    "no-effect", Severity.Note, $"{feature.Name} ({feature.Where}) removes nothing: no metal that comes before it lies there.",
                    new(p.X, p.Y, (cut.Low + cut.High) / 2), Remedy: "Move it, or put it after the feature that it cuts.");
            }
            else if (feature.Cut == CutKind.Drawn && opens_mm2 <= Math.Min(least_mm2, met_mm2 / 2))
            {
                throw new InputException(feature.Where, "", string.Create(
                    CultureInfo.InvariantCulture,
                    $"{feature.Name}: a drawn cut must open upward or downward, but z = [{cut.Low:0.###}, {cut.High:0.###}] mm reaches neither the top nor the bottom of the metal there; extend z, or make it cored or machined."));
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
