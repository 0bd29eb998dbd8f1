using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// Finds where each piece of a half is taken hold of: holes for threaded inserts in its joint face, under the centre of its volume or, in a
/// long one, at both quarter points, and on a large one in seats of rapping plates. Every place is the nearest to the wanted one that leaves land and wall.
/// </summary>
public static class DrawScrews
{
    /// <summary>Code of the finding about a half without a place for a draw screw.</summary>
    public const string NoDrawScrew = "no-draw-screw";

    /// <summary>The pockets of a half that is not empty.</summary>
    /// <param name="mould">The half.</param>
    /// <param name="half">Which it is.</param>
    /// <param name="wanted">Whether the job wants any.</param>
    /// <param name="taken">What is sunk into the joint face already.</param>
    /// <param name="table">Sizes and rules.</param>
    public static Handling Of(HalfMould mould, MouldHalf half, bool wanted, PlanRegion taken, HandlingTable table)
    {
        PlanRegion[] plans = [.. mould.Covered.Pieces()];
        var pieces = plans.Select(p => Held(mould, p, plans.Length == 1, wanted, taken, table)).ToImmutableArray();
        return new(half, pieces, !wanted ? "" :
            $"{table.Screws[0].From.Text}; places: {table.Pair.From.Text}; land and wall: {table.Wall_mm.From.Text}{(pieces.All(p => p.Seats.IsEmpty) ? "" : $"; plates: {table.Seat.From.Text}")}");
    }

    private static HeldPiece Held(HalfMould mould, PlanRegion piece, bool alone, bool wanted, PlanRegion taken, HandlingTable table)
    {
        var spread = MassSpread.Of(mould, piece, alone);
        if (!wanted) return new(spread.Centre_mm, [], [], Allowances.Given);
        var ground = new FirmGround(mould, piece, taken, table.Land_mm.Value);
        var (first, sizes) = table.For(spread.Length_mm);
        var least = table.Screws[0];
        var need = least.Depths_mm[0] + table.Wall_mm.Value;
        if (ground.NearestForDisc(least.Hole_mm, need, spread.Centre_mm) is null)
        {
            return new(spread.Centre_mm, [], [],
                Invariant($"none: nowhere on the joint face is the body {need:0.#} mm thick over a hole of {least.Hole_mm:0.#} mm with {table.Land_mm.Value:0.#} mm of land"),
                ground.ThickestFor(least.Hole_mm, need));
        }

        var large = piece.Area >= table.Seat.From_mm2;
        var isLong = IsLong(spread, table.Pair);
        // What the rule asks for first, then with less of it: no plate, a smaller or shorter insert. Of one and two places, the one that hangs straight.
        Set? Best(int count) => (
            from plated in large ? [true, false] : ImmutableArray.Create(false)
            from row in table.Screws.Take(first + 1).Reverse()
            from depth in row.Depths_mm.Reverse()
            select SetOf(ground, spread, table, row, depth, count, plated)).FirstOrDefault(s => s is not null);
        var one = isLong ? null : Best(1);
        var off_mm = table.Pair.OffCentre * spread.Length_mm;
        var two = one?.Off_mm <= off_mm ? null : Best(2);
        var found = two ?? one ?? Best(1)!;
        var less = new List<string>();
        if (found.Row != table.Screws[first]) less.Add($"{table.Screws[first].Thread} has no room");
        if (large && found.Seats.IsEmpty) less.Add("a rapping plate has no room");
        if (two is null && isLong) less.Add("two places have no room");
        if (found.Off_mm > off_mm) less.Add(Invariant($"{found.Off_mm:0.#} mm off the centre, so that it hangs crooked: steady it at its edges while it is drawn"));
        var places = two is null ? "at the centre of its volume" : isLong ? "at the quarter points of its length" : "on both sides of its centre, where a single one has no room";
        return new(spread.Centre_mm, found.Screws, found.Seats,
            Invariant($"{found.Row.Thread} inserts in holes of {found.Row.Hole_mm:0.#} mm, {found.Depth:0.#} mm deep{(found.Seats.IsEmpty ? "" : $" below seats of rapping plates, the joint face being {piece.Area / 100:0} cm² large")}: length {spread.Length_mm:0} mm, {sizes}; {places}, as near as {table.Land_mm.Value:0.#} mm of land around and {table.Wall_mm.Value:0.#} mm of wall above let them")
                + (less.Count == 0 ? "" : $"; {string.Join("; ", less)}"));
    }

    /// <summary>What cannot be taken hold of by a screw is told, and what to do instead.</summary>
    public static IEnumerable<Finding> Lacking(IEnumerable<Handling> handling, double joint_mm, PatternFrame frame, HandlingTable table)
    {
        var need = table.Screws[0].Depths_mm[0] + table.Wall_mm.Value;
        foreach (var h in handling)
        {
            var without = h.Pieces.Where(p => p.Thickest_mm is not null).ToList();
            if (without.Count == 0) continue;
            var worst = without.MaxBy(p => p.Thickest_mm!.Value)!;
            var who = h.Pieces.Length == 1 ? $"The {h.Name} half has" : Invariant($"{without.Count} of the {h.Pieces.Length} pieces of the {h.Name} half have");
            yield return new(
                NoDrawScrew, Severity.Note,
                Invariant($"{who} no pocket for a draw screw: where one fits in plan, the body is {worst.Thickest_mm:0.#} mm thick at most."),
                frame.ToJob(new(worst.Centre_mm.X, worst.Centre_mm.Y, joint_mm)), worst.Thickest_mm, need, table.Wall_mm.From.Text,
                "Rap it from its edges with a soft bar and lift it with a pointed draw pin in its thickest place or with a suction cup near its middle (common practice); or make it thicker.", "mm");
        }
    }

    private static bool IsLong(MassSpread spread, DrawPairRule rule) =>
        spread.Length_mm >= rule.From_mm || (spread.Length_mm >= rule.SlenderFrom_mm && IsSlender(spread, rule));

    private static bool IsSlender(MassSpread spread, DrawPairRule rule) => spread.Length_mm >= rule.SlenderTimesWidth * spread.Width_mm;

    /// <summary>All pockets of one way to do it; null where they do not fit. Two go along the piece, or else across it where it is broad.</summary>
    private static Set? SetOf(FirmGround ground, MassSpread spread, HandlingTable table, DrawScrewRow row, double depth, int count, bool plated)
    {
        if (count == 1) return At(spread.Centre_mm) is { } only ? Of([only]) : null;
        foreach (var reach in IsSlender(spread, table.Pair) ? [spread.Length_mm * spread.Along] : ImmutableArray.Create(spread.Length_mm * spread.Along, spread.Width_mm * spread.Along.Left))
        {
            var arm = table.Pair.Apart / 2 * reach;
            if (At(spread.Centre_mm - arm) is not { } a || At(spread.Centre_mm + arm) is not { } b) continue;
            // Both on one side of the middle, or hardly off it, they are no better than one.
            bool IsBeside(Vec2 p, Vec2 towards) => Vec2.Dot(p - spread.Centre_mm, towards) >= 0.5 * towards.LengthSquared;
            if (!IsBeside(a.Middle, -arm) || !IsBeside(b.Middle, arm) || a.Region.Geometry.Distance(b.Region.Geometry) < table.Land_mm.Value) continue;
            if (Of([a, b]) is var set && set.Off_mm <= table.Pair.OffCentre * spread.Length_mm) return set;
        }

        return null;

        Place? At(Vec2 wanted) => plated
            ? Plated(ground, spread, table, row, depth, wanted)
            : ground.NearestForDisc(row.Hole_mm, depth + table.Wall_mm.Value, wanted) is { } p ? new(p, [new(p, row.Thread, row.Hole_mm, depth)], null) : null;

        Set Of(ImmutableArray<Place> places) => new(
            row, depth, [.. places.SelectMany(p => p.Screws)], [.. places.Select(p => p.Seat).OfType<PlateSeat>()],
            Vec2.Distance(spread.Centre_mm, 1.0 / places.Length * places.Aggregate(default(Vec2), (sum, p) => sum + p.Middle)));
    }

    /// <summary>A seat with the two holes in it for the inserts that hold the plate.</summary>
    private static Place? Plated(
        FirmGround ground, MassSpread spread, HandlingTable table, DrawScrewRow row, double depth, Vec2 wanted)
    {
        var (plate, rule) = (row.Plate, table.Seat);
        var sunk = plate.Thickness_mm + rule.Sunk_mm;
        var holes = ground.ForDisc(row.Hole_mm, sunk + depth + table.Wall_mm.Value);
        if (holes.IsEmpty) return null;
        foreach (var along in new[] { spread.Along, spread.Along.Left })
        {
            var arm = plate.Pitch_mm / 2 * along;
            var middles = holes.Transformed(1, 0, arm).Intersection(holes.Transformed(1, 0, -arm));
            foreach (var at in Near(middles, wanted))
            {
                var seat = new PlateSeat(
                    at, Math.Atan2(along.Y, along.X), plate.Length_mm + rule.Clearance_mm, plate.Width_mm + rule.Clearance_mm, sunk, rule.Corner_mm,
                    Invariant($"{plate.Length_mm:0.#} × {plate.Width_mm:0.#} × {plate.Thickness_mm:0.#} mm"));
                if (!ground.Takes(seat.Region, sunk + table.Wall_mm.Value)) continue;
                DrawScrew Hole(Vec2 p) => new(p, row.Thread, row.Hole_mm, sunk + depth);
                return new(at, [Hole(at - arm), Hole(at + arm)], seat);
            }
        }

        return null;
    }

    /// <summary>The nearest place of a region to a point, then others farther and farther from the point.</summary>
    private static IEnumerable<Vec2> Near(PlanRegion region, Vec2 wanted)
    {
        if (FirmGround.Nearest(region, wanted) is not { } nearest) yield break;
        yield return nearest;
        const int steps = 24;
        var box = region.Geometry.EnvelopeInternal;
        var others = from i in Enumerable.Range(0, steps + 1)
                     from j in Enumerable.Range(0, steps + 1)
                     let p = new Vec2(Math.Round((box.MinX + (box.Width * i / steps)) * 10) / 10, Math.Round((box.MinY + (box.Height * j / steps)) * 10) / 10)
                     where region.Contains(p)
                     orderby Math.Round((p - wanted).Length, 6), p.X, p.Y
                     select p;
        foreach (var p in others) yield return p;
    }

    /// <summary>Where a piece is taken hold of.</summary>
    private sealed record Place(Vec2 Middle, ImmutableArray<DrawScrew> Screws, PlateSeat? Seat)
    {
        public PlanRegion Region => Seat?.Region ?? Screws[0].Region;
    }

    /// <summary>One way to do it; off by how much the middle of its places misses the centre.</summary>
    private sealed record Set(DrawScrewRow Row, double Depth, ImmutableArray<DrawScrew> Screws, ImmutableArray<PlateSeat> Seats, double Off_mm);
}
