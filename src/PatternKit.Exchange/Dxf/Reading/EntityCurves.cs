using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>What became of an entity: the vertices of a path at a height, not yet checked, or why there are none.</summary>
internal readonly record struct Drawn(IReadOnlyList<PlanVertex> Vertices, bool IsClosed, double Height, string? Omitted = null)
{
    public static Drawn Not(string reason) => new([], false, 0, reason);

    /// <summary>The path, by which every curve of a drawing is made: no point or arc of it lies beyond <see cref="DxfLimits.Coordinate"/>.</summary>
    /// <exception cref="InputException">A number of it is not finite or beyond that bound.</exception>
    public PlanPath Path(DxfRecord entity)
    {
        for (var i = 0; i < Vertices.Count; i++)
        {
            var v = Vertices[i];
            var reach = Math.Max(Math.Abs(v.Point.X), Math.Abs(v.Point.Y));
            // An arc of more than half a turn lies within its diameter, chord (1 + b²) / (2 b), of its start.
            if (Math.Abs(v.Bulge) > 1) reach += Vec2.Distance(v.Point, Vertices[(i + 1) % Vertices.Count].Point) * Math.Abs(v.Bulge);
            if (!(reach <= DxfLimits.Coordinate) || !double.IsFinite(v.Bulge))
                throw entity.Fail("has a point or an arc that lies farther out than a drawing can reach, or nowhere at all. Redraw it, or check the scales of the blocks that it stands in.");
        }

        return new([.. Vertices], IsClosed);
    }
}

/// <summary>Turns entities, placed by an affine map, into plan paths.</summary>
/// <param name="tolerance">Largest distance of a fitted arc from its ellipse or spline, drawing units.</param>
/// <param name="spend">Told the number of vertices made; throws when the drawing becomes too large.</param>
internal sealed class EntityCurves(double tolerance, Action<int> spend)
{
    /// <summary>Whether entities of this type are curves that are read.</summary>
    public static bool Reads(string type) =>
        type is "LINE" or "ARC" or "CIRCLE" or "ELLIPSE" or "SPLINE" or "LWPOLYLINE" or "POLYLINE";

    /// <summary>The path of an entity.</summary>
    /// <param name="entity">The entity.</param>
    /// <param name="vertices">The VERTEX entries that follow a POLYLINE.</param>
    /// <param name="map">World coordinates of the entity's surroundings to those of the drawing.</param>
    public Drawn Draw(DxfRecord entity, IReadOnlyList<DxfRecord> vertices, Affine3 map) => entity.Type switch
    {
        "LINE" => Line(entity, map),
        "ARC" => Arc(entity, map),
        "CIRCLE" => Circle(entity, map),
        "ELLIPSE" => Ellipse(entity, map),
        "SPLINE" => new SplineCurve(entity, tolerance, spend).Draw(map),
        "LWPOLYLINE" => PolylineCurve.Light(entity, map, tolerance, spend),
        "POLYLINE" => PolylineCurve.Heavy(entity, vertices, map, tolerance, spend),
        _ => throw new ArgumentOutOfRangeException(nameof(entity)),
    };

    private Drawn Line(DxfRecord entity, Affine3 map)
    {
        var (a, b) = (map.Point(entity.Point(10)), map.Point(entity.Point(11)));
        if (!PlanFrame.IsFlat(b - a)) return Drawn.Not("it climbs out of the plan");
        if (a.Plan == b.Plan) return Drawn.Not("its length is zero");
        spend(2);
        return new([new(a.Plan), new(b.Plan)], false, a.Z);
    }

    private Drawn Arc(DxfRecord entity, Affine3 map)
    {
        if (Round(entity, map, out var conic, out var height) is { } reason) return Drawn.Not(reason);
        var (start, end) = (entity.Number(50), entity.Number(51));
        return Part(conic, start, Degrees.Sweep(start, end), height);
    }

    private Drawn Circle(DxfRecord entity, Affine3 map)
    {
        if (Round(entity, map, out var conic, out var height) is { } reason) return Drawn.Not(reason);
        spend(2);
        return new(conic.Whole(tolerance, spend), true, height);
    }

    // Centre and radius are in object coordinates.
    private static string? Round(DxfRecord entity, Affine3 map, out Conic conic, out double height)
    {
        (conic, height) = (default, 0);
        var (centre, radius) = (entity.Point(10), entity.Number(40));
        if (radius <= 0) return "its radius is not above zero";
        if (PlanFrame.Of(map.After(Affine3.ObjectFrame(entity.Normal())), centre.Z, out var reason) is not { } frame) return reason;
        conic = new(frame.Point(centre.Plan), radius * frame.U, radius * frame.V);
        height = frame.Height;
        return null;
    }

    // Centre and major axis are in world coordinates; the minor axis is N x major, shortened by the ratio.
    private Drawn Ellipse(DxfRecord entity, Affine3 map)
    {
        var (centre, major, ratio) = (entity.Point(10), entity.Point(11), entity.Number(40));
        var minor = ratio * Vec3.Cross(entity.Normal(), major);
        if (!(minor.Length > 1e-9 * major.Length)) return Drawn.Not("it has no width");
        var (p, q, at) = (map.Vector(major), map.Vector(minor), map.Point(centre));
        if (!PlanFrame.IsFlat(p) || !PlanFrame.IsFlat(q)) return Drawn.Not("it is tilted out of the plan");
        if (Vec2.Cross(p.Plan, q.Plan) == 0) return Drawn.Not("its scale leaves nothing of it");
        const double PerRadian = 180 / Math.PI;
        var (start, end) = (entity.Number(41, 0) * PerRadian, entity.Number(42, 2 * Math.PI) * PerRadian);
        return Part(new(at.Plan, p.Plan, q.Plan), start, Degrees.Sweep(start, end), at.Z);
    }

    private Drawn Part(Conic conic, double start, double sweep, double height)
    {
        if (sweep >= 360 - Conic.FullTurnSlack) return new(conic.Whole(tolerance, spend), true, height);
        if (sweep <= Conic.FullTurnSlack) return Drawn.Not("its sweep is zero");
        var vertices = new List<PlanVertex>();
        conic.Append(vertices, start, sweep, tolerance, spend);
        vertices.Add(new(conic.At(start + sweep)));
        return new(vertices, false, height);
    }
}
