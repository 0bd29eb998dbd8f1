using System.Collections.Immutable;
using NetTopologySuite.Algorithm.Construct;
using NetTopologySuite.Geometries;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Feeding;

/// <summary>
/// Puts feeders onto the level upper faces of the cope, one after the other: an open cylinder that is drawn upward, as the sprue is, and narrows to a neck where
/// its face is smaller than its foot. The metal in it stands as high as in the basin.
/// </summary>
/// <param name="bare">Upper half without prints and fillets.</param>
/// <param name="cope">Upper half as it is made.</param>
/// <param name="gating">The other bars.</param>
/// <param name="frame">From job to pattern.</param>
/// <param name="draft">Of the bodies, radians.</param>
/// <param name="table">Rules.</param>
internal sealed class FeederPlaces(HalfMould bare, HalfMould cope, GatingPlan gating, PatternFrame frame, double draft, FeedingTable table)
{
    private const int Corners = 96;
    private const double Chord_mm = 0.05;

    // Sections of the body are looked at this far from its bends.
    private const double Hair_mm = 0.01;

    private readonly List<(PlanRegion Plan, double Top)> taken = [.. gating.Bars.Select(b => (b.Plan, b.Body.InMould.Bounds().High.Z))];
    private int count;

    /// <summary>The section with its feeder, or with why there is none.</summary>
    public FedSection Stood(FedSection section, double shrinkage_percent)
    {
        if (bare.IsEmpty) return Without(section, "the cope has nothing that it could stand on");
        if (bare.IsCarved) return Without(section, "the joint is not level all over, so that no bars are made");
        if (gating.Bars.IsEmpty) return Without(section, "no gating bars are made, whose basin it goes by");
        var rim = gating.Joint_mm + gating.Reckoning.Head_mm.Value;
        var over = frame.ToPattern(section.At_mm).Plan;
        var reach = section.Across_mm * frame.Scale / 2;
        FedSection? refused = null;
        foreach (var flat in bare.Flats().OrderByDescending(f => f.Height))
        {
            var room = rim - flat.Height;
            if (room <= 0 || flat.Region.IsEmpty || Away(flat.Region, over) > reach) continue;
            if (FeederSize.OnTop(section.Modulus_mm, 2 * reach, section.Fed_mm3, shrinkage_percent, room, table) is not { } size)
            {
                refused ??= Without(section, Invariant($"the metal stands only {room:0.#} mm over it, and a feeder needs {FeederSize.LeastRoom_mm(section.Modulus_mm, table):0.#} mm: give a larger head ([gating] head)"));
                continue;
            }

            var sized = section with { Size = size };
            var allowed = flat.Region.Offset(-((size.Neck_mm / 2) + table.Margin_mm.Value), Chord_mm);
            if (Place(flat.Region, allowed, over, reach) is not { } at)
            {
                refused ??= Without(sized, Invariant($"no level upper face over it takes a neck of {size.Neck_mm:0.#} mm"));
                continue;
            }

            var clear = Clear(flat.Region, at);
            var foot = Math.Min(size.Diameter_mm, 2 * (clear - table.Margin_mm.Value));
            var widest = (size.Diameter_mm / 2) + ((rim - flat.Height) * Math.Tan(draft));
            var plan = PlanRegion.EvenOdd([PlanPath.Circle(at, 2 * widest)], Chord_mm);
            if (taken.Any(t => t.Top > flat.Height && !t.Plan.Intersection(plan).IsEmpty))
            {
                refused ??= Without(sized, "another bar is where it would stand");
                continue;
            }

            if (Raised(at, foot / 2))
            {
                refused ??= Without(sized, "a fillet is where it would stand");
                continue;
            }

            taken.Add((plan, rim));
            var body = Body(Invariant($"feeder-{++count}"), at, flat.Height, rim, foot, size);
            var place = frame.ToJob(new(at.X, at.Y, 0)).Plan;
            return sized with { Fate = FeedingFate.Fed, Why = body.Body.Name, Foot_mm = foot, StandsAt_mm = place, Body = body };
        }

        return refused ?? Without(section, "no level upper face of the cope lies over it below the level of the basin");
    }

    private static FedSection Without(FedSection section, string why) => section with { Fate = FeedingFate.NoPlace, Why = why };

    /// <summary>The middle of the face where that lies over the section, else what of it is nearest; null where neither does.</summary>
    private static Vec2? Place(PlanRegion face, PlanRegion allowed, Vec2 over, double reach)
    {
        var near = face.Intersection(PlanRegion.EvenOdd([PlanPath.Circle(over, 4 * reach)], Chord_mm));
        var middle = new MaximumInscribedCircle(near.Geometry, Chord_mm).GetCenter();
        // On tenths of a millimetre.
        return FirmGround.Nearest(allowed, new(middle.X, middle.Y)) is { } roomy && Vec2.Distance(roomy, over) <= reach ? roomy
            : FirmGround.Nearest(allowed, over) is { } nearest && Vec2.Distance(nearest, over) <= reach ? nearest : null;
    }

    private static double Clear(PlanRegion region, Vec2 at) => region.Geometry.Boundary.Distance(At(region, at));

    private static double Away(PlanRegion region, Vec2 at) => region.Geometry.Distance(At(region, at));

    private static Point At(PlanRegion region, Vec2 at) => region.Geometry.Factory.CreatePoint(new Coordinate(at.X, at.Y));

    private bool Raised(Vec2 at, double radius) => Enumerable.Range(0, 12).Any(i =>
    {
        var (s, c) = Math.SinCos(i * Math.PI / 6);
        return cope.RaisedByFillets(at + (radius * new Vec2(c, s))) > Hair_mm;
    });

    private GatingBar Body(string name, Vec2 at, double low, double rim, double foot, FeederSize size)
    {
        var lattice = Lattice.For(1.2 * new[] { Math.Abs(at.X), Math.Abs(at.Y), Math.Abs(low), Math.Abs(rim) }.Max() + size.Diameter_mm);
        var slope = Math.Tan(draft);
        // Below the neck's cone of 45°, which sand carries, nothing is wider than the face.
        var cone = low + ((size.Diameter_mm - foot) / 2);
        ImmutableArray<(double, double)> profile = cone - low > 0.1 && cone < rim - 0.1
            ? [(foot / 2, low), (size.Diameter_mm / 2, cone), ((size.Diameter_mm / 2) + ((rim - cone) * slope), rim)]
            : [(foot / 2, low), ((foot / 2) + ((rim - low) * slope), rim)];
        var mesh = TurnedSolid.Build(at, profile, Corners, lattice);
        PlanRegion At(double z) => PlanRegion.EvenOdd(MeshSection.AtHeight(mesh, lattice.Snap(z)).Select(l => PlanPath.Polygon([.. l])), 1);
        List<BarSectionCut> cuts = [new($"foot of {name}", At(low + Hair_mm), Flow.Circle_mm2(foot))];
        if (profile.Length > 2) cuts.Add(new($"{name} over its neck", At(cone), Flow.Circle_mm2(size.Diameter_mm)));
        return new(BarKind.Feeder, PlacedHalves.DrawnUpward(name, mesh), At(rim), [.. cuts], []);
    }
}
