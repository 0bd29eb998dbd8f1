using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>A corner at which an outline turns inward, rounded by less than a radius.</summary>
/// <param name="Fill">What a disc of the radius leaves in it: between both tangents and the arc.</param>
/// <param name="At">Its vertex; the sharpest of several.</param>
/// <param name="Turn">By how much the outline turns there, radians.</param>
/// <param name="Rounding">The radius that it has, 0 for a sharp one.</param>
public readonly record struct InsideCorner(PlanRegion Fill, Vec2 At, double Turn, double Rounding)
{
    /// <summary>By how much the outline turns at <see cref="At"/> alone, radians; less than <see cref="Turn"/> where the disc spans several vertices.</summary>
    public double TurnAt { get; init; }
}

/// <summary>
/// Inside corners of a region: what closing it with a disc adds (Serra 1982: the closing's residue), piece by piece, where the outline
/// turns inward along the piece. Whole slots that the disc cannot enter are none.
/// </summary>
public static class InsideCorners
{
    /// <summary>Chords of the closing's arcs keep to this part of its radius.</summary>
    private const double Fineness = 0.002;

    /// <summary>So much more than a corner of straight walls holds one whose walls curve away by a radius a few times that of the disc.</summary>
    private const double MostOfCorner = 1.5;

    /// <summary>Outlines that turn by less than this are no corners, radians.</summary>
    private const double LeastTurn = Math.PI / 4;

    /// <summary>The corners of a region that are rounded by less than a radius.</summary>
    /// <param name="region">The region.</param>
    /// <param name="radius">The radius, mm.</param>
    /// <param name="chord">Largest distance of the fills' chords from their arcs, mm.</param>
    public static IEnumerable<InsideCorner> Of(PlanRegion region, double radius, double chord)
    {
        var turns = InwardTurns(region).ToArray();
        if (turns.Length == 0) yield break;
        var fine = Math.Min(chord, Fineness * radius);
        var closed = region.Offset(radius, fine).Offset(-radius, fine);
        // Rounding leaves hairs along straight walls; a piece is what is wider, with what of the hairs is close by.
        var hair = Fineness * radius / 4;
        foreach (var core in closed.Difference(region.Offset(hair, hair / 4)).WithoutSlivers(2 * Fineness * radius).Pieces())
        {
            // Near the piece alone: all along the outline both contours lie on each other but for the last digits, which is slow to tell apart.
            var piece = core.Offset(3 * hair, hair / 4).Intersection(closed).Difference(region);
            var near = piece.Geometry.EnvelopeInternal;
            near.ExpandBy(Fineness * radius);
            var inside = turns.Where(t => near.Contains(t.At.X, t.At.Y)
                && piece.Geometry.IsWithinDistance(new NetTopologySuite.Geometries.Point(t.At.X, t.At.Y), Fineness * radius)).ToArray();
            var turn = inside.Sum(t => t.Turn);
            if (turn is < LeastTurn or > 0.95 * Math.PI) continue;
            // Between its tangents a corner that turns by τ holds r² (tan(τ/2) − τ/2) more than one rounded by r.
            var whole = Math.Tan(turn / 2) - (turn / 2);
            // Far more than the sharp corner holds is a slot of which one end is a corner. (Walls that curve away leave a corner more.)
            if (piece.Area > MostOfCorner * whole * radius * radius) continue;
            var rounding = Math.Sqrt(Math.Max(0, (radius * radius) - (piece.Area / whole)));
            var sharpest = inside.MaxBy(t => t.Turn);
            if (rounding < 0.95 * radius) yield return new(piece, sharpest.At, turn, rounding) { TurnAt = sharpest.Turn };
        }
    }

    /// <summary>The vertices at which the outline turns inward, and by how much, radians: outer rings turn left all in all, inner ones right.</summary>
    internal static IEnumerable<(Vec2 At, double Turn)> InwardTurns(PlanRegion region)
    {
        foreach (var ring in region.Rings())
        {
            for (var i = 0; i < ring.Length; i++)
            {
                var (a, b, c) = (ring[(i + ring.Length - 1) % ring.Length], ring[i], ring[(i + 1) % ring.Length]);
                var turn = Math.Atan2(Vec2.Cross(b - a, c - b), Vec2.Dot(b - a, c - b));
                if (turn < -1e-6) yield return (b, -turn);
            }
        }
    }
}
