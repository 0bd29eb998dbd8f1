using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// A body turned about an axis in the plan with the inside corners of its profile rounded. The nearest point of a body of revolution lies in the plane through the axis,
/// so a ball closes the body to the turned closing of its profile: round like the rest. Draft comes later and moves walls towards the fillets, so it is the drafted profile
/// that is closed: walls run off by the draft towards the axis, which they do at least once the body is drafted.
/// </summary>
/// <param name="After">It takes its place right after this feature.</param>
/// <param name="Replaced">Features that it holds whole.</param>
/// <param name="Like">The last of those that add metal.</param>
/// <param name="Profile">Rounded, moved by stock and rapping, at pattern size; as in <see cref="TurnedBody.Profile"/>.</param>
/// <param name="Rounded">The corners, pattern millimetres along the axis and off it.</param>
/// <param name="Wanted_mm">The radius wanted.</param>
/// <param name="Fillet_mm3">What the fillets add to the profile as drafted, turned.</param>
/// <param name="Draft_mm3">What draft would add anyway, under the fillets.</param>
internal sealed record TurnedFillets(
    int After, ImmutableArray<int> Replaced, Feature Like, PlanRegion Profile, ImmutableArray<CornerArc> Rounded, double Wanted_mm, double Fillet_mm3, double Draft_mm3)
{
    /// <summary>Arcs fit to nothing: their chords may be so many times farther off than others.</summary>
    private const double Leeway = 2;

    /// <summary>The turned bodies of a casting whose profiles have inside corners; all on one axis are one, cuts taken, unless something else is cut between them.</summary>
    /// <param name="features">In order.</param>
    /// <param name="bodies">The turned ones among them.</param>
    /// <param name="settings">The radii that the job gives; by rule where it gives none.</param>
    /// <param name="table">The rules.</param>
    /// <param name="scale">Pattern over casting.</param>
    /// <param name="draft">Of outside walls, radians.</param>
    /// <param name="chordTolerance_mm">How far chords lie from their arcs.</param>
    internal static ImmutableArray<TurnedFillets> Of(
        IReadOnlyList<CastFeature> features, ImmutableArray<CastTurned> bodies, RadiusSettings? settings, FilletTable table, double scale, double draft, double chordTolerance_mm)
    {
        var found = ImmutableArray.CreateBuilder<TurnedFillets>();
        foreach (var all in OnOneAxis(bodies.Where(b => b.Frame.Lies)))
        {
            var metal = all.Where(b => !b.Removes).ToArray();
            if (metal.Length == 0 || Enumerable.Range(metal[0].Last, all[^1].Last - metal[0].Last).Any(i => features[i].Removes && !all.Any(b => b.Features.Contains(i)))) continue;
            var like = metal[^1].Like with { Low_mm = metal.Min(b => b.Like.Low_mm), High_mm = metal.Max(b => b.Like.High_mm) };
            var wanted_mm = Radius(settings, table, metal.SelectMany(b => b.Features).Select(i => features[i].Feature));
            if (!(wanted_mm > 0)) continue;
            var profile = all.Aggregate(PlanRegion.Empty, (whole, b) => b.ProfileFrom(metal[^1].Frame, scale) is var own && b.Removes ? whole.Difference(own) : whole.Union(own));
            if (profile.IsEmpty) continue;
            var farthest_mm = profile.Geometry.EnvelopeInternal.MaxY;
            // Drafted, the wall of a disc runs off by the height of the disc over a place; towards the axis it is less, by this much at the most.
            var most_mm = wanted_mm + ((Math.Sqrt(2) - 1) * farthest_mm * Math.Tan(draft));
            var radii = table.Series_mm.Where(r => r >= table.Profile_mm.Value && r < most_mm).Append(most_mm).Reverse();
            var drafted = TurnedOutline.WithMirror(Drafted(profile, draft));
            var (closed, rounded) = CornerArcs.Of(drafted, radii, Leeway * chordTolerance_mm, c => c.At.Y < 0);
            if (rounded.IsEmpty) continue;
            var beside = rounded.Select(r => r.Fill.Geometry.EnvelopeInternal).Select(e => PlanRegion.Rectangle(new(e.MinX - (farthest_mm * Math.Tan(draft)), e.MinY), new(e.MaxX + (farthest_mm * Math.Tan(draft)), e.MaxY)).Intersection(drafted));
            var filled = TurnedOutline.OverAxis(PlanRegion.UnionOn(Lattice.For(2 * (farthest_mm + Math.Abs(profile.Geometry.EnvelopeInternal.MaxX) + Math.Abs(profile.Geometry.EnvelopeInternal.MinX))), [profile, .. beside, .. rounded.Select(r => r.Fill)]));
            var (added, ofFills) = (Turned(filled) - Turned(profile), Turned(TurnedOutline.OverAxis(closed)) - Turned(TurnedOutline.OverAxis(drafted)));
            found.Add(new(all[^1].Last, [.. metal.SelectMany(b => b.Features)], like, filled, rounded, wanted_mm, ofFills, Math.Max(0, added - ofFills)));
        }

        return found.ToImmutable();
    }

    /// <summary>The radius with its rule.</summary>
    internal static IEnumerable<Decision> Decisions(ImmutableArray<TurnedFillets> all, RadiusSettings? settings, FilletTable table)
    {
        var rule = settings?.All_mm is not null ? (Source: "", Rule: Allowances.Given) : (Source: table.Least_mm.From.Text, Rule: "the least fillet");
        return all.Select((t, i) => new Decision(
            i == 0 ? "fillet_turned_mm" : Invariant($"fillet_turned_{i + 1}_mm"), $"Inside corners of the profile of {t.Like.Name}", t.Wanted_mm, "mm",
            Invariant($"{t.Rounded.Length} {(t.Rounded.Length == 1 ? "corner" : "corners")} rounded before draft, a little wider so that draft leaves the radius; {rule.Rule}"), rule.Source));
    }

    /// <summary>Corners that got less than was wanted.</summary>
    internal static IEnumerable<Finding> Findings(ImmutableArray<TurnedFillets> all, PatternFrame frame, double scale)
    {
        foreach (var t in all)
        {
            var held = t.Rounded.Where(r => r.Radius < t.Wanted_mm).ToArray();
            if (held.Length == 0) continue;
            var worst = held.MinBy(r => r.Radius);
            var axis = new TurnedFrame(t.Like.Turned!.Axis, scale * t.Like.Turned.At_mm);
            var place = axis.Plan(worst.Corner.At.X, worst.Corner.At.Y);
            yield return new(
                "fillet-capped", Severity.Note,
                Invariant($"{(held.Length == 1 ? "An inside corner" : $"{held.Length} inside corners")} of the profile of {t.Like.Name} {(held.Length == 1 ? "has" : "have")} R {worst.Radius:0.##} mm at the least, less than {t.Wanted_mm:0.##} mm, because the groove there is narrow."),
                frame.ToJob(new(place.X, place.Y, axis.At.Z)), worst.Radius, t.Wanted_mm, Remedy: "Widen it, if the sand in it is to stand.", Unit: "mm");
        }
    }

    private static double Radius(RadiusSettings? settings, FilletTable table, IEnumerable<Feature> metal)
    {
        var names = settings?.Names_mm ?? ImmutableDictionary<string, double>.Empty;
        return metal.Select(f => names.TryGetValue(f.Name, out var own) || (f.Layer is { } layer && names.TryGetValue(layer, out own)) ? own : (double?)null).LastOrDefault(r => r is not null)
            ?? settings?.All_mm ?? table.Least_mm.Value;
    }

    /// <summary>What a profile covers once its walls run off towards the axis.</summary>
    private static PlanRegion Drafted(PlanRegion profile, double draft)
    {
        IEnumerable<Vec2> Below(Vec2 p) => [p, new(p.X - (p.Y * Math.Tan(draft)), 0), new(p.X + (p.Y * Math.Tan(draft)), 0)];
        var shadows = profile.Sides().Select(s => PlanRegion.From(
            new NetTopologySuite.Geometries.MultiPoint([.. Below(s.From).Concat(Below(s.To)).Select(v => new NetTopologySuite.Geometries.Point(v.X, v.Y))]).ConvexHull()));
        return PlanRegion.Union(shadows.Prepend(profile));
    }

    /// <summary>Volume of a section turned about the axis, mm³ (Pappus).</summary>
    private static double Turned(PlanRegion section) => 2 * Math.PI * section.Area * section.Centroid.Y;

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
