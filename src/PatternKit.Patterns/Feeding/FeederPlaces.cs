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
    private const double Chord_mm = 0.05;

    // Nothing of a body is lower, but for what is left out.
    private const double Shortest_mm = 0.1;

    // A fillet that raises the face by less is none.
    private const double Raised_mm = 0.01;

    // A head that would do is told in whole steps, and looked for so far.
    private const double HeadStep_mm = 5, MostMoreHead_mm = 300;

    private const int Halvings = 40;

    private readonly List<(PlanRegion Plan, double Top)> taken = [.. gating.Bars.Select(b => (b.Plan, b.Body.InMould.Bounds().High.Z))];
    private int count;

    /// <summary>The section with its feeder, or with why there is none.</summary>
    public FedSection Stood(FedSection section, double shrinkage_percent)
    {
        if (bare.IsEmpty) return Without(section, "the cope has nothing that it could stand on");
        if (bare.IsCarved) return Without(section, "the joint is not level all over, so that no bars are made");
        if (gating.Bars.IsEmpty) return Without(section, "no gating bars are made, whose basin it goes by");
        var rim = gating.Level_mm;
        if (gating.Position.IsOnEdge) return OnEdge(section, rim, shrinkage_percent);
        var over = frame.ToPattern(section.At_mm).Plan;
        var reach = section.Across_mm * frame.Scale / 2;
        FedSection? refused = null;
        foreach (var flat in bare.Flats().OrderByDescending(f => f.Height))
        {
            var room = rim - flat.Height;
            if (room <= 0 || flat.Region.IsEmpty || Away(flat.Region, over) > reach) continue;
            if (FeederSize.OnTop(section.Modulus_mm, 2 * reach, section.Fed_mm3, shrinkage_percent, room, table) is not { } size)
            {
                refused ??= Without(section, Invariant($"the metal stands only {room:0.#} mm over it, and a feeder needs {FeederSize.LeastRoom_mm(section.Modulus_mm, table):0.#} mm: {Higher(flat)}"));
                continue;
            }

            var sized = section with { Size = size };
            var allowed = flat.Region.Offset(-((size.Neck_mm / 2) + table.Margin_mm.Value), Chord_mm);
            if (Place(flat.Region, allowed, over, reach) is not { } at)
            {
                refused ??= Without(sized, Invariant($"no level upper face over it takes a neck of {size.Neck_mm:0.#} mm"));
                continue;
            }

            var face = 2 * (Clear(flat.Region, at) - table.Margin_mm.Value);
            if (Shaped(size, flat.Height, rim, face) is not { } shaped)
            {
                refused ??= Without(sized, Invariant($"the metal stands only {room:0.#} mm over it, and a cone from a neck of {Math.Min(size.Diameter_mm, face):0.#} mm to {size.Diameter_mm:0.#} mm leaves too little of that: {Higher(flat)}"));
                continue;
            }

            (size, var profile) = shaped;
            sized = section with { Size = size };
            var foot = 2 * profile[0].Radius;

            var plan = PlanRegion.EvenOdd([PlanPath.Circle(at, 2 * profile[^1].Radius)], Chord_mm);
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
            var body = Body(Invariant($"feeder-{++count}"), at, profile, size);
            var place = frame.ToJob(new(at.X, at.Y, 0)).Plan;
            return sized with { Fate = FeedingFate.Fed, Why = body.Body.Name, Foot_mm = foot, StandsAt_mm = place, Body = body, Holds = Slices(profile) };
        }

        return refused ?? Without(section, "no level upper face of the cope lies over it below the level of the basin");

        // The least head, in whole steps, under which it stands there as it does not now.
        string Higher(Plateau flat)
        {
            for (var more = HeadStep_mm; more <= MostMoreHead_mm; more += HeadStep_mm)
            {
                var head = HeadStep_mm * Math.Floor((gating.Reckoning.Head_mm.Value + more) / HeadStep_mm);
                var level = rim + head - gating.Reckoning.Head_mm.Value;
                if (FeederSize.OnTop(section.Modulus_mm, 2 * reach, section.Fed_mm3, shrinkage_percent, level - flat.Height, table) is { } size
                    && Place(flat.Region, flat.Region.Offset(-((size.Neck_mm / 2) + table.Margin_mm.Value), Chord_mm), over, reach) is { } at
                    && Shaped(size, flat.Height, level, 2 * (Clear(flat.Region, at) - table.Margin_mm.Value)) is not null)
                    return Invariant($"give a head of {head:0} mm ([gating] head = \"{head:0} mm\")");
            }

            return "no larger head would do either";
        }
    }

    /// <summary>
    /// Its rings over a face: as wide as it was sized, or as much wider as it takes to hold enough where the cone from its neck takes some of the room. The wider, the more it holds. Null where no width does.
    /// </summary>
    private (FeederSize Size, ImmutableArray<(double Radius, double Height)> Profile)? Shaped(FeederSize size, double low, double rim, double face_mm)
    {
        var (room, foot) = (rim - low, Math.Min(size.Diameter_mm, face_mm));
        if (Cone(size, foot) > room - Shortest_mm) return null;
        var profile = Profile(low, rim, foot, size);
        if (Held_mm3(profile) >= size.Volume_mm3) return (size, profile);
        FeederSize Wide(double diameter) => size.Widened(diameter, room, table);
        bool Holds(double diameter) => Held_mm3(Profile(low, rim, Math.Min(diameter, face_mm), Wide(diameter))) >= size.Volume_mm3;
        var (narrow, wide) = (size.Diameter_mm, face_mm + (2 * (room - Shortest_mm)));
        if (!Holds(wide)) return null;
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (narrow + wide) / 2;
            if (Holds(middle)) wide = middle;
            else narrow = middle;
        }

        return (Wide(wide), Profile(low, rim, Math.Min(wide, face_mm), Wide(wide)));
    }

    /// <summary>All parts of a section with feeders of their own; null, and nothing stood, where one of them finds no place.</summary>
    public ImmutableArray<FedSection>? StoodAll(IEnumerable<FedSection> parts, double shrinkage_percent)
    {
        var (before, counted) = (taken.Count, count);
        ImmutableArray<FedSection> stood = [.. parts.Select(p => Stood(p, shrinkage_percent))];
        if (stood.All(s => s.Fate is FeedingFate.Fed or FeedingFate.ByHand)) return stood;
        taken.RemoveRange(before, taken.Count - before);
        count = counted;
        return null;
    }

    /// <summary>In a mould on edge a feeder lies on the joint, over its section: reckoned, and cut by hand.</summary>
    private FedSection OnEdge(FedSection section, double rim, double shrinkage_percent)
    {
        var (up, at) = (gating.Position.Up, frame.ToPattern(section.At_mm));
        var over = up.Of(at) + (section.Across_mm * frame.Scale / 2);
        var room = rim - over;
        if (!(room > 0) || FeederSize.OnTop(section.Modulus_mm, section.Across_mm * frame.Scale, section.Fed_mm3, shrinkage_percent, room, table) is not { } size)
            return Without(section, "the mould stands on edge, and the metal does not stand high enough over it");
        var (along, aside) = (up.Direction.Plan, size.Diameter_mm / 2 * up.Direction.Plan.Left);
        var (foot, top) = (at.Plan + ((over - up.Of(at)) * along), at.Plan + ((rim - up.Of(at)) * along));
        var cut = PlanRegion.Polygon([foot - aside, top - aside, top + aside, foot + aside]);
        if (taken.Any(t => !t.Plan.Intersection(cut).IsEmpty)) return Without(section with { Size = size }, "the mould stands on edge, and a bar is where its feeder would be cut");
        taken.Add((cut, rim));
        return section with
        {
            Size = size,
            Fate = FeedingFate.ByHand,
            Why = "the mould stands on edge, and its feeders are cut by hand on the joint, above their sections",
            // Open like the others: as high as the metal in the cup.
            Holds = [new(over, rim, Flow.Circle_mm2(size.Diameter_mm))],
            CutOnJoint = cut,
        };
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
        return cope.RaisedByFillets(at + (radius * new Vec2(c, s))) > Raised_mm;
    });

    /// <summary>Radii and heights of the rings: below the neck's cone of 45°, which sand carries, nothing is wider than the face.</summary>
    private ImmutableArray<(double Radius, double Height)> Profile(double low, double rim, double foot, FeederSize size)
    {
        var cone = low + Cone(size, foot);
        (double Radius, double Height) neck = (foot / 2, low), whole = cone - low > Shortest_mm ? (size.Diameter_mm / 2, cone) : neck;
        (double Radius, double Height) top = (whole.Radius + ((rim - whole.Height) * Math.Tan(draft)), rim);
        return whole == neck ? [neck, top] : [neck, whole, top];
    }

    private static double Held_mm3(ImmutableArray<(double Radius, double Height)> profile) => Slices(profile).Sum(s => s.Area_mm2 * (s.High_mm - s.Low_mm));

    /// <summary>Neck and cylinder, each as wide all over as it is in the mean.</summary>
    private static ImmutableArray<CavitySlice> Slices(ImmutableArray<(double Radius, double Height)> profile) => [.. profile.Zip(profile.Skip(1), (a, b) =>
        new CavitySlice(a.Height, b.Height, Math.PI / 3 * ((a.Radius * a.Radius) + (a.Radius * b.Radius) + (b.Radius * b.Radius))))];

    private static GatingBar Body(string name, Vec2 at, ImmutableArray<(double Radius, double Height)> profile, FeederSize size)
    {
        var (foot, rim) = (profile[0], profile[^1]);
        var lattice = Lattice.For(1.2 * new[] { Math.Abs(at.X), Math.Abs(at.Y), Math.Abs(foot.Height), Math.Abs(rim.Height) }.Max() + size.Diameter_mm);
        List<(string, double, double)> cuts = [($"foot of {name}", foot.Height + TurnedBar.Hair_mm, Flow.Circle_mm2(2 * foot.Radius))];
        if (profile.Length > 2) cuts.Add(($"{name} over its neck", profile[1].Height, Flow.Circle_mm2(size.Diameter_mm)));
        return TurnedBar.Of(BarKind.Feeder, name, at, profile, lattice, cuts);
    }

    /// <summary>Height of the cone from the foot to the whole diameter.</summary>
    private static double Cone(FeederSize size, double foot) => (size.Diameter_mm - foot) / 2;
}
