using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>The volumes on the way from the part to the undrafted pattern, each step measured before and after, mm³.</summary>
/// <param name="Part_mm3">The finished part.</param>
/// <param name="Filled_mm3">Machined and cored cuts left out.</param>
/// <param name="Stock_mm3">Machining stock.</param>
/// <param name="Contraction_mm3">Growth to pattern size.</param>
/// <param name="Rapping_mm3">Taken off the walls against rapping, below 0.</param>
/// <param name="Camber_mm3">What the chords of a bow change; the bow itself changes nothing.</param>
public sealed record CastingVolumes(
    double Part_mm3, double Filled_mm3, double Stock_mm3, double Contraction_mm3, double Rapping_mm3, double Camber_mm3);

/// <summary>The casting at pattern size, before draft: what the sand is to leave, cuts for the tool filled, stock put on.</summary>
/// <param name="Map">Pattern millimetres, on the lattice.</param>
/// <param name="Lattice">The lattice: exact in single precision, with a fifth to spare for what is added later.</param>
/// <param name="Frame">From job coordinates to those of the map.</param>
/// <param name="Volumes">How the volume came about.</param>
/// <param name="RawVolume_mm3">The raw casting as it comes out of the sand, stock included, before contraction and draft.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record CastingBody(
    ColumnMap Map, Lattice Lattice, PatternFrame Frame, CastingVolumes Volumes, double RawVolume_mm3, ImmutableArray<Finding> Findings)
{
    /// <summary>Makes the casting of a part.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">Its finished part.</param>
    /// <param name="allowances">All allowances, decided.</param>
    /// <exception cref="InputException">Rapping or cuts leave no metal.</exception>
    public static CastingBody From(Job job, PartBody part, Allowances allowances)
    {
        var tolerance_mm = part.ChordTolerance_mm;
        // One list of features and plans; the cuts that the sand leaves and those it does not differ only in membership.
        var kept = Enumerable.Range(0, job.Features.Length).Where(i => job.Features[i].Cut is CutKind.None or CutKind.Drawn).ToImmutableArray();
        var bare = kept.Select(i => CastFeature.Of(job.Features[i], new())).ToList();
        var features = kept.Select(i => CastFeature.Of(job.Features[i], allowances.Stock.Value)).ToList();
        var (scale, rapping_mm) = (allowances.Scale, allowances.Rapping_mm.Value);

        var filled = Assembled(bare, 1, 0, tolerance_mm, new(1)).Map;
        var filled_mm3 = filled.Volume;
        var stocked = features.SequenceEqual(bare) ? filled : Assembled(features, 1, 0, tolerance_mm, new(1)).Map;
        var scaled = Assembled(features, scale, 0, tolerance_mm, new(scale)).Map;
        var rapped = rapping_mm == 0 ? scaled : Assembled(features, scale, rapping_mm, tolerance_mm, new(scale)).Map;
        var frame = FrameOf(scaled.Box, scale, allowances.Camber.Value);
        var (map, lattice) = Assembled(features, scale, rapping_mm, tolerance_mm, frame);
        if (map.Volume <= 0)
            throw new InputException(PartBody.Source(job), "", string.Create(CultureInfo.InvariantCulture, $"rapping of {rapping_mm:0.###} mm leaves no metal; set [pattern] rapping smaller."));
        return new(
            map,
            lattice,
            frame,
            new(
                part.Volume_mm3,
                filled_mm3 - part.Volume_mm3,
                stocked.Volume - filled_mm3,
                scaled.Volume - stocked.Volume,
                rapped.Volume - scaled.Volume,
                map.Volume - rapped.Volume),
            stocked.Volume,
            [.. CoredFindings(job, part), .. ClosedFindings(features, allowances.Stock.Value, tolerance_mm)]);
    }

    private static (ColumnMap Map, Lattice Lattice) Assembled(
        List<CastFeature> features, double scale, double rapping_mm, double chordTolerance_mm, PatternFrame frame)
    {
        var plain = CastFeature.Plans(features, scale, chordTolerance_mm);
        var moved = CastFeature.MovedPlans(features, scale, rapping_mm, chordTolerance_mm);
        var joints = WallMoves.Joints(features, plain, moved, scale, rapping_mm);
        var mouthed = features.Select((f, i) => f.Removes ? WallMoves.WithMouth(features, i, plain, moved, scale, rapping_mm) : moved[i]).ToList();

        // A joint takes its place right after the last feature that it joins.
        var (order, plans) = (new List<CastFeature>(), new List<PlanRegion>());
        for (var i = 0; i < features.Count; i++)
        {
            order.Add(features[i]);
            plans.Add(Bow.Of(mouthed[i], frame, chordTolerance_mm));
            foreach (var j in joints.Where(j => j.After == i))
            {
                order.Add(new(features[i].Feature with { Low_mm = j.Low_mm, High_mm = j.High_mm }, 0, j.Top_mm, j.Bottom_mm));
                plans.Add(Bow.Of(j.Region, frame, chordTolerance_mm));
            }
        }

        var reach_mm = plans.Where(p => !p.IsEmpty).Select(p => p.Geometry.EnvelopeInternal)
            .SelectMany(e => new[] { e.MinX, e.MaxX, e.MinY, e.MaxY })
            .Concat(order.SelectMany(f => new[] { scale * (f.Feature.Low_mm - f.Bottom_mm), scale * (f.Feature.High_mm + f.Top_mm) }))
            .Max(Math.Abs);
        var lattice = Lattice.For(1.2 * reach_mm);
        return (ColumnMapBuilder.Build(plans, members => CastFeature.Column(order, members, scale), lattice.Step), lattice);
    }

    private static PatternFrame FrameOf(Box3 box, double scale, CamberSettings? camber)
    {
        if (camber is null || camber.Rise_mm == 0) return new(scale);
        var alongX = box.Size.X >= box.Size.Y;
        return new(scale, camber.Rise_mm, alongX, alongX ? box.Low.X : box.Low.Y, alongX ? box.Size.X : box.Size.Y);
    }

    private static IEnumerable<Finding> CoredFindings(Job job, PartBody part)
    {
        var prisms = job.Features.Zip(part.Outlines, (f, o) => new Prism(o, f.Low_mm, f.High_mm, f.Cut != CutKind.None)).ToArray();
        for (var k = 0; k < prisms.Length; k++)
        {
            if (job.Features[k].Cut != CutKind.Cored) continue;
            var without = ColumnMapBuilder.Build([.. prisms.Take(k)], part.Step).Volume;
            var with = ColumnMapBuilder.Build([.. prisms.Take(k + 1)], part.Step).Volume;
            if (without - with <= 0) continue;
            var p = prisms[k].Region.Geometry.InteriorPoint;
            yield return new(
                "undercut", Severity.Warn,
                string.Create(CultureInfo.InvariantCulture, $"{job.Features[k].Name} ({job.Features[k].Where}) is cored: no core is made for it, so the pattern fills it, {without - with:0} mm³. The bore must be drilled."),
                new(p.X, p.Y, (prisms[k].Low + prisms[k].High) / 2), without - with, Remedy: "Drill it, or bore it on the lathe; allow time for it.", Unit: "mm3");
        }
    }

    private static IEnumerable<Finding> ClosedFindings(List<CastFeature> features, StockSettings stock, double chordTolerance_mm)
    {
        if (stock.Holes_mm == 0 && stock.Names_mm is null) yield break;
        var (plain, moved) = (CastFeature.Plans(features, 1, chordTolerance_mm), CastFeature.MovedPlans(features, 1, 0, chordTolerance_mm));
        for (var i = 0; i < features.Count; i++)
        {
            var f = features[i];
            if (!f.Removes || !moved[i].IsEmpty) continue;
            var p = plain[i].Geometry.InteriorPoint;
            yield return new(
                "no-effect", Severity.Note,
                string.Create(CultureInfo.InvariantCulture, $"{f.Feature.Name} ({f.Feature.Where}) is closed by its stock of {f.Sides_mm:0.###} mm a side and is cast solid."),
                new(p.X, p.Y, (f.Feature.Low_mm + f.Feature.High_mm) / 2), f.Sides_mm, Remedy: "Drill it, or give less stock.", Unit: "mm");
        }
    }
}
