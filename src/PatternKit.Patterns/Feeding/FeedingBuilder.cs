using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Feeding;

/// <summary>From the order of freezing to feeders: which sections are fed, by what, and where it stands.</summary>
internal static class FeedingBuilder
{
    // The gravest are told; the others are like them.
    private const int MostWalls = 3;

    /// <summary>The feeding of a mould; null where the shrinkage of the metal is not known.</summary>
    /// <param name="job">The job.</param>
    /// <param name="alloy">Its metal.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cavity">On cells.</param>
    /// <param name="heat">With the sections that freeze last.</param>
    /// <param name="gating">Its head is that of the feeders, which are open.</param>
    /// <param name="volume_mm3">Metal in the mould, gating apart.</param>
    /// <param name="bare">Upper half without prints and fillets.</param>
    /// <param name="cope">Upper half as it is made.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="draft">Of the bodies, radians.</param>
    public static FeedingPlan? Build(
        Job job, Alloy alloy, FoundryTables tables, CastingGrid cavity, CastingHeat heat, GatingPlan gating, double volume_mm3, HalfMould bare, HalfMould cope, PatternFrame frame, double draft)
    {
        if (alloy.Heat.FreezingShrinkage_percent is not { } shrinkage) return null;
        var table = tables.Feeding;
        var sections = ImmutableArray.CreateBuilder<FedSection>();
        var several = shrinkage.Value > 0 && shrinkage.Value < table.Efficiency_percent.Value && table.IsLongRange(alloy) && table.DistanceOf(alloy) is { } far ? new SeveralFeeders(cavity, frame, far, shrinkage.Value, table) : null;
        var gate = GateNeck.Of(gating.Reckoning);
        var places = new FeederPlaces(bare, cope, gating, frame, draft, table);
        // In each casting, what is not cut off before freezes with the last of all.
        double CutOff(HotSpot last) => heat.HotSpots.Where(h => h.CutOff_s is not null && h.Part == last.Part && h.Casting_mm == default).Sum(h => h.Pool_mm3);
        foreach (var spot in shrinkage.Value > 0 ? heat.HotSpots : [])
        {
            var fed = spot.CutOff_s is null ? Math.Max(spot.OfCasting_mm3 - CutOff(spot), spot.Pool_mm3 * 1e-3) : spot.Pool_mm3;
            var section = new FedSection(spot.At_mm, spot.Across_mm, spot.Modulus_mm, fed, fed * shrinkage.Value / 100, FeedingFate.Left, "") { Beside_mm = Beside(spot) };
            var judged = Judged(section);
            foreach (var part in judged.Fate == FeedingFate.Fed ? Stood(judged, spot.Casting_mm) : [judged])
                sections.Add(Tapered(Chilled(FeedingReach.Measured(part, cavity, frame, spot.Casting_mm, table.DistanceOf(alloy), table))));
        }

        ImmutableArray<FedSection> all = sections.ToImmutable();
        var distance = table.DistanceOf(alloy);
        ImmutableArray<UnfedWall> beyond = distance is null ? [] : [.. FeedingReach.Beyond(all, cavity, frame, volume_mm3 / cavity.Grid.Filled, shrinkage.Value, distance, table).OrderByDescending(w => w.Lacks_mm3)];
        return new(
            shrinkage, all, distance, table.IsLongRange(alloy),
            [
                .. Findings(all, table, frame.Scale),
                .. distance is null ? [] : all.SelectMany(s => FeedingReach.Findings(s, distance, table, frame.Scale)).Concat(beyond.Take(MostWalls).Select(w => FeedingReach.Told(w, distance, table, frame.Scale))),
            ])
        { Table = table, Gate = gate, Beyond = beyond };

        // Castings of one mould are alike: the walls beside a section are those of the first.
        double? Beside(HotSpot spot)
        {
            var across = spot.Across_mm * frame.Scale;
            var at = frame.ToPattern(new(spot.At_mm.X - spot.Casting_mm.X, spot.At_mm.Y - spot.Casting_mm.Y, spot.At_mm.Z));
            var from = cavity.Grid.Nearest(at, c => cavity.Walls.At_mm(c) * table.StandsOut.Value >= across);
            return from >= 0 && WallsBeside.Thickness_mm(cavity.Walls, from, across, table.StandsOut.Value, table.BesideShare.Value) is { } wall ? Modulus.Wall(wall) : null;
        }

        // What is worth feeding may be chilled instead, as far as it is thicker than what is left to the gates.
        FedSection Chilled(FedSection s)
        {
            var across = s.Across_mm * frame.Scale;
            if (s.Fate == FeedingFate.Left || s.Beside_mm is not { } beside || s.Modulus_mm <= table.StandsOut.Value * beside) return s;
            var target = table.StandsOut.Value * beside;
            // Of the section itself: a cube about its largest ball.
            var own_mm3 = Math.Min(s.Fed_mm3, across * across * across);
            return s with { Chill = Chill.For(s.Modulus_mm, target, across, own_mm3, heat.Metal.UntilSolid_J_m3(heat.Pour.Taken_C.Value), table.Chill) };
        }

        // From its feeder outward, where that does not reach; to the nearest ingate, where it is too thin for one.
        FedSection Tapered(FedSection s)
        {
            if (table.DistanceOf(alloy) is not { } distance) return s;
            var across = s.Across_mm * frame.Scale;
            var at = frame.ToPattern(s.At_mm);
            double? length = s.Fate == FeedingFate.Thin && !gating.Enters_mm.IsEmpty ? gating.Enters_mm.Min(e => (e - at).Length)
                : s.Distance is { } d && d.Reach_mm > d.Feeds_mm ? d.Reach_mm : null;
            return length is > 0 and var l ? s with { Taper = (FeedingTaper.Root_mm(across, l, distance.Value * across, table.TaperStep.Value), l) } : s;
        }

        // As near to an ingate as a feeder feeds, and thinner than what that stays open for.
        bool IsFedByGate(FedSection s)
        {
            var across = s.Across_mm * frame.Scale;
            return s.Modulus_mm <= gate.Feeds_mm(table.Moduli) && table.DistanceOf(alloy) is { } far && gating.Enters_mm.Any(e => (e - frame.ToPattern(s.At_mm)).Length <= (far.Value + 0.5) * across);
        }

        FedSection Judged(FedSection s)
        {
            if (!(s.Modulus_mm >= table.StandsOut.Value * s.Beside_mm) && s.Across_mm < table.Thick_mm.Value)
                return s with { Why = s.Beside_mm is null ? "all around it is as thick: it draws from the gates while they are open" : Invariant($"its modulus is not {table.StandsOut.Value:0.##} times that of the walls that it borders: it draws from the gates while they are open") };
            if (s.Lacks_mm3 < table.LeastVoid_mm3.Value) return s with { Why = Invariant($"what it lacks is less than {table.LeastVoid_mm3.Value:0} mm³") };
            if (s.Across_mm < table.Thin_mm.Value) return s with { Fate = FeedingFate.Thin, Why = Invariant($"thinner than {table.Thin_mm.Value:0.#} mm: a feeder would freeze first, or be as heavy as the casting") };
            if (IsFedByGate(s)) return s with { Why = "ingate, runner and sprue freeze after it and feed it, as neck and feeder do" };
            if (shrinkage.Value >= table.Efficiency_percent.Value) return s with { Fate = FeedingFate.NoPlace, Why = "the metal shrinks by more than a plain feeder gives up" };
            return job.Feeders ? s with { Fate = FeedingFate.Fed } : s with { Fate = FeedingFate.NotWanted, Why = "the job wants no feeders" };
        }

        // Several small ones where one does not feed all of it and the metal feeds badly; one where they find no place.
        ImmutableArray<FedSection> Stood(FedSection s, Vec2 casting_mm)
        {
            if (several?.Covers(s, casting_mm) == true) return [s with { Fate = FeedingFate.Left, Why = "it is of a section on which several feeders stand" }];
            if (several?.Shared(s, casting_mm) is { } parts && places.StoodAll(parts, shrinkage.Value) is { } stood) return several.Stand(s, casting_mm, stood);
            return [places.Stood(s, shrinkage.Value)];
        }
    }

    private static IEnumerable<Finding> Findings(ImmutableArray<FedSection> sections, FeedingTable table, double scale)
    {
        foreach (var s in sections.Where(s => s.Fate is FeedingFate.ByHand or FeedingFate.NoPlace or FeedingFate.NotWanted))
        {
            yield return new("shrinkage", Severity.Warn, Invariant($"The section near ({s.At_mm.X:0.#}, {s.At_mm.Y:0.#}, {s.At_mm.Z:0.#}) mm freezes after all around it and then lacks {s.Lacks_mm3 / 1000:0.##} cm³: it sinks there, or a hollow is left in it. {(s.Fate == FeedingFate.ByHand ? "Its feeder is none of the bodies" : "No feeder stands on it")}: {s.Why}."),
                s.At_mm, s.Lacks_mm3, table.LeastVoid_mm3.Value, table.LeastVoid_mm3.From.Text,
                (s.Size is { } size ? Invariant($"{(s.Fate == FeedingFate.ByHand ? "Cut" : "Stand")} a feeder of {size.Diameter_mm:0.#} mm, {(s.Fate == FeedingFate.ByHand ? s.Holds[0].High_mm - s.Holds[0].Low_mm : size.Height_mm):0} mm high, on it, its neck no narrower than {size.Neck_mm:0.#} mm. {(s.Fate == FeedingFate.ByHand ? "Its metal is in the melt. " : "")}") : "")
                + (s.Size is null ? "Make" : "Else make") + " the section thinner or core it, or set " + (s.Chill is { } chill
                    ? Invariant($"a chill of iron against it in the sand, {chill.Face_mm:0} × {chill.Face_mm:0} mm and {chill.Thick_mm:0} mm thick, {chill.Mass_kg:0.00} kg, which brings it down to a modulus of {chill.Target_mm:0.0} mm") : "a chill against it in the sand")
                + ": dry, clean and warm, since moisture on a chill explodes.", "mm3");
        }

        foreach (var s in sections.Where(s => s.Fate == FeedingFate.Thin))
        {
            yield return new("shrinkage", Severity.Note, Invariant($"The section near ({s.At_mm.X:0.#}, {s.At_mm.Y:0.#}, {s.At_mm.Z:0.#}) mm freezes after all around it and is not fed: {s.Why}."),
                s.At_mm, s.Across_mm, table.Thin_mm.Value, table.Thin_mm.From.Text,
                (s.Taper is { } t ? Invariant($"Let the wall grow from {s.Across_mm:0.0} mm there to {t.Root_mm / scale:0.0} mm at the gate, {(t.Root_mm / scale - s.Across_mm) * 100 * scale / t.Length_mm:0.0} mm in 100 mm ({table.TaperStep.From.Text}), and gate it hot") : "Let the walls taper towards it from the gate, and gate it hot")
                + (s.Chill is { } c ? Invariant($"; or set a chill of iron against it, {c.Face_mm:0} × {c.Face_mm:0} mm and {c.Thick_mm:0} mm thick, {c.Mass_kg:0.00} kg: dry, clean and warm, since moisture on a chill explodes.") : "."), "mm");
        }
    }
}
