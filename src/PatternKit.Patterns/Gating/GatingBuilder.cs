using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Impressions;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Gating;

/// <summary>From the finished halves to the gating of the mould: reckoning, place, bars, weights.</summary>
internal static class GatingBuilder
{
    // A joint this near to the lowest level is at it.
    private const double Flush_mm = 0.01;

    // Casting left on either side of an ingate that is as wide as it can be.
    private const double Spare_mm = 0.5;

    /// <summary>The gating; null where the job wants none or there is no casting to gate.</summary>
    /// <param name="job">The job.</param>
    /// <param name="alloy">Its metal.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="bodies">The meshes of the halves.</param>
    /// <param name="volume_mm3">Their volume, nothing sunk into the parting faces.</param>
    /// <param name="casting_kg">The raw casting.</param>
    /// <param name="feeders">What feeders hold, by heights as the mould stands.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="draft">Of the bars, radians.</param>
    /// <param name="tolerance">Of the meshes.</param>
    /// <param name="prints">Plan of the cores with their prints; none when left out.</param>
    /// <param name="cored_mm2">Surface that cores add to the casting.</param>
    /// <param name="cavity">The cavity on cells.</param>
    /// <param name="castings">Several castings in one mould, each gated by itself; none for one.</param>
    /// <exception cref="InputException">The head that was asked for does not reach over the casting and the basin.</exception>
    public static GatingPlan? Build(
        Job job, Alloy alloy, FoundryTables tables, HalfMould cope, HalfMould drag, ImmutableArray<KitBody> bodies,
        double volume_mm3, double casting_kg, ImmutableArray<CavitySlice> feeders, PatternFrame frame, double draft, MeshingTolerance tolerance, PlanRegion? prints, double cored_mm2, Func<CastingGrid> cavity,
        ImmutableArray<CastingPlace> castings)
    {
        var asked = job.Gating ?? new();
        Vec2? near = asked.At_mm is { } p ? frame.ToPattern(new(p.X, p.Y, 0)).Plan : null;
        if (!asked.Wanted || bodies.IsEmpty) return null;
        var clearance = GatingRules.RunnerClearance_mm(casting_kg, tables.Gating);
        if (GateChoice.Of(cope, drag, asked, near, prints, castings, castings.IsEmpty ? 0 : Between()) is not { } choice)
        {
            return castings.IsEmpty ? null
                : throw new InputException(job.Impressions?.Where ?? job.Others[0].Where, "", "no runner passes all castings beside one row or between two and meets each in the same half of the mould: one stands behind another, or has no metal at the joint where the others have. Give no places, such as impressions = 2, and have them arranged; part one of them at another height ([parting] at); or gate them by hand with gating = \"none\".");
        }

        var (site, footprint) = (choice.Site, cope.Footprint.Union(drag.Footprint));
        var count = choice.Count(asked, tables.Gating);
        var gates = choice.OfCastings(asked, tables.Gating);
        // Copies share alike; of different parts each casting gets by its metal.
        var shares = castings.Select(c => Math.Round(c.Share, 9)).Distinct().Count() <= 1 ? [] : gates.Select(g => new IngateShare(
            castings[g.Casting].Share / gates.Count(o => o.Casting == g.Casting), site.Castings.First(c => c.Casting == g.Casting).Wall_mm)).ToImmutableArray();
        var (low, high) = Range(bodies, choice.Up);
        // Under the casting no bar can lie on the joint.
        var isUnder = !choice.IsOnEdge && asked.Where == GatedAt.Bottom && low < cope.Joint_mm - Flush_mm;
        var gate = isUnder ? low : choice.IsOnEdge ? choice.Up.Of(OnOutline(site.Middle_mm)) : cope.Joint_mm;
        var above = cope.IsEmpty && !choice.IsOnEdge && !isUnder ? 0 : high - gate;
        // The job gives the head over the joint.
        var head = asked.Head_mm + (isUnder ? cope.Joint_mm - low : 0);
        if (head is { } h) Demand(job, h, above, tables.Gating, choice.IsOnEdge);

        var reckoning = GatingRules.Reckon(
            new(casting_kg, MeanWall(cope, drag, bodies, volume_mm3, cored_mm2), high - low, above, count.Value, site.Wall_mm, site.Half == MouldHalf.Drag && !choice.IsOnEdge && !isUnder, head, asked.PourTime_s, asked.Ratio)
            {
                Feeders = [.. feeders.Select(f => f with { Low_mm = f.Low_mm - gate, High_mm = f.High_mm - gate })],
                Cavity = cavity().Slices(choice.Up, low, high, gate, volume_mm3) is { IsEmpty: false } slices ? slices : null,
                WidthAtIngates_mm = choice.IsOnEdge && choice.Where == GatedAt.Rule ? Math.Max(1, (site.Face(footprint, near is null ? null : site.Middle_mm).Width / count.Value) - (site.Wall_mm * Math.Tan(draft)) - Spare_mm) : double.PositiveInfinity,
                FootBelow_mm = choice.IsOnEdge ? clearance.Value : 0,
                Shares = shares,
                RunnerOverIngates = castings.Length < 2 ? 0 : site.Across_mm > 0 ? 2 : 1,
            },
            alloy, tables.Gating);
        var places = !gates.IsEmpty ? IngatePlaces.Each(site, gates) : choice.Places(reckoning.Ingate.Value, draft, count.Value, near is null ? null : tables.Gating.Shapes.IngateSpacing_mm.Value);
        // Bars lie on a level joint.
        var layout = cope.IsCarved || isUnder ? null : GatingLayout.Of(site, reckoning, footprint, draft, clearance.Value, places, choice.IsOnEdge, tables.Fillets);
        if (layout is not null) reckoning = layout.Reckoning;
        var bars = layout is null ? [] : GatingBars.Build(site, reckoning, layout, footprint, draft, cope.Joint_mm, tolerance);
        var metal = PouredMetal.Of(casting_kg, bars.Sum(b => b.Body.AsPrinted.Volume()), alloy, tables.Gating);
        return new(reckoning, metal, clearance, count, bars, [.. Findings(reckoning, layout is null, site.Across_mm, cope.IsCarved, isUnder, tables.Gating), .. Met(bars, prints, frame, !job.Loose.IsEmpty)])
        {
            Joint_mm = cope.Joint_mm,
            Position = new(choice.Up, gate, choice.UpRule(high - low)),
            Enters_mm = [.. (layout?.Gates ?? places.Places).Select(Entry)],
            Runs_mm = layout?.Runs_mm ?? [],
            Castings = castings.IsEmpty ? [] : [.. (layout?.Gates ?? places.Places).Select(g => g.Casting)],
        };

        Vec3 OnOutline(double place, bool isAcross = false)
        {
            var p = site.Inside(place, site.Depths(footprint, place, 0, isAcross)?.Least ?? 0, isAcross);
            return new(p.X, p.Y, cope.Joint_mm);
        }

        Vec3 Entry(IngatePlace gate, int i) => OnOutline(gate.Along_mm, gate.IsAcross) with
        {
            Z = isUnder ? low + (0.5 * reckoning.IngateAt(i).Depth_mm) : cope.Joint_mm + ((site.Half == MouldHalf.Cope ? 0.5 : -0.5) * reckoning.IngateAt(i).Depth_mm),
        };

        // Before the side is known: the runner hangs on neither number nor walls of the ingates.
        double Between()
        {
            var (from, to) = Range(bodies, GridUp.Z);
            return Math.Max(Of(false), Of(true));
            double Of(bool inCope) => GatingLayout.Room(
                GatingRules.Reckon(
                    new(casting_kg, MeanWall(cope, drag, bodies, volume_mm3, cored_mm2), to - from, Math.Max(0, to - cope.Joint_mm), castings.Length, RunnerInCope: inCope, PourTime_s: asked.PourTime_s, Ratio: asked.Ratio)
                    {
                        Feeders = [.. feeders.Select(f => f with { Low_mm = f.Low_mm - cope.Joint_mm, High_mm = f.High_mm - cope.Joint_mm })],
                        Cavity = cavity().Slices(GridUp.Z, from, to, cope.Joint_mm, volume_mm3) is { IsEmpty: false } slices ? slices : null,
                    },
                    alloy, tables.Gating),
                draft, clearance.Value, tables.Fillets).Between_mm;
        }
    }

    /// <summary>Twice volume over cooling surface of the pattern: the thickness of the plate that freezes as fast. Where both halves meet there is no surface, and upright facets are those of pockets.</summary>
    private static double MeanWall(HalfMould cope, HalfMould drag, ImmutableArray<KitBody> bodies, double volume_mm3, double cored_mm2)
    {
        var surface = cored_mm2 + bodies.Sum(b => b.InMould.Facets.Select(b.InMould.AreaNormal).Where(n => n.Z != 0).Sum(n => n.Length / 2))
            - (cope.IsEmpty || drag.IsEmpty ? 0 : 2 * cope.Footprint.Intersection(drag.Footprint).Area);
        return 2 * volume_mm3 / surface;
    }

    private static (double Low, double High) Range(ImmutableArray<KitBody> bodies, GridUp up)
    {
        var ends = bodies.Select(b => b.InMould.Bounds()).SelectMany(b => new[] { up.Of(b.Low), up.Of(b.High) }).ToArray();
        return (ends.Min(), ends.Max());
    }

    private static void Demand(Job job, double head, double above, GatingTables tables, bool onEdge)
    {
        var needed = tables.Shapes.BasinDepth_mm.Value + tables.Shapes.LeastSprue_mm.Value;
        var least = Math.Max(above, needed);
        if (head > least) return;
        throw new InputException(PartBody.Source(job), "", Invariant($"head = {head:0.##} mm of [gating] is too low: the casting stands {above:0.#} mm over the {(onEdge ? "ingates" : "joint")}, and basin and sprue need {needed:0.#} mm. Write more than {least:0.#} mm, or leave it out."));
    }

    private static IEnumerable<Finding> Met(ImmutableArray<GatingBar> bars, PlanRegion? prints, PatternFrame frame, bool withLoose)
    {
        if (prints is null || bars.Where(b => !b.Plan.Intersection(prints).IsEmpty).ToArray() is not { Length: > 0 } met) yield break;
        var p = met[0].Plan.Intersection(prints).InnerPoint;
        yield return new("bar-meets-print", Severity.Warn, $"A core's print{(withLoose ? " or a loose piece" : "")} lies where {string.Join(", ", met.Select(b => b.Body.Name))} would: {(withLoose ? "both cannot be moulded" : "the metal would run into its seat")}.",
            frame.ToJob(new(p.X, p.Y, 0)), Remedy: "Give another side ([gating] at = [x, y]), or shorten the prints ([cores] print).");
    }

    private static IEnumerable<Finding> Findings(GatingReckoning r, bool noRoom, double between_mm, bool isCarved, bool isUnder, GatingTables tables)
    {
        if (isUnder)
        {
            yield return new("no-bars", Severity.Note, "The metal is to enter under the casting, below the joint, where no bar can lie: none are made; the reckoning stands.",
                Remedy: "Lead it there by a core or a loose curved piece, or part at the lowest level of the casting, or pour on edge ([gating] pour = \"on edge\").");
        }
        else if (isCarved)
        {
            yield return new("no-bars", Severity.Note, "Gating bars lie on a joint that is level all over, and this one is not: none are made; the reckoning stands.", Remedy: "Cut the gating by hand to the areas told.");
        }
        else if (noRoom)
        {
            yield return between_mm > 0 ? new("no-ingate-room", Severity.Warn,
                Invariant($"Between the two rows of castings are {between_mm:0.#} mm, too little for the runner or for ingates side by side, so that no gating bars are made; the reckoning stands."),
                null, between_mm, Remedy: "Move the rows apart, give no places and have them arranged, or cut the gating by hand to the areas told.", Unit: "mm")
                : new("no-ingate-room", Severity.Warn,
                "No ingate of the reckoned width fits against the side of the casting, so that no gating bars are made; the reckoning stands.",
                Remedy: "Cut the gating by hand to the areas told, give another place ([gating] at = [x, y]), or fewer ingates.");
        }

        if (r.FloorApplied)
        {
            yield return new("least-choke", Severity.Note,
                Invariant($"The pour time alone asks for a choke of {r.ChokeByTime_mm2.Value:0.#} mm²; the least that can be poured, {r.LeastChoke_mm2.Value:0.#} mm², is taken, and the mould fills in {r.FillTime_s:0.0#} s instead of {r.PourTime_s.Value:0.0#} s."),
                null, r.ChokeByTime_mm2.Value, r.LeastChoke_mm2.Value, r.LeastChoke_mm2.Source, Unit: "mm²");
        }

        if (r.BeyondHandRate)
        {
            yield return new("pour-rate", Severity.Warn,
                Invariant($"The choke takes {r.Rate_kg_s:0.00} kg/s, and one person pours {r.HandRate_kg_s.Value:0.00} kg/s: the basin runs empty and air goes down with the metal."),
                null, r.Rate_kg_s, r.HandRate_kg_s.Value, r.HandRate_kg_s.Source,
                "Lower the head, or give your own rate in shop.toml ([pouring] rate_kg_s).", "kg/s");
        }
        else if (r.SlowedToHandRate)
        {
            yield return new("pour-rate", Severity.Note,
                Invariant($"The law of the metal asks for {r.PourTimeByRule_s.Value:0.0} s; one person, pouring {r.HandRate_kg_s.Value:0.00} kg/s, takes {r.PourTime_s.Value:0.0} s, and thin walls may not run."),
                null, r.Fills_kg / r.PourTimeByRule_s.Value, r.HandRate_kg_s.Value, r.HandRate_kg_s.Source,
                "Pour hotter; or from two ladles at once, and give the rate in shop.toml ([pouring] rate_kg_s).", "kg/s");
        }

        if (r.TooFastAtIngates)
        {
            yield return new("ingate-velocity", Severity.Warn,
                Invariant($"With the ratio given the metal enters at {r.IngateVelocity_m_s:0.00} m/s, faster than {r.IngateVelocityLimit_m_s.Value:0.00} m/s: it sprays and folds its skin in."),
                null, r.IngateVelocity_m_s, r.IngateVelocityLimit_m_s.Value, r.IngateVelocityLimit_m_s.Source, Invariant($"Widen all ingates together to {r.QuietIngates_mm2:0} mm² in the ratio, or leave it out and it is widened by rule; or set a filter across the runner, its face at least {tables.FilterFace_chokes.Value * r.Choke_mm2.Value:0} mm² ({tables.FilterFace_chokes.Value:0.#} times the choke): it stills the stream, and takes little of its mean speed ({tables.FilterFace_chokes.From.Text})."), "m/s");
        }
    }
}
