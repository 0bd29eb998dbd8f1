using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

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
        var runner = reckoning.Runner.Value;
        middle = clearance_mm + Math.Max(AtJoint(runner) / 2, RoundAtJoint);
    }

    /// <summary>Ways along the side to the middles of the ingates.</summary>
    public ImmutableArray<double> Places { get; private init; }

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
    public double Clear => (RoundAtJoint + (Places[0] - (AtJoint(reckoning.Ingate.Value) / 2) - SprueAlong)) / 2;

    /// <summary>Way out to where the ingates are alone: half way between the side and the runner.</summary>
    public double IngateCut => (middle - (AtJoint(reckoning.Runner.Value) / 2)) / 2;

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

    /// <summary>Way along the side to where the runner is alone again behind an ingate, and its area there.</summary>
    /// <param name="passed">Ingates that lie before, at least one.</param>
    public double Past(int passed) => Places[passed - 1] + (AtJoint(reckoning.Ingate.Value) / 2);

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
        var (section, runner) = (reckoning.Ingate.Value, reckoning.Runner.Value);
        var half = AtFace(section) / 2;
        var far = middle + (AtJoint(runner) / 2) - (slope * section.Depth_mm);
        var casting = footprint.Offset((slope * section.Depth_mm) + Gap_mm, Chord_mm);
        foreach (var place in Places)
        {
            var depth = site.Depths(footprint, place, AtJoint(section) / 2)!.Value.Most;
            var strip = Rectangle(place - half, place + half, -depth - 1, far).Difference(casting);
            var outer = site.At(place, far - 0.01);
            yield return PlanRegion.Union(strip.Pieces().Where(p => p.Contains(outer)));
        }
    }

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
        var section = reckoning.Ingate.Value;
        var halfWidth = (section.MeanWidth_mm + (section.Depth_mm * Math.Tan(draft))) / 2;
        // Ingates side by side in one place would be one.
        if (wanted.Along_mm.Length > 1 && wanted.Apart_mm < 3 * halfWidth) return null;
        var places = ImmutableArray.CreateBuilder<double>();
        foreach (var place in wanted.Along_mm)
        {
            if (Best(site, footprint, place, wanted.Range_mm(halfWidth), halfWidth) is not { } best) return null;
            places.Add(best);
        }

        return new(site, reckoning, draft, clearance_mm, fillets)
        {
            Places = places.ToImmutable(),
            SprueLies = sprueLies,
            Entry = site.Depths(footprint, places[0], 0)?.Least ?? 0,
        };
    }

    /// <summary>Of the places near the one wanted, that with the most even outline in front of the ingate; distance counts a tenth.</summary>
    private static double? Best(GateSite site, PlanRegion footprint, double wanted, double range, double halfWidth)
    {
        const int Steps = 12;
        return Enumerable.Range(-Steps, (2 * Steps) + 1)
            .OrderBy(Math.Abs)
            .Select(i => (Place: wanted + (range * i / Steps), Depths: site.Depths(footprint, wanted + (range * i / Steps), halfWidth)))
            .Where(c => c.Depths is not null)
            .Select(c => (c.Place, Cost: Math.Round(c.Depths!.Value.Most - c.Depths.Value.Least + (0.1 * Math.Abs(c.Place - wanted)), 6)))
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
            var beforeGate = Places[0] - (AtJoint(reckoning.Ingate.Value) / 2) - (reckoning.Shape.FirstGate_widths.Value * runner.MeanWidth_mm) - RoundAtJoint;
            // One that lies comes down past the whole casting, which begins where the side does.
            return SprueLies ? Math.Min(beforeGate, -clearance - (reckoning.SprueTop_mm2.Value / LyingDepth_mm / 2)) : beforeGate;
        }
    }

    private double End
    {
        get
        {
            var shape = reckoning.Shape;
            return Places[^1] + (AtJoint(reckoning.Ingate.Value) / 2)
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

    private PlanRegion Rectangle(double from, double to, double near, double far) =>
        PlanRegion.Polygon([site.At(from, near), site.At(from, far), site.At(to, far), site.At(to, near)]);

    private PlanRegion Disc(double radius) => PlanRegion.EvenOdd([PlanPath.Circle(SprueAt, 2 * radius)], Chord_mm);

    private static double Bulge(double sweep) => Math.Tan(sweep / 4);
}
