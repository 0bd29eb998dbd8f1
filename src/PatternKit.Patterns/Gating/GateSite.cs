using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Impressions;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Gating;

/// <summary>One of several castings of a mould, as it lies along the side that they are gated by.</summary>
/// <param name="Casting">Which one.</param>
/// <param name="From_mm">Way along to where it begins.</param>
/// <param name="To_mm">Way along to where it ends.</param>
/// <param name="IsAcross">Whether it lies across the runner, in the second row.</param>
/// <param name="Wall_mm">Height of its metal behind its middle, from the joint.</param>
internal readonly record struct GatedCasting(int Casting, double From_mm, double To_mm, bool IsAcross, double Wall_mm)
{
    /// <summary>Way along to its middle.</summary>
    public double Middle_mm => (From_mm + To_mm) / 2;

    /// <summary>How long it is.</summary>
    public double Length_mm => To_mm - From_mm;
}

/// <summary>
/// A side of the casting at the joint that metal can enter by: a straight or nearly straight run of the convex hull of the footprint. Places are told
/// by the way along the side and the way out from it. Of several castings it may be the side of a row with another row across the runner.
/// </summary>
/// <param name="Half">The half whose metal the ingates meet, and in which they lie.</param>
/// <param name="Start">Where the side begins, pattern millimetres.</param>
/// <param name="Along">Direction of the side; the casting is to its left.</param>
/// <param name="Length_mm">Its length.</param>
/// <param name="Middle_mm">Way along to the middle of the ingates.</param>
/// <param name="Wall_mm">Height of the metal behind the middle of the side, from the joint; of several castings the least.</param>
internal sealed record GateSite(MouldHalf Half, Vec2 Start, Vec2 Along, double Length_mm, double Middle_mm, double Wall_mm)
{
    /// <summary>Several castings of one mould along the way, ascending; those of one row are clear of each other. None for one casting.</summary>
    public ImmutableArray<GatedCasting> Castings { get; private init; } = [];

    /// <summary>Way out to the second row, where the runner lies between two; 0 for none.</summary>
    public double Across_mm { get; private init; }

    // Hull edges that turn by less than this from one to the next are one side.
    private const double StraightTurn = 3 * Math.PI / 180;

    // How far behind the outline the wall is measured: past the run of any usual draft.
    private const double Behind_mm = 3;

    // A fin may be thinner than that.
    private static readonly double[] Thirds = [1.0 / 3, 2.0 / 3, 1];

    // Halves whose outlines differ by no more than draft does share their wall.
    private const double SameOutline_mm = 1;

    /// <summary>Away from the casting.</summary>
    public Vec2 Outward => -Along.Left;

    /// <summary>The plan place of a way along and a way out.</summary>
    public Vec2 At(double along, double outward) => Start + (along * Along) + (outward * Outward);

    /// <summary>
    /// The side to gate: the one nearest to a place asked for, else of the longest ones that with the highest metal behind it, and of equals the one that
    /// lies best along an axis.
    /// </summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="near">Place asked for, pattern millimetres; null by rule.</param>
    /// <param name="kept">What bars must not meet; a side before which it lies is taken only where it is asked for, or where no other is left.</param>
    /// <param name="castings">Several castings: taken is a way between two rows of them, or a side along which they stand one beside the other.</param>
    /// <param name="between_mm">What a runner between two rows takes, from pattern to pattern.</param>
    public static GateSite? Choose(HalfMould cope, HalfMould drag, Vec2? near, PlanRegion? kept, ImmutableArray<CastingPlace> castings, double between_mm)
    {
        var footprint = cope.Footprint.Union(drag.Footprint);
        var sides = Sides(footprint).Where(s => InARow(s, castings) is not null).ToArray();
        // Between two rows the runner lengthens no flask; a place that is asked for, or sides alone, stand before it.
        var between = near is null || sides.Length == 0 ? Between(cope, drag, footprint, castings).OrderByDescending(s => Math.Round(s.Across_mm, 3)).ToArray() : [];
        if (between.FirstOrDefault(s => s.Across_mm >= between_mm && !s.IsBarred(kept)) is { } wide) return wide;
        if (sides.Length == 0) return between.FirstOrDefault();
        if (near is null && kept is { IsEmpty: false } && sides.Where(s => !LiesBefore(kept, s)).ToArray() is { Length: > 0 } free) sides = free;
        if (near is { } p)
        {
            var (start, along, length) = sides.MinBy(s => Vec2.Distance(p, s.Start + (Math.Clamp(Vec2.Dot(p - s.Start, s.Along), 0, s.Length) * s.Along)));
            return Of(cope, drag, start, along, length, Math.Clamp(Vec2.Dot(p - start, along), 0, length), InARow((start, along, length), castings)!.Value);
        }

        var longest = sides.Max(s => s.Length);
        return sides.Where(s => s.Length >= 0.9 * longest)
            .Select(s => Of(cope, drag, s.Start, s.Along, s.Length, s.Length / 2, InARow(s, castings)!.Value))
            .OfType<GateSite>()
            // Of castings of different depths the side that they stand flush with.
            .OrderBy(s => Math.Round(s.Castings.Select(c => s.Depth(footprint, c.Middle_mm, false) ?? s.Length_mm).DefaultIfEmpty(0).Max()))
            .ThenByDescending(s => Math.Round(s.Wall_mm, 1))
            .ThenByDescending(s => Math.Round(Math.Max(Math.Abs(s.Along.X), Math.Abs(s.Along.Y)), 3))
            .ThenBy(s => Math.Round(s.Outward.Y, 3)).ThenBy(s => Math.Round(s.Outward.X, 3))
            .FirstOrDefault();
    }

    /// <summary>
    /// A side of the box round the casting: what lies down when the mould is stood on edge, or what is gated at its ends. Its middle is that of the longest stretch on which
    /// the casting comes nearest to it, or the place asked for.
    /// </summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="outward">Which side: along an axis, away from the casting.</param>
    /// <param name="near">Place asked for, pattern millimetres; null by rule.</param>
    public static GateSite? Facing(HalfMould cope, HalfMould drag, Vec2 outward, Vec2? near = null)
    {
        var footprint = cope.Footprint.Union(drag.Footprint);
        if (footprint.IsEmpty) return null;
        var along = outward.Left;
        var points = footprint.Rings().SelectMany(r => r).ToArray();
        double Most(Vec2 direction) => points.Max(p => Vec2.Dot(p, direction));
        var start = (-Most(-along) * along) + (Most(outward) * outward);
        var place = new GateSite(default, start, along, Most(along) + Most(-along), 0, 0);
        var middle = near is { } p ? Math.Clamp(Vec2.Dot(p - start, along), 0, place.Length_mm) : place.Face(footprint, null).Middle;
        return Of(cope, drag, start, along, place.Length_mm, middle, []);
    }

    /// <summary>
    /// The side of the box round the casting that is gated at its ends: of the two long ones that which the casting comes nearer to there; null where there is no casting.
    /// </summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    public static GateSite? LongSide(HalfMould cope, HalfMould drag)
    {
        var footprint = cope.Footprint.Union(drag.Footprint);
        var box = footprint.Geometry.EnvelopeInternal;
        var outward = box.Width >= box.Height ? new Vec2(0, -1) : new Vec2(-1, 0);
        return new[] { outward, -outward }.Select(o => Facing(cope, drag, o)).OfType<GateSite>()
            .OrderBy(s => Math.Round((s.Depth(footprint, s.EndInset_mm, false) ?? s.Length_mm) + (s.Depth(footprint, s.Length_mm - s.EndInset_mm, false) ?? s.Length_mm), 2)).FirstOrDefault();
    }

    /// <summary>The side gated at one of its ends or at both: wall and half are those of the ends; of one end that with the higher metal behind it.</summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="both">Whether at both.</param>
    public GateSite AtEnds(HalfMould cope, HalfMould drag, bool both)
    {
        GateSite?[] ends = [Of(cope, drag, Start, Along, Length_mm, EndInset_mm, []), Of(cope, drag, Start, Along, Length_mm, Length_mm - EndInset_mm, [])];
        var far = ends[1] is { } b && (ends[0] is not { } a || Math.Round(b.Wall_mm, 1) > Math.Round(a.Wall_mm, 1));
        var main = ends[far ? 1 : 0] ?? this;
        return main with { Wall_mm = both ? ends.Min(e => e?.Wall_mm ?? main.Wall_mm) : main.Wall_mm };
    }

    // Where the wall at an end is looked at.
    private double EndInset_mm => Math.Min(10, Length_mm / 4);

    /// <summary>The stretch of the side on which the casting comes about as near to it as at a place, or as at its nearest: middle and width.</summary>
    /// <param name="footprint">Outline of the casting at the joint.</param>
    /// <param name="at">The place; null for the nearest.</param>
    public (double Middle, double Width) Face(PlanRegion footprint, double? at)
    {
        const int Places = 96;
        double Way(int i) => (i + 0.5) * Length_mm / Places;
        double[] depths = [.. Enumerable.Range(0, Places).Select(i => Depth(footprint, Way(i), false) ?? double.PositiveInfinity)];
        var asked = at is { } a ? Math.Clamp((int)(a * Places / Length_mm), 0, Places - 1) : -1;
        var level = asked < 0 ? depths.Min() : depths[asked];
        (int First, int Last) best = (0, -1);
        for (var i = 0; i < Places; i++)
        {
            if (!(Math.Abs(depths[i] - level) <= Behind_mm)) continue;
            var last = i;
            while (last + 1 < Places && Math.Abs(depths[last + 1] - level) <= Behind_mm) last++;
            if (asked < 0 ? last - i > best.Last - best.First : i <= asked && asked <= last) best = (i, last);
            i = last;
        }

        var (from, to) = (Way(best.First) - (Length_mm / Places / 2), Way(best.Last) + (Length_mm / Places / 2));
        return at is { } here ? (here, 2 * Math.Max(0, Math.Min(here - from, to - here))) : ((from + to) / 2, to - from);
    }

    private static bool LiesBefore(PlanRegion kept, (Vec2 Start, Vec2 Along, double Length) side)
    {
        var place = new GateSite(default, side.Start, side.Along, side.Length, 0, 0);
        var far = side.Length + 1e3;
        // Farther along than its ends, since the runner goes on there.
        return kept.Intersection(PlanRegion.Polygon([place.At(-far, 1e-3), place.At(-far, far), place.At(side.Length + far, far), place.At(side.Length + far, 1e-3)])).Area > 1e-3;
    }

    /// <summary>Ways from the side in to the outline at some places across an ingate; null where one of them meets nothing.</summary>
    /// <param name="footprint">Outline of the casting at the joint.</param>
    /// <param name="along">Middle of the ingate.</param>
    /// <param name="halfWidth">Half its width.</param>
    /// <param name="isAcross">Whether it leads into the second row.</param>
    public (double Least, double Most)? Depths(PlanRegion footprint, double along, double halfWidth, bool isAcross = false)
    {
        const int Rays = 4;
        double least = double.PositiveInfinity, most = 0;
        for (var i = -Rays; i <= Rays; i++)
        {
            if (Depth(footprint, along + (halfWidth * i / Rays), isAcross) is not { } depth) return null;
            (least, most) = (Math.Min(least, depth), Math.Max(most, depth));
        }

        return (least, most);
    }

    /// <summary>The castings along a side, ascending; null where one stands behind another.</summary>
    private static ImmutableArray<GatedCasting>? InARow((Vec2 Start, Vec2 Along, double Length) side, ImmutableArray<CastingPlace> castings, bool isAcross = false, Func<int, bool>? isIn = null)
    {
        var row = castings.Select((c, i) => (Casting: i, Ways: new[] { c.Low, c.High, new(c.Low.X, c.High.Y), new(c.High.X, c.Low.Y) }.Select(p => Vec2.Dot(p - side.Start, side.Along)).ToArray()))
            .Where(c => isIn?.Invoke(c.Casting) != false)
            .Select(c => new GatedCasting(c.Casting, c.Ways.Min(), c.Ways.Max(), isAcross, 0)).OrderBy(c => c.From_mm).ToImmutableArray();
        return row.Zip(row.Skip(1), (a, b) => a.To_mm < b.From_mm).All(clear => clear) ? row : null;
    }

    /// <summary>Ways along x or y between two rows of castings, each clear in itself.</summary>
    private static IEnumerable<GateSite> Between(HalfMould cope, HalfMould drag, PlanRegion footprint, ImmutableArray<CastingPlace> castings)
    {
        if (castings.Length < 2) yield break;
        var pieces = footprint.Pieces().Select(p => (Box: p.Geometry.EnvelopeInternal, Casting: CastingPlace.Nearest(castings, new(p.Geometry.EnvelopeInternal.Centre.X, p.Geometry.EnvelopeInternal.Centre.Y)))).ToArray();
        foreach (var along in new[] { new Vec2(1, 0), new Vec2(0, 1) })
        {
            // Out of the first row, towards the second.
            var outward = -along.Left;
            (double Low, double High) Span(NetTopologySuite.Geometries.Envelope box, Vec2 way)
            {
                var ends = new[] { Vec2.Dot(new(box.MinX, box.MinY), way), Vec2.Dot(new(box.MaxX, box.MaxY), way) };
                return (ends.Min(), ends.Max());
            }

            var spans = Enumerable.Range(0, castings.Length).Select(i => (Casting: i, Ends: pieces.Where(p => p.Casting == i).Select(p => Span(p.Box, outward)).ToArray())).Where(c => c.Ends.Length > 0)
                .Select(c => (c.Casting, Low: c.Ends.Min(e => e.Low), High: c.Ends.Max(e => e.High))).OrderBy(c => c.Low).ToArray();
            var (from, to) = (pieces.Min(p => Span(p.Box, along).Low), pieces.Max(p => Span(p.Box, along).High));
            for (var k = 1; k < spans.Length; k++)
            {
                var (near, far) = (spans[..k].Max(c => c.High), spans[k..].Min(c => c.Low));
                if (far <= near) continue;
                var side = (Start: (from * along) + (near * outward), Along: along, Length: to - from);
                var inFirst = spans[..k].Select(c => c.Casting).ToHashSet();
                if (InARow(side, castings, false, inFirst.Contains) is not { } first || InARow(side, castings, true, i => !inFirst.Contains(i)) is not { } second) continue;
                if (Of(cope, drag, side.Start, side.Along, side.Length, 0, [.. first.Concat(second).OrderBy(c => c.Middle_mm)], far - near) is { } site) yield return site;
            }
        }
    }

    /// <summary>Whether what bars must not meet lies in the way between both rows.</summary>
    private bool IsBarred(PlanRegion? kept) => kept is { IsEmpty: false } && kept.Intersection(PlanRegion.Polygon([At(0, 1e-3), At(0, Across_mm - 1e-3), At(Length_mm, Across_mm - 1e-3), At(Length_mm, 1e-3)])).Area > 1e-3;

    private static GateSite? Of(HalfMould cope, HalfMould drag, Vec2 start, Vec2 along, double length, double wanted, ImmutableArray<GatedCasting> castings, double across_mm = 0)
    {
        // Between two castings no wall is to be measured.
        var place = new GateSite(default, start, along, length, castings.IsEmpty ? wanted : castings[0].Middle_mm, 0) { Across_mm = across_mm };
        if (castings.IsEmpty)
        {
            var walls = Walls(place.Middle_mm, false);
            if (walls.Length == 0) return null;
            var (half, wall) = walls.MaxBy(w => w.Wall);
            return place with { Half = half, Wall_mm = wall };
        }

        // All ingates lie in one half: that in which each casting has metal before its middle.
        var each = castings.Select(c => Walls(c.Middle_mm, c.IsAcross)).ToArray();
        var common = new[] { MouldHalf.Cope, MouldHalf.Drag }.Where(h => each.All(walls => walls.Any(w => w.Half == h)))
            .Select(h => (Half: h, Walls: each.Select(walls => walls.First(w => w.Half == h).Wall).ToArray())).ToArray();
        if (common.Length == 0) return null;
        var best = common.MaxBy(h => h.Walls.Min());
        return place with { Half = best.Half, Wall_mm = best.Walls.Min(), Castings = [.. castings.Select((c, i) => c with { Wall_mm = best.Walls[i] })] };

        (MouldHalf Half, double Wall)[] Walls(double middle, bool isAcross)
        {
            var met = new (MouldHalf Half, HalfMould Mould)[] { (MouldHalf.Cope, cope), (MouldHalf.Drag, drag) }
                .Where(h => !h.Mould.IsEmpty)
                .Select(h => (h.Half, h.Mould, Way: place.Depth(h.Mould.Footprint, middle, isAcross)))
                .Where(h => h.Way is not null)
                .Select(h => (h.Half, h.Mould, Depth: h.Way!.Value))
                .ToArray();
            if (met.Length == 0) return [];
            // Metal of the other half that lies farther out would be gated from above, on its face: only what is outermost counts.
            var outermost = met.Min(h => h.Depth);
            return [.. met.Where(h => h.Depth <= outermost + SameOutline_mm)
                .Select(h => (h.Half, Wall: Thirds.Max(t => h.Mould.Upper.At(place.Inside(middle, h.Depth + (t * Behind_mm), isAcross)).Height) - h.Mould.Joint_mm))];
        }
    }

    /// <summary>The plan place of a way along and a way into a casting, of the second row from its own side.</summary>
    public Vec2 Inside(double along, double depth, bool isAcross) => At(along, isAcross ? Across_mm + depth : -depth);

    private double? Depth(PlanRegion footprint, double along, bool isAcross)
    {
        var box = footprint.Geometry.EnvelopeInternal;
        var reach = box.Width + box.Height + Length_mm;
        return footprint.FirstMet(Inside(along, -1, isAcross), Inside(along, reach, isAcross)) is { } met ? (isAcross ? 1 : -1) * Vec2.Dot(met - Inside(along, 0, isAcross), Outward) : null;
    }

    private static IEnumerable<(Vec2 Start, Vec2 Along, double Length)> Sides(PlanRegion footprint)
    {
        if (footprint.Geometry.ConvexHull() is not Polygon { IsEmpty: false } hull) yield break;
        var ring = hull.Shell.IsCCW ? hull.Shell.Coordinates : [.. hull.Shell.Coordinates.Reverse()];
        var points = ring.SkipLast(1).Select(c => new Vec2(c.X, c.Y)).ToArray();
        for (var i = 0; i < points.Length; i++)
        {
            // Each edge, with those after it that go on in nearly its direction.
            var direction = (points[(i + 1) % points.Length] - points[i]).Normalized();
            var end = i + 1;
            while (end < i + points.Length - 1)
            {
                var next = (points[(end + 1) % points.Length] - points[end % points.Length]).Normalized();
                if (Math.Abs(Math.Asin(Math.Clamp(Vec2.Cross(direction, next), -1, 1))) > StraightTurn || Vec2.Dot(direction, next) < 0) break;
                end++;
            }

            var span = points[end % points.Length] - points[i];
            yield return (points[i], span.Normalized(), span.Length);
        }
    }
}
