using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Gating;

/// <summary>From the finished halves to the gating of the mould: reckoning, place, bars, weights.</summary>
internal static class GatingBuilder
{
    /// <summary>The gating; null where the job wants none or there is no casting to gate.</summary>
    /// <param name="job">The job.</param>
    /// <param name="alloy">Its metal.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="bodies">The meshes of the halves.</param>
    /// <param name="volume_mm3">Their volume, nothing sunk into the parting faces.</param>
    /// <param name="casting_kg">The raw casting.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="draft">Of the bars, radians.</param>
    /// <param name="tolerance">Of the meshes.</param>
    /// <param name="prints">Plan of the cores with their prints; none when left out.</param>
    /// <param name="cored_mm2">Surface that cores add to the casting.</param>
    /// <param name="castings">Boxes in plan of several castings in one mould, each gated by itself; none for one.</param>
    /// <exception cref="InputException">The head that was asked for does not reach over the casting and the basin.</exception>
    public static GatingPlan? Build(
        Job job, Alloy alloy, FoundryTables tables, HalfMould cope, HalfMould drag, ImmutableArray<KitBody> bodies,
        double volume_mm3, double casting_kg, PatternFrame frame, double draft, MeshingTolerance tolerance, PlanRegion? prints = null, double cored_mm2 = 0,
        ImmutableArray<(Vec2 Low, Vec2 High)> castings = default)
    {
        var asked = job.Gating ?? new();
        Vec2? near = asked.At_mm is { } p ? frame.ToPattern(new(p.X, p.Y, 0)).Plan : null;
        if (!asked.Wanted || bodies.IsEmpty) return null;
        if (GateSite.Choose(cope, drag, near, prints, castings.IsDefault ? [] : castings) is not { } site)
        {
            return castings.IsDefaultOrEmpty ? null
                : throw new InputException(job.Impressions!.Where, "", "impressions: along no side of the castings does a runner pass all of them, since one stands behind another. Put them in a row, write how many there are, such as impressions = 2, or gate them by hand with gating = \"none\".");
        }

        var places = IngatePlaces.Of(site, asked.Ingates, near is not null, tables.Gating);
        var count = places.Count;
        var above = cope.IsEmpty ? 0 : bodies.Max(b => b.InMould.Bounds().High.Z) - cope.Joint_mm;
        var height = bodies.Max(b => b.InMould.Bounds().High.Z) - bodies.Min(b => b.InMould.Bounds().Low.Z);
        if (asked.Head_mm is { } head) Demand(job, head, above, tables.Gating);

        var reckoning = GatingRules.Reckon(
            new(casting_kg, MeanWall(cope, drag, bodies, volume_mm3, cored_mm2), height, above, count.Value, site.Wall_mm, site.Half == MouldHalf.Drag, asked.Head_mm, asked.PourTime_s, asked.Ratio),
            alloy, tables.Gating);
        var clearance = GatingRules.RunnerClearance_mm(casting_kg, tables.Gating);
        var footprint = cope.Footprint.Union(drag.Footprint);
        // Bars lie on a level joint.
        var layout = cope.IsCarved ? null : GatingLayout.Of(site, reckoning, footprint, draft, clearance.Value, places);
        var bars = layout is null ? [] : GatingBars.Build(site, reckoning, layout, footprint, draft, cope.Joint_mm, tolerance);
        var metal = PouredMetal.Of(casting_kg, bars.Sum(b => b.Body.AsPrinted.Volume()), alloy, tables.Gating);
        return new(reckoning, metal, clearance, count, bars, [.. Findings(reckoning, layout is null, cope.IsCarved), .. Met(bars, prints, frame)])
        {
            Joint_mm = cope.Joint_mm,
            // Cut by hand, they are spread as bars would be.
            Enters_mm = [.. (layout?.Places ?? places.Wanted_mm).Select(Entry)],
            Runs_mm = layout?.Runs_mm ?? [],
        };

        Vec3 Entry(double place)
        {
            var p = site.At(place, -(site.Depths(footprint, place, 0)?.Least ?? 0));
            return new(p.X, p.Y, cope.Joint_mm + ((site.Half == MouldHalf.Cope ? 0.5 : -0.5) * reckoning.Ingate.Value.Depth_mm));
        }
    }

    /// <summary>Twice volume over cooling surface of the pattern: the thickness of the plate that freezes as fast. Where both halves meet there is no surface, and upright facets are those of pockets.</summary>
    private static double MeanWall(HalfMould cope, HalfMould drag, ImmutableArray<KitBody> bodies, double volume_mm3, double cored_mm2)
    {
        var surface = cored_mm2 + bodies.Sum(b => b.InMould.Facets.Select(b.InMould.AreaNormal).Where(n => n.Z != 0).Sum(n => n.Length / 2))
            - (cope.IsEmpty || drag.IsEmpty ? 0 : 2 * cope.Footprint.Intersection(drag.Footprint).Area);
        return 2 * volume_mm3 / surface;
    }

    private static void Demand(Job job, double head, double above, GatingTables tables)
    {
        var needed = tables.Shapes.BasinDepth_mm.Value + tables.Shapes.LeastSprue_mm.Value;
        var least = Math.Max(above, needed);
        if (head > least) return;
        throw new InputException(PartBody.Source(job), "", Invariant($"head = {head:0.##} mm of [gating] is too low: the casting stands {above:0.#} mm over the joint, and basin and sprue need {needed:0.#} mm. Write more than {least:0.#} mm, or leave it out."));
    }

    private static IEnumerable<Finding> Met(ImmutableArray<GatingBar> bars, PlanRegion? prints, PatternFrame frame)
    {
        if (prints is null || bars.Where(b => !b.Plan.Intersection(prints).IsEmpty).ToArray() is not { Length: > 0 } met) yield break;
        var p = met[0].Plan.Intersection(prints).InnerPoint;
        yield return new("bar-meets-print", Severity.Warn, $"A core's print lies where {string.Join(", ", met.Select(b => b.Body.Name))} would: the metal would run into its seat.",
            frame.ToJob(new(p.X, p.Y, 0)), Remedy: "Give another side ([gating] at = [x, y]), or shorten the prints ([cores] print).");
    }

    private static IEnumerable<Finding> Findings(GatingReckoning r, bool noRoom, bool isCarved)
    {
        if (isCarved)
        {
            yield return new("no-bars", Severity.Note, "Gating bars lie on a joint that is level all over, and this one is not: none are made; the reckoning stands.", Remedy: "Cut the gating by hand to the areas told.");
        }
        else if (noRoom)
        {
            yield return new("no-ingate-room", Severity.Warn,
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
                null, r.Input.Casting_kg / r.PourTimeByRule_s.Value, r.HandRate_kg_s.Value, r.HandRate_kg_s.Source,
                "Pour hotter; or from two ladles at once, and give the rate in shop.toml ([pouring] rate_kg_s).", "kg/s");
        }

        if (r.TooFastAtIngates)
        {
            yield return new("ingate-velocity", Severity.Warn,
                Invariant($"With the ratio given the metal enters at {r.IngateVelocity_m_s:0.00} m/s, faster than {r.IngateVelocityLimit_m_s.Value:0.00} m/s: it sprays and folds its skin in."),
                null, r.IngateVelocity_m_s, r.IngateVelocityLimit_m_s.Value, r.IngateVelocityLimit_m_s.Source, "Widen the ingates in the ratio, or leave it out.", "m/s");
        }
    }
}
