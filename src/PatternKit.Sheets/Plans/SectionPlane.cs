using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Plans;

/// <summary>
/// Where the closed pattern is cut upright. The plane goes through what tells most of the inside, the first of these that there is: the axis of the largest core; the largest loose piece, along its draw; the axis of the largest
/// bore or recess that the sand leaves; that of the largest turned body; the middle of what stands farthest from the joint; the middle of the pattern. Largest is by volume. It follows
/// an axis that lies along x or y; else it runs along the longer side of the pattern.
/// </summary>
/// <param name="Box">Of the closed pattern.</param>
/// <param name="AlongX">Whether it runs along x, else along y.</param>
/// <param name="At_mm">Its y where it runs along x, else its x, pattern millimetres.</param>
/// <param name="Through">What it goes through, for people: "the axis of core-1".</param>
internal sealed record SectionPlane(Box3 Box, bool AlongX, double At_mm, string Through)
{
    private const double Chord_mm = 0.01;

    // Closer to a side there is nothing to be seen of the inside.
    private const double LeastInside = 0.02;

    /// <summary>A place of the plane, in the middle of the pattern.</summary>
    public Vec3 Point => AlongX ? new(Middle.X, At_mm, Middle.Z) : new(At_mm, Middle.Y, Middle.Z);

    /// <summary>Out of the paper, towards who looks at it.</summary>
    public Vec3 Normal => AlongX ? new(0, -1, 0) : new(1, 0, 0);

    /// <summary>Direction of sight in plan: from the front, or from the right.</summary>
    public Vec2 Sight => -1 * Normal.Plan;

    /// <summary>A place on the plane, to the right and upward.</summary>
    public Vec2 InView(Vec3 p) => new(AlongX ? p.X : p.Y, p.Z);

    /// <summary>Rings on the plane.</summary>
    public ImmutableArray<ImmutableArray<Vec2>> InView(ImmutableArray<ImmutableArray<Vec3>> rings) => [.. rings.Select(r => r.Select(InView).ToImmutableArray())];

    private Vec3 Middle => Box.Low + (0.5 * Box.Size);

    /// <summary>The plane of a kit that has a body.</summary>
    public static SectionPlane Of(Kit kit)
    {
        var box = kit.Bodies.Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, own) => all.With(own.Low).With(own.High));
        var isLong = box.Size.X >= box.Size.Y;
        foreach (var (at, axis, name) in Wanted(kit))
        {
            var alongX = axis switch { TurnedAxis.X => true, TurnedAxis.Y => false, _ => isLong };
            var (place, low, high) = alongX ? (at.Y, box.Low.Y, box.High.Y) : (at.X, box.Low.X, box.High.X);
            if (Math.Min(place - low, high - place) > LeastInside * (high - low)) return new(box, alongX, place, name);
        }

        return new(box, isLong, isLong ? (box.Low.Y + box.High.Y) / 2 : (box.Low.X + box.High.X) / 2, "the middle of the pattern");
    }

    // Places in the pattern, the most telling first; an upright axis, and a middle, may be cut either way.
    private static IEnumerable<(Vec2 At, TurnedAxis? Axis, string Name)> Wanted(Kit kit)
    {
        if (kit.Cores.MaxBy(c => c.Body.InMould.Volume()) is { } core) yield return (core.Axes[0].At.Plan, core.Axes[0].Axis, $"the axis of {core.Name}");
        if (kit.Loose.MaxBy(l => l.Metal.AsPrinted.Volume()) is { } loose) yield return (loose.Plan.Centroid, Math.Abs(loose.Facing.X) > Math.Abs(loose.Facing.Y) ? TurnedAxis.X : TurnedAxis.Y, $"the loose piece “{loose.Part.Name}”");
        var features = kit.Job.Features.Where(f => f.Text is null).ToImmutableArray();
        foreach (var bodies in new[] { features.Where(f => f.Cut == CutKind.Drawn), features.Where(f => f.Cut == CutKind.None && f.Turned is not null) })
            if (bodies.SelectMany(f => Shapes(kit, f)).OrderByDescending(s => s.Volume_mm3).FirstOrDefault() is { Name: not null } largest) yield return (largest.At, largest.Axis, $"the axis of “{largest.Name}”");
        var solid = features.Where(f => f.Cut == CutKind.None && f.Turned is null).ToArray();
        if (solid.MaxBy(f => Math.Max(f.High_mm - kit.Parting.Height_mm, kit.Parting.Height_mm - f.Low_mm)) is { } deepest)
            yield return (Shapes(kit, deepest).MaxBy(s => s.Volume_mm3).At, null, $"the middle of “{deepest.Name}”");
    }

    // Each outline of an upright feature by itself: holes of one name are several.
    private static IEnumerable<(Vec2 At, TurnedAxis? Axis, string Name, double Volume_mm3)> Shapes(Kit kit, Feature feature)
    {
        if (feature.Turned is { } turned)
        {
            // Pappus: the area of the profile times the way of its centroid.
            var profile = PlanRegion.EvenOdd([.. feature.Loops], Chord_mm);
            return profile.IsEmpty ? [] : [(kit.Scale * turned.At_mm.Plan, turned.Axis, feature.Name, 2 * Math.PI * profile.Centroid.Y * profile.Area)];
        }

        return feature.Loops.Select(l => PlanRegion.EvenOdd([l], Chord_mm)).Where(r => !r.IsEmpty).Select(r => (kit.Scale * r.Centroid, (TurnedAxis?)null, feature.Name, r.Area * (feature.High_mm - feature.Low_mm)));
    }
}
