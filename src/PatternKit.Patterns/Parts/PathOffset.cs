using System.Collections.Immutable;
using NetTopologySuite.Operation.Valid;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>
/// A closed path moved sideways with its arcs kept: lines shift, arcs change radius about their centres, corners are
/// prolonged to where the moved sides meet. Only where nothing vanishes or collides.
/// </summary>
internal static class PathOffset
{
    /// <summary>Sides that turn less than this where they meet are tangent, radians; files round.</summary>
    private const double Tangent = 3e-4;

    /// <summary>The path moved outward, counter-clockwise; null where a side vanishes, a corner is too sharp, or the result crosses itself.</summary>
    /// <param name="path">A simple closed path, either way round.</param>
    /// <param name="grow_mm">Outward; inward when negative.</param>
    /// <param name="mitreLimit">Farthest new corner from the old one, in offsets.</param>
    internal static PlanPath? Of(PlanPath path, double grow_mm, double mitreLimit)
    {
        var walked = path.SignedArea() > 0 ? path : path.Reversed();
        var sides = Enumerable.Range(0, walked.SegmentCount).Select(walked.Segment)
            .Where(s => Vec2.Distance(s.Start, s.End) > 1e-9).ToArray();
        var n = sides.Length;
        var moved = new Side[n];
        for (var i = 0; i < n; i++)
        {
            moved[i] = new(sides[i], grow_mm);
            if (moved[i].Vanishes) return null;
        }

        var corners = new Vec2[n];
        for (var i = 0; i < n; i++)
        {
            if (Corner(moved[(i + n - 1) % n], moved[i], grow_mm, mitreLimit) is not { } corner) return null;
            corners[i] = corner;
        }

        var vertices = ImmutableArray.CreateBuilder<PlanVertex>(n);
        for (var i = 0; i < n; i++)
        {
            if (moved[i].Bulge(corners[i], corners[(i + 1) % n]) is not { } bulge) return null;
            vertices.Add(new(corners[i], bulge));
        }

        if (n < 2) return null;
        var result = new PlanPath(vertices.MoveToImmutable(), true);
        var points = result.Flatten(Math.Max(0.01, Math.Abs(grow_mm) / 100));
        return points.Count >= 3 && result.SignedArea() > 0 && new IsValidOp(PlanRegion.Polygon(points).Geometry).IsValid ? result : null;
    }

    /// <summary>Whether moving inward leaves nothing of an outline that consists of arcs: no circle inside it is larger than its own arcs.</summary>
    internal static bool SwallowsAll(PlanPath path, double grow_mm) => grow_mm < 0
        && Enumerable.Range(0, path.SegmentCount).Select(path.Segment).All(s => s.IsArc && s.Radius + grow_mm <= 1e-6);

    private static Vec2? Corner(Side before, Side after, double grow_mm, double mitreLimit)
    {
        var vertex = after.Old.Start;
        var turn = Math.Atan2(Vec2.Cross(before.EndDirection, after.StartDirection), Vec2.Dot(before.EndDirection, after.StartDirection));
        if (Math.Abs(turn) <= Tangent)
            return vertex - (grow_mm * (after.Old.IsArc ? after.StartDirection : before.EndDirection).Left);
        var meetings = Side.Meetings(before, after);
        if (meetings.Count == 0) return null;
        var nearest = meetings.MinBy(p => Vec2.Distance(p, vertex));
        return Vec2.Distance(nearest, vertex) <= mitreLimit * Math.Abs(grow_mm) ? nearest : null;
    }

    /// <summary>A side and the line or circle that it moves to.</summary>
    private readonly struct Side
    {
        private readonly Vec2 point;
        private readonly double radius;

        internal Side(PlanSegment old, double grow_mm)
        {
            Old = old;
            if (old.IsArc)
            {
                point = old.Centre;
                radius = old.Radius + (Math.Sign(old.Bulge) * grow_mm);
                // A direction along an arc is a quarter turn from its arm.
                var sense = Math.Sign(old.Bulge);
                StartDirection = sense * (old.Start - point).Normalized().Left;
                EndDirection = sense * (old.End - point).Normalized().Left;
            }
            else
            {
                StartDirection = EndDirection = (old.End - old.Start).Normalized();
                point = old.Start - (grow_mm * StartDirection.Left);
                radius = 0;
            }
        }

        internal PlanSegment Old { get; }

        internal Vec2 StartDirection { get; }

        internal Vec2 EndDirection { get; }

        internal bool Vanishes => Old.IsArc && radius <= 1e-6;

        /// <summary>The bulge between the new ends; null where the side has turned round.</summary>
        internal double? Bulge(Vec2 start, Vec2 end)
        {
            if (!Old.IsArc) return Vec2.Dot(end - start, StartDirection) > 0 ? 0 : null;
            var (a, b) = (start - point, end - point);
            var sweep = Math.Atan2(Vec2.Cross(a, b), Vec2.Dot(a, b));
            // The turn that continues the old one, whatever whole turns apart.
            sweep += 2 * Math.PI * Math.Round((Old.Sweep - sweep) / (2 * Math.PI));
            return sweep * Old.Sweep > 0 && Math.Abs(sweep - Old.Sweep) < 1 ? Math.Tan(sweep / 4) : null;
        }

        internal static List<Vec2> Meetings(Side a, Side b)
        {
            if (a.Old.IsArc && b.Old.IsArc)
            {
                var between = b.point - a.point;
                var d = between.Length;
                if (d < 1e-9) return [];
                var along = ((d * d) + (a.radius * a.radius) - (b.radius * b.radius)) / (2 * d);
                return Both(a.point + (along / d * between), (between / d).Left, (a.radius * a.radius) - (along * along));
            }

            if (a.Old.IsArc) return Meetings(b, a);
            var u = a.StartDirection;
            if (b.Old.IsArc)
            {
                var foot = a.point + (Vec2.Dot(b.point - a.point, u) * u);
                var arm = foot - b.point;
                return Both(foot, u, (b.radius * b.radius) - arm.LengthSquared);
            }

            var cross = Vec2.Cross(u, b.StartDirection);
            return [a.point + (Vec2.Cross(b.point - a.point, b.StartDirection) / cross * u)];
        }

        private static List<Vec2> Both(Vec2 middle, Vec2 along, double square) =>
            square < 0 ? [] : [middle + (Math.Sqrt(square) * along), middle - (Math.Sqrt(square) * along)];
    }
}
