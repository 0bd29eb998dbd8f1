using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>
/// A vertex of a <see cref="PlanPath"/> and the bulge of the segment that leaves it:
/// tan(angle / 4) of the arc, positive counter-clockwise, 0 for a straight segment.
/// </summary>
public readonly record struct PlanVertex(Vec2 Point, double Bulge = 0);

/// <summary>
/// A chain of straight segments and true circular arcs in the plan, open or closed.
/// A closed path does not repeat its first vertex; its last bulge belongs to the closing segment.
/// Immutable; lengths in millimetres.
/// </summary>
public sealed class PlanPath
{
    /// <summary>Makes a path from its vertices.</summary>
    /// <exception cref="ArgumentException">Fewer than two vertices, or a coordinate or bulge that is not finite.</exception>
    public PlanPath(ImmutableArray<PlanVertex> vertices, bool closed)
    {
        if (vertices.Length < 2) throw new ArgumentException("A path needs at least two vertices.", nameof(vertices));
        foreach (var v in vertices)
            if (!v.Point.IsFinite || !double.IsFinite(v.Bulge))
                throw new ArgumentException("A path vertex is not a finite number.", nameof(vertices));
        Vertices = vertices;
        IsClosed = closed;
    }

    /// <summary>The vertices in order.</summary>
    public ImmutableArray<PlanVertex> Vertices { get; }

    /// <summary>Whether a last segment leads from the last vertex back to the first.</summary>
    public bool IsClosed { get; }

    /// <summary>Number of segments.</summary>
    public int SegmentCount => IsClosed ? Vertices.Length : Vertices.Length - 1;

    /// <summary>A closed counter-clockwise polygon.</summary>
    public static PlanPath Polygon(params ReadOnlySpan<Vec2> points)
    {
        var b = ImmutableArray.CreateBuilder<PlanVertex>(points.Length);
        foreach (var p in points) b.Add(new(p));
        return new(b.MoveToImmutable(), true);
    }

    /// <summary>A full circle as two half-turn arcs, counter-clockwise.</summary>
    public static PlanPath Circle(Vec2 centre, double diameter)
    {
        var r = diameter / 2;
        return new([new(centre + new Vec2(r, 0), 1), new(centre - new Vec2(r, 0), 1)], true);
    }

    /// <summary>The segment that leaves vertex <paramref name="index"/>.</summary>
    public PlanSegment Segment(int index) => new(
        Vertices[index].Point, Vertices[(index + 1) % Vertices.Length].Point, Vertices[index].Bulge);

    /// <summary>Signed enclosed area of a closed path, arcs included; positive counter-clockwise.</summary>
    public double SignedArea()
    {
        if (!IsClosed) throw new InvalidOperationException("Only a closed path encloses an area.");
        double sum = 0;
        for (var i = 0; i < SegmentCount; i++)
        {
            var s = Segment(i);
            sum += (Vec2.Cross(s.Start, s.End) / 2) + s.CapArea;
        }

        return sum;
    }

    /// <summary>The same path walked the other way.</summary>
    public PlanPath Reversed()
    {
        var n = Vertices.Length;
        var b = ImmutableArray.CreateBuilder<PlanVertex>(n);
        for (var i = n - 1; i >= 0; i--)
            b.Add(new(Vertices[i].Point, -Vertices[(i + n - 1) % n].Bulge));
        return new(b.MoveToImmutable(), IsClosed);
    }

    /// <summary>The path under a similarity of the plan: turn, uniform scale (> 0), optional mirror in x before both, shift.</summary>
    public PlanPath Transformed(double scale, double turn, Vec2 shift, bool mirrored = false)
    {
        var (s, c) = Math.SinCos(turn);
        var b = ImmutableArray.CreateBuilder<PlanVertex>(Vertices.Length);
        foreach (var v in Vertices)
        {
            var x = mirrored ? -v.Point.X : v.Point.X;
            var p = new Vec2((c * x) - (s * v.Point.Y), (s * x) + (c * v.Point.Y));
            b.Add(new((scale * p) + shift, mirrored ? -v.Bulge : v.Bulge));
        }

        return new(b.MoveToImmutable(), IsClosed);
    }

    /// <summary>
    /// The path as points on it, no chord farther than <paramref name="chordTolerance"/> from its arc.
    /// The first point of a closed path is not repeated.
    /// </summary>
    public List<Vec2> Flatten(double chordTolerance)
    {
        var points = new List<Vec2>();
        for (var i = 0; i < SegmentCount; i++) Segment(i).AppendChords(points, chordTolerance);
        if (!IsClosed) points.Add(Vertices[^1].Point);
        return points;
    }
}
