using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The ramps that fall from the edges of a terrain: from an edge AB of slope k falls the plane whose downhill direction u solves
/// k u · (B − A) = −(z_B − z_A). At a corner that juts out, the cone of the exact envelope is replaced by planes that touch it from
/// outside, each of the full angle, so that every facet has exactly the draft that was asked for; they turn by no more than a limit each.
/// All planes at a corner pass through it with one slope, so two of them meet above the line half way between their downhill directions.
/// </summary>
internal static class Ramps
{
    /// <summary>All ramps, numbered as surfaces from 0.</summary>
    /// <param name="edges">Where they fall from.</param>
    /// <param name="openAngle">Angle of walls open to the outside, radians from the vertical.</param>
    /// <param name="enclosedAngle">Angle of walls around an enclosed hollow.</param>
    /// <param name="largestTurn">Largest turn from one plane to the next at a corner, radians.</param>
    public static List<TerrainPiece> Build(ImmutableArray<FallEdge> edges, double openAngle, double enclosedAngle, double largestTurn) =>
        Build(edges, [], _ => false, openAngle, enclosedAngle, largestTurn);

    /// <summary>All ramps, those of lone points too.</summary>
    /// <param name="edges">Where they fall from.</param>
    /// <param name="tips">Points from which the ground falls off on all sides, at the open angle.</param>
    /// <param name="isHidden">Ends of edges that lie under the terrain and need no planes around them.</param>
    /// <param name="openAngle">Angle of walls open to the outside, radians from the vertical.</param>
    /// <param name="enclosedAngle">Angle of walls around an enclosed hollow.</param>
    /// <param name="largestTurn">Largest turn from one plane to the next at a corner, radians.</param>
    public static List<TerrainPiece> Build(
        ImmutableArray<FallEdge> edges, ImmutableArray<Vec3> tips, Func<Vec3, bool> isHidden, double openAngle, double enclosedAngle, double largestTurn)
    {
        var downhill = edges.Select(e => Downhill(e, Angle(e))).ToArray();
        var starts = downhill.ToArray();
        var ends = downhill.ToArray();
        var pieces = new List<TerrainPiece>();
        var corners = new Dictionary<(Vec2, double), List<Meeting>>();
        for (var i = 0; i < edges.Length; i++)
        {
            Note(edges[i].From, edges[i].FromHeight, new(i, true, edges[i].To - edges[i].From));
            Note(edges[i].To, edges[i].ToHeight, new(i, false, edges[i].From - edges[i].To));
        }

        var planes = new List<(Vec2 Point, double Height, double Angle, Vec2 Downhill, Vec2 Start, Vec2 End)>();
        foreach (var ((point, height), meetings) in corners)
        {
            if (Pairs(meetings) is { } pairs)
                foreach (var (incoming, outgoing) in pairs) Join(point, height, incoming, outgoing);
            else if (!isHidden(new(point.X, point.Y, height))) Pyramid(point, height, meetings.Max(m => Angle(edges[m.Edge])));
        }

        foreach (var tip in tips) Pyramid(tip.Plan, tip.Z, openAngle);

        for (var i = 0; i < edges.Length; i++)
        {
            var e = edges[i];
            pieces.Add(TerrainPiece.Ramp(e.From, e.To, e.FromHeight, e.ToHeight, Angle(e), downhill[i], starts[i], ends[i], pieces.Count));
        }

        foreach (var q in planes)
            pieces.Add(TerrainPiece.Ramp(q.Point, q.Point, q.Height, q.Height, q.Angle, q.Downhill, q.Start, q.End, pieces.Count));
        return pieces;

        double Angle(FallEdge e) => e.Enclosed ? enclosedAngle : openAngle;

        void Note(Vec2 p, double height, Meeting meeting)
        {
            if (!corners.TryGetValue((p, height), out var list)) corners.Add((p, height), list = []);
            list.Add(meeting);
        }

        // Counter-clockwise round a corner, the ground above an edge lies between its outgoing and the next incoming edge, and a
        // gap to be filled between the incoming and the next outgoing one. Null where it is not so plain.
        List<(Meeting Incoming, Meeting Outgoing)>? Pairs(List<Meeting> meetings)
        {
            if (meetings.Count % 2 != 0) return null;
            meetings.Sort((a, b) => a.Bearing != b.Bearing ? a.Bearing.CompareTo(b.Bearing) : b.Outgoing.CompareTo(a.Outgoing));
            var pairs = new List<(Meeting, Meeting)>();
            for (var i = 0; i < meetings.Count; i++)
            {
                var (m, next) = (meetings[i], meetings[(i + 1) % meetings.Count]);
                if (m.Outgoing == next.Outgoing) return null;
                if (m.Outgoing) continue;
                if (Angle(edges[m.Edge]) != Angle(edges[next.Edge])) return null;
                pairs.Add((m, next));
            }

            return pairs;
        }

        void Join(Vec2 point, double height, Meeting incoming, Meeting outgoing)
        {
            var (before, after) = (downhill[incoming.Edge], downhill[outgoing.Edge]);
            // A ridge ends where the outgoing edge is the incoming one walked back: a whole turn.
            var gap = outgoing.Bearing - incoming.Bearing;
            if (gap <= 1e-12) gap += 2 * Math.PI;
            var turn = gap - Between(before, incoming.Arm) - Between(after, outgoing.Arm);
            if (turn < -1e-9) return;
            // Both neighbours get the very same ray, so that their borders are the same numbers.
            var count = Math.Max(1, (int)Math.Ceiling((turn / largestTurn) - 1e-9));
            var limits = Enumerable.Range(0, count).Select(i => Turned(before, turn * (i + 0.5) / count) / Math.Cos(turn / (2 * count))).ToArray();
            ends[incoming.Edge] = limits[0];
            starts[outgoing.Edge] = limits[^1];
            for (var i = 1; i < count; i++)
                planes.Add((point, height, Angle(edges[incoming.Edge]), Turned(before, turn * i / count), limits[i - 1], limits[i]));
        }

        void Pyramid(Vec2 point, double height, double angle)
        {
            var count = (int)Math.Ceiling(2 * Math.PI / largestTurn);
            var limits = Enumerable.Range(0, count).Select(i => Turned(new(1, 0), 2 * Math.PI * (i - 0.5) / count) / Math.Cos(Math.PI / count)).ToArray();
            for (var i = 0; i < count; i++)
                planes.Add((point, height, angle, Turned(new(1, 0), 2 * Math.PI * i / count), limits[i], limits[(i + 1) % count]));
        }
    }

    /// <summary>An edge at one of its ends.</summary>
    /// <param name="Edge">Its number.</param>
    /// <param name="Outgoing">Whether this is its start.</param>
    /// <param name="Arm">From the corner to its other end.</param>
    private readonly record struct Meeting(int Edge, bool Outgoing, Vec2 Arm)
    {
        public double Bearing { get; } = Math.Atan2(Arm.Y, Arm.X);
    }

    /// <summary>The unit vector to the right of an edge in which the plane through it with the given angle falls.</summary>
    private static Vec2 Downhill(FallEdge e, double angle)
    {
        var (along, right) = ((e.To - e.From).Normalized(), -(e.To - e.From).Normalized().Left);
        if (e.FromHeight == e.ToHeight) return right;
        var back = (e.ToHeight - e.FromHeight) / (e.To - e.From).Length * Math.Tan(angle);
        return (-back * along) + (Math.Sqrt(1 - (back * back)) * right);
    }

    private static double Between(Vec2 a, Vec2 b) => Math.Atan2(Math.Abs(Vec2.Cross(a, b)), Vec2.Dot(a, b));

    private static Vec2 Turned(Vec2 v, double angle)
    {
        var (s, c) = Math.SinCos(angle);
        return new((c * v.X) - (s * v.Y), (s * v.X) + (c * v.Y));
    }
}
