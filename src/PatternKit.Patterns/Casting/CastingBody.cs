using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>The volumes on the way from the part to the undrafted pattern, each step measured before and after, mm³.</summary>
/// <param name="Part_mm3">The finished part.</param>
/// <param name="Filled_mm3">Machined and cored cuts left out.</param>
/// <param name="Stock_mm3">Machining stock.</param>
/// <param name="Contraction_mm3">Growth to pattern size.</param>
/// <param name="Rapping_mm3">Taken off the walls against rapping, below 0.</param>
/// <param name="Camber_mm3">What the chords of a bow change; the bow itself changes nothing.</param>
/// <param name="Fillet_mm3">Added by rounded corners of turned profiles.</param>
/// <param name="Draft_mm3">What those lie on of the draft to come.</param>
/// <param name="Round_mm3">Taken off by rounded edges of turned profiles, below 0.</param>
public sealed record CastingVolumes(
    double Part_mm3, double Filled_mm3, double Stock_mm3, double Contraction_mm3, double Rapping_mm3, double Camber_mm3, double Fillet_mm3, double Draft_mm3,
    double Round_mm3);

/// <summary>The casting at pattern size, before draft: what the sand is to leave, cuts for the tool filled, stock put on.</summary>
/// <param name="Map">Pattern millimetres, on the lattice.</param>
/// <param name="Lattice">The lattice: exact in single precision, with a fifth to spare for what is added later.</param>
/// <param name="Frame">From job coordinates to those of the map.</param>
/// <param name="Volumes">How the volume came about.</param>
/// <param name="RawVolume_mm3">The raw casting as it comes out of the sand, stock included, before contraction and draft.</param>
/// <param name="TurnedHeights_mm">Heights at which turned features may be widest.</param>
/// <param name="Decisions">Radii of turned profiles, with their rule.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record CastingBody(
    ColumnMap Map, Lattice Lattice, PatternFrame Frame, CastingVolumes Volumes, double RawVolume_mm3, TurnedHeights TurnedHeights_mm,
    ImmutableArray<Decision> Decisions, ImmutableArray<Finding> Findings)
{
    /// <summary>Makes the casting of a part.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">Its finished part.</param>
    /// <param name="allowances">All allowances, decided.</param>
    /// <exception cref="InputException">Rapping or cuts leave no metal.</exception>
    public static CastingBody From(Job job, PartBody part, Allowances allowances)
    {
        TurnedLimits.Check(job);
        var tolerance_mm = part.ChordTolerance_mm;
        // One list of features and plans; the cuts that the sand leaves and those it does not differ only in membership.
        var kept = Enumerable.Range(0, job.Features.Length).Where(i => job.Features[i].Cut is CutKind.None or CutKind.Drawn).ToImmutableArray();
        var bare = kept.Select(i => CastFeature.Of(job.Features[i], new())).ToList();
        var features = kept.Select(i => CastFeature.Of(job.Features[i], allowances.Stock.Value)).ToList();
        var (scale, rapping_mm) = (allowances.Scale, allowances.Rapping_mm.Value);

        // Each step is a casting of its own, but for contraction, which is a scale; none is made twice.
        var turned = CastTurned.Of(features, scale, rapping_mm, tolerance_mm);
        var ofProfiles = Task.Run(() =>
        {
            var all = TurnedProfile.Of(features, turned, scale);
            return (All: all, Fillets: TurnedFillets.Of(all, features, job.Pattern.Fillet, allowances.Fillets, allowances.DraftOutside.Value, tolerance_mm));
        });
        var ofBare = Task.Run(() => Assembled(bare, 1, 0, tolerance_mm, new(1), []));
        var ofStocked = features.SequenceEqual(bare) ? ofBare : Task.Run(() => Assembled(features, 1, 0, tolerance_mm, new(1), []));
        var rapped = scale == 1 && rapping_mm == 0 ? Made(ofStocked) : Assembled(features, scale, rapping_mm, tolerance_mm, new(scale), []);
        var frame = FrameOf(rapped.Map.Box, scale, rapping_mm, allowances.Camber.Value);
        var (map, lattice) = frame == new PatternFrame(scale) ? rapped : Assembled(features, scale, rapping_mm, tolerance_mm, frame, []);
        var sharp_mm3 = map.Volume;
        var (profiles, fillets) = Made(ofProfiles);
        ImmutableArray<TurnedProfile> filled = [.. fillets.Select(f => f.Turned)];
        if (!filled.IsEmpty) (map, lattice) = Assembled(features, scale, rapping_mm, tolerance_mm, frame, filled);
        var filleted_mm3 = map.Volume;
        // Closed before they are opened.
        var edges = TurnedEdges.Of(profiles.Select(p => (p, filled.FirstOrDefault(f => f.After == p.After) ?? p)), features, turned, job.Pattern.Round, allowances.Fillets, scale, rapping_mm, tolerance_mm);
        ImmutableArray<TurnedProfile> opened = [.. edges.Where(e => !e.Rounded.IsEmpty).Select(e => e.Turned)];
        if (!opened.IsEmpty) (map, lattice) = Assembled(features, scale, rapping_mm, tolerance_mm, frame, [.. opened, .. filled.Where(f => !opened.Any(o => o.After == f.After))]);
        var ofDraft = fillets.IsEmpty ? 0 : fillets.Sum(f => f.Draft_mm3) / fillets.Sum(f => f.Draft_mm3 + f.Fillet_mm3);
        var (filled_mm3, stocked_mm3, rapped_mm3) = (Made(ofBare).Map.Volume, Made(ofStocked).Map.Volume, rapped.Map.Volume);
        // Chords are as near at either size, so that what they miss differs a little; it counts with the last step.
        var scaled_mm3 = rapping_mm == 0 ? rapped_mm3 : Math.Pow(scale, 3) * stocked_mm3;
        if (map.Volume <= 0)
            throw new InputException(PartBody.Source(job), "", string.Create(CultureInfo.InvariantCulture, $"rapping of {rapping_mm:0.###} mm leaves no metal; set [pattern] rapping smaller."));
        return new(
            map,
            lattice,
            frame,
            new(
                part.Volume_mm3,
                filled_mm3 - part.Volume_mm3,
                stocked_mm3 - filled_mm3,
                scaled_mm3 - stocked_mm3,
                rapped_mm3 - scaled_mm3,
                sharp_mm3 - rapped_mm3,
                (1 - ofDraft) * (filleted_mm3 - sharp_mm3),
                ofDraft * (filleted_mm3 - sharp_mm3),
                map.Volume - filleted_mm3),
            stocked_mm3,
            TurnedHeights.Of(turned, scale) with
            {
                Cores = [.. job.Features.Where(f => f is { Cut: CutKind.Cored, Turned.Axis: not TurnedAxis.Z }).Select(f => scale * f.Turned!.At_mm.Z).Distinct().Order()],
            },
            [.. TurnedFillets.Decisions(fillets, job.Pattern.Fillet, allowances.Fillets), .. TurnedEdges.Decisions(edges, job.Pattern.Round, allowances.Fillets)],
            [.. ClosedFindings(features, allowances.Stock.Value, tolerance_mm), .. TurnedFillets.Findings(fillets, frame, scale), .. TurnedEdges.Findings(edges, frame, scale)]);
    }

    private static T Made<T>(Task<T> work) => work.GetAwaiter().GetResult();

    private static (ColumnMap Map, Lattice Lattice) Assembled(
        List<CastFeature> features, double scale, double rapping_mm, double chordTolerance_mm, PatternFrame frame, ImmutableArray<TurnedProfile> rounded)
    {
        var turned = CastTurned.Of(features, scale, rapping_mm, chordTolerance_mm);
        // Walls are mended between features of upright walls only.
        var plain = CastFeature.Plans(features, scale, chordTolerance_mm);
        var moved = CastFeature.MovedPlans(features, scale, rapping_mm, chordTolerance_mm);
        var joints = WallMoves.Joints(features, plain, moved, scale, rapping_mm);
        var mouthed = features.Select((f, i) => f.Removes ? WallMoves.WithMouth(features, i, plain, moved, scale, rapping_mm) : moved[i]).ToList();

        // A joint takes its place right after the last feature that it joins.
        var (order, placed) = (new List<CastFeature>(), new List<FeatureSolid>());
        for (var i = 0; i < features.Count; i++)
        {
            if (features[i].Feature.Turned is null)
            {
                order.Add(features[i]);
                placed.Add(Placed(mouthed[i], features[i].Feature));
            }

            foreach (var (like, profile) in turned.Where(t => t.Last == i && !rounded.Any(r => r.Replaced.Contains(i))).Select(t => (t.Like, t.Profile))
                .Concat(rounded.Where(r => r.After == i).Select(r => (r.Like, r.Profile))))
            {
                order.Add(new(like, 0, 0, 0));
                placed.Add(FeatureSolid.OfProfile(profile, like.Turned!, scale, chordTolerance_mm));
            }

            foreach (var j in joints.Where(j => j.After == i))
            {
                order.Add(new(features[i].Feature with { Low_mm = j.Low_mm, High_mm = j.High_mm }, 0, j.Top_mm, j.Bottom_mm));
                placed.Add(Placed(j.Region, order[^1].Feature));
            }
        }

        var reach_mm = placed.Select(p => p.Plan).Where(p => !p.IsEmpty).Select(p => p.Geometry.EnvelopeInternal)
            .SelectMany(e => new[] { e.MinX, e.MaxX, e.MinY, e.MaxY })
            .Concat(order.SelectMany(f => new[] { scale * (f.Feature.Low_mm - f.Bottom_mm), scale * (f.Feature.High_mm + f.Top_mm) }))
            .Max(Math.Abs);
        // As printed, a half stands on its joint, and that may be either end.
        var metal = order.Where(f => !f.Removes).ToArray();
        if (metal.Length > 0)
            reach_mm = Math.Max(reach_mm, scale * (metal.Max(f => f.Feature.High_mm + f.Top_mm) - metal.Min(f => f.Feature.Low_mm - f.Bottom_mm)));
        var lattice = Lattice.For(1.2 * reach_mm);
        // Turned surfaces are cut where they cross faces as designed and with their stock.
        var stocked = placed.Zip(order, (p, f) => (p, f)).Where(x => x.f.EndsTop_mm != 0 || x.f.EndsBottom_mm != 0).SelectMany(x => x.p.Prisms.Select(q =>
            q with { Low = q.Low.Raised(-scale * x.f.EndsBottom_mm), High = q.High.Raised(scale * x.f.EndsTop_mm) }));
        var stack = new FeatureStack([.. placed], lattice.Step, order.Exists(f => f.Feature.Turned is not null) ? stocked : null);
        return (stack.Map((over, at) => CastFeature.Column(order, over, scale, at)), lattice);

        FeatureSolid Placed(PlanRegion plan, Feature feature) =>
            FeatureSolid.Upright(Bow.Of(plan, frame, chordTolerance_mm), scale * feature.Low_mm, scale * feature.High_mm);
    }

    /// <summary>The bow over the length that the pattern has before it is rapped.</summary>
    private static PatternFrame FrameOf(Box3 rapped, double scale, double rapping_mm, CamberSettings? camber)
    {
        if (camber is null || camber.Rise_mm == 0) return new(scale);
        var alongX = rapped.Size.X >= rapped.Size.Y;
        return new(scale, camber.Rise_mm, alongX, (alongX ? rapped.Low.X : rapped.Low.Y) - rapping_mm, (alongX ? rapped.Size.X : rapped.Size.Y) + (2 * rapping_mm));
    }

    private static IEnumerable<Finding> ClosedFindings(List<CastFeature> features, StockSettings stock, double chordTolerance_mm)
    {
        if (stock.Each.All(s => s.Holes_mm == 0 && s.Names_mm is null)) yield break;
        var (solids, moved) = (FeatureSolid.Of([.. features.Select(f => f.Feature)], chordTolerance_mm), CastFeature.MovedPlans(features, 1, 0, chordTolerance_mm));
        var turned = CastTurned.Of(features, 1, 0, chordTolerance_mm);
        for (var i = 0; i < features.Count; i++)
        {
            var f = features[i];
            if (!f.Removes || !(turned.FirstOrDefault(t => t.Features.Contains(i))?.Profile ?? moved[i]).IsEmpty) continue;
            var p = solids[i].Plan.InnerPoint;
            yield return new(
                "no-effect", Severity.Note,
                string.Create(CultureInfo.InvariantCulture, $"{f.Feature.Name} ({f.Feature.Where}) is closed by its stock of {f.Sides_mm:0.###} mm a side and is cast solid."),
                new(p.X, p.Y, (f.Feature.Low_mm + f.Feature.High_mm) / 2), f.Sides_mm, Remedy: "Drill it, or give less stock.", Unit: "mm");
        }
    }
}
