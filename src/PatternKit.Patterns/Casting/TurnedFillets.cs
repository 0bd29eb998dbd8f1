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
/// Inside corners of a turned profile rounded. Draft comes later and moves walls towards the fillets, so it is the drafted profile that is closed: walls run off by the draft towards
/// the axis, which they do at least once the body is drafted.
/// </summary>
/// <param name="Turned">The profile with its corners filled.</param>
/// <param name="Rounded">The corners, pattern millimetres along the axis and off it.</param>
/// <param name="Wanted_mm">The radius wanted.</param>
/// <param name="Fillet_mm3">What the fillets add to the profile as drafted, turned.</param>
/// <param name="Draft_mm3">What draft would add anyway, under the fillets.</param>
internal sealed record TurnedFillets(TurnedProfile Turned, ImmutableArray<CornerArc> Rounded, double Wanted_mm, double Fillet_mm3, double Draft_mm3)
{
    /// <summary>Arcs fit to nothing: their chords may be so many times farther off than others.</summary>
    private const double Leeway = 2;

    /// <summary>The profiles of a casting that have inside corners to round.</summary>
    /// <param name="profiles">All of them.</param>
    /// <param name="features">In order.</param>
    /// <param name="settings">The radii that the job gives; by rule where it gives none.</param>
    /// <param name="table">The rules.</param>
    /// <param name="draft">Of outside walls, radians.</param>
    /// <param name="chordTolerance_mm">How far chords lie from their arcs.</param>
    internal static ImmutableArray<TurnedFillets> Of(
        IEnumerable<TurnedProfile> profiles, IReadOnlyList<CastFeature> features, RadiusSettings? settings, FilletTable table, double draft, double chordTolerance_mm)
    {
        var found = ImmutableArray.CreateBuilder<TurnedFillets>();
        foreach (var turned in profiles)
        {
            var (profile, wanted_mm) = (turned.Profile, turned.Radius(features, settings, table.Least_mm.Value));
            if (!(wanted_mm > 0)) continue;
            var farthest_mm = profile.Geometry.EnvelopeInternal.MaxY;
            // Drafted, the wall of a disc runs off by the height of the disc over a place; towards the axis it is less, by this much at the most.
            var most_mm = wanted_mm + ((Math.Sqrt(2) - 1) * farthest_mm * Math.Tan(draft));
            var radii = table.Series_mm.Where(r => r >= table.Profile_mm.Value && r < most_mm).Append(most_mm).Reverse();
            var drafted = TurnedOutline.WithMirror(Drafted(profile, draft));
            var (closed, rounded) = CornerArcs.Of(drafted, radii, Leeway * chordTolerance_mm, c => c.At.Y < 0);
            if (rounded.IsEmpty) continue;
            var beside = rounded.Select(r => r.Fill.Geometry.EnvelopeInternal).Select(e => PlanRegion.Rectangle(new(e.MinX - (farthest_mm * Math.Tan(draft)), e.MinY), new(e.MaxX + (farthest_mm * Math.Tan(draft)), e.MaxY)).Intersection(drafted));
            var filled = TurnedOutline.OverAxis(PlanRegion.UnionOn(Lattice.For(2 * (farthest_mm + Math.Abs(profile.Geometry.EnvelopeInternal.MaxX) + Math.Abs(profile.Geometry.EnvelopeInternal.MinX))), [profile, .. beside, .. rounded.Select(r => r.Fill)]));
            var (added, ofFills) = (TurnedProfile.Turned(filled) - TurnedProfile.Turned(profile), TurnedProfile.Turned(TurnedOutline.OverAxis(closed)) - TurnedProfile.Turned(TurnedOutline.OverAxis(drafted)));
            found.Add(new(turned with { Profile = filled }, rounded, wanted_mm, ofFills, Math.Max(0, added - ofFills)));
        }

        return found.ToImmutable();
    }

    /// <summary>The radius with its rule.</summary>
    internal static IEnumerable<Decision> Decisions(ImmutableArray<TurnedFillets> all, RadiusSettings? settings, FilletTable table)
    {
        var rule = settings?.All_mm is not null ? (Source: "", Rule: Allowances.Given) : (Source: table.Least_mm.From.Text, Rule: "the least fillet");
        return all.Select((t, i) => new Decision(
            i == 0 ? "fillet_turned_mm" : Invariant($"fillet_turned_{i + 1}_mm"), $"Inside corners of the profile of {t.Turned.Like.Name}", t.Wanted_mm, "mm",
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
            yield return new(
                "fillet-capped", Severity.Note,
                Invariant($"{(held.Length == 1 ? "An inside corner" : $"{held.Length} inside corners")} of the profile of {t.Turned.Like.Name} {(held.Length == 1 ? "has" : "have")} R {worst.Radius:0.##} mm at the least, less than {t.Wanted_mm:0.##} mm, because the groove there is narrow."),
                t.Turned.Place(worst.Corner.At, frame, scale), worst.Radius, t.Wanted_mm, Remedy: "Widen it, if the sand in it is to stand.", Unit: "mm");
        }
    }

    /// <summary>What a profile covers once its walls run off towards the axis.</summary>
    private static PlanRegion Drafted(PlanRegion profile, double draft)
    {
        IEnumerable<Vec2> Below(Vec2 p) => [p, new(p.X - (p.Y * Math.Tan(draft)), 0), new(p.X + (p.Y * Math.Tan(draft)), 0)];
        var shadows = profile.Sides().Select(s => PlanRegion.From(
            new NetTopologySuite.Geometries.MultiPoint([.. Below(s.From).Concat(Below(s.To)).Select(v => new NetTopologySuite.Geometries.Point(v.X, v.Y))]).ConvexHull()));
        return PlanRegion.Union(shadows.Prepend(profile));
    }
}
