using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Loose;

/// <summary>
/// Whether the main pattern leaves room for a piece to be drawn into its cavity, all of what stood in the sand, and lifted out through the open joint. The cavity only gets wider towards the joint,
/// so that it is enough to look at the level of every part of the piece: there it is free to travel as long as the section of the pattern at the upper end of that level holds it. Its own draw is square to the
/// wall and takes it towards the joint besides, which is left out, on the safe side.
/// </summary>
/// <param name="Needed_mm">Level way until its outer face is clear of the sand over its path.</param>
/// <param name="Free_mm">How far it can go; no more than is looked at.</param>
/// <param name="Met">What stops it on the needed way: a loose piece that has not left, or null for the sand.</param>
internal sealed record PieceTravel(double Needed_mm, double Free_mm, PlannedPiece? Met)
{
    /// <summary>No cavity is looked at farther, mm.</summary>
    public const double Farthest_mm = 1000;

    private const int Levels = 12;

    /// <summary>Room that does not count, mm: chords of the sections.</summary>
    private const double Touch_mm = 0.02;

    /// <summary>Whether it comes out.</summary>
    public bool IsFree => Free_mm >= Needed_mm && Met is null;

    /// <summary>The travel of pieces, in the order in which they can be drawn: each as early as what lies in its way allows, else in the order of the job.</summary>
    /// <param name="pieces">In the order of the job.</param>
    /// <param name="clear_mm">How far a piece comes clear.</param>
    public static ImmutableArray<(PlannedPiece Piece, PieceTravel Travel)> Of(ImmutableArray<PlannedPiece> pieces, double clear_mm)
    {
        var (left, drawn) = (pieces.ToList(), ImmutableArray.CreateBuilder<(PlannedPiece, PieceTravel)>());
        while (left.Count > 0)
        {
            var next = left.Find(p => Blocker(p, left, clear_mm) is null) ?? left[0];
            drawn.Add((next, new(Needed(next, clear_mm), Free(next), Blocker(next, left, clear_mm))));
            left.Remove(next);
        }

        return drawn.ToImmutable();
    }

    private static double Needed(PlannedPiece piece, double clear_mm) => piece.FarthestOut_mm + clear_mm;

    private static double Free(PlannedPiece piece)
    {
        var (low, high) = (0.0, Farthest_mm);
        // However far it goes, its parts stay on their levels.
        var sections = new Dictionary<double, PlanRegion>();
        if (IsHeld(high)) return high;
        for (var i = 0; i < 40; i++)
        {
            var middle = (low + high) / 2;
            if (IsHeld(middle)) low = middle;
            else high = middle;
        }

        return low;

        bool IsHeld(double travel) => Parts(piece, travel).All(p => SectionAt(p.High - Touch_mm).Covers(p.Plan));

        PlanRegion SectionAt(double level) => sections.TryGetValue(level, out var known) ? known : sections[level] = piece.Mould.Section(level);
    }

    /// <summary>A piece that still stands in the way.</summary>
    private static PlannedPiece? Blocker(PlannedPiece piece, List<PlannedPiece> left, double clear_mm)
    {
        var way = Parts(piece, Needed(piece, clear_mm)).ToArray();
        return left.Find(o => o != piece && o.Half == piece.Half && o.Tail is not null
            && Parts(o, 0).Any(stands => stands.Low < way.Max(w => w.High) && way.Any(w => stands.Low < w.High && !w.Plan.Intersection(stands.Plan).IsEmpty)));
    }

    /// <summary>What of a piece is behind the wall, on its way or at its end, slice by slice: heights of the half's frame, and the plan that is swept.</summary>
    private static IEnumerable<(double Low, double High, PlanRegion Plan)> Parts(PlannedPiece piece, double travel)
    {
        var frame = piece.Frame;
        if (travel > 0)
        {
            var (low, high) = piece.BackBox;
            for (var i = 0; i < Levels; i++)
            {
                var (from, to) = (low.Y + ((high.Y - low.Y) * i / Levels), low.Y + ((high.Y - low.Y) * (i + 1) / Levels));
                var slice = piece.Back.Intersection(PlanRegion.Rectangle(new(low.X - 1, from), new(high.X + 1, to))).Geometry.EnvelopeInternal;
                if (slice.IsNull) continue;
                yield return Slab(frame.Rise(from, 0), frame.Rise(to, 0), slice.MinX, slice.MaxX, travel);
            }

            // The outer part of an upright face is higher than its foot, or lower.
            var (least, most) = piece.Heights;
            yield return Slab(most - frame.Origin.Z - Touch_mm, most - frame.Origin.Z, Middle() - Touch_mm, Middle() + Touch_mm, travel);
            yield return Slab(least - frame.Origin.Z, least - frame.Origin.Z + Touch_mm, Middle() - Touch_mm, Middle() + Touch_mm, travel);
        }

        if (piece.Tail is not { } tail) yield break;
        var corners = tail.Corners(0);
        var (floor, deep) = (frame.Rise(tail.Low, 0), -corners.Min(c => c.Z));
        for (var i = 0; i < Levels; i++)
        {
            var (from, to) = (floor + ((tail.Rise - floor) * i / Levels), floor + ((tail.Rise - floor) * (i + 1) / Levels));
            var half = tail.HalfWidth(to / Math.Cos(frame.Lean), -deep);
            yield return Slab(from, to, tail.Middle - half, tail.Middle + half, travel + deep);
        }

        double Middle() => (piece.BackBox.Low.X + piece.BackBox.High.X) / 2;

        (double Low, double High, PlanRegion Plan) Slab(double from, double to, double left, double right, double inward)
        {
            var (low, high) = (frame.Origin.Z + from, frame.Origin.Z + to);
            Vec2 At(double along, double outward) => frame.Plan(along, high, outward);
            return (low, high, PlanRegion.Polygon([At(left, -inward), At(right, -inward), At(right, -Touch_mm), At(left, -Touch_mm)]));
        }
    }
}
