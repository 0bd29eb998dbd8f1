using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Geometries.Prepared;
using NetTopologySuite.Geometries.Utilities;
using NetTopologySuite.Operation.Buffer;
using NetTopologySuite.Operation.OverlayNG;
using NetTopologySuite.Simplify;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>
/// A set of the plan bounded by polygons, holes allowed, pieces allowed: the flattened companion of
/// <see cref="PlanPath"/>. Union, difference, intersection and offset are those of NetTopologySuite.
/// Immutable; lengths in millimetres.
/// </summary>
public sealed class PlanRegion
{
    private static readonly GeometryFactory Factory = new();

    private readonly Lazy<IPreparedGeometry> prepared;
    private ImmutableArray<ImmutableArray<Vec2>> rings;

    private PlanRegion(NetTopologySuite.Geometries.Geometry geometry)
    {
        Geometry = geometry;
        prepared = new(() => PreparedGeometryFactory.Prepare(geometry));
    }

    /// <summary>The region that contains nothing.</summary>
    public static PlanRegion Empty { get; } = new(Factory.CreatePolygon());

    /// <summary>The polygons behind the region, always polygonal and valid.</summary>
    public NetTopologySuite.Geometries.Geometry Geometry { get; }

    /// <summary>Whether the region has no area.</summary>
    public bool IsEmpty => Geometry.IsEmpty;

    /// <summary>Area, mm².</summary>
    public double Area => Geometry.Area;

    /// <summary>The centroid.</summary>
    public Vec2 Centroid => IsEmpty ? default : new(Geometry.Centroid.X, Geometry.Centroid.Y);

    /// <summary>A point inside, in the middle of a wide place.</summary>
    public Vec2 InnerPoint => IsEmpty ? default : new(Geometry.InteriorPoint.X, Geometry.InteriorPoint.Y);

    /// <summary>Wraps polygonal geometry; lines and points in a collection are dropped.</summary>
    public static PlanRegion From(NetTopologySuite.Geometries.Geometry geometry)
    {
        var polygons = PolygonExtracter.GetPolygons(geometry).Cast<Polygon>()
            .Where(p => !p.IsEmpty).ToArray();
        return polygons.Length switch
        {
            0 => Empty,
            1 => new(polygons[0]),
            _ => new(Factory.CreateMultiPolygon(polygons)),
        };
    }

    /// <summary>The region inside an odd number of the closed loops.</summary>
    /// <param name="loops">Closed paths that do not cross themselves.</param>
    /// <param name="chordTolerance">Largest distance of a chord from its arc.</param>
    public static PlanRegion EvenOdd(IEnumerable<PlanPath> loops, double chordTolerance)
    {
        NetTopologySuite.Geometries.Geometry region = Factory.CreatePolygon();
        foreach (var loop in loops)
            region = OverlayNGRobust.Overlay(region, Factory.CreatePolygon(Ring(loop.Flatten(chordTolerance))), NetTopologySuite.Operation.Overlay.SpatialFunction.SymDifference);
        return From(region);
    }

    /// <summary>The region of one simple polygon.</summary>
    public static PlanRegion Polygon(IReadOnlyList<Vec2> points) => new(Factory.CreatePolygon(Ring(points)));

    /// <summary>An upright rectangle.</summary>
    public static PlanRegion Rectangle(Vec2 low, Vec2 high) =>
        Polygon([low, new(high.X, low.Y), high, new(low.X, high.Y)]);

    /// <summary>Points of either.</summary>
    public PlanRegion Union(PlanRegion other) => Overlay(other, NetTopologySuite.Operation.Overlay.SpatialFunction.Union);

    /// <summary>Points of this that are not in the other.</summary>
    public PlanRegion Difference(PlanRegion other) => Overlay(other, NetTopologySuite.Operation.Overlay.SpatialFunction.Difference);

    /// <summary>Points of both.</summary>
    public PlanRegion Intersection(PlanRegion other) => Overlay(other, NetTopologySuite.Operation.Overlay.SpatialFunction.Intersection);

    /// <summary>
    /// The region grown by <paramref name="distance"/> (shrunk when negative). The points of an arc lie on the true
    /// circle; its chords keep within <paramref name="chordTolerance"/> and within an eighth of a turn each.
    /// </summary>
    public PlanRegion Offset(double distance, double chordTolerance)
    {
        if (distance == 0 || IsEmpty) return this;
        var radius = Math.Abs(distance);
        const double largestTurn = Math.PI / 4;
        var turn = radius <= chordTolerance ? largestTurn : Math.Min(largestTurn, 2 * Math.Acos(1 - (chordTolerance / radius)));
        var quarter = (int)Math.Clamp(Math.Ceiling(Math.PI / 2 / turn), 1, 1000);
        // Simplifying the input would move the contour by more than the tolerance of the caller.
        var parameters = new BufferParameters(quarter, EndCapStyle.Round) { SimplifyFactor = 1e-9 };
        return From(BufferOp.Buffer(Geometry, distance, parameters));
    }

    /// <summary>The region with as few vertices as keep its contour within a distance, mm.</summary>
    public PlanRegion Simplified(double within) => From(DouglasPeuckerSimplifier.Simplify(Geometry, within));

    /// <summary>The region under a similarity of the plan, as <see cref="PlanPath.Transformed"/> has it.</summary>
    public PlanRegion Transformed(double scale, double turn, Vec2 shift, bool mirrored = false)
    {
        var (s, c) = Math.SinCos(turn);
        var mirror = mirrored ? -1 : 1;
        return new(new AffineTransformation(scale * c * mirror, -scale * s, shift.X, scale * s * mirror, scale * c, shift.Y).Transform(Geometry));
    }

    /// <summary>Points of any of the regions.</summary>
    public static PlanRegion Union(IEnumerable<PlanRegion> regions)
    {
        var parts = regions.Where(r => !r.IsEmpty).Select(r => r.Geometry).ToArray();
        return parts.Length == 0 ? Empty : From(OverlayNGRobust.Union((IEnumerable<NetTopologySuite.Geometries.Geometry>)parts));
    }

    /// <summary>Points of any of some regions that do not overlap and share their border vertices exactly; quick for many.</summary>
    public static PlanRegion UnionOfCoverage(IEnumerable<PlanRegion> regions)
    {
        var parts = regions.Where(r => !r.IsEmpty).Select(r => r.Geometry).ToArray();
        return parts.Length == 0 ? Empty : From(CoverageUnion.Union(Factory.BuildGeometry(parts)));
    }

    /// <summary>Points of any of the regions, with every vertex rounded to a lattice (snap rounding); quick for many.</summary>
    public static PlanRegion UnionOn(Lattice lattice, IEnumerable<PlanRegion> regions) => UnionOn(lattice, regions, []);

    /// <summary>As <see cref="UnionOn(Lattice, IEnumerable{PlanRegion})"/>, with some simple polygons beside the regions.</summary>
    /// <param name="lattice">The lattice.</param>
    /// <param name="regions">The regions.</param>
    /// <param name="polygons">The corners of each, either way round, the first not repeated.</param>
    public static PlanRegion UnionOn(Lattice lattice, IEnumerable<PlanRegion> regions, IEnumerable<IReadOnlyList<Vec2>> polygons)
    {
        var union = LatticeUnion.Of(lattice, regions.SelectMany(r => r.Rings()).Select(r => (IReadOnlyList<Vec2>)r).Concat(polygons.Select(CounterClockwise)), Factory);
        return union.Length == 0 ? Empty : From(Factory.BuildGeometry(union));

        static IReadOnlyList<Vec2> CounterClockwise(IReadOnlyList<Vec2> polygon)
        {
            var twice = 0.0;
            for (var i = 2; i < polygon.Count; i++) twice += Vec2.Cross(polygon[i - 1] - polygon[0], polygon[i] - polygon[0]);
            return twice >= 0 ? polygon : [.. polygon.Reverse()];
        }
    }

    /// <summary>
    /// The region without the rings, outer or inner, that are narrower than about <paramref name="width"/>: what rounding leaves
    /// where borders that should coincide do not quite.
    /// </summary>
    public PlanRegion WithoutSlivers(double width)
    {
        bool Is(LineString ring) => NetTopologySuite.Algorithm.Area.OfRing(ring.CoordinateSequence) <= width * ring.Length / 2;
        var polygons = new List<Polygon>();
        var changed = false;
        for (var i = 0; i < Geometry.NumGeometries; i++)
        {
            if (Geometry.GetGeometryN(i) is not Polygon { IsEmpty: false } polygon) continue;
            if (Is(polygon.Shell))
            {
                changed = true;
                continue;
            }

            var holes = polygon.Holes.Where(h => !Is(h)).ToArray();
            changed |= holes.Length < polygon.NumInteriorRings;
            polygons.Add(Factory.CreatePolygon((LinearRing)polygon.Shell, [.. holes.Cast<LinearRing>()]));
        }

        return changed ? From(Factory.CreateMultiPolygon([.. polygons])) : this;
    }

    /// <summary>The region without the holes of which a place in their middle says so.</summary>
    /// <param name="isNone">Whether a hole is none, asked at a place in it.</param>
    public PlanRegion WithoutHoles(Func<Vec2, bool> isNone) => From(Factory.BuildGeometry(
        [.. Pieces().Select(p => (Polygon)p.Geometry).Select(p => Factory.CreatePolygon(
            (LinearRing)p.Shell, [.. p.Holes.Cast<LinearRing>().Where(h => !isNone(From(Factory.CreatePolygon(h)).InnerPoint))]))]));

    /// <summary>The region with its holes filled.</summary>
    public PlanRegion Filled() =>
        Union(Enumerable.Range(0, Geometry.NumGeometries).Select(Geometry.GetGeometryN).OfType<Polygon>()
            .Where(p => !p.IsEmpty).Select(p => new PlanRegion(Factory.CreatePolygon((LinearRing)p.Shell))));

    /// <summary>The connected pieces, each with its holes.</summary>
    public IEnumerable<PlanRegion> Pieces() =>
        Enumerable.Range(0, Geometry.NumGeometries).Select(Geometry.GetGeometryN).Where(g => !g.IsEmpty).Select(From);

    /// <summary>Whether the point is inside or on the boundary.</summary>
    public bool Contains(Vec2 p) =>
        NetTopologySuite.Algorithm.Locate.SimplePointInAreaLocator.Locate(new Coordinate(p.X, p.Y), Geometry) != Location.Exterior;

    /// <summary>The pieces of open lines that lie inside the region.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Inside(IEnumerable<ImmutableArray<Vec2>> lines)
    {
        foreach (var line in lines)
        {
            var whole = Factory.CreateLineString([.. line.Select(p => new Coordinate(p.X, p.Y))]);
            if (prepared.Value.Covers(whole))
            {
                yield return line;
                continue;
            }

            var merger = new NetTopologySuite.Operation.Linemerge.LineMerger();
            merger.Add(OverlayNGRobust.Overlay(whole, Geometry, NetTopologySuite.Operation.Overlay.SpatialFunction.Intersection));
            foreach (var part in merger.GetMergedLineStrings())
                yield return [.. part.Coordinates.Select(c => new Vec2(c.X, c.Y))];
        }
    }

    /// <summary>The rings as open lines that end where they start.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Borders() => Rings().Select(r => r.Add(r[0]));

    /// <summary>Whether a disc lies in the region, its border included.</summary>
    public bool ContainsDisc(Vec2 middle, double radius) => Contains(middle) && Geometry.Boundary.Distance(PointAt(middle)) >= radius;

    /// <summary>How far a point is from the region, mm; 0 inside.</summary>
    public double Distance(Vec2 p) => Geometry.Distance(PointAt(p));

    private NetTopologySuite.Geometries.Point PointAt(Vec2 p) => Geometry.Factory.CreatePoint(new Coordinate(p.X, p.Y));

    /// <summary>Whether no point of the other region is outside this one. Meant for many questions to one region.</summary>
    public bool Covers(PlanRegion other) => prepared.Value.Covers(other.Geometry);

    /// <summary>Whether no point of an upright rectangle is outside. Meant for many questions to one region.</summary>
    public bool CoversRectangle(Vec2 low, Vec2 high)
    {
        foreach (var ring in Rings())
        {
            for (var i = 0; i < ring.Length; i++)
                if (Passes(ring[i], ring[i + 1 < ring.Length ? i + 1 : 0])) return false;
        }

        return Contains(0.5 * (low + high));

        // Whether a side has a stretch inside the rectangle.
        bool Passes(Vec2 a, Vec2 b)
        {
            if (Math.Max(a.X, b.X) <= low.X || Math.Min(a.X, b.X) >= high.X || Math.Max(a.Y, b.Y) <= low.Y || Math.Min(a.Y, b.Y) >= high.Y) return false;
            var (from, to) = (0.0, 1.0);
            Between(a.X, b.X - a.X, low.X, high.X);
            Between(a.Y, b.Y - a.Y, low.Y, high.Y);
            return from < to;

            void Between(double start, double way, double least, double most)
            {
                if (way == 0) return;
                var (enter, leave) = ((least - start) / way, (most - start) / way);
                if (enter > leave) (enter, leave) = (leave, enter);
                (from, to) = (Math.Max(from, enter), Math.Min(to, leave));
            }
        }
    }

    /// <summary>The first point of the region on the way from one point to another, its border included; null where it meets none.</summary>
    public Vec2? FirstMet(Vec2 from, Vec2 to)
    {
        if (Contains(from)) return from;
        var (way, first) = (to - from, double.PositiveInfinity);
        foreach (var (a, b) in Sides())
        {
            var (side, off) = (b - a, a - from);
            var turn = Vec2.Cross(way, side);
            if (turn != 0)
            {
                var (along, across) = (Vec2.Cross(off, side) / turn, Vec2.Cross(off, way) / turn);
                if (along >= 0 && along <= 1 && across >= 0 && across <= 1) first = Math.Min(first, along);
            }
            else if (Vec2.Cross(way, off) == 0)
            {
                foreach (var end in (ReadOnlySpan<Vec2>)[a, b])
                    if (Vec2.Dot(end - from, way) / way.LengthSquared is var t and >= 0 and <= 1) first = Math.Min(first, t);
            }
        }

        return double.IsFinite(first) ? from + (first * way) : null;
    }

    /// <summary>A ring as a line that ends where it starts, for distances from it.</summary>
    /// <param name="ring">First point not repeated.</param>
    public static LineString Line(IReadOnlyList<Vec2> ring) => Ring(ring);

    /// <summary>The rings: every outer one counter-clockwise, every hole clockwise, first point not repeated.</summary>
    public ImmutableArray<ImmutableArray<Vec2>> Rings()
    {
        // Asked for again and again; whoever reads them twice at a time reads the same.
        if (rings.IsDefault) rings = Read();
        return rings;
    }

    /// <summary>The sides of all rings, each the way its ring runs.</summary>
    public IEnumerable<(Vec2 From, Vec2 To)> Sides() => Rings().SelectMany(r => r.Select((p, i) => (p, r[(i + 1) % r.Length])));

    private ImmutableArray<ImmutableArray<Vec2>> Read()
    {
        var read = ImmutableArray.CreateBuilder<ImmutableArray<Vec2>>();
        for (var i = 0; i < Geometry.NumGeometries; i++)
        {
            if (Geometry.GetGeometryN(i) is not Polygon { IsEmpty: false } polygon) continue;
            read.Add(Points(polygon.Shell, counterClockwise: true));
            foreach (var hole in polygon.Holes) read.Add(Points((LinearRing)hole, counterClockwise: false));
        }

        return read.ToImmutable();
    }

    private static ImmutableArray<Vec2> Points(LinearRing ring, bool counterClockwise)
    {
        var sequence = ring.CoordinateSequence;
        var points = ImmutableArray.CreateBuilder<Vec2>(sequence.Count - 1);
        for (var i = 0; i + 1 < sequence.Count; i++) points.Add(new(sequence.GetX(i), sequence.GetY(i)));
        if (ring.IsCCW != counterClockwise) points.Reverse();
        return points.MoveToImmutable();
    }

    private static LinearRing Ring(IReadOnlyList<Vec2> points) =>
        Factory.CreateLinearRing([.. points.Append(points[0]).Select(p => new Coordinate(p.X, p.Y))]);

    private PlanRegion Overlay(PlanRegion other, NetTopologySuite.Operation.Overlay.SpatialFunction function) =>
        From(OverlayNGRobust.Overlay(Geometry, other.Geometry, function));
}
