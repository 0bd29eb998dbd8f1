using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Impressions;

namespace PatternKit.Patterns.Gating;

/// <summary>
/// Where the bars lie in plan. In a mould that lies flat the sprue stands through the cope; in one that stands on edge it comes down beside the casting, on the joint as the others. The runner goes along the side at a clearance: it begins at the well, passes under (or over) the ingates, which lie in the
/// other half, and ends beyond the last of them in a dirt trap. Regions are those of the faces away from the joint; draft widens them towards it.
/// </summary>
internal sealed class GatingLayout
{
    // Chords of round bars keep this close to their arcs.
    private const double Chord_mm = 0.05;

    // Between an ingate and the foot of the pattern, so that both lie flat.
    private const double Gap_mm = 0.1;

    // Of the runner's face round the well: without it both walls would be one cone, made twice of planes that do not quite coincide.
    private const double Shoulder_mm = 2;

    private readonly GateSite site;
    private readonly GatingReckoning reckoning;
    private readonly double slope;
    private readonly double middle;
    private readonly double clearance;
    private readonly FilletTable fillets;

    private GatingLayout(GateSite site, GatingReckoning reckoning, double draft, double clearance_mm, FilletTable fillets)
    {
        (this.site, this.reckoning, this.fillets, clearance) = (site, reckoning, fillets, clearance_mm);
        slope = Math.Tan(draft);
        // Between two rows it lies in the middle.
        middle = site.Across_mm > 0 ? site.Across_mm / 2 : clearance_mm + HalfWidth;
    }

    /// <summary>What the bars take of the plan, before any casting is laid beside them.</summary>
    /// <param name="reckoning">Their sections.</param>
    /// <param name="draft">Of the bars, radians.</param>
    /// <param name="clearance_mm">Sand between runner and casting.</param>
    /// <param name="fillets">Of the corners between runner and pad.</param>
    public static RunnerRoom Room(GatingReckoning reckoning, double draft, double clearance_mm, FilletTable fillets)
    {
        var layout = new GatingLayout(new(default, default, new(1, 0), 0, 0, 0), reckoning, draft, clearance_mm, fillets) { Gates = [default] };
        return new(clearance_mm, 2 * layout.HalfWidth)
        {
            Basin_mm = reckoning.BasinWidth_mm.Value,
            Before_mm = Math.Max(layout.RoundAtJoint, reckoning.BasinWidth_mm.Value / 2) - layout.SprueAlong,
            After_mm = layout.End,
        };
    }

    private double HalfWidth => Math.Max(AtJoint(reckoning.Runner.Value) / 2, RoundAtJoint);

    /// <summary>The sections, ingates in the order in which they lie.</summary>
    public GatingReckoning Reckoning => reckoning;

    /// <summary>The ingates from the sprue outward, where they came to lie.</summary>
    public ImmutableArray<IngatePlace> Gates { get; private init; } = [];

    /// <summary>Ways along the side to the middles of the ingates.</summary>
    public ImmutableArray<double> Places => [.. Gates.Select(g => g.Along_mm)];

    /// <summary>Whether the sprue lies on the joint, beside the casting.</summary>
    public bool SprueLies { get; private init; }

    /// <summary>Way from the side in to where the metal enters.</summary>
    private double Entry { get; init; }

    /// <summary>Lengths of the runner to each ingate from the one before, to the first from the sprue.</summary>
    public ImmutableArray<double> Runs_mm => [.. Places.Select((p, i) => p - (i == 0 ? SprueAlong : Places[i - 1]))];

    /// <summary>Plan place of the sprue and the well.</summary>
    public Vec2 SprueAt => site.At(SprueAlong, middle);

    /// <summary>Way out to the middle of the runner.</summary>
    public double RunnerOut => middle;

    /// <summary>Way along the runner from the sprue to where it is alone: half way between the well and the first ingate.</summary>
    public double Clear => (RoundAtJoint + (Places[0] - (AtJoint(reckoning.IngateAt(0)) / 2) - SprueAlong)) / 2;

    /// <summary>Where an ingate is alone: half way between the side and the runner.</summary>
    public Vec2 IngateCut(int ingate) => site.Inside(Places[ingate], -(middle - (AtJoint(reckoning.Runner.Value) / 2)) / 2, Gates[ingate].IsAcross);

    /// <summary>
    /// The runner's face: a bar from a round end under the sprue to the dirt trap, the inside corners between both rounded by a fillet that is tangent to
    /// bar and circle.
    /// </summary>
    public PlanRegion Runner
    {
        get
        {
            var depth = reckoning.Runner.Value.Depth_mm;
            var half = AtFace(reckoning.Runner.Value) / 2;
            var end = End - SprueAlong - (slope * depth);
            var round = RoundRadius;
            var fillet = Fillets.Least(fillets, 2 * half).Value;
            // Past each ingate it narrows by what that takes.
            List<Vec2> steps = [new(end, HalfAfter(Places.Length - 1))];
            for (var i = Places.Length - 1; i > 0; i--)
            {
                var past = Past(i) - SprueAlong;
                steps.AddRange([new(past, HalfAfter(i)), new(past, HalfAfter(i - 1))]);
            }

            // Places along the runner and across it, from the sprue; across it all is symmetric.
            var centre = new Vec2(Math.Sqrt(((round + fillet) * (round + fillet)) - ((half + fillet) * (half + fillet))), half + fillet);
            var (onBar, onCircle) = (new Vec2(centre.X, half), round / (round + fillet) * centre);
            var (hollow, arc) = (-Bulge(Math.Atan2(centre.X, centre.Y)), Bulge(Math.PI - Math.Atan2(centre.Y, centre.X)));
            static Vec2 Mirrored(Vec2 p) => new(p.X, -p.Y);
            var outline = new PlanPath(
            [
                new(Mirrored(steps[0])), .. steps.Select(p => new PlanVertex(p)), new(onBar, hollow), new(onCircle, arc), new(new(-round, 0), arc),
                new(Mirrored(onCircle), hollow), new(Mirrored(onBar)), .. Enumerable.Reverse(steps.Skip(1)).Select(p => new PlanVertex(Mirrored(p))),
            ], true);
            return PlanRegion.EvenOdd([outline.Transformed(1, Math.Atan2(site.Along.Y, site.Along.X), SprueAt)], Chord_mm);
        }
    }

    /// <summary>Way along the side to where the runner has passed an ingate and all before it.</summary>
    /// <param name="passed">Ingates that lie before, at least one.</param>
    public double Past(int passed) => Enumerable.Range(0, passed).Max(i => Places[i] + (AtJoint(reckoning.IngateAt(i)) / 2));

    /// <summary>Way along the side to where the runner has the width that it is left after some ingates; null where the next begins before, across from the last.</summary>
    /// <param name="passed">Ingates that lie before, at least one.</param>
    public double? After(int passed) => Past(passed) is var past && Past(passed + 1) - past > AtJoint(reckoning.IngateAt(passed)) / 2 ? (past + Math.Max(past, Places[passed])) / 2 : null;

    /// <summary>Depth of a sprue that lies: as deep as wide at its foot.</summary>
    public double LyingDepth_mm => Math.Sqrt(reckoning.SprueBase_mm2);

    /// <summary>Ways out to the foot of a sprue that lies, to its top under the basin, and to the level of the metal.</summary>
    public (double Foot, double Top, double Rim) LyingWays
    {
        get
        {
            var rim = -(reckoning.Head_mm.Value + Entry);
            return (middle + (reckoning.SprueBase_mm2 / LyingDepth_mm / 2), rim + reckoning.BasinDepth_mm.Value, rim);
        }
    }

    /// <summary>Area of a sprue that lies at a way out: straight from foot to top.</summary>
    public double LyingArea_mm2(double outward)
    {
        var (foot, top, _) = LyingWays;
        return reckoning.SprueBase_mm2 + ((reckoning.SprueTop_mm2.Value - reckoning.SprueBase_mm2) * (foot - outward) / (foot - top));
    }

    /// <summary>Way out to where a sprue that lies is clear of the runner.</summary>
    public double LyingClear => middle - RoundAtJoint - 1;

    /// <summary>The face of a sprue that lies: it widens from its foot upward and opens into the basin.</summary>
    public PlanRegion LyingSprue
    {
        get
        {
            var ((foot, top, rim), depth) = (LyingWays, LyingDepth_mm);
            double Half(double area) => ((area / depth) - (slope * depth)) / 2;
            (double Half, double Out)[] widths = [(Half(reckoning.SprueBase_mm2), foot), (Half(reckoning.SprueTop_mm2.Value), top), ((reckoning.BasinWidth_mm.Value - (slope * depth)) / 2, rim)];
            return PlanRegion.Polygon([.. widths.Select(w => site.At(SprueAlong - w.Half, w.Out)), .. Enumerable.Reverse(widths).Select(w => site.At(SprueAlong + w.Half, w.Out))]);
        }
    }

    /// <summary>The well's bottom.</summary>
    public PlanRegion Well => Disc(WellRadius(reckoning.WellDepth_mm.Value));

    /// <summary>The faces of the ingates, cut off at the casting.</summary>
    /// <param name="footprint">The casting at the joint, both halves.</param>
    public IEnumerable<PlanRegion> Ingates(PlanRegion footprint)
    {
        for (var i = 0; i < Gates.Length; i++)
        {
            var (place, section, isAcross) = (Places[i], reckoning.IngateAt(i), Gates[i].IsAcross);
            var half = AtFace(section) / 2;
            var far = (IsFaced(i) ? middle - (Gap_mm / 2) : middle + (AtJoint(reckoning.Runner.Value) / 2)) - (slope * section.Depth_mm);
            var casting = footprint.Offset((slope * section.Depth_mm) + Gap_mm, Chord_mm);
            var depth = site.Depths(footprint, place, AtJoint(section) / 2, isAcross)!.Value.Most;
            var strip = PlanRegion.Polygon([.. new[] { (place - half, depth + 1), (place - half, -far), (place + half, -far), (place + half, depth + 1) }.Select(p => site.Inside(p.Item1, p.Item2, isAcross))]).Difference(casting);
            var outer = site.Inside(place, 0.01 - far, isAcross);
            yield return PlanRegion.Union(strip.Pieces().Where(p => p.Contains(outer)));
        }
    }

    /// <summary>Whether an ingate of the other row comes to the runner at the same place: each then ends under the middle of the runner.</summary>
    private bool IsFaced(int ingate) => Enumerable.Range(0, Gates.Length).Any(i => Gates[i].IsAcross != Gates[ingate].IsAcross
        && Math.Abs(Places[i] - Places[ingate]) < ((AtJoint(reckoning.IngateAt(i)) + AtJoint(reckoning.IngateAt(ingate))) / 2) + Gap_mm);

    /// <summary>The layout, or null where an ingate would not meet the casting over its whole width.</summary>
    /// <param name="site">The side.</param>
    /// <param name="reckoning">Sections and number of ingates.</param>
    /// <param name="footprint">The casting at the joint, both halves.</param>
    /// <param name="draft">Of the bars, radians.</param>
    /// <param name="clearance_mm">Sand between runner and casting.</param>
    /// <param name="wanted">Where the ingates are wanted along the side.</param>
    /// <param name="sprueLies">Whether the sprue lies on the joint, beside the casting.</param>
    /// <param name="fillets">Of the corners between runner and pad.</param>
    public static GatingLayout? Of(GateSite site, GatingReckoning reckoning, PlanRegion footprint, double draft, double clearance_mm, IngatePlaces wanted, bool sprueLies, FilletTable fillets)
    {
        double HalfWidth(int i) => (reckoning.IngateAt(i).MeanWidth_mm + (reckoning.IngateAt(i).Depth_mm * Math.Tan(draft))) / 2;
        // Ingates side by side in one place would be one.
        if (wanted.Places.Length > 1 && wanted.Apart_mm < 3 * Enumerable.Range(0, wanted.Places.Length).Max(HalfWidth)) return null;
        var gates = ImmutableArray.CreateBuilder<IngatePlace>();
        foreach (var (place, i) in wanted.Places.Select((p, i) => (p, i)))
        {
            if (Best(site, footprint, place, place.Range_mm(HalfWidth(i)), HalfWidth(i)) is not { } best) return null;
            gates.Add(place with { Along_mm = best });
        }

        ImmutableArray<int> order = [.. Enumerable.Range(0, gates.Count).OrderBy(i => gates[i].Along_mm)];
        var layout = new GatingLayout(site, reckoning.InOrder(order), draft, clearance_mm, fillets)
        {
            Gates = [.. order.Select(i => gates[i])],
            SprueLies = sprueLies,
            Entry = site.Depths(footprint, gates[order[0]].Along_mm, 0, gates[order[0]].IsAcross)?.Least ?? 0,
        };
        // A runner that does not fit between both rows.
        return site.Across_mm > 0 && site.Across_mm < (2 * layout.HalfWidth) + (2 * clearance_mm) ? null : layout;
    }

    /// <summary>Of the places near the one wanted, that with the most even outline in front of the ingate; distance counts a tenth.</summary>
    private static double? Best(GateSite site, PlanRegion footprint, IngatePlace wanted, double range, double halfWidth)
    {
        const int Steps = 12;
        return Enumerable.Range(-Steps, (2 * Steps) + 1)
            .OrderBy(Math.Abs)
            .Select(i => (Place: wanted.Along_mm + (range * i / Steps), Depths: site.Depths(footprint, wanted.Along_mm + (range * i / Steps), halfWidth, wanted.IsAcross)))
            .Where(c => c.Depths is not null)
            .Select(c => (c.Place, Cost: Math.Round(c.Depths!.Value.Most - c.Depths.Value.Least + (0.1 * Math.Abs(c.Place - wanted.Along_mm)), 6)))
            .OrderBy(c => c.Cost)
            .Select(c => (double?)c.Place)
            .FirstOrDefault();
    }

    /// <summary>Way along the side to the sprue.</summary>
    public double SprueAlong
    {
        get
        {
            var runner = reckoning.Runner.Value;
            var beforeGate = Places[0] - (AtJoint(reckoning.IngateAt(0)) / 2) - (reckoning.Shape.FirstGate_widths.Value * runner.MeanWidth_mm) - RoundAtJoint;
            // One that lies comes down past the whole casting, which begins where the side does.
            return SprueLies ? Math.Min(beforeGate, -clearance - (reckoning.SprueTop_mm2.Value / LyingDepth_mm / 2)) : beforeGate;
        }
    }

    private double End
    {
        get
        {
            var shape = reckoning.Shape;
            return Past(Places.Length)
                + Math.Max(shape.LeastExtension_mm.Value, shape.Extension_widths.Value * reckoning.Runner.Value.MeanWidth_mm);
        }
    }

    private double PadRadius => reckoning.Shape.SpruePad_bases.Value * Flow.Diameter_mm(reckoning.SprueBase_mm2) / 2;

    // Of the runner's face under the sprue.
    private double RoundRadius => Math.Max(
        reckoning.Input.RunnerInCope ? PadRadius : WellRadius(reckoning.Runner.Value.Depth_mm) + Shoulder_mm, 1.05 * AtFace(reckoning.Runner.Value) / 2);

    private double RoundAtJoint => RoundRadius + (slope * reckoning.Runner.Value.Depth_mm);

    private double WellRadius(double depth) =>
        (Flow.Diameter_mm(reckoning.Well_mm2.Value) / 2) + (((reckoning.WellDepth_mm.Value / 2) - depth) * slope);

    private double AtJoint(BarSection s) => s.MeanWidth_mm + (s.Depth_mm * slope);

    private double HalfAfter(int passed)
    {
        var depth = reckoning.Runner.Value.Depth_mm;
        return ((reckoning.RunnerAfter_mm2(passed) / depth) - (slope * depth)) / 2;
    }

    private double AtFace(BarSection s) => s.MeanWidth_mm - (s.Depth_mm * slope);

    private PlanRegion Disc(double radius) => PlanRegion.EvenOdd([PlanPath.Circle(SprueAt, 2 * radius)], Chord_mm);

    private static double Bulge(double sweep) => Math.Tan(sweep / 4);
}
