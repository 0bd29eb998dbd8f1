using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>LWPOLYLINE and POLYLINE: straight segments and arcs given by bulges.</summary>
internal static class PolylineCurve
{
    private const string TooShort = "it has fewer than two vertices";

    /// <summary>An LWPOLYLINE: all vertices in one entity, in object coordinates.</summary>
    public static Drawn Light(DxfRecord entity, Affine3 map, double tolerance, Action<int> spend)
    {
        var closed = (entity.Whole(70, 0) & 1) != 0;
        var vertices = new List<PlanVertex>();
        double? x = null;
        foreach (ref readonly var tag in entity.Tags.Span)
        {
            switch (tag.Code)
            {
                case 10 when x is null:
                    x = entity.NumberOf(tag);
                    break;
                case 20 when x is not null:
                    vertices.Add(new(new(x.Value, entity.NumberOf(tag))));
                    x = null;
                    break;
                case 42 when x is null && vertices.Count > 0:
                    vertices[^1] = new(vertices[^1].Point, entity.NumberOf(tag));
                    break;
                case 10 or 20:
                    throw entity.Fail($"has a vertex with one coordinate only, at line {tag.Line}. Export the drawing again.");
                default:
                    break;
            }
        }

        if (x is not null) throw entity.Fail("has a last vertex with one coordinate only. Export the drawing again.");
        return Flat(vertices, closed, entity.Normal(), entity.Number(38, 0), map, tolerance, spend);
    }

    /// <summary>
    /// A POLYLINE with its VERTEX entries. Flags: 1 closed, 2 curve fitted, 4 spline fitted, 8 in space, 16 mesh, 64 polyface;
    /// at a vertex 16 marks a point of the spline frame, which the curve does not pass (DXF reference, POLYLINE and VERTEX).
    /// </summary>
    public static Drawn Heavy(DxfRecord entity, IReadOnlyList<DxfRecord> entries, Affine3 map, double tolerance, Action<int> spend)
    {
        var flags = entity.Whole(70, 0);
        if ((flags & (16 | 64)) != 0) return Drawn.Not("it is a mesh");
        var kept = entries.Where(e => (e.Whole(70, 0) & 16) == 0).ToList();
        var closed = (flags & 1) != 0;
        if ((flags & 8) != 0) return InSpace([.. kept.Select(e => map.Point(e.Point(10)))], closed, spend);
        var elevation = entity.Number(30, 0);
        return Flat([.. kept.Select(e => new PlanVertex(e.Point(10).Plan, e.Number(42, 0)))], closed, entity.Normal(), elevation, map, tolerance, spend);
    }

    private static Drawn InSpace(List<Vec3> points, bool closed, Action<int> spend)
    {
        if (points.Count < 2) return Drawn.Not(TooShort);
        if (points.Exists(p => !PlanFrame.IsFlat(p - points[0]))) return Drawn.Not("it is a polyline in space that climbs out of the plan");
        spend(points.Count);
        return new([.. points.Select(p => new PlanVertex(p.Plan))], closed, points[0].Z);
    }

    private static Drawn Flat(List<PlanVertex> vertices, bool closed, Vec3 normal, double elevation, Affine3 map, double tolerance, Action<int> spend)
    {
        if (vertices.Count < 2) return Drawn.Not(TooShort);
        if (PlanFrame.Of(map.After(Affine3.ObjectFrame(normal)), elevation, out var reason) is not { } frame) return Drawn.Not(reason);
        if (frame.KeepsCircles)
        {
            spend(vertices.Count);
            return new([.. vertices.Select(v => new PlanVertex(frame.Point(v.Point), frame.Sense * v.Bulge))], closed, frame.Height);
        }

        var drawn = new List<PlanVertex>(vertices.Count);
        for (var i = 0; i < vertices.Count; i++)
        {
            var segment = new PlanSegment(vertices[i].Point, vertices[(i + 1) % vertices.Count].Point, vertices[i].Bulge);
            if (segment.IsArc && segment.Start != segment.End && (closed || i < vertices.Count - 1))
            {
                AppendArc(drawn, segment, frame, tolerance, spend);
            }
            else
            {
                spend(1);
                drawn.Add(new(frame.Point(segment.Start)));
            }
        }

        return new(drawn, closed, frame.Height);
    }

    private static void AppendArc(List<PlanVertex> drawn, PlanSegment arc, PlanFrame frame, double tolerance, Action<int> spend)
    {
        var first = drawn.Count;
        var sagitta = Vec2.Distance(frame.Point(arc.Start), frame.Point(arc.End)) / 2 * Math.Abs(arc.Bulge);
        if (sagitta > tolerance / 100)
        {
            var arm = arc.Start - arc.Centre;
            var start = Math.Atan2(arm.Y, arm.X) * 180 / Math.PI;
            new Conic(frame.Point(arc.Centre), arc.Radius * frame.U, arc.Radius * frame.V)
                .Append(drawn, start, arc.Sweep * 180 / Math.PI, tolerance, spend);
        }
        else
        {
            spend(1);
            drawn.Add(default);
        }

        // The vertex itself, not the point reckoned back from centre and angle.
        drawn[first] = new(frame.Point(arc.Start), drawn[first].Bulge);
    }
}
