using System.Collections.Immutable;
using NetTopologySuite.Operation.Distance;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Impressions;

/// <summary>The castings of one mould: copies of the part of the job, and other parts of the same metal beside them, all with their joint in one plane.</summary>
/// <param name="Parts">That of the job first.</param>
/// <param name="Where">Place of the setting, for messages.</param>
/// <param name="Joint_mm">Height of the common joint, job coordinates; null where one part settles it.</param>
internal sealed record MouldCastings(ImmutableArray<MouldPart> Parts, string Where, double? Joint_mm)
{
    /// <summary>Volumes that differ by less differ by rounding to a lattice.</summary>
    private const double SameVolume = 1e-4;

    /// <summary>Whether they are of different parts.</summary>
    public bool IsMixed => Parts.Length > 1;

    /// <summary>The castings of a job, arranged where it gives no places; null for one that lies as the job has it.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">Its own part.</param>
    /// <param name="allowances">Those of the mould, which go by it.</param>
    /// <param name="tables">Rules.</param>
    public static MouldCastings? Of(Job job, PartBody part, Allowances allowances, FoundryTables tables)
    {
        if (job.Impressions is null && job.Others.IsEmpty) return null;
        var main = job with { Impressions = null, Others = [] };
        var isPlaced = job.Others.IsEmpty ? !job.Impressions!.At_mm.IsEmpty : !job.Others[0].At_mm.IsEmpty;
        ImmutableArray<MouldPart> parts =
        [
            new(main, part, allowances, job.Impressions?.At_mm ?? (isPlaced ? [default] : [])) { Count = job.Impressions?.Count ?? 1 },
            .. job.Others.Select(o => MouldPart.Of(o, main, allowances, tables)),
        ];
        var where = job.Impressions?.Where ?? job.Others[0].Where;
        // Copies at given places need nothing that has to be found out on one of them alone.
        if (isPlaced && parts.Length == 1) return new(parts, where, null);
        var alone = parts.Select(p => Task.Run(() => PartAlone.Of(p, tables))).ToArray().Select(t => t.GetAwaiter().GetResult()).ToArray();
        if (job.Gating?.Wanted != false) alone = [.. alone.Select((a, i) => i == 0 ? a : a.GatedWith(alone[0], tables))];
        parts = [.. alone.Select((a, i) => a.Part with { Casting_kg = alone[i].Kit.Metal.Casting_kg, Rise_mm = alone[0].Joint_mm - alone[i].Joint_mm, JointReason = a.JointReason })];
        double? joint = parts.Length > 1 ? alone[0].Joint_mm : null;
        if (isPlaced) return new(parts, where, joint);
        var castings = parts.SelectMany((p, i) => Enumerable.Repeat(alone[i], p.Count)).ToImmutableArray();
        var at = CastingRows.Arrange([.. castings.Select(c => c.Room)], Sand(parts.Max(p => p.Casting_kg), tables).Value / allowances.Scale, PartAlone.Runner(castings, job, allowances, tables));
        return new([.. parts.Select((p, i) => p with { At_mm = at.Slice(parts.Take(i).Sum(before => before.Count), p.Count) })], where, joint);
    }

    /// <summary>Least sand between two patterns in one mould.</summary>
    public static Sourced<double> Sand(double casting_kg, FoundryTables tables) => tables.Plates.Margin_mm(casting_kg);

    /// <summary>The job with the features of all its castings, and the measures of each part on its first.</summary>
    public Job Laid(Job job) => job with
    {
        Features = [.. Parts.SelectMany(p => p.Features)],
        Loose = [.. Parts.SelectMany(p => p.Loose)],
        Measures = [.. Parts.SelectMany(p => p.Measures)],
        // The plane is settled by each part itself.
        Parting = Joint_mm is { } joint ? job.Parting with { At_mm = joint } : job.Parting,
        Pattern = IsMixed ? job.Pattern with { Fillet = Merged(p => p.Fillet, null), Round = Merged(Rounds, 0) } : job.Pattern,
    };

    /// <summary>Edges of a part: sharp where it asks for none, and by the table where a rule is to say, since among others no rule goes for it alone.</summary>
    private RadiusSettings Rounds(PatternSettings of) => of.Round is { } asked
        ? asked with { All_mm = asked.All_mm ?? Parts[0].Allowances.Fillets.Edge_mm.Value }
        : new(0, ImmutableDictionary<string, double>.Empty);

    /// <summary>The allowances with the stock of each part.</summary>
    public Allowances With(Allowances mould) => !IsMixed ? mould : mould with
    {
        Stock = mould.Stock with { Value = mould.Stock.Value with { OfParts = Parts.Skip(1).ToImmutableSortedDictionary(p => p.Job.Name, p => p.Allowances.Stock.Value, StringComparer.Ordinal) } },
    };

    /// <summary>All castings as one body; what was found on a part is told once.</summary>
    /// <param name="laid">The job as laid.</param>
    /// <exception cref="InputException">Two of them overlap.</exception>
    public PartBody Body(Job laid)
    {
        var all = PartBody.From(laid);
        if (Math.Abs(all.Volume_mm3 - Parts.Sum(p => p.At_mm.Length * p.Body.Volume_mm3)) > SameVolume * Parts.Min(p => p.Body.Volume_mm3))
            throw new InputException(Where, "", "at these places castings overlap, or one is cut by the cuts of another. Move them apart, or give no places, such as impressions = 2, and have them arranged.");
        return all with { Findings = [.. Parts.SelectMany((p, i) => p.Body.Findings.Select(f => i == 0 ? f : f with { Message = $"{p.Job.Name}: {f.Message}" }))] };
    }

    /// <summary>Where each lies, scaled, in the order of the parts, and what part of the metal it holds.</summary>
    public ImmutableArray<CastingPlace> Places(double scale)
    {
        var whole = Parts.Sum(p => p.At_mm.Length * Weight(p));
        return [.. Parts.SelectMany((p, i) => p.At_mm.Select(at => new CastingPlace(scale * (p.Body.Box.Low.Plan + at), scale * (p.Body.Box.High.Plan + at), i, Weight(p) / whole)))];
        double Weight(MouldPart p) => IsMixed ? p.Casting_kg : 1;
    }

    /// <summary>What each part is told by in the kit.</summary>
    /// <param name="casting_kg">All castings together.</param>
    public ImmutableArray<CastPart> Cast(double casting_kg)
    {
        var places = Places(1);
        return [.. Parts.Select((p, i) => new CastPart(p.Job.Name, p.Job.Title, p.Body.Box, p.Body.Volume_mm3, places.First(c => c.Part == i).Share * casting_kg, p.At_mm))];
    }

    /// <summary>Why the joint is where it is: each part at its own height.</summary>
    public string JointReason => string.Join("; ", Parts.Select((p, i) => $"{p.Job.Name}: {p.JointReason}{(p.Rise_mm == 0 ? "" : Invariant($", moved by {p.Rise_mm:0.###} mm along z"))}"));

    /// <summary>What the size of each part but the first settles, with rule and source.</summary>
    public IEnumerable<Decision> Decisions => Parts.Skip(1).SelectMany(p => KitDecisions.Stock(p.Allowances, p.Job.Name));

    /// <summary>What the mould cannot have as each part alone would.</summary>
    public IEnumerable<Finding> Findings => Parts.SelectMany(p => p.Findings);

    /// <summary>Castings that have less sand between them.</summary>
    /// <param name="footprint">All patterns at the joint, prints included.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="casting_kg">All castings together.</param>
    /// <param name="tables">Rules.</param>
    public IEnumerable<Finding> Near(PlanRegion footprint, PatternFrame frame, double casting_kg, FoundryTables tables)
    {
        var castings = Places(frame.Scale);
        var sand = Sand(castings.Max(c => c.Share) * casting_kg, tables);
        var groups = footprint.Pieces().GroupBy(p => CastingPlace.Nearest(castings, new(p.Geometry.EnvelopeInternal.Centre.X, p.Geometry.EnvelopeInternal.Centre.Y))).Select(g => PlanRegion.Union(g)).ToArray();
        if (groups.Length < castings.Length)
        {
            var p = frame.ToJob(new(footprint.InnerPoint.X, footprint.InnerPoint.Y, 0));
            yield return new("impressions-near", Severity.Stop, "Two castings of the mould run into each other at the joint, draft and core prints included.", p, 0, sand.Value, sand.Source, "Move their places apart.", "mm");
            yield break;
        }

        if (groups.Length < 2) yield break;
        var (gap_mm, first, second) = groups.SelectMany((g, i) => groups.Skip(i + 1).Select(o => (Gap_mm: g.Geometry.Distance(o.Geometry), First: g, Second: o))).MinBy(p => p.Gap_mm);
        if (gap_mm >= sand.Value - 0.01) yield break;
        var nearest = DistanceOp.NearestPoints(first.Geometry, second.Geometry);
        var at = frame.ToJob(new((nearest[0].X + nearest[1].X) / 2, (nearest[0].Y + nearest[1].Y) / 2, 0));
        yield return new(
            "impressions-near", Severity.Warn, Invariant($"Between two castings of the mould, near ({at.X:0.#}, {at.Y:0.#}) mm, are {gap_mm:0.#} mm of sand at the joint: it may break, and it freezes both late."),
            at, gap_mm, sand.Value, sand.Source, Invariant($"Leave {sand.Value:0.#} mm between their patterns."), "mm");
    }

    /// <summary>Radii of all parts under names; one for everything only where all parts say the same.</summary>
    /// <param name="of">Those of a part; null by rule.</param>
    /// <param name="others">For what no name gives one to, where they differ.</param>
    private RadiusSettings? Merged(Func<PatternSettings, RadiusSettings?> of, double? others)
    {
        var all = Parts.Select(p => (p.Job.Features, Radii: of(p.Job.Pattern))).ToArray();
        var isSame = all.Select(p => p.Radii?.All_mm).Distinct().Count() == 1;
        var names = all.SelectMany(p => p.Radii?.Names_mm ?? ImmutableDictionary<string, double>.Empty).ToImmutableDictionary(n => n.Key, n => n.Value);
        if (isSame) return names.IsEmpty && all[0].Radii?.All_mm is null ? null : new(all[0].Radii?.All_mm, names);
        foreach (var (features, radii) in all.Where(p => p.Radii?.All_mm is not null && p.Radii.All_mm != others))
            foreach (var f in features.Where(f => f.Text is null && !(f.Layer is { } layer && names.ContainsKey(layer)) && !names.ContainsKey(f.Name)))
                names = names.SetItem(f.Name, radii!.All_mm!.Value);
        return new(others, names);
    }
}
