using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Impressions;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Gating;

/// <summary>Where a casting is gated and how the mould stands.</summary>
/// <param name="Site">The side.</param>
/// <param name="Where">At its ends, or along it.</param>
/// <param name="Up">Which way is up.</param>
/// <param name="Why">How a mould on edge was turned; empty for one that lies flat.</param>
internal sealed record GateChoice(GateSite Site, GatedAt Where, GridUp Up, string Why)
{
    // Between an ingate at an end and that end.
    private const double FromEnd_mm = 1;

    /// <summary>Whether the mould stands on edge.</summary>
    public bool IsOnEdge => Up.Axis != 2;

    /// <summary>
    /// The side and the position. On edge the mould stands on end, the longer side of the casting upright: a given rate then rises fastest, in the smallest level area, and all vents are at one
    /// end; the price is the greatest head on the joint. The end with the higher metal lies down, since it takes the deeper ingate. Where the job asks for a place, the side nearest to it lies down;
    /// where it asks for both ends, the side that has them does.
    /// </summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="asked">What the job says.</param>
    /// <param name="near">The place it asks for, pattern millimetres; null for none.</param>
    /// <param name="prints">What bars must not meet.</param>
    /// <param name="castings">Several castings in one mould, which lies flat then; none for one.</param>
    /// <param name="between_mm">What a runner between two rows of them takes, from pattern to pattern.</param>
    /// <returns>Null where there is nothing to gate.</returns>
    public static GateChoice? Of(HalfMould cope, HalfMould drag, GatingSettings asked, Vec2? near, PlanRegion? prints, ImmutableArray<CastingPlace> castings, double between_mm)
    {
        var ends = asked.Where is GatedAt.OneEnd or GatedAt.BothEnds;
        if (!asked.OnEdge)
        {
            var side = ends ? GateSite.LongSide(cope, drag)?.AtEnds(cope, drag, asked.Where == GatedAt.BothEnds) : GateSite.Choose(cope, drag, near, prints, castings, between_mm);
            return side is null ? null : new(side, asked.Where, GridUp.Z, "");
        }

        if (Down(cope, drag, asked, near, ends) is not { } down || GateSite.Facing(cope, drag, down.Way, near) is not { } site) return null;
        var up = down.Way.X != 0 ? new GridUp(0, down.Way.X > 0) : new GridUp(1, down.Way.Y > 0);
        return new(ends ? site.AtEnds(cope, drag, asked.Where == GatedAt.BothEnds) : site, asked.Where, up, down.Why);
    }

    private static (Vec2 Way, string Why)? Down(HalfMould cope, HalfMould drag, GatingSettings asked, Vec2? near, bool ends)
    {
        if (asked.Up is { } up) return (-up, GatingRules.Given);
        var footprint = cope.Footprint.Union(drag.Footprint);
        if (footprint.IsEmpty) return null;
        if (ends && GateSite.LongSide(cope, drag) is { } along) return (along.Outward, "the long side with the ends that are gated lies down");
        var box = footprint.Geometry.EnvelopeInternal;
        if (near is { } p)
        {
            (double Away, Vec2 Way)[] sides =
            [
                (Math.Abs(p.X - box.MinX), new(-1, 0)), (Math.Abs(box.MaxX - p.X), new(1, 0)), (Math.Abs(p.Y - box.MinY), new(0, -1)), (Math.Abs(box.MaxY - p.Y), new(0, 1)),
            ];
            return (sides.MinBy(s => s.Away).Way, "the side nearest to the place asked for lies down");
        }

        // Where both are alike, y stands.
        var low = box.Width > 1.01 * box.Height ? new Vec2(-1, 0) : new Vec2(0, -1);
        var (one, other) = (GateSite.Facing(cope, drag, low)?.Wall_mm ?? 0, GateSite.Facing(cope, drag, -low)?.Wall_mm ?? 0);
        return (Math.Round(other, 1) > Math.Round(one, 1) ? -low : low, "stood on end: the longer side of the casting upright, where the metal rises fastest, the end with the higher metal down");
    }

    /// <summary>How many ingates, and why.</summary>
    public Sourced<int> Count(GatingSettings asked, GatingTables tables)
    {
        if (Where == GatedAt.OneEnd) return new(1, "", "one end of the long side");
        if (Where == GatedAt.BothEnds) return new(2, "", "both ends of the long side");
        if (Site.Castings.IsEmpty) return Of(Site.Length_mm);
        var each = Site.Castings.Select(c => Of(c.Length_mm)).ToArray();
        return each[0] with
        {
            Value = each.Sum(c => c.Value),
            Rule = each.Select(c => c.Value).Distinct().Count() == 1
                ? Invariant($"for each of {each.Length} castings {each[0].Value}: {each[0].Rule}")
                : $"for the castings along the runner {string.Join(", ", each.Select(c => Invariant($"{c.Value}")))}: {each[0].Rule}",
        };

        Sourced<int> Of(double side_mm) => asked.Ingates is { } n ? new(n, "", GatingRules.Given) : GatingRules.Ingates(side_mm, tables);
    }

    /// <summary>The ingates of several castings along the runner, each casting with its own; none for one casting.</summary>
    /// <param name="asked">What the job says.</param>
    /// <param name="tables">Rules.</param>
    public ImmutableArray<IngatePlace> OfCastings(GatingSettings asked, GatingTables tables) =>
    [
        .. Site.Castings.SelectMany(c =>
        {
            var each = asked.Ingates ?? GatingRules.Ingates(c.Length_mm, tables).Value;
            return Enumerable.Range(0, each).Select(i => new IngatePlace(c.From_mm + ((i + 0.5) * c.Length_mm / each), c.Length_mm / each, c.Casting, c.IsAcross));
        }).OrderBy(p => p.Along_mm),
    ];

    /// <summary>Where the ingates are wanted.</summary>
    /// <param name="ingate">Section of one.</param>
    /// <param name="draft">Of the bars, radians.</param>
    /// <param name="count">How many.</param>
    /// <param name="spacing_mm">Between ingates about a place that was asked for; null for none.</param>
    public IngatePlaces Places(BarSection ingate, double draft, int count, double? spacing_mm)
    {
        if (Where is not (GatedAt.OneEnd or GatedAt.BothEnds))
        {
            var spread = IngatePlaces.Spread(Site, count, spacing_mm);
            return IsOnEdge ? spread.Held : spread;
        }

        var inset = Math.Min(((ingate.MeanWidth_mm + (ingate.Depth_mm * Math.Tan(draft))) / 2) + FromEnd_mm, Site.Length_mm / 2);
        var (near, far) = (inset, Site.Length_mm - inset);
        return Where == GatedAt.BothEnds ? new([new(near, null), new(far, null)], far - near) : new([new(Site.Middle_mm > Site.Length_mm / 2 ? far : near, null)], Site.Length_mm);
    }

    /// <summary>Which way is up, for the reckoning.</summary>
    public string UpRule(double height_mm) => IsOnEdge ? Invariant($"{Why}; the casting is {height_mm:0.#} mm high so") : "";
}
