using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>Which way the axis of a body of revolution runs.</summary>
public enum TurnedAxis
{
    /// <summary>Along x, in the plan.</summary>
    X,

    /// <summary>Along y, in the plan.</summary>
    Y,

    /// <summary>Along z, upright.</summary>
    Z,
}

/// <summary>
/// Bodies of revolution as prisms with sloped ends. A circle about the axis becomes a regular polygon of the same area whose sides stand
/// off it by at most half the tolerance, to either side; so does an arc of the profile. So a body of straight sides has the volume of the
/// true one, and its surface lies within the tolerance of the true one.
/// </summary>
public static class TurnedBody
{
    /// <summary>A profile with arcs as chords.</summary>
    /// <param name="loops">Closed, even-odd, not crossing: x along the axis, y the distance from it, ≥ 0.</param>
    /// <param name="tolerance">mm.</param>
    public static PlanRegion Profile(IEnumerable<PlanPath> loops, double tolerance) =>
        PlanRegion.EvenOdd(loops.Select(l => PlanPath.Polygon([.. TurnedProfile.Corners(l, tolerance / 2)])), tolerance);

    /// <summary>The prisms, in order: of those over one point, each that removes takes from those of this body alone.</summary>
    /// <param name="profile">x along the axis, y the distance from it, ≥ 0.</param>
    /// <param name="axis">The axis.</param>
    /// <param name="at">Where the origin of the profile lies.</param>
    /// <param name="tolerance">mm.</param>
    /// <exception cref="ArgumentException">A profile reaches across the axis.</exception>
    public static ImmutableArray<Prism> Prisms(PlanRegion profile, TurnedAxis axis, Vec3 at, double tolerance)
    {
        if (profile.IsEmpty) return [];
        var box = profile.Geometry.EnvelopeInternal;
        if (box.MinY < 0) throw new ArgumentException("The profile reaches across the axis.", nameof(profile));
        var corners = profile.Rings();
        var half = HalfTurn(box.MaxY, tolerance);
        return axis == TurnedAxis.Z
            ? [.. Upright(corners, at, half)]
            : [.. Lying(corners, at, half, axis == TurnedAxis.X)];
    }

    /// <summary>What the body covers in plan.</summary>
    public static PlanRegion Shadow(PlanRegion profile, TurnedAxis axis, Vec3 at, double tolerance)
    {
        if (profile.IsEmpty) return PlanRegion.Empty;
        if (axis != TurnedAxis.Z)
        {
            // From the axis out to the farthest side, on both sides of it.
            var sides = TurnedProfile.Slabs([.. profile.Rings()]).Select(s => PlanRegion.Polygon(
                [.. new Vec2[] { new(s.From, -s.HighFrom), new(s.To, -s.HighTo), new(s.To, s.HighTo), new(s.From, s.HighFrom) }.Distinct()]));
            var shadow = PlanRegion.Union(sides);
            return PlanRegion.EvenOdd(shadow.Rings().Select(r => PlanPath.Polygon([.. r.Select(v => at.Plan + (axis == TurnedAxis.X ? v : new(v.Y, v.X)))])), tolerance);
        }

        var half = HalfTurn(profile.Geometry.EnvelopeInternal.MaxY, tolerance);
        var points = EqualAreaPolygon.Corners(2 * half);
        return PlanRegion.Union(TurnedProfile.Slabs(Transposed(profile.Rings())).Select(b => Ring(points, at.Plan, b.From, b.To)));
    }

    /// <summary>How many sides go to half a turn: even, for a corner on top.</summary>
    private static int HalfTurn(double largest, double tolerance)
    {
        // Sides of a polygon of equal area stand off the circle by r δ² / 12 at the corners, less in the middle.
        return 2 * (int)Math.Clamp(Math.Ceiling(Math.PI / 2 / Math.Min(Math.PI / 4, Math.Sqrt(6 * tolerance / largest))), 2, 10_000);
    }

    private static ImmutableArray<ImmutableArray<Vec2>> Transposed(ImmutableArray<ImmutableArray<Vec2>> polygons) =>
        [.. polygons.Select(p => p.Select(c => new Vec2(c.Y, c.X)).ToImmutableArray())];

    private static IEnumerable<Prism> Lying(ImmutableArray<ImmutableArray<Vec2>> profile, Vec3 at, int half, bool alongX)
    {
        var points = EqualAreaPolygon.Corners(2 * half);
        foreach (var band in TurnedProfile.Slabs(profile).OrderBy(b => b.From).ThenByDescending(b => b.HighFrom + b.HighTo))
        {
            foreach (var p in Frustum(band.From, band.To, band.HighFrom, band.HighTo, removes: false)) yield return p;
            foreach (var p in Frustum(band.From, band.To, band.LowFrom, band.LowTo, removes: true)) yield return p;
        }

        IEnumerable<Prism> Frustum(double from, double to, double first, double last, bool removes)
        {
            if (!(first > 0 || last > 0)) yield break;
            for (var j = 0; j < half; j++)
            {
                var (u, v) = (points[j], points[j + 1]);
                Vec3[] c = [On(from, first, u), On(to, last, u), On(to, last, v), On(from, first, v)];
                var plane = first > last ? HeightPlane.Through(c[0], c[1], c[3]) : HeightPlane.Through(c[1], c[2], c[3]);
                HeightPlane below = new((2 * at.Z) - plane.AtOrigin, -plane.Gradient);
                yield return new(Polygon(c), below, plane, removes);
            }
        }

        Vec3 On(double along, double radius, Vec2 direction)
        {
            var (x, y) = (along, radius * direction.X);
            return at + (alongX ? new Vec3(x, y, radius * direction.Y) : new Vec3(y, x, radius * direction.Y));
        }
    }

    private static IEnumerable<Prism> Upright(ImmutableArray<ImmutableArray<Vec2>> profile, Vec3 at, int half)
    {
        var points = EqualAreaPolygon.Corners(2 * half);
        foreach (var band in TurnedProfile.Slabs(Transposed(profile)))
        {
            if (band.LowFrom == band.LowTo && band.HighFrom == band.HighTo)
            {
                yield return new(Ring(points, at.Plan, band.From, band.To), at.Z + band.LowFrom, at.Z + band.HighFrom);
                continue;
            }

            for (var j = 0; j < 2 * half; j++)
            {
                var (u, v) = (points[j], points[(j + 1) % points.Length]);
                yield return new(
                    Polygon([On(band.From, 0, u), On(band.To, 0, u), On(band.To, 0, v), On(band.From, 0, v)]),
                    Cone(band.LowFrom, band.LowTo, u, v),
                    Cone(band.HighFrom, band.HighTo, u, v));
            }

            HeightPlane Cone(double inner, double outer, Vec2 u, Vec2 v) => inner == outer
                ? at.Z + inner
                : HeightPlane.Through(On(band.From, inner, u), On(band.To, outer, u), On(band.To, outer, v));
        }

        Vec3 On(double radius, double height, Vec2 direction) => at + new Vec3(radius * direction.X, radius * direction.Y, height);
    }

    private static PlanRegion Ring(Vec2[] directions, Vec2 centre, double inner, double outer)
    {
        return Disc(outer).Difference(Disc(inner));

        PlanRegion Disc(double radius) => radius <= 0 ? PlanRegion.Empty
            : PlanRegion.Polygon([.. directions.Select(d => centre + (radius * d))]);
    }

    private static PlanRegion Polygon(Vec3[] corners)
    {
        var points = new List<Vec2>();
        foreach (var c in corners)
            if (points.Count == 0 || (points[^1] != c.Plan && points[0] != c.Plan))
                points.Add(c.Plan);
        return points.Count < 3 ? PlanRegion.Empty : PlanRegion.Polygon(points);
    }
}
