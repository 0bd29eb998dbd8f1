using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Rounded edges of a terrain of any shape: its opening by a ball, which is the closing of the space above it, turned over (Serra 1982). One radius wherever the metal has room for it,
/// and the next smaller elsewhere. What stands on the ground keeps its foot: there the body is as if it went on downward.
/// </summary>
/// <param name="Terrain">With rounded edges; null where there is nothing to round.</param>
/// <param name="Radii_mm">Those that were used, largest first.</param>
/// <param name="Held">Where a radius is less than the largest, a place for each piece of the plan.</param>
public sealed record MeshRounds(DraftedTerrain? Terrain, ImmutableArray<double> Radii_mm, ImmutableArray<HeldRadius> Held)
{
    /// <summary>The terrain is meshed, rounded and meshed again: each time so much of the tolerance.</summary>
    private const double ToleranceShare = 0.5;

    /// <summary>The ground is looked at so many radii beyond the body.</summary>
    private const double MarginOverRadius = 2;

    /// <summary>And the body goes on downward so far, radii: a ball from outside would else reach up between two walls at their foot.</summary>
    private const double BelowOverRadius = 1.5;

    /// <summary>What rises no less and no more than this, 45°, is neither level nor a wall.</summary>
    private const double LeastSlope = 0.02, MostSlope = 1;

    /// <summary>Such ground that is no higher over its foot, in radii, meets it without a wall; it is looked for on so many rings in so many directions.</summary>
    private const double LowOverRadius = 0.35;
    private const int Rings = 4, Directions = 8;

    /// <summary>Rounds the edges of a terrain.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="radii">Those to be tried, largest first, mm.</param>
    /// <param name="share">How much of what is level between two walls the edge of one may take.</param>
    /// <param name="tolerance">Largest distance of facets from the surface, mm.</param>
    /// <param name="radiusAt">The largest radius at a place of the plan; null for any.</param>
    /// <param name="footAt">The height over a place of the plan below which the body does not count, at the ground or above; null for the ground. What meets it without a wall keeps its border there.</param>
    public static MeshRounds Of(
        DraftedTerrain terrain, ImmutableArray<double> radii, double share, double tolerance, Func<Vec2, double>? radiusAt = null, Func<Vec2, double>? footAt = null)
    {
        if (radii.IsEmpty || terrain.Footprint.IsEmpty || MeshFillets.IsTooLarge(terrain)) return new(null, [], []);
        var (lattice, angle, error) = (terrain.Lattice, Math.Min(terrain.OpenAngle, terrain.EnclosedAngle), ToleranceShare * tolerance);
        var deep = TerrainSkin.Drafted(TerrainSkin.Of(terrain, lattice, error), lattice.Snap(terrain.GroundHeight - (BelowOverRadius * radii[0])), angle, lattice, tolerance);
        var skin = TerrainSkin.Of(deep, lattice, error);
        var space = new SpaceAbove(
            [.. skin.Facets.Select(f => (skin.Vertices[f.A], skin.Vertices[f.B], skin.Vertices[f.C]))], deep.Footprint, deep.GroundHeight, angle, MarginOverRadius * radii[0], lattice, error);
        var closed = MeshFillets.Of(space.Terrain, radii, share, error, p => Math.Min(radiusAt?.Invoke(p) ?? double.PositiveInfinity, Held(p)), footAt is null ? -terrain.GroundHeight : double.PositiveInfinity);
        ImmutableArray<HeldRadius> held = [.. closed.Held.Select(h => h with { Place = h.Place with { Z = -h.Place.Z } })];
        if (closed.Terrain is null) return new(null, [], held);
        return new(TerrainSkin.Drafted(space.Body(closed.Terrain.ForMeshing()), terrain.GroundHeight, angle, lattice, tolerance), closed.Radii_mm, held);

        double Held(Vec2 p)
        {
            var top = double.NegativeInfinity;
            for (var i = 0; i <= Rings * Directions; i++)
            {
                var (ring, turn) = ((i + Directions - 1) / Directions, 2 * Math.PI * i / Directions);
                var place = p + ((double)ring / Rings * radii[0] * new Vec2(Math.Cos(turn), Math.Sin(turn)));
                var there = deep.At(place);
                var over = there.Height - (footAt?.Invoke(place) ?? terrain.GroundHeight);
                if (over > 0 && over < LowOverRadius * radii[0] && there.Gradient.Length is > LeastSlope and < MostSlope) return 0;
                top = Math.Max(top, over);
            }

            // The arc takes r (1 − sin θ) of a wall.
            return footAt is null ? double.PositiveInfinity : top / (1 - Math.Sin(angle));
        }
    }
}
