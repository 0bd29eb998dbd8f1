using System.Collections.Immutable;
using NetTopologySuite.Algorithm.Construct;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Moulding;

/// <summary>The fillets of a half: where, with what radius, and what the radius was held back by.</summary>
/// <param name="Floors">Of the upper surface of the half.</param>
/// <param name="UnderFloors">Of its underside, in that one's frame.</param>
/// <param name="Slopes">Between turned surfaces of the upper side and what else it has; null for none.</param>
/// <param name="Turned">What is to be told of these, once it is known which radius they have.</param>
/// <param name="Decisions">Radii with their rules.</param>
/// <param name="Findings">One for each floor on which a radius is less than was wanted.</param>
public sealed record FilletPlan(
    ImmutableArray<FilletedFloor> Floors, ImmutableArray<FilletedFloor> UnderFloors, FilletedSlopes? Slopes, FilletPlan.TurnedFeet? Turned, ImmutableArray<Decision> Decisions, ImmutableArray<Finding> Findings)
{
    /// <summary>No fillets.</summary>
    public static FilletPlan None { get; } = new([], [], null, null, [], []);

    /// <summary>Plans the fillets of a half.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mould">The half without fillets.</param>
    /// <param name="half">Which.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="allowances">Stock and draft.</param>
    /// <param name="rounds">Its edges, which take a part of the walls.</param>
    /// <param name="check">What counts as a square corner.</param>
    /// <param name="toPlate">Radius on the plate that the half stands on, if it does, and on what is beside it there.</param>
    /// <param name="steep">Where fillets have left too little draft, when all this was tried before.</param>
    public static FilletPlan Of(
        Job job, HalfMould mould, MouldHalf half, PatternFrame frame, Allowances allowances, RoundPlan rounds, DrawTable check, Sourced<double>? toPlate = null,
        ImmutableArray<SteepPlace> steep = default)
    {
        if (mould.IsEmpty) return None;
        var decisions = ImmutableArray.CreateBuilder<Decision>();
        var findings = ImmutableArray.CreateBuilder<Finding>();
        var name = half == MouldHalf.Cope ? "cope" : "drag";
        TurnedFeet? feet = null;
        var floors = Planned(mould.Top, new NamedRadii(job, job.Pattern.Fillet, half, frame, allowances), rounds, half == MouldHalf.Cope ? 1 : -1, name);
        var under = mould.Underside is { } underside ? Planned(underside, null, RoundPlan.None, half == MouldHalf.Cope ? -1 : 1, $"recesses of the {name}") : [];
        return new(floors, under, feet?.Asked, feet, decisions.ToImmutable(), findings.ToImmutable());

        ImmutableArray<FilletedFloor> Planned(MouldFace face, NamedRadii? named, RoundPlan edges, int sign, string where)
        {
            var planned = ImmutableArray.CreateBuilder<FilletedFloor>();
            var flats = face.Floors().Select(flat => (Flat: flat, Plate: mould.IsOfPlate(flat) ? toPlate : null, Islands: Islands(mould, face, flat).ToArray())).ToArray();
            var turned = flats.SelectMany(f => f.Islands.Where(i => i.Plateaus.Any(p => !p.IsLevel)), (f, i) => (f.Flat, Island: Along(job, mould, face, f.Flat, i, named, f.Plate, HeldBack, allowances.Fillets))).ToArray();
            // What turned surfaces of a half on a plate have above its face, they have from the loose half.
            if (toPlate is not null) turned = [.. turned.Where(t => mould.IsOfPlate(t.Flat))];
            else if (named is not null && face.Terrain.HasSlopes) (feet, turned) = (new(face, turned, named.OfTurned ?? job.Pattern.Fillet?.All_mm, edges.Left_mm(face.Terrain.Plateaus, mould), Tell, name, allowances.Fillets), []);
            foreach (var (flat, plate, rising) in flats)
            {
                var islands = rising.Where(i => i.Plateaus.Any(p => p.IsLevel)).Select(i => Judge(job, mould, face, flat, i, plate is null ? named : null, edges, plate, HeldBack, allowances.Fillets)).OfType<Island>()
                    .Concat(turned.Where(t => t.Flat == flat).Select(t => t.Island)).ToArray();
                findings.AddRange(Tell(flat, islands));
                var groups = islands.SelectMany(i => i.Parts).Where(p => p.Radius_mm > 0).GroupBy(p => p.Radius_mm).OrderBy(g => g.Key)
                    .Select(g => new FilletedIslands(PlanRegion.Union(g.Select(p => p.Plateau.Region)), g.Key)).ToImmutableArray();
                if (groups.IsEmpty) continue;
                planned.Add(new(flat.Height, face.OpenAtOrAbove(flat.Height), groups));
                var z = frame.ToJob(new(0, 0, sign * flat.Height)).Z;
                foreach (var g in groups)
                {
                    var rule = islands.First(i => i.Parts.Any(p => p.Radius_mm == g.Radius)).Rule;
                    decisions.Add(new(
                        Invariant($"fillet_{name}_{decisions.Count + 1}_mm"), Invariant($"Fillets on the flat at z = {z:0.##} mm, {where}"), g.Radius, "mm", rule.Rule, rule.Source));
                }
            }

            return planned.ToImmutable();

            double HeldBack(double radius_mm, PlanRegion island) => SteepPlace.HeldBack(allowances.Fillets, radius_mm, steep, half, island, mould.Run(face.Terrain.Levels[0] - mould.Joint_mm));

            IEnumerable<Finding> Tell(Plateau flat, IReadOnlyCollection<Island> islands) => islands.Where(i => i.Held is not null).OrderByDescending(i => i.Wanted_mm - i.Radius_mm).Take(1)
                .Select(worst => Told(worst, islands.Count(i => i.Held is not null), flat, frame, sign, check.LeastDepth_mm.Value));
        }
    }

    /// <summary>The plan with what is to be told of fillets along turned surfaces.</summary>
    /// <param name="radius_mm">The radius that they have.</param>
    public FilletPlan Made(double radius_mm) => Turned is null ? this
        : this with { Decisions = [.. Decisions, .. Turned.Decisions(radius_mm)], Findings = [.. Findings, .. Turned.Findings(radius_mm)] };

    /// <summary>
    /// Turned surfaces run from flat to flat and down walls between them, and so does the ball along them: it has one radius for a half, the least that any of its flats
    /// leaves room for, or a smaller one of the series.
    /// </summary>
    public sealed class TurnedFeet
    {
        private readonly ImmutableArray<(Plateau Flat, Island Foot)> feet;
        private readonly Func<Plateau, IReadOnlyCollection<Island>, IEnumerable<Finding>> tell;
        private readonly Sourced<double> rule;
        private readonly string name;
        private readonly FilletTable table;

        internal TurnedFeet(
            MouldFace face, IEnumerable<(Plateau Flat, Island Foot)> feet, double? asked_mm, double left_mm, Func<Plateau, IReadOnlyCollection<Island>, IEnumerable<Finding>> tell, string name, FilletTable table)
        {
            (this.feet, this.tell, this.name, this.table) = ([.. feet], tell, name, table);
            var least = table.Least_mm;
            rule = this.feet.Select(f => f.Foot).MinBy(f => f.Radius_mm) is { } tightest ? tightest.Rule
                : asked_mm is { } asked ? new(asked, "", Allowances.Given) : new(least.Value, least.From.Text, "the least fillet");
            // What rises over turned ground and has a rounded edge keeps its arc.
            var room_mm = left_mm < rule.Value ? Fillets.InSeries(table, left_mm) : rule.Value;
            var most_mm = Math.Min(room_mm, this.feet.Select(f => f.Foot.Radius_mm).DefaultIfEmpty(rule.Value).Min());
            ImmutableArray<double> radii = [most_mm, .. table.Series_mm.Where(r => r < most_mm).Reverse()];
            if (most_mm > 0) Asked = new(PlanRegion.UnionOfCoverage(face.Terrain.Plateaus.Select(p => p.Region)), radii);
        }

        /// <summary>The fillets to make; null for none.</summary>
        public FilletedSlopes? Asked { get; }

        internal IEnumerable<Decision> Decisions(double radius_mm)
        {
            if (radius_mm > 0) yield return new(Invariant($"fillet_{name}_turned_mm"), Invariant($"Fillets along turned surfaces, {name}"), radius_mm, "mm", rule.Rule, rule.Source);
        }

        internal IEnumerable<Finding> Findings(double radius_mm) => feet.GroupBy(f => f.Flat).SelectMany(g => tell(g.Key, [.. g.Select(f => f.Foot with
        {
            Radius_mm = radius_mm,
            Held = radius_mm >= Fillets.InSeries(table, f.Foot.Wanted_mm) ? null
                : radius_mm < (Asked?.Radii[0] ?? 0) ? "a larger ball would touch a third wall somewhere along the turned surfaces" : f.Foot.Held ?? "one ball rolls along all turned surfaces of a half",
        })]));
    }

    /// <summary>The fillet between a flat and the turned surfaces that rise from it.</summary>
    private static Island Along(
        Job job, HalfMould mould, MouldFace face, Plateau flat, (PlanRegion Region, ImmutableArray<Plateau> Plateaus) island, NamedRadii? named, Sourced<double>? given,
        Func<double, PlanRegion, double> heldBack, FilletTable table)
    {
        var rise_mm = island.Plateaus.Where(p => !p.IsLevel).Max(Highest) - flat.Height;
        var asked = given?.Value ?? named?.OfTurned ?? job.Pattern.Fillet?.All_mm;
        var rule = given ?? (asked is > 0 and { } all ? new Sourced<double>(all, "", Allowances.Given) : ByRule(face, flat, island.Region, rise_mm, table));
        if (given is not null) return new(island.Region, [], 0, rule.Value, rise_mm, rule, "a plate has fillets at the feet of upright walls alone, not at those of turned surfaces");
        if (named is null) return new(island.Region, [], 0, rule.Value, rise_mm, rule, "fillets along turned surfaces of a recess are not made");
        var most_mm = Math.Min(rise_mm / (1 - Math.Sin(mould.LeastDraft)), table.Series_mm[^1]);
        var byGap = Gap(table, mould, face, flat, island.Region, Math.Min(most_mm, rule.Value));
        var limit = Math.Min(most_mm, byGap);
        var wanted = asked ?? rule.Value;
        var radius_mm = wanted <= limit && asked is not null ? wanted : Fillets.InSeries(table, Math.Min(wanted, limit));
        var crowded_mm = heldBack(radius_mm, island.Region);
        var why = crowded_mm < radius_mm ? Crowded : radius_mm >= Fillets.InSeries(table, rule.Value) ? null : asked == 0 ? "the job asks for none" : byGap < most_mm ? "the floor beside it is narrow" : Invariant($"it rises {rise_mm:0.##} mm");
        return new(island.Region, [], crowded_mm, rule.Value, rise_mm, rule, why);
    }

    private const string Crowded = "a larger one, crowded by others, would leave a facet with less draft";

    internal sealed record Part(Plateau Plateau, double Radius_mm);

    internal sealed record Island(PlanRegion Region, ImmutableArray<Part> Parts, double Radius_mm, double Wanted_mm, double Wall_mm, Sourced<double> Rule, string? Held);

    /// <summary>What rises from a flat and meets it.</summary>
    private static IEnumerable<(PlanRegion Region, ImmutableArray<Plateau> Plateaus)> Islands(HalfMould mould, MouldFace face, Plateau flat)
    {
        var higher = face.Terrain.Plateaus.Where(p => Highest(p) > flat.Height).ToArray();
        var union = PlanRegion.Union(higher.Select(p => p.Region));
        for (var i = 0; i < union.Geometry.NumGeometries; i++)
        {
            var region = PlanRegion.From(union.Geometry.GetGeometryN(i));
            var plateaus = higher.Where(p => region.Contains(p.Region.InnerPoint)).ToImmutableArray();
            var reach = mould.Run(plateaus.Select(Highest).DefaultIfEmpty(flat.Height).Max() - flat.Height) + 0.01;
            if (region.Geometry.IsWithinDistance(flat.Region.Geometry, reach)) yield return (region, plateaus);
        }
    }

    /// <summary>The height of a flat, or of the highest place of a sloped surface.</summary>
    internal static double Highest(Plateau p) => p.IsLevel ? p.Height : p.Region.Geometry.Coordinates.Max(c => p.Surface.At(new(c.X, c.Y)));

    /// <summary>The fillet at the walls of what rises from a flat; null where turned surfaces alone do.</summary>
    private static Island? Judge(
        Job job, HalfMould mould, MouldFace face, Plateau flat, (PlanRegion Region, ImmutableArray<Plateau> Plateaus) island, NamedRadii? named, RoundPlan rounds,
        Sourced<double>? given, Func<double, PlanRegion, double> heldBack, FilletTable table)
    {
        var walls = island.Plateaus.Where(p => p.IsLevel && p.Region.Geometry.IsWithinDistance(flat.Region.Geometry, mould.Run(p.Height - flat.Height) + 0.01)).ToArray();
        // The level crown of a round bar is a wall of nothing.
        if (walls.Length == 0) return null;
        var wall_mm = walls.Min(p => p.Height - flat.Height);
        var free_mm = walls.Min(p => p.Height - flat.Height - rounds.Depth_mm(p, flat.Region, mould.Run(p.Height - flat.Height), mould.LeastDraft));
        var asked = given is null ? job.Pattern.Fillet?.All_mm : given.Value;
        var rule = given ?? (asked is > 0 and { } all ? new Sourced<double>(all, "", Allowances.Given) : ByRule(face, flat, island.Region, wall_mm, table));
        var most_mm = Math.Min(free_mm / (1 - Math.Sin(mould.LeastDraft)), table.Series_mm[^1]);
        var byGap = Gap(table, mould, face, flat, island.Region, Math.Min(most_mm, Math.Max(rule.Value, named?.Largest ?? 0)));
        var isCrowded = false;
        var parts = island.Plateaus.Where(p => p.IsLevel).Select(p => new Part(p, Held(named?.Of(p) ?? asked ?? rule.Value, named?.Of(p) is null && asked is null))).ToImmutableArray();
        var radius_mm = Held(asked ?? rule.Value, asked is null);
        var isHeld = radius_mm < Fillets.InSeries(table, rule.Value) && parts.Any(p => named?.Of(p.Plateau) is null);
        var why = isCrowded ? Crowded : !isHeld ? null : asked == 0 ? "the job asks for none" : byGap < most_mm ? "the floor beside it is narrow" : Invariant($"its wall is {wall_mm:0.##} mm high");
        return new(island.Region, parts, radius_mm, rule.Value, wall_mm, rule, why);

        double Held(double wanted, bool inSeries)
        {
            var limit = Math.Min(most_mm, byGap);
            var room_mm = wanted <= limit && !inSeries ? wanted : Fillets.InSeries(table, Math.Min(wanted, limit));
            var left_mm = heldBack(room_mm, island.Region);
            isCrowded |= left_mm < room_mm;
            return left_mm;
        }
    }

    /// <summary>By the thicker of the metal under the flat and the wall that stands on it.</summary>
    private static Sourced<double> ByRule(MouldFace face, Plateau flat, PlanRegion island, double wall_mm, FilletTable table)
    {
        var floor_mm = face.ThicknessUnder(flat);
        var height_mm = floor_mm + wall_mm;
        var wall = face.Metal(island);
        if (wall.IsEmpty) return Fillets.Least(table, floor_mm);
        // The circle is sought only in what is narrower than high.
        var isWide = !wall.Offset(-height_mm / 2, RadiusByRoom.Chord_mm).IsEmpty;
        var section_mm = isWide ? height_mm : Math.Min(height_mm, 2 * new MaximumInscribedCircle(wall.Geometry, 0.1).GetRadiusLine().Length);
        return Fillets.Least(table, Math.Max(floor_mm, section_mm));
    }

    /// <summary>The largest radius whose foot takes no more than its share of the floor, wherever the floor narrows between walls.</summary>
    private static double Gap(FilletTable table, HalfMould mould, MouldFace face, Plateau flat, PlanRegion island, double wanted) => RadiusByRoom.Largest(
        table, wanted, mould.LeastDraft, half => [face.GapsOn(flat, half)], island.Geometry, mould.Run(face.Terrain.Levels[0] - flat.Height) + (2 * RadiusByRoom.Chord_mm));

    private static Finding Told(Island worst, int count, Plateau flat, PatternFrame frame, int sign, double leastDepth_mm)
    {
        // Beside the flat, since what stands round a recess reaches far.
        var nearest = NetTopologySuite.Operation.Distance.DistanceOp.NearestPoints(flat.Region.Geometry, worst.Region.Geometry)[1];
        // Adding zero turns a negative zero into zero.
        var at = frame.ToJob(new(nearest.X, nearest.Y, (sign * flat.Height) + 0.0));
        var got = worst.Radius_mm > 0 ? Invariant($"has R {worst.Radius_mm:0.##} mm") : "has no fillet";
        var others = count > 1 ? Invariant($"; {count - 1} more on this flat are held back too") : "";
        var isSquare = worst.Radius_mm == 0 && worst.Wall_mm >= leastDepth_mm;
        return new(
            isSquare ? "square-corner" : "fillet-capped", isSquare ? Severity.Warn : Severity.Note,
            Invariant($"What rises near ({at.X:0.#}, {at.Y:0.#}) mm from the flat at z = {at.Z:0.##} mm {got} at its foot, less than {worst.Wanted_mm:0.##} mm, because {worst.Held}{others}."),
            at, worst.Radius_mm, worst.Wanted_mm, worst.Rule.Source,
            isSquare ? "Let it have a fillet; or round the foot with wax or filler on the pattern." : "Nothing, if the sand there is firm; or widen the gap.", "mm");
    }
}
