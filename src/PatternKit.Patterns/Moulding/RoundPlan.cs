using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Moulding;

/// <summary>The rounded edges of a half: where, with what radius, and what the radius was held back by. Edges at the joint stay sharp.</summary>
/// <param name="Rims">The borders of all flats; empty where the job asks for no rounding at all.</param>
/// <param name="Decisions">Radii with their rules.</param>
/// <param name="Findings">One for each height at which a radius is less than was wanted.</param>
public sealed record RoundPlan(ImmutableArray<RoundedRim> Rims, ImmutableArray<Decision> Decisions, ImmutableArray<Finding> Findings)
{
    /// <summary>No rounding.</summary>
    public static RoundPlan None { get; } = new([], [], []);

    /// <summary>What rounding may leave between borders that touch, mm.</summary>
    private const double Slack_mm = 0.02;

    /// <summary>Plans the edges of a half.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mould">The half with sharp edges.</param>
    /// <param name="half">Which.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="allowances">Stock, draft and rules of fillets.</param>
    public static RoundPlan Of(Job job, HalfMould mould, MouldHalf half, PatternFrame frame, Allowances allowances)
    {
        if (job.Pattern.Round is not { } settings || mould.IsEmpty) return None;
        var edge = allowances.Fillets.Edge_mm;
        var rule = settings.All_mm is { } all ? new Sourced<double>(all, "", Allowances.Given) : new(edge.Value, edge.From.Text, edge.Printed);
        var named = new NamedRadii(job, settings, half, frame, allowances);
        var rims = ImmutableArray.CreateBuilder<Rim>();
        // The edge of a plate lies outside the mould.
        foreach (var level in mould.Upper.Plateaus.Where(p => p.IsLevel && p.Height != mould.PlateFace_mm).GroupBy(p => p.Height).OrderByDescending(g => g.Key))
            rims.AddRange(Borders(mould, level.Key, [.. level], rule.Value, named, allowances.Fillets));
        if (rims.All(r => r.Wanted_mm == 0)) return None;

        var (decisions, findings) = (ImmutableArray.CreateBuilder<Decision>(), ImmutableArray.CreateBuilder<Finding>());
        var (name, sign) = half == MouldHalf.Cope ? ("cope", 1) : ("drag", -1);
        foreach (var level in rims.GroupBy(r => r.Edge.Height))
        {
            var z = frame.ToJob(new(0, 0, sign * level.Key)).Z;
            foreach (var g in level.Where(r => r.Edge.Radius > 0).GroupBy(r => r.Edge.Radius))
            {
                decisions.Add(new(
                    Invariant($"round_{name}_{decisions.Count + 1}_mm"), Invariant($"Edges of the flat at z = {z:0.##} mm, {name}"),
                    g.Key, "mm", g.First().IsNamed ? Allowances.Given : rule.Rule, g.First().IsNamed ? "" : rule.Source));
            }

            if (level.Where(r => r.Held is not null).MaxBy(r => r.Wanted_mm - r.Edge.Radius) is { } worst)
                findings.Add(Told(worst, level.Count(r => r.Held is not null) - 1, frame.ToJob(new(worst.Edge.Ring[0].X, worst.Edge.Ring[0].Y, sign * level.Key))));
        }

        return new([.. rims.Select(r => r.Edge)], decisions.ToImmutable(), findings.ToImmutable());
    }

    /// <summary>How far the arcs of a plateau's edges come down the walls that end on a flat, mm.</summary>
    /// <param name="plateau">The plateau.</param>
    /// <param name="flat">The flat.</param>
    /// <param name="run_mm">How far draft carries the feet of the walls out.</param>
    /// <param name="draft">Angle of the walls, radians.</param>
    public double Depth_mm(Plateau plateau, PlanRegion flat, double run_mm, double draft) => (1 - Math.Sin(draft)) * Rims
        .Where(r => r.Radius > 0 && r.Height == plateau.Height && PlanRegion.Line(r.Ring) is var line
            && line.IsWithinDistance(plateau.Region.Geometry, Slack_mm) && line.IsWithinDistance(flat.Geometry, run_mm + Slack_mm))
        .Select(r => r.Radius).DefaultIfEmpty(0).Max();

    /// <summary>What arcs leave of walls that rise over turned or sloped ground, mm; infinite where there is none.</summary>
    /// <param name="ground">The plateaus of the half.</param>
    /// <param name="mould">The half.</param>
    public double Left_mm(IEnumerable<Plateau> ground, HalfMould mould)
    {
        var sloped = ground.Where(p => !p.IsLevel).Select(p => (p.Region, Highest: FilletPlan.Highest(p))).ToArray();
        return Rims.Where(r => r.Radius > 0)
            .SelectMany(r => sloped, (r, p) => (Rim: r, Wall_mm: r.Height - p.Highest, p.Region))
            .Where(w => w.Wall_mm > 0 && PlanRegion.Line(w.Rim.Ring).IsWithinDistance(w.Region.Geometry, mould.Run(w.Wall_mm) + Slack_mm))
            .Select(w => w.Wall_mm - ((1 - Math.Sin(mould.LeastDraft)) * w.Rim.Radius)).DefaultIfEmpty(double.PositiveInfinity).Min();
    }

    private sealed record Rim(RoundedRim Edge, double Wanted_mm, bool IsNamed, string? Held);

    private static IEnumerable<Rim> Borders(HalfMould mould, double height, ImmutableArray<Plateau> level, double all_mm, NamedRadii named, FilletTable table)
    {
        // Sloped surfaces that end below the flat are ground beside it as lower flats are.
        var byHeight = mould.Upper.Plateaus.Select(p => (Plateau: p, Highest: FilletPlan.Highest(p))).ToLookup(p => p.Highest >= height);
        var standing = PlanRegion.Union(byHeight[true].Select(p => p.Plateau.Region));
        var sloped = byHeight[true].Where(p => !p.Plateau.IsLevel).Select(p => p.Plateau.Region.Geometry).ToArray();
        foreach (var piece in standing.Pieces())
        {
            foreach (var (index, ring) in piece.Rings().Index())
            {
                var line = PlanRegion.Line(ring);
                var own = level.Where(p => p.Region.Geometry.IsWithinDistance(line, Slack_mm)).ToArray();
                if (own.Length == 0) continue;
                var byName = index > 0 ? named.OfHole(PlanRegion.Polygon(ring).InnerPoint) : null;
                var wanted_mm = own.Min(p => byName ?? named.Of(p) ?? all_mm);
                var isNamed = byName is not null || own.Any(p => named.Of(p) is not null);
                var (radius_mm, why) = wanted_mm == 0 ? (0, null) : Most(line, piece, own, wanted_mm);
                yield return new(new(height, ring, radius_mm), wanted_mm, isNamed, radius_mm < wanted_mm ? why : null);
            }
        }

        (double Radius_mm, string? Why) Most(LineString line, PlanRegion piece, Plateau[] own, double wanted_mm)
        {
            if (sloped.Any(s => s.IsWithinDistance(line, Slack_mm))) return (0, "edges of turned or sloped surfaces are not rounded yet");
            var below = byHeight[false].Where(p => p.Plateau.Region.Geometry.IsWithinDistance(line, mould.Run(height - p.Highest) + Slack_mm)).Select(p => p.Highest).DefaultIfEmpty(mould.Joint_mm).Max();
            // A wall that ends on a flat has a fillet there as well; one on the joint, or a plate's face there, keeps a little of itself.
            var (wall_mm, share) = (height - below, below > (mould.PlateFace_mm ?? mould.Joint_mm) ? 0.5 : 0.9);
            var byWall = share * Math.Min(wall_mm, own.Min(mould.Top.ThicknessUnder)) / (1 - Math.Sin(mould.LeastDraft));
            var limit_mm = Math.Min(wanted_mm, byWall);
            // A hollow of the underside may come up through the flat beside the edge.
            var metal = mould.Under is { } under ? piece.Intersection(under.Above(limit_mm - height)) : piece;
            var byWidth = RadiusByRoom.Largest(
                table, limit_mm, mould.LeastDraft, half => [RadiusByRoom.Necks(metal, half), RadiusByRoom.Gaps(piece, half)], line, Slack_mm);
            if (byWidth >= wanted_mm) return (wanted_mm, null);
            return (Fillets.InSeries(table, byWidth), byWidth < limit_mm ? "what stands there, or the gap beside it, is narrow" : Invariant($"its wall is {wall_mm:0.##} mm high"));
        }
    }

    private static Finding Told(Rim worst, int others, Vec3 at)
    {
        var got = worst.Edge.Radius > 0 ? Invariant($"has R {worst.Edge.Radius:0.##} mm") : "stays sharp";
        var more = others > 0 ? Invariant($"; {others} more at this height are held back too") : "";
        return new(
            "round-capped", Severity.Note,
            Invariant($"The edge of the flat at z = {at.Z:0.##} mm that passes ({at.X:0.#}, {at.Y:0.#}) mm {got}, less than {worst.Wanted_mm:0.##} mm, because {worst.Held}{more}."),
            at, worst.Edge.Radius, worst.Wanted_mm, "the wall and the ground beside it must hold the arc (common practice)",
            "Nothing, or ask for less; the casting's edge can be broken with a file.", "mm");
    }
}
