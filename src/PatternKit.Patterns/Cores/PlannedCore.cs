using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores;

/// <summary>A print: the end of a core that lies in the sand.</summary>
/// <param name="IsHigh">Whether it is at the upper end along the axis.</param>
/// <param name="Face_mm">Where it leaves the metal, along the axis.</param>
/// <param name="Length_mm">From there to its end.</param>
/// <param name="Radius_mm">At the metal; of one that is not round, of a circle with as much area.</param>
/// <param name="Taper">Of its side, radians; 0 for a cylinder.</param>
/// <param name="Rule">What settled the length.</param>
public sealed record CorePrint(bool IsHigh, double Face_mm, double Length_mm, double Radius_mm, double Taper, Sourced<double> Rule)
{
    /// <summary>The mouth that one of a hollow goes on from: its face and end lie along the mouth's way out, counted from there; null for a turned one.</summary>
    public SideMouth? Mouth { get; init; }

    /// <summary>What its lower side has beyond the metal instead of the mouth's section, so that the core fits one way only; null for none.</summary>
    public PlanRegion? Flat { get; init; }

    /// <summary>Across, at the joint or where it is widest, mm.</summary>
    public double Width_mm => Mouth is null ? 2 * Radius_mm : Math.Max(SpanX(Mouth.Above), Math.Max(SpanX(Mouth.Below), Flat is null ? 0 : SpanX(Flat)));

    /// <summary>Along the draw, mm.</summary>
    public double Height_mm => Mouth is null ? 2 * Radius_mm : HeightOf(Mouth.Above) + HeightOf(Flat ?? Mouth.Below);

    /// <summary>Where its end lies in the plan of the mould, for a core in a frame.</summary>
    internal Vec2 Tip(TurnedFrame axis) => Mouth?.Plan(End_mm, 0) ?? axis.Placed(new(End_mm, 0, 0)).Plan;

    internal static double HeightOf(PlanRegion profile) => profile.IsEmpty ? 0 : profile.Geometry.EnvelopeInternal.MaxY;

    private static double SpanX(PlanRegion profile) => profile.IsEmpty ? 0 : profile.Geometry.EnvelopeInternal.Width;

    /// <summary>Where it ends, along the axis.</summary>
    public double End_mm => Face_mm + (Sign * Length_mm);

    /// <summary>Radius at its end.</summary>
    public double EndRadius_mm => RadiusAt(Length_mm);

    /// <summary>Outward along the axis: 1 or −1.</summary>
    internal int Sign => IsHigh ? 1 : -1;

    /// <summary>Where along it a load in its middle bears.</summary>
    internal double Middle_mm => Face_mm + (Sign * Length_mm / 2);

    /// <summary>Radius at a way from the metal, beyond the end too.</summary>
    internal double RadiusAt(double way_mm) => Radius_mm - (way_mm * Math.Tan(Taper));

    /// <summary>From the metal to a way beyond the end.</summary>
    internal PlanRegion Profile(double beyond_mm) => RoundProfile.Frustum(Face_mm, Radius_mm, Face_mm + (Sign * (Length_mm + beyond_mm)), RadiusAt(Length_mm + beyond_mm));
}

/// <summary>A turned core as planned: what of it lies in the metal, its prints, and the room that they get. Pattern millimetres, along its own axis.</summary>
/// <param name="Name">Of the cuts that it leaves.</param>
/// <param name="Features">Their numbers.</param>
/// <param name="Axis">How it lies.</param>
/// <param name="Hollow">Profile of what lies in the metal.</param>
/// <param name="Prints">One or two, the lower first.</param>
/// <param name="Side_mm">Clearance on each face of a print.</param>
/// <param name="Axial_mm">Clearance over the upper end of a core that stands.</param>
/// <param name="ClearanceFrom">Where both come from.</param>
/// <param name="EndTaper">Of the ends of lying seats, radians.</param>
/// <param name="Draft">Of the core in its box, radians.</param>
internal sealed record PlannedCore(
    string Name,
    ImmutableArray<int> Features,
    TurnedFrame Axis,
    PlanRegion Hollow,
    ImmutableArray<CorePrint> Prints,
    double Side_mm,
    double Axial_mm,
    Sourced<double> ClearanceFrom,
    double EndTaper,
    double Draft) : IMouldCore
{
    /// <summary>What of it lies in the metal, mm³, and the centre of that along the axis, where it is known already; longer prints lie in the sand and change nothing.</summary>
    public (double Volume_mm3, double Centre_mm)? InMetal { get; init; }

    /// <summary>Where it is half a core, flat on the joint: the half of the mould that it lies in; null for a whole one.</summary>
    public MouldHalf? Within { get; init; }

    /// <summary>Of the whole turn, how much of it there is.</summary>
    public double Share => Within is null ? 1 : 0.5;

    /// <summary>How far a profile goes on where the box cuts it off, mm.</summary>
    private const double Overlap_mm = 1;

    /// <summary>The print at whose end the box is open.</summary>
    public CorePrint Struck => Prints.OrderByDescending(p => p.Length_mm).ThenByDescending(p => p.IsHigh == Axis.Lies).First();

    /// <summary>Profile of the core with its prints.</summary>
    public RoundProfile Profile => new(Prints.Aggregate(Hollow, (all, p) => all.Union(p.Profile(0))));

    /// <summary>The same, going on beyond the end at which the box cuts it off.</summary>
    public RoundProfile Uncut => new(Profile.Region.Union(Struck.Profile(Overlap_mm)));

    /// <summary>Whether one end is like the other, so that it does not matter which way round the core is set.</summary>
    public bool IsSymmetric
    {
        get
        {
            var profile = Profile;
            var mirrored = PlanRegion.Union(profile.Region.Rings().Select(r => PlanRegion.Polygon([.. r.Select(v => v with { X = profile.Low + profile.High - v.X })])));
            var differing = profile.Region.Difference(mirrored).Area + mirrored.Difference(profile.Region).Area;
            return differing <= 1e-3 * profile.Region.Area;
        }
    }

    /// <summary>What the pattern is joined with, so that the mould gets the core's seats: the core grown by its clearance; in the mould.</summary>
    /// <param name="rapping_mm">By how much rapping widens the mould; the pattern is smaller by it.</param>
    /// <param name="tolerance_mm">Of round surfaces: what both sides may be off is added, so that the clearance is nowhere less.</param>
    public ImmutableArray<Prism> Seat(double rapping_mm, double tolerance_mm)
    {
        var profile = Profile;
        // In its box the core gets wider at the joint by the draft there, and both are polygons.
        var side = Side_mm - rapping_mm + tolerance_mm + (profile.Largest * ((1 / Math.Cos(Draft)) - 1));
        return Axis.Lies ? [.. Lying(profile, side, tolerance_mm)] : TurnedBody.Prisms(Standing(profile, side), Axis.Axis, Axis.At, tolerance_mm);
    }

    /// <summary>The core with its prints before draft, in the mould.</summary>
    /// <param name="tolerance_mm">Of round surfaces.</param>
    public ImmutableArray<Prism> Body(double tolerance_mm) => Turned(Profile.Region, tolerance_mm);

    /// <summary>What of a body turned about a level axis lies in a half of the mould; all of it where none is named.</summary>
    /// <param name="whole">Each prism is its own mirror image in the height of the axis.</param>
    /// <param name="half">Which half.</param>
    /// <param name="axis_mm">Height of the axis.</param>
    internal static ImmutableArray<Prism> HalfOf(ImmutableArray<Prism> whole, MouldHalf? half, double axis_mm) => half switch
    {
        null => whole,
        MouldHalf.Drag => [.. whole.Select(p => p with { High = axis_mm })],
        _ => [.. whole.Select(p => p with { Low = axis_mm })],
    };

    private ImmutableArray<Prism> Turned(PlanRegion profile, double tolerance_mm) => HalfOf(TurnedBody.Prisms(profile, Axis.Axis, Axis.At, tolerance_mm), Within, Axis.At.Z);

    private IEnumerable<Prism> Lying(RoundProfile profile, double side, double tolerance)
    {
        var grown = TurnedOutline.Grown(profile.Region, side);
        var highest = new RoundProfile(grown).Largest + 1;
        var ends = new List<Prism>();
        foreach (var print in Prints)
        {
            var radius = print.Radius_mm + side;
            var tip = print.End_mm + (print.Sign * side / Math.Cos(EndTaper));
            var foot = tip + (print.Sign * radius * Math.Tan(EndTaper));
            grown = grown.Union(RoundProfile.Frustum(print.Face_mm, radius, foot, radius));
            // The end slopes from the tip, on top, out to the foot, in the joint; above that slope nothing is left, nor below its mirror image.
            var region = PlanRegion.Polygon([Axis.Plan(tip, -highest), Axis.Plan(foot + print.Sign, -highest), Axis.Plan(foot + print.Sign, highest), Axis.Plan(tip, highest)]);
            var slope = HeightPlane.Through(
                Lifted(tip, -1, radius), Lifted(foot, -1, 0), Lifted(foot, 1, 0));
            ends.Add(new(region, slope, Axis.At.Z + (2 * highest), true));
            ends.Add(new(region, Axis.At.Z - (2 * highest), new((2 * Axis.At.Z) - slope.AtOrigin, -slope.Gradient), true));

            Vec3 Lifted(double along, double across, double height)
            {
                var p = Axis.Plan(along, across);
                return new(p.X, p.Y, Axis.At.Z + height);
            }

        }

        return [.. Turned(grown, tolerance), .. ends];
    }

    private PlanRegion Standing(RoundProfile profile, double side)
    {
        var grown = TurnedOutline.Grown(profile.Region, side);
        var (low, high) = (grown.Geometry.EnvelopeInternal.MinX, grown.Geometry.EnvelopeInternal.MaxX);
        foreach (var print in Prints)
        {
            // The core stands on the floor of its lower seat; over the upper end there is room, for the slope of a closed end of the box too.
            var room = print.IsHigh ? Axial_mm + (print == Struck ? 0 : print.EndRadius_mm * Math.Tan(Draft)) : 0;
            var (end, wider, way) = (print.End_mm + (print.Sign * room), side / Math.Cos(print.Taper), print.Length_mm + room);
            grown = grown.Union(RoundProfile.Frustum(print.Face_mm, print.Radius_mm + wider, end, print.RadiusAt(way) + wider));
            (low, high) = print.IsHigh ? (low, end) : (end, high);
        }

        return new RoundProfile(grown).Between(low, high);
    }

    /// <inheritdoc/>
    public PlanRegion Plan => TurnedBody.Shadow(Profile.Region, Axis.Axis, Axis.At, Chord_mm);

    /// <inheritdoc/>
    public Box3 Extent
    {
        get
        {
            var p = Profile;
            return Box3.Empty.With(new(p.Low, -p.Largest, -p.Largest)).With(new(p.High, p.Largest, p.Largest));
        }
    }

    /// <inheritdoc/>
    public double Least_mm => 2 * Profile.Least;

    /// <summary>Lengths to a thousandth of a millimetre.</summary>
    public string Key => string.Join(
        " ", Profile.Region.Rings().SelectMany(r => r).Select(v => Invariant($"{v.X - Profile.Low:0.000},{v.Y:0.000}")).Order(StringComparer.Ordinal).Append(Axis.Axis == TurnedAxis.Z ? "stands" : Within is { } half ? $"lies in the {half}" : "lies"));

    /// <inheritdoc/>
    public Func<Vec2, IEnumerable<(double Low, double High)>> Columns() => new CoreColumns(this).Over;

    /// <summary>Its mantle, less the openings that it leaves in the skin.</summary>
    public double Surface_mm2(HalfMould cope, HalfMould drag)
    {
        var mantle = Share * (new RoundProfile(Hollow).Mantle_mm2 - Prints.Sum(p => Math.PI * p.Radius_mm * p.Radius_mm));
        if (Within is not { } half) return mantle;
        // The flat side of half a core: skin where metal lies over it, an opening where none does.
        var flat = TurnedBody.Shadow(Hollow, Axis.Axis, Axis.At, Chord_mm);
        return mantle + (2 * (half == MouldHalf.Drag ? cope : drag).Footprint.Intersection(flat).Area) - flat.Area;
    }

    /// <inheritdoc/>
    public (double Volume_mm3, double Centre_mm) Displaced(HalfMould cope, HalfMould drag, Lattice lattice) => InMetal ?? CoreLoads.Displaced(this, cope, drag, lattice);

    /// <inheritdoc/>
    public CoreLoad Load(CoreLoads loads, (double Volume_mm3, double Centre_mm) inMetal, GridUp up) => loads.Of(this, inMetal, up);

    /// <inheritdoc/>
    public (KitBody Body, CoreBox Box) Made(string name, Vec3 aside, FoundryTables tables, MeshingTolerance tolerance) => CoreBoxBuilder.Build(this, name, aside, tables, tolerance);

    private const double Chord_mm = 0.01;
}
