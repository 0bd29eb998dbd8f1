using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The ramps that fall from the steps of a terrain of plateaus. At a corner that juts out, the cone of the exact envelope is
/// replaced by planes that touch it from outside, each of the full angle, so that every facet has exactly the draft that was
/// asked for; they turn by no more than a limit each.
/// </summary>
internal static class Ramps
{
    /// <summary>All ramps, numbered as surfaces from 0.</summary>
    /// <param name="steps">The steps.</param>
    /// <param name="openAngle">Angle of walls open to the outside, radians from the vertical.</param>
    /// <param name="enclosedAngle">Angle of walls around an enclosed hollow.</param>
    /// <param name="largestTurn">Largest turn from one plane to the next at a corner, radians.</param>
    public static List<TerrainPiece> Build(ImmutableArray<StepEdge> steps, double openAngle, double enclosedAngle, double largestTurn)
    {
        var starts = steps.Select(RightNormal).ToArray();
        var ends = steps.Select(RightNormal).ToArray();
        var pieces = new List<TerrainPiece>();
        var corners = new Dictionary<(Vec2, double), List<int>>();
        for (var i = 0; i < steps.Length; i++)
        {
            Note(steps[i].From, i);
            Note(steps[i].To, i);
        }

        var planes = new List<(Vec2 Point, double Height, double Angle, Vec2 Downhill, Vec2 Start, Vec2 End)>();
        foreach (var ((point, height), edges) in corners)
        {
            if (IsPlain(edges, point, out var incoming, out var outgoing)) Join(point, height, incoming, outgoing);
            else Pyramid(point, height, edges.Max(i => Angle(steps[i])));
        }

        for (var i = 0; i < steps.Length; i++)
            pieces.Add(TerrainPiece.Ramp(steps[i].From, steps[i].To, steps[i].High, Angle(steps[i]), RightNormal(steps[i]), starts[i], ends[i], pieces.Count));
        foreach (var q in planes)
            pieces.Add(TerrainPiece.Ramp(q.Point, q.Point, q.Height, q.Angle, q.Downhill, q.Start, q.End, pieces.Count));
        return pieces;

        double Angle(StepEdge e) => e.Enclosed ? enclosedAngle : openAngle;

        void Note(Vec2 p, int edge)
        {
            if (!corners.TryGetValue((p, steps[edge].High), out var list)) corners.Add((p, steps[edge].High), list = []);
            list.Add(edge);
        }

        bool IsPlain(List<int> edges, Vec2 point, out int incoming, out int outgoing)
        {
            (incoming, outgoing) = (edges[0], edges[^1]);
            if (edges.Count != 2) return false;
            if (steps[incoming].From == point) (incoming, outgoing) = (outgoing, incoming);
            return steps[incoming].To == point && steps[outgoing].From == point && Angle(steps[incoming]) == Angle(steps[outgoing]);
        }

        void Join(Vec2 point, double height, int incoming, int outgoing)
        {
            var (before, after) = (RightNormal(steps[incoming]), RightNormal(steps[outgoing]));
            var turn = Math.Atan2(Vec2.Cross(before, after), Vec2.Dot(before, after));
            if (turn <= -Math.PI + 1e-9) turn = Math.PI;
            if (turn < -1e-9) return;
            // Both neighbours get the very same ray, so that their borders are the same numbers.
            var count = Math.Max(1, (int)Math.Ceiling((turn / largestTurn) - 1e-9));
            var limits = Enumerable.Range(0, count).Select(i => Turned(before, turn * (i + 0.5) / count) / Math.Cos(turn / (2 * count))).ToArray();
            ends[incoming] = limits[0];
            starts[outgoing] = limits[^1];
            for (var i = 1; i < count; i++)
                planes.Add((point, height, Angle(steps[incoming]), Turned(before, turn * i / count), limits[i - 1], limits[i]));
        }

        void Pyramid(Vec2 point, double height, double angle)
        {
            var count = (int)Math.Ceiling(2 * Math.PI / largestTurn);
            var limits = Enumerable.Range(0, count).Select(i => Turned(new(1, 0), 2 * Math.PI * (i - 0.5) / count) / Math.Cos(Math.PI / count)).ToArray();
            for (var i = 0; i < count; i++)
                planes.Add((point, height, angle, Turned(new(1, 0), 2 * Math.PI * i / count), limits[i], limits[(i + 1) % count]));
        }
    }

    private static Vec2 RightNormal(StepEdge e) => -(e.To - e.From).Normalized().Left;

    private static Vec2 Turned(Vec2 v, double angle)
    {
        var (s, c) = Math.SinCos(angle);
        return new((c * v.X) - (s * v.Y), (s * v.X) + (c * v.Y));
    }
}
