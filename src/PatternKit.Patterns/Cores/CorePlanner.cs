using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores;

/// <summary>
/// Finds out for every cored cut how its core lies, where it leaves the metal, and what prints it gets. A cut for which no core can be made stays
/// filled, with the reason.
/// </summary>
internal sealed class CorePlanner
{
    /// <summary>A slab this thick beyond the end of a cut tells whether it opens there, mm.</summary>
    private const double Beyond_mm = 0.1;

    private readonly Job job;
    private readonly PartBody part;
    private readonly CastingBody casting;
    private readonly HalfMould cope;
    private readonly HalfMould drag;
    private readonly CoreLoads loads;
    private readonly FoundryTables tables;
    private readonly PlanRegion footprint;

    private CorePlanner(Job job, PartBody part, CastingBody casting, HalfMould cope, HalfMould drag, CoreLoads loads, FoundryTables tables)
    {
        (this.job, this.part, this.casting, this.cope, this.drag, this.loads, this.tables) = (job, part, casting, cope, drag, loads, tables);
        footprint = cope.Footprint.Union(drag.Footprint);
    }

    /// <summary>The cores of a job whose joint is settled, and what is to be told of cuts without one.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">The finished part.</param>
    /// <param name="casting">At pattern size, cored cuts filled.</param>
    /// <param name="cope">Upper half without prints.</param>
    /// <param name="drag">Lower half without prints.</param>
    /// <param name="allowances">Contraction and stock.</param>
    /// <param name="loads">What lifts cores and what bears them.</param>
    /// <param name="tables">Rules.</param>
    /// <exception cref="InputException">Two cores meet.</exception>
    public static (ImmutableArray<PlannedCore> Cores, ImmutableArray<Finding> Findings) Plan(
        Job job, PartBody part, CastingBody casting, HalfMould cope, HalfMould drag, Allowances allowances, CoreLoads loads, FoundryTables tables)
    {
        if (job.Features.All(f => f.Cut != CutKind.Cored)) return ([], []);
        var (rounds, none) = CoredCuts.Of(job, allowances, part.ChordTolerance_mm);
        var planner = new CorePlanner(job, part, casting, cope, drag, loads, tables);
        var limit = Limit(job);
        (PlannedCore? Core, string? Why) refused = (null, limit);
        var planned = rounds.Select(r => (Round: r, Made: limit is null ? planner.Plan(r) : refused)).ToArray();
        var unmade = none.Concat(planned.Where(p => p.Made.Why is not null).SelectMany(p => p.Round.Features.Select(f => (Feature: f, Why: p.Made.Why!)))).DistinctBy(u => u.Feature).OrderBy(u => u.Feature).ToArray();
        // Of a cut with several cores, all are made or none.
        PlannedCore[] cores = [.. planned.Select(p => p.Made.Core).OfType<PlannedCore>().Where(c => c.Features.All(f => unmade.All(u => u.Feature != f)))];
        RefuseMeeting(job, cores, part.ChordTolerance_mm, casting.Lattice.Step);
        return ([.. cores], [.. unmade.Select(u => CoredCuts.Unmade(job, part, u.Feature, u.Why)).OfType<Finding>()]);
    }

    /// <summary>What a job asks for that does not go with core prints yet.</summary>
    internal static string? Limit(Job job) =>
        job.Parting.Match ? "match = true goes with halves without core prints in this release, so take it out of [parting]"
        : job.Pattern.Holds != SizeHolds.Tip ? "with core prints sizes hold at the tip only in this release, so take taper or hold out of [pattern]"
        : job.Pattern.Camber is { Rise_mm: not 0 } ? "a camber does not bend cores in this release, so take it out of [pattern]" : null;

    private static void RefuseMeeting(Job job, PlannedCore[] cores, double tolerance_mm, double step)
    {
        for (var i = 0; i < cores.Length; i++)
            for (var k = 0; k < i; k++)
            {
                var map = ColumnMapBuilder.Build(cores[k].Body(tolerance_mm), step);
                if (ColumnOverlap.Of(map, cores[i].Body(tolerance_mm), step).Volume_mm3 <= 0.01) continue;
                throw new InputException(job.Features[cores[i].Features[0]].Where, "", $"the cores of {cores[k].Name} and {cores[i].Name}, prints included, meet: two cores cannot lie in one place. Make one of the cuts cut = \"machined\", or move them apart.");
            }
    }

    private (PlannedCore? Core, string? Why) Plan(CoredRound round)
    {
        if (round.Stocked.IsEmpty) return (null, "its stock closes it");
        if (round.Stocked.Pieces().Count() > 1) return (null, "its stock parts it; give cuts on one axis one stock, or let them overlap");
        var step = casting.Lattice.Step;
        var at = round.Scale * round.At_mm;
        var axis = new TurnedFrame(round.Axis, new(Lattice.Snap(at.X, step), Lattice.Snap(at.Y, step), Lattice.Snap(at.Z, step)));
        var (opensLow, opensHigh) = (Opens(round, false), Opens(round, true));
        // An open end has no wall that stock could stand on; where a level core leaves the metal the outline at the joint tells.
        var stocked = axis.Lies ? round.Stocked : Reaching(round, opensLow, opensHigh);
        var profile = new RoundProfile(stocked);
        var met = ColumnOverlap.Of(casting.Map, TurnedBody.Prisms(stocked, axis.Axis, axis.At, part.ChordTolerance_mm), step);
        if (met.Volume_mm3 <= 1e-6 * profile.Volume_mm3) return (null, null);
        var within = Needed(round, axis.Lies);
        if (LaterMetal(round, within)) return (null, "metal of a part that comes after it stands in it");
        if (!opensLow && !opensHigh) return (null, "both its ends lie in the metal, so that nothing could carry it");
        var joint = cope.Joint_mm;
        if (axis.Lies && Math.Abs(axis.At.Z - joint) > 8 * step)
            return (null, Invariant($"its axis lies at z = {round.At_mm.Z:0.###} mm and the joint at {joint / round.Scale:0.###} mm; a core that lies parts with the mould, so write [parting] at = {round.At_mm.Z:0.###}"));
        var (metLow, metHigh) = (axis.Along(met.Box.Low), axis.Along(met.Box.High));
        var low = opensLow ? Face(axis, profile, metLow, metHigh, round.Scale * round.Stock_mm, false) : profile.Low;
        var high = opensHigh ? Face(axis, profile, metLow, metHigh, round.Scale * round.Stock_mm, true) : profile.High;
        if (!axis.Lies && ((opensLow && low + axis.At.Z > joint + (8 * step)) || (opensHigh && high + axis.At.Z < joint - (8 * step))))
            return (null, Invariant($"the joint at {joint / round.Scale:0.###} mm leaves both its prints in one half of the mould; choose a joint between its ends"));
        var (radiusLow, radiusHigh) = (Mouth(profile, Math.Max(low, profile.Low)), Mouth(profile, Math.Min(high, profile.High)));
        var hollow = profile.Between(low, high);
        if (low < profile.Low) hollow = hollow.Union(RoundProfile.Frustum(low, radiusLow, profile.Low + 1e-6, radiusLow));
        if (high > profile.High) hollow = hollow.Union(RoundProfile.Frustum(profile.High - 1e-6, radiusHigh, high, radiusHigh));
        var row = tables.Cores.Clearance(Math.Max(high - low, 2 * profile.Largest));
        var given = job.Cores?.Clearance_mm;
        var bare = new PlannedCore(
            round.Name, round.Features, axis, hollow, [], given ?? row.Side_mm, given is { } g ? Math.Max(g, row.Axial_mm) : row.Axial_mm,
            given is null ? new(row.Side_mm, row.From.Text, "by the size of the core") : new(given.Value, "", Allowances.Given),
            double.DegreesToRadians(tables.Cores.Lying.EndTaper_deg), double.DegreesToRadians(tables.Cores.BoxDraft_deg.Value))
        { Within = within };
        var core = WithPrints(bare, opensLow ? (low, radiusLow) : null, opensHigh ? (high, radiusHigh) : null);
        return core.Prints.Any(p => IsBlocked(core, p)) ? (null, "metal of the part lies where its print would") : (core, null);
    }

    /// <summary>The space at pattern size that a core fills, stock on its walls, its open ends where the cut has them.</summary>
    private static PlanRegion Reaching(CoredRound round, bool low, bool high)
    {
        var (stocked, cut) = (new RoundProfile(round.Stocked), new RoundProfile(round.Profile));
        var (from, to) = (round.Scale * cut.Low, round.Scale * cut.High);
        var reaching = round.Stocked;
        if (low && from < stocked.Low) reaching = reaching.Union(RoundProfile.Frustum(from, Mouth(stocked, stocked.Low), stocked.Low + 1e-6, Mouth(stocked, stocked.Low)));
        if (high && to > stocked.High) reaching = reaching.Union(RoundProfile.Frustum(stocked.High - 1e-6, Mouth(stocked, stocked.High), to, Mouth(stocked, stocked.High)));
        return reaching;
    }

    /// <summary>
    /// The half of the mould in which half a core would do: that whose joint it lies in, where the cut leaves nothing in the other half, since metal of later
    /// parts fills it there or no metal comes so far. Null where a whole core is needed or asked for.
    /// </summary>
    private MouldHalf? Needed(CoredRound round, bool lies)
    {
        if (!lies || job.Cores?.BoxesInHalves == true) return null;
        var inner = TurnedOutline.Grown(round.Profile, -2 * part.ChordTolerance_mm);
        if (inner.IsEmpty) return null;
        var whole = TurnedBody.Prisms(inner, round.Axis, round.At_mm, part.ChordTolerance_mm);
        var half_mm3 = new RoundProfile(inner).Volume_mm3 / 2;
        var (below, above) = (Leaves(MouldHalf.Drag), Leaves(MouldHalf.Cope));
        return above && !below ? MouldHalf.Cope : below && !above ? MouldHalf.Drag : null;

        bool Leaves(MouldHalf half)
        {
            var body = PlannedCore.HalfOf(whole, half, round.At_mm.Z);
            var filled = ColumnOverlap.Of(casting.Map, [.. body.Select(Scaled)], casting.Lattice.Step).Volume_mm3 / Math.Pow(round.Scale, 3);
            return filled - ColumnOverlap.Of(part.Map, body, part.Step).Volume_mm3 > tables.Cores.HalfLeaves.Value * half_mm3;
        }

        Prism Scaled(Prism p) => p with
        {
            Region = p.Region.Transformed(round.Scale, 0, default),
            Low = new(p.Low.AtOrigin * round.Scale, p.Low.Gradient),
            High = new(p.High.AtOrigin * round.Scale, p.High.Gradient),
        };
    }

    private bool LaterMetal(CoredRound round, MouldHalf? within)
    {
        var inner = TurnedOutline.Grown(round.Profile, -2 * part.ChordTolerance_mm);
        if (inner.IsEmpty) return false;
        var body = PlannedCore.HalfOf(TurnedBody.Prisms(inner, round.Axis, round.At_mm, part.ChordTolerance_mm), within, round.At_mm.Z);
        return ColumnOverlap.Of(part.Map, body, part.Step).Volume_mm3 > 1e-3 * new RoundProfile(inner).Volume_mm3;
    }

    /// <summary>Whether the finished part, which no stock closes, is open beyond an end of a cut.</summary>
    private bool Opens(CoredRound round, bool high)
    {
        var profile = new RoundProfile(round.Profile);
        var end = high ? profile.High : profile.Low;
        var radius = 0.98 * Mouth(profile, end);
        var slab = high ? RoundProfile.Frustum(end, radius, end + Beyond_mm, radius) : RoundProfile.Frustum(end - Beyond_mm, radius, end, radius);
        var metal = ColumnOverlap.Of(part.Map, TurnedBody.Prisms(slab, round.Axis, round.At_mm, part.ChordTolerance_mm), part.Step);
        return metal.Volume_mm3 < 0.1 * Math.PI * radius * radius * Beyond_mm;
    }

    /// <summary>Where a core leaves the metal, draft included: along a level axis at the joint, where the metal reaches farthest.</summary>
    private double Face(TurnedFrame axis, RoundProfile profile, double metLow, double metHigh, double stock_mm, bool high)
    {
        if (!axis.Lies) return high ? metHigh : metLow;
        var (middle, end, radius) = ((metLow + metHigh) / 2, high ? metHigh : metLow, Mouth(profile, Math.Clamp(high ? metHigh : metLow, profile.Low, profile.High)));
        // Stock holds the core's own end back from there.
        var reach = Math.Max(cope.Run(Height(cope)), drag.Run(Height(drag))) + stock_mm + 1;
        var far = end + (high ? reach : -reach);
        var strip = PlanRegion.Polygon([axis.Plan(middle, -radius), axis.Plan(far, -radius), axis.Plan(far, radius), axis.Plan(middle, radius)]);
        var ways = strip.Intersection(footprint).Geometry.Coordinates.Select(c => axis.Along(new(c.X, c.Y, axis.At.Z))).DefaultIfEmpty(end).ToArray();
        return high ? Math.Max(end, ways.Max()) : Math.Min(end, ways.Min());

        static double Height(HalfMould half) => half.IsEmpty ? 0 : half.Upper.Levels[0] - half.Joint_mm;
    }

    /// <summary>Radius at an end, the larger of those just inside and at it.</summary>
    private static double Mouth(RoundProfile profile, double along) =>
        new[] { along - 1e-6, along, along + 1e-6 }.Max(profile.Radius);

    private PlannedCore WithPrints(PlannedCore core, (double Face, double Radius)? low, (double Face, double Radius)? high)
    {
        var given = job.Cores?.Print_mm is { } length ? new Sourced<double>(length, "", Allowances.Given) : null;
        CorePrint Print(bool isHigh, (double Face, double Radius) end, Sourced<double> rule, double taper = 0) => new(isHigh, end.Face, rule.Value, end.Radius, taper, rule);
        var (rules, standing) = (tables.Cores, tables.Cores.Standing);
        if (!core.Axis.Lies)
        {
            var both = low is not null && high is not null;
            return core with
            {
                Prints =
                [
                    .. low is { } b ? [Print(false, b, given ?? PrintRules.Standing(2 * b.Radius, false, rules), double.DegreesToRadians(standing.BottomTaper_deg))] : Array.Empty<CorePrint>(),
                    .. high is { } t ? [Print(true, t, given ?? PrintRules.Standing(2 * t.Radius, both, rules), double.DegreesToRadians(standing.TopTaper_deg))] : Array.Empty<CorePrint>(),
                ],
            };
        }

        if (low is not { } first || high is not { } second)
        {
            var (isHigh, end) = high is { } h ? (true, h) : (false, low!.Value);
            var hollow = new RoundProfile(core.Hollow);
            return core with { Prints = [Print(isHigh, end, given ?? PrintRules.Blind(2 * end.Radius, hollow.High - hollow.Low, rules))] };
        }

        var usual = core with { Prints = [Print(false, first, given ?? PrintRules.Lying(2 * first.Radius, 0, 1, rules)), Print(true, second, given ?? PrintRules.Lying(2 * second.Radius, 0, 1, rules))] };
        usual = usual with { InMetal = CoreLoads.Displaced(usual, cope, drag, casting.Lattice) };
        var load = loads.Of(usual, usual.InMetal.Value, GridUp.Z);
        var borne = given is not null ? usual : usual with
        {
            Prints = [.. usual.Prints.Zip(load.Prints, (p, l) => Print(p.IsHigh, (p.Face_mm, p.Radius_mm), PrintRules.Lying(2 * p.Radius_mm, l.Worst_N, loads.Bearing_kPa.Value, rules)))],
        };
        var fitsTurned = Math.Abs(first.Radius - second.Radius) <= 2 * core.Side_mm && Math.Abs(borne.Prints[0].Length_mm - borne.Prints[1].Length_mm) <= 2 * core.Side_mm;
        if (borne.IsSymmetric || !fitsTurned) return borne;
        var (p1, times) = (borne.Prints[1], rules.UnlikeTimes);
        var unlike = p1.Rule with { Value = p1.Length_mm * times.Value, Rule = Invariant($"{p1.Rule.Rule}; {times.Value:0.##} times that, so that the core goes in one way round only"), Source = $"{p1.Rule.Source}; unlike prints: {times.From.Text}" };
        return borne with { Prints = [borne.Prints[0], Print(true, second, unlike)] };
    }

    private bool IsBlocked(PlannedCore core, CorePrint print)
    {
        const double slack = 0.02;
        var (from, to, radius) = (print.Face_mm + (print.Sign * slack), print.End_mm + (print.Sign * (core.Side_mm + core.Axial_mm)), print.Radius_mm + core.Side_mm);
        if (core.Axis.Lies)
            return PlanRegion.Polygon([core.Axis.Plan(from, -radius), core.Axis.Plan(to, -radius), core.Axis.Plan(to, radius), core.Axis.Plan(from, radius)]).Intersection(footprint).Area > slack * radius;
        var body = TurnedBody.Prisms(RoundProfile.Frustum(from, radius, to, radius), TurnedAxis.Z, core.Axis.At, part.ChordTolerance_mm);
        return ColumnOverlap.Of(casting.Map, body, casting.Lattice.Step).Volume_mm3 > slack * radius * radius;
    }
}
