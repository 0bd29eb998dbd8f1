using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>What of a terrain a surface is.</summary>
internal enum GroundSide : byte
{
    /// <summary>It takes no part.</summary>
    Neither,

    /// <summary>Sloped ground, or a ramp that falls from it.</summary>
    Sloped,

    /// <summary>Other ground, or a ramp that falls from it.</summary>
    Rest,
}

/// <summary>
/// A drafted terrain taken apart into its sloped ground, as turned bodies have it, and the rest, both dilated by a ball: the envelopes of their faces, edges and corners under
/// the rounded cone. Level strips that go on smoothly into sloped ones, as the crown of a lying cylinder, are sloped ground too.
/// </summary>
/// <param name="Sloped">The sloped ground, drafted and dilated.</param>
/// <param name="Rest">What else there is, drafted and dilated.</param>
/// <param name="SharpSloped">The sloped ground, drafted alone, its walls running on below the ground.</param>
/// <param name="SharpRest">What else there is, drafted alone.</param>
/// <param name="Sides">What each surface of the terrain is.</param>
/// <param name="Low">Corner of the box of the sloped ground.</param>
/// <param name="High">Opposite corner.</param>
internal sealed record SlopedGround(
    UpperEnvelope<Primitive> Sloped, UpperEnvelope<Primitive> Rest, UpperEnvelope<Primitive> SharpSloped, UpperEnvelope<Primitive> SharpRest, ImmutableArray<GroundSide> Sides, Vec2 Low, Vec2 High)
{
    /// <summary>Planes that turn by less than this are one smooth surface, radians.</summary>
    private const double Smooth = Math.PI / 15;

    /// <summary>The parts of a terrain; null where it has no sloped ground, or nothing else.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="within">What of it takes part.</param>
    /// <param name="radius">Of the ball, mm.</param>
    public static SlopedGround? Of(DraftedTerrain terrain, PlanRegion within, double radius)
    {
        if (!terrain.HasSlopes || terrain.IsCurved) return null;
        var plateaus = terrain.Plateaus;
        var edges = new PlateauEdges(plateaus, terrain.GroundHeight, terrain.OpenAngle, terrain.EnclosedAngle, terrain.Lattice);
        var angles = new Dictionary<(Vec3, Vec3), double>();
        foreach (var f in edges.Falls()) angles[(At(f.From, f.FromHeight), At(f.To, f.ToHeight))] = f.Enclosed ? terrain.EnclosedAngle : terrain.OpenAngle;
        var least = Math.Min(terrain.OpenAngle, terrain.EnclosedAngle);
        var sides = new Dictionary<(Vec3, Vec3), int>();
        for (var i = 0; i < plateaus.Length; i++)
            foreach (var side in Sides(i)) sides[side] = i;
        GroundSide[] kinds = [.. plateaus.Select(p => !within.Contains(p.Region.InnerPoint) ? GroundSide.Neither : p.IsLevel ? GroundSide.Rest : GroundSide.Sloped)];
        foreach (var ((from, to), i) in sides)
            if (kinds[i] == GroundSide.Rest && sides.TryGetValue((to, from), out var beside) && !plateaus[beside].IsLevel && plateaus[beside].Surface.Slope < Math.Tan(Smooth))
                kinds[i] = kinds[beside];
        var (sloped, rest) = (new HashSet<Primitive>(), new HashSet<Primitive>());
        var (low, high) = (new Vec2(double.PositiveInfinity, double.PositiveInfinity), new Vec2(double.NegativeInfinity, double.NegativeInfinity));
        for (var i = 0; i < plateaus.Length; i++)
        {
            if (kinds[i] == GroundSide.Neither || (plateaus[i].IsLevel && plateaus[i].Height <= terrain.GroundHeight)) continue;
            var into = kinds[i] == GroundSide.Sloped ? sloped : rest;
            var profile = new RoundedCone(least, radius);
            if (plateaus[i].Surface.Slope < profile.Slope)
                foreach (var (a, b, c) in RegionTriangles.Of([plateaus[i].Region], terrain.Lattice))
                    into.Add(Primitive.Face(Raised(i, a), Raised(i, b), Raised(i, c), profile));
            foreach (var (from, to) in Sides(i))
            {
                var own = angles.TryGetValue((from, to), out var angle) || angles.TryGetValue((to, from), out angle) ? new RoundedCone(angle, radius) : profile;
                into.Add(Primitive.Edge(from, to, own));
                into.Add(Primitive.Vertex(from, own));
                into.Add(Primitive.Vertex(to, own));
                if (kinds[i] == GroundSide.Sloped) (low, high) = (new(Math.Min(low.X, from.X), Math.Min(low.Y, from.Y)), new(Math.Max(high.X, from.X), Math.Max(high.Y, from.Y)));
            }
        }

        if (sloped.Count == 0 || rest.Count == 0) return null;
        // A ramp belongs to the side that it falls from; one around a corner to the sloped ground, if that has the corner.
        var corners = new Dictionary<Vec3, GroundSide>();
        foreach (var ((from, to), i) in sides)
            foreach (var v in new[] { from, to })
                if (!corners.TryGetValue(v, out var known) || known == GroundSide.Neither || kinds[i] == GroundSide.Sloped) corners[v] = kinds[i];
        var strips = plateaus.Where((p, i) => kinds[i] != GroundSide.Rest && p.IsLevel).Select(p => (p, Kind: kinds[plateaus.IndexOf(p)])).ToArray();
        var of = new GroundSide[terrain.SurfaceCount];
        foreach (var piece in terrain.Pieces)
            if (of[piece.Surface] == GroundSide.Neither) of[piece.Surface] = SideOf(piece);
        return new(
            new([.. sloped], double.NegativeInfinity), new([.. rest], double.NegativeInfinity),
            new([.. sloped.Select(Sharp)], double.NegativeInfinity), new([.. rest.Select(Sharp)], double.NegativeInfinity), [.. of], low, high);

        static Primitive Sharp(Primitive q) => q with { Profile = new(q.Profile.Angle, 0) };

        GroundSide SideOf(TerrainPiece piece)
        {
            var (a, b) = (At(piece.A, piece.HeightA), At(piece.B, piece.HeightB));
            if (piece.IsRamp) return a == b ? corners.GetValueOrDefault(a) : sides.TryGetValue((a, b), out var owner) || sides.TryGetValue((b, a), out owner) ? kinds[owner] : GroundSide.Neither;
            var corner = piece.Domain(0);
            var middle = (corner[0] + corner[1] + corner[2]) / 3;
            if (!within.Contains(middle)) return GroundSide.Neither;
            if (piece.Gradient != default) return GroundSide.Sloped;
            foreach (var (strip, kind) in strips)
                if (strip.Height == piece.HeightA && strip.Region.Contains(middle)) return kind;
            return GroundSide.Rest;
        }

        IEnumerable<(Vec3 From, Vec3 To)> Sides(int i) => plateaus[i].Region.Rings()
            .SelectMany(ring => ring.Select((v, k) => (Raised(i, v), Raised(i, ring[(k + 1) % ring.Length]))));

        Vec3 Raised(int i, Vec2 v) => At(v, edges.Heights.At(i, v));

        static Vec3 At(Vec2 p, double z) => new(p.X, p.Y, z);
    }
}
