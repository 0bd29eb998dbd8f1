using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores;

/// <summary>A round space that a core is to leave; cuts on one axis that meet are one.</summary>
/// <param name="Features">Numbers of the cuts of the job.</param>
/// <param name="Name">Their names.</param>
/// <param name="Axis">Which way its axis runs.</param>
/// <param name="At_mm">Where the origin of its profile lies, job coordinates.</param>
/// <param name="Profile">x along the axis, y the distance from it, job millimetres.</param>
/// <param name="Stocked">The same at pattern size, made smaller by the stock on its walls.</param>
internal sealed record CoredRound(ImmutableArray<int> Features, string Name, TurnedAxis Axis, Vec3 At_mm, PlanRegion Profile, PlanRegion Stocked)
{
    /// <summary>This and another on the same axis; null where they do not meet.</summary>
    public CoredRound? With(CoredRound other)
    {
        var axis = new TurnedFrame(Axis, At_mm);
        if (other.Axis != Axis || axis.Off(other.At_mm) > CoredCuts.Same_mm) return null;
        var along = axis.Along(other.At_mm);
        var joined = Profile.Union(other.Profile.Transformed(1, 0, new(along, 0)));
        if (joined.Pieces().Count() > 1) return null;
        return this with
        {
            Features = [.. Features, .. other.Features],
            Name = $"{Name} and {other.Name}",
            Profile = joined,
            // Where both have one stock it goes onto the walls that are left, and none stands where they meet.
            Stocked = Stock_mm == other.Stock_mm ? WithStock(joined, Stock_mm, Scale) : Stocked.Union(other.Stocked.Transformed(1, 0, new(Scale * along, 0))),
        };
    }

    /// <summary>Stock on its walls, casting millimetres.</summary>
    public required double Stock_mm { get; init; }

    /// <summary>Pattern size over job size.</summary>
    public required double Scale { get; init; }

    /// <summary>A profile at pattern size, made smaller by stock.</summary>
    internal static PlanRegion WithStock(PlanRegion profile, double stock_mm, double scale) => TurnedOutline.Grown(profile.Transformed(scale, 0, default), -scale * stock_mm);
}

/// <summary>The cored cuts of a job: those round about an axis, and those for which this release makes no core.</summary>
internal static class CoredCuts
{
    /// <summary>Circles and axes that differ by less are one, mm.</summary>
    internal const double Same_mm = 1e-6;

    /// <summary>The round spaces of the cuts of a job, in order, and the cuts for which there are none, with the reason.</summary>
    /// <param name="job">The job.</param>
    /// <param name="allowances">Contraction and stock.</param>
    /// <param name="chordTolerance_mm">How far chords lie from their arcs.</param>
    public static (ImmutableArray<CoredRound> Rounds, ImmutableArray<(int Feature, string Why)> Unmade) Of(Job job, Allowances allowances, double chordTolerance_mm)
    {
        var (rounds, unmade) = (new List<CoredRound>(), ImmutableArray.CreateBuilder<(int, string)>());
        foreach (var (feature, number) in job.Features.Select((f, i) => (f, i)).Where(x => x.f.Cut == CutKind.Cored))
        {
            var (own, why) = Of(feature, number, CastFeature.Of(feature, allowances.Stock.Value).Sides_mm, allowances.Scale, chordTolerance_mm);
            if (why is not null) unmade.Add((number, why));
            foreach (var round in own)
            {
                // One that lies between two joins them.
                var (joined, place) = (round, rounds.Count);
                for (int met; (met = rounds.FindIndex(r => r.With(joined) is not null)) >= 0;)
                {
                    (joined, place) = (rounds[met].With(joined)!, Math.Min(place, met));
                    rounds.RemoveAt(met);
                }

                rounds.Insert(Math.Min(place, rounds.Count), joined);
            }
        }

        return ([.. rounds], unmade.ToImmutable());
    }

    private static (ImmutableArray<CoredRound> Rounds, string? Why) Of(Feature feature, int number, double stock_mm, double scale, double chordTolerance_mm)
    {
        if (feature.Turned is { } turned)
        {
            var profile = TurnedBody.Profile(feature.Loops, chordTolerance_mm);
            return profile.Pieces().Count() != 1 ? ([], "its profile comes in several pieces")
                : Filled(profile).Area > profile.Area * (1 + 1e-9) ? ([], "its profile leaves metal round the axis")
                : ([Round(turned.Axis, turned.At_mm, profile)], null);
        }

        if (feature.Loops.Any(l => Circle(l) is null)) return ([], "only round cores are made in this release, turned ones and upright circles");
        var circles = feature.Loops.Select(l => Circle(l)!.Value).ToArray();
        if (circles.Where((c, i) => circles.Take(i).Any(o => Vec2.Distance(c.Centre, o.Centre) < c.Radius + o.Radius)).Any()) return ([], "its circles overlap");
        return ([.. circles.Select(c => Round(TurnedAxis.Z, new(c.Centre.X, c.Centre.Y, 0), PlanRegion.Rectangle(new(feature.Low_mm, 0), new(feature.High_mm, c.Radius))))], null);

        CoredRound Round(TurnedAxis axis, Vec3 at, PlanRegion profile) =>
            new([number], feature.Name, axis, at, profile, CoredRound.WithStock(profile, stock_mm, scale)) { Stock_mm = stock_mm, Scale = scale };
    }

    /// <summary>A cut that stays filled, with the reason; null where it meets no metal anyway.</summary>
    public static Finding? Unmade(Job job, PartBody part, int feature, string why)
    {
        var solids = FeatureSolid.Of([.. job.Features.Take(feature + 1)], part.ChordTolerance_mm);
        double Volume(int count) => new FeatureStack([.. solids.Take(count)], part.Step).Map((over, at) => FeatureStack.Column(job.Features, over, at)).Volume;
        var filled_mm3 = Volume(feature) - Volume(feature + 1);
        if (filled_mm3 <= 0) return null;
        var (f, p) = (job.Features[feature], solids[feature].Plan.InnerPoint);
        return new(
            "undercut", Severity.Warn, Invariant($"{f.Name} ({f.Where}) is cored, but no core is made for it: {why}. The pattern fills it, {filled_mm3:0} mm³; the bore must be drilled."),
            new(p.X, p.Y, (f.Low_mm + f.High_mm) / 2), filled_mm3, Remedy: "Cure the reason, or drill it, or bore it on the lathe; allow time for it.", Unit: "mm3");
    }

    /// <summary>A profile with all that lies between it and the axis.</summary>
    private static PlanRegion Filled(PlanRegion profile) => PlanRegion.Union(
        [profile, .. profile.Sides().Where(s => Math.Abs(s.From.X - s.To.X) > 1e-9 && (s.From.Y > 0 || s.To.Y > 0)).Select(s =>
            PlanRegion.Polygon([.. new Vec2[] { new(s.From.X, 0), s.From, s.To, new(s.To.X, 0) }.Distinct()]))]);

    /// <summary>The circle that a loop of arcs is.</summary>
    private static (Vec2 Centre, double Radius)? Circle(PlanPath loop)
    {
        var arcs = Enumerable.Range(0, loop.SegmentCount).Select(loop.Segment).ToArray();
        if (arcs.Any(a => !a.IsArc)) return null;
        var (centre, radius) = (arcs[0].Centre, arcs[0].Radius);
        return arcs.All(a => Vec2.Distance(a.Centre, centre) < Same_mm && Math.Abs(a.Radius - radius) < Same_mm) ? (centre, radius) : null;
    }
}
