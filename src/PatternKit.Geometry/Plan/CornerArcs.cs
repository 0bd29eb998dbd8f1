using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>An inside corner that was rounded.</summary>
/// <param name="Corner">The corner.</param>
/// <param name="Radius">The radius that it got.</param>
/// <param name="Fill">What fills it; it reaches a little into the region, so that no hair is left along its walls.</param>
public readonly record struct CornerArc(InsideCorner Corner, double Radius, PlanRegion Fill);

/// <summary>Rounds inside corners of a region by arcs of few chords, which hold as much as the true arc.</summary>
public static class CornerArcs
{
    /// <summary>How far what is filled reaches into the region, mm.</summary>
    private const double Into_mm = 0.05;

    /// <summary>A disc that spans two vertices rests on what is beyond both, and would fill the groove between them, radians.</summary>
    private const double Second = Math.PI / 9;

    /// <summary>Distances within this part of a radius count as the radius.</summary>
    private const double Near = 2e-3;

    /// <summary>The region with its inside corners rounded: each by the first of some radii that fits there.</summary>
    /// <param name="region">The region.</param>
    /// <param name="radii">The radii, largest first, mm.</param>
    /// <param name="chord">Largest distance of corners and chords from their arcs, mm.</param>
    /// <param name="keep">Corners that stay as they are.</param>
    /// <param name="straight">Only radii whose arcs end where the wall is straight from there to the corner, so that nothing of the corner is left over.</param>
    /// <returns>The region, and the corners that were rounded.</returns>
    public static (PlanRegion Region, ImmutableArray<CornerArc> Rounded) Of(
        PlanRegion region, IEnumerable<double> radii, double chord, Func<InsideCorner, bool> keep, bool straight = false)
    {
        var rounded = ImmutableArray.CreateBuilder<CornerArc>();
        foreach (var radius in radii)
        {
            foreach (var corner in InsideCorners.Of(region, radius, chord).Where(c => !keep(c)))
            {
                // Where a larger arc is already, a smaller one shows the same corner.
                if (corner.Turn - corner.TurnAt > Second || rounded.Any(r => r.Corner.Fill.Geometry.IsWithinDistance(corner.Fill.Geometry, Near * radius))) continue;
                if (Fill(region, corner, radius, chord, straight) is { } fill) rounded.Add(new(corner, radius, fill));
            }
        }

        return (rounded.Count == 0 ? region : PlanRegion.Union(rounded.Select(r => r.Fill).Prepend(region)), rounded.ToImmutable());
    }

    /// <summary>What the arc leaves in a corner, and a little of the region around it; null where a disc of the radius does not touch both walls.</summary>
    private static PlanRegion? Fill(PlanRegion region, InsideCorner corner, double radius, double chord, bool straight)
    {
        // The disc rests where the outline, grown by its radius, turns inward.
        var rests = InsideCorners.InwardTurns(region.Offset(radius, Near * radius)).Select(v => v.At).ToArray();
        if (rests.Length == 0) return null;
        var centre = rests.MinBy(v => Vec2.Distance(v, corner.At));
        // On either side of the corner it touches a wall.
        var toCorner = corner.At - centre;
        var touched = region.Sides().Select(s => Vec2.Nearest(centre, s.From, s.To) - centre)
            .Where(d => Math.Abs(d.Length - radius) < Near * radius).ToLookup(d => Vec2.Cross(toCorner, d) > 0);
        if (!touched[true].Any() || !touched[false].Any()) return null;
        var (first, last) = (touched[false].MinBy(d => d.Length).Normalized(), touched[true].MinBy(d => d.Length).Normalized());
        var turn = Math.Atan2(Vec2.Cross(first, last), Vec2.Dot(first, last));
        if (!(turn > 0) || turn > 0.95 * Math.PI) return null;

        // The ends lie on the walls; the corners between so much farther out that the fan holds what the sector does. That is the farthest off that any of it is.
        var (steps, outer) = (2, double.PositiveInfinity);
        while (outer - radius > chord)
        {
            steps++;
            outer = radius * (Math.Sqrt(1 + ((steps - 2) * turn / Math.Sin(turn / steps))) - 1) / (steps - 2);
        }

        var step = turn / steps;
        var fan = new List<Vec2> { centre };
        for (var i = 0; i <= steps; i++)
        {
            var (sin, cos) = Math.SinCos(i * step);
            fan.Add(centre + ((i == 0 || i == steps ? radius : outer) * ((cos * first) + (sin * first.Left))));
        }

        var middle = (first + last).Normalized();
        var wedge = PlanRegion.Polygon([centre, centre + ((radius + Into_mm) * first), centre + (((radius / Math.Cos(turn / 2)) + Into_mm) * middle), centre + ((radius + Into_mm) * last)]);
        // Where an arc ends on a curved wall its tangents miss the corner, and would leave a lip of it.
        return !straight || wedge.Contains(corner.At) ? wedge.Difference(PlanRegion.Polygon(fan)) : null;
    }
}
