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
/// Outside corners of a turned profile rounded: an opening, found as the inside corners of what lies around. Draft comes later and starts where the arc is as steep as it. A corner
/// that runs round flush with another feature is no edge there, and stays.
/// </summary>
/// <param name="Turned">The profile with its corners taken off.</param>
/// <param name="Rounded">The corners, pattern millimetres along the axis and off it.</param>
/// <param name="Flush">Corners left since another feature lies against them.</param>
/// <param name="Wanted_mm">The radius wanted.</param>
internal sealed record TurnedEdges(TurnedProfile Turned, ImmutableArray<CornerArc> Rounded, ImmutableArray<Vec2> Flush, double Wanted_mm)
{
    /// <summary>Places round the axis at which a corner is looked at, and so many of them in a row that it is flush there: one that runs into the side of something is not.</summary>
    private const int Places = 72, InARow = 4;

    /// <summary>Directions about a corner, and the nearest place looked at, mm.</summary>
    private const int Directions = 12;

    private const double Near_mm = 0.1;

    /// <summary>The profiles of a casting that have outside corners to round.</summary>
    /// <param name="profiles">As they are, and with their inside corners filled.</param>
    /// <param name="features">In order.</param>
    /// <param name="bodies">The turned ones among them.</param>
    /// <param name="settings">The radii that the job gives; null for none.</param>
    /// <param name="table">The rules.</param>
    /// <param name="scale">Pattern over casting.</param>
    /// <param name="rapping_mm">Taken off walls.</param>
    /// <param name="chordTolerance_mm">How far chords lie from their arcs.</param>
    internal static ImmutableArray<TurnedEdges> Of(
        IEnumerable<(TurnedProfile Sharp, TurnedProfile Filled)> profiles, IReadOnlyList<CastFeature> features, ImmutableArray<CastTurned> bodies, RadiusSettings? settings, FilletTable table, double scale, double rapping_mm, double chordTolerance_mm)
    {
        if (settings is null) return [];
        var found = ImmutableArray.CreateBuilder<TurnedEdges>();
        foreach (var (sharp, profile) in profiles)
        {
            var wanted_mm = profile.Radius(features, settings, table.Edge_mm.Value);
            if (!(wanted_mm > 0)) continue;
            var body = TurnedOutline.WithMirror(profile.Profile);
            var box = body.Geometry.EnvelopeInternal;
            var room = new Vec2(4 * wanted_mm, 4 * wanted_mm);
            var around = PlanRegion.Rectangle(new Vec2(box.MinX, box.MinY) - room, new Vec2(box.MaxX, box.MaxY) + room).Difference(body);
            // Fillets bring corners of their own, under the draft to come.
            var vertices = sharp.Profile.Rings().SelectMany(r => r).ToArray();
            var (_, corners) = CornerArcs.Of(around, table.Series_mm.Where(r => r < wanted_mm).Append(wanted_mm).Reverse(), chordTolerance_mm, c => c.At.Y < 0 || !vertices.Any(v => Vec2.Distance(v, c.At) < Near_mm), straight: true);
            if (corners.IsEmpty) continue;
            var others = Others(profile, features, bodies, scale, rapping_mm, chordTolerance_mm);
            var isFlush = corners.ToLookup(c => IsFlush(c, body, profile.Frame(scale), others));
            var opened = profile.Profile.Difference(PlanRegion.Union(isFlush[false].Select(c => c.Fill)));
            found.Add(new(profile with { Profile = opened }, [.. isFlush[false]], [.. isFlush[true].Select(c => c.Corner.At)], wanted_mm));
        }

        return found.ToImmutable();
    }

    /// <summary>The radius with its rule.</summary>
    internal static IEnumerable<Decision> Decisions(ImmutableArray<TurnedEdges> all, RadiusSettings? settings, FilletTable table)
    {
        var edge = table.Edge_mm;
        var rule = settings?.All_mm is null && all.Any(t => t.Wanted_mm == edge.Value) ? (Source: edge.From.Text, Rule: edge.Printed) : (Source: "", Rule: Allowances.Given);
        return all.Where(t => !t.Rounded.IsEmpty).Select((t, i) => new Decision(
            i == 0 ? "round_turned_mm" : Invariant($"round_turned_{i + 1}_mm"), $"Outside corners of the profile of {t.Turned.Like.Name}", t.Wanted_mm, "mm",
            Invariant($"{t.Rounded.Length} {(t.Rounded.Length == 1 ? "corner" : "corners")} rounded before draft; {rule.Rule}"), rule.Source));
    }

    /// <summary>Corners that got less than was wanted, or nothing.</summary>
    internal static IEnumerable<Finding> Findings(ImmutableArray<TurnedEdges> all, PatternFrame frame, double scale)
    {
        foreach (var t in all)
        {
            var held = t.Rounded.Where(r => r.Radius < t.Wanted_mm).ToArray();
            if (held.Length > 0)
            {
                var worst = held.MinBy(r => r.Radius);
                yield return Told(
                    t, Invariant($"{(held.Length == 1 ? "An outside corner" : $"{held.Length} outside corners")} of the profile of {t.Turned.Like.Name} {(held.Length == 1 ? "has" : "have")} R {worst.Radius:0.##} mm at the least, less than {t.Wanted_mm:0.##} mm, because the metal there is narrow."),
                    worst.Corner.At, worst.Radius);
            }

            if (!t.Flush.IsEmpty)
                yield return Told(t, Invariant($"{(t.Flush.Length == 1 ? "An outside corner" : $"{t.Flush.Length} outside corners")} of the profile of {t.Turned.Like.Name} {(t.Flush.Length == 1 ? "stays" : "stay")} sharp, because another feature lies against {(t.Flush.Length == 1 ? "it" : "them")}."), t.Flush[0], 0);
        }

        Finding Told(TurnedEdges t, string message, Vec2 corner, double radius_mm) =>
            new("round-capped", Severity.Note, message, t.Turned.Place(corner, frame, scale), radius_mm, t.Wanted_mm, Remedy: "Nothing, or ask for less; the casting's edge can be broken with a file.", Unit: "mm");
    }

    /// <summary>Whether a place lies in the metal of what is not turned about the same axis.</summary>
    private static Func<Vec3, bool>[] Others(
        TurnedProfile profile, IReadOnlyList<CastFeature> features, ImmutableArray<CastTurned> bodies, double scale, double rapping_mm, double chordTolerance_mm)
    {
        var plans = CastFeature.MovedPlans(features, scale, rapping_mm, chordTolerance_mm);
        var upright = Enumerable.Range(0, features.Count).Where(i => !features[i].Removes && features[i].Feature.Turned is null).Select(i => (Func<Vec3, bool>)(p =>
            p.Z > scale * (features[i].Feature.Low_mm - features[i].Bottom_mm) && p.Z < scale * (features[i].Feature.High_mm + features[i].Top_mm) && plans[i].Contains(p.Plan)));
        var turned = bodies.Where(b => !b.Removes && !b.Features.Any(profile.Replaced.Contains)).Select(b =>
        {
            var frame = new TurnedFrame(b.Frame.Axis, scale * b.Frame.At);
            return (Func<Vec3, bool>)(p => b.Profile.Contains(new(frame.Along(p), frame.Off(p))));
        });
        return [.. upright, .. turned];
    }

    private static bool IsFlush(CornerArc corner, PlanRegion body, TurnedFrame frame, Func<Vec3, bool>[] others)
    {
        if (others.Length == 0) return false;
        var beside = new[] { Near_mm, corner.Radius }.SelectMany(r => Enumerable.Range(0, Directions).Select(k => Math.SinCos(2 * Math.PI * k / Directions)).Select(d => corner.Corner.At + (r * new Vec2(d.Cos, d.Sin))))
            .Where(p => p.Y > 0 && !body.Contains(p)).ToArray();
        var row = 0;
        // Once round and a little more, since a row may run over the start.
        for (var k = 0; k < Places + InARow; k++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * k / Places);
            var met = beside.Count(p => frame.Placed(new(p.X, p.Y * cos, p.Y * sin)) is var at && others.Any(o => o(at)));
            // Where all around is metal no edge is seen.
            row = met > 0 && met < beside.Length ? row + 1 : 0;
            if (row == InARow) return true;
        }

        return false;
    }
}
