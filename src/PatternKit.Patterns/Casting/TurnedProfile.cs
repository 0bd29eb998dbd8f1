using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// What is turned about one level axis as one profile, cuts taken. Its corners are rounded in the plane through the axis: the nearest point of a body of revolution lies in it,
/// so a ball closes and opens the body to the turned closing and opening of the profile.
/// </summary>
/// <param name="After">It takes its place right after this feature.</param>
/// <param name="Replaced">Features that it holds whole.</param>
/// <param name="Like">The last of those that add metal.</param>
/// <param name="Profile">Moved by stock and rapping, at pattern size; as in <see cref="TurnedBody.Profile"/>.</param>
internal sealed record TurnedProfile(int After, ImmutableArray<int> Replaced, Feature Like, PlanRegion Profile)
{
    /// <summary>The profiles of a casting; none where something else is cut between features of one axis.</summary>
    /// <param name="features">In order.</param>
    /// <param name="bodies">The turned ones among them.</param>
    /// <param name="scale">Pattern over casting.</param>
    internal static ImmutableArray<TurnedProfile> Of(IReadOnlyList<CastFeature> features, ImmutableArray<CastTurned> bodies, double scale)
    {
        var found = ImmutableArray.CreateBuilder<TurnedProfile>();
        foreach (var all in OnOneAxis(bodies.Where(b => b.Frame.Lies)))
        {
            var metal = all.Where(b => !b.Removes).ToArray();
            if (metal.Length == 0 || Enumerable.Range(metal[0].Last, all[^1].Last - metal[0].Last).Any(i => features[i].Removes && !all.Any(b => b.Features.Contains(i)))) continue;
            var like = metal[^1].Like with { Low_mm = metal.Min(b => b.Like.Low_mm), High_mm = metal.Max(b => b.Like.High_mm) };
            var profile = all.Aggregate(PlanRegion.Empty, (whole, b) => b.ProfileFrom(metal[^1].Frame, scale) is var own && b.Removes ? whole.Difference(own) : whole.Union(own));
            if (!profile.IsEmpty) found.Add(new(all[^1].Last, [.. metal.SelectMany(b => b.Features)], like, profile));
        }

        return found.ToImmutable();
    }

    /// <summary>How it lies, pattern millimetres.</summary>
    internal TurnedFrame Frame(double scale) => new(Like.Turned!.Axis, scale * Like.Turned.At_mm);

    /// <summary>Where a corner lies in the plan through the axis, job coordinates.</summary>
    internal Vec3 Place(Vec2 corner, PatternFrame frame, double scale)
    {
        var axis = Frame(scale);
        var place = axis.Plan(corner.X, corner.Y);
        return frame.ToJob(new(place.X, place.Y, axis.At.Z));
    }

    /// <summary>The radius that a job gives its corners: by the last name that has one, for all, or by rule.</summary>
    internal double Radius(IReadOnlyList<CastFeature> features, RadiusSettings? settings, double byRule_mm)
    {
        var names = settings?.Names_mm ?? ImmutableDictionary<string, double>.Empty;
        return Replaced.Select(i => features[i].Feature).Select(f => names.TryGetValue(f.Name, out var own) || (f.Layer is { } layer && names.TryGetValue(layer, out own)) ? own : (double?)null).LastOrDefault(r => r is not null)
            ?? settings?.All_mm ?? byRule_mm;
    }

    /// <summary>Volume of a section turned about the axis, mm³ (Pappus).</summary>
    internal static double Turned(PlanRegion section) => 2 * Math.PI * section.Area * section.Centroid.Y;

    private static IEnumerable<CastTurned[]> OnOneAxis(IEnumerable<CastTurned> bodies)
    {
        var groups = new List<List<CastTurned>>();
        foreach (var body in bodies)
        {
            if (groups.Find(g => CastTurned.OnOneAxis(g[0].Frame, body.Frame)) is { } group) group.Add(body);
            else groups.Add([body]);
        }

        return groups.Select(g => g.ToArray());
    }
}
