using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A drafted terrain dilated by a ball over a part of the plan: the exact envelope of its faces, edges and corners under the rounded cone, walls running on below the ground. What
/// the ball's centre is held up by at a place is the height there.
/// </summary>
internal sealed class DilatedSkin : ITerrainField
{
    private readonly UpperEnvelope<Primitive> envelope;
    private readonly double floor;
    private readonly double overEdges;

    private DilatedSkin(ImmutableArray<Primitive> pieces, double floor, double overEdges) =>
        (envelope, this.floor, this.overEdges) = (new(pieces, double.NegativeInfinity), floor, overEdges);

    /// <summary>The dilation over some cells.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="over">The cells; elsewhere it may be too low.</param>
    /// <param name="radius">Of the ball, mm.</param>
    /// <param name="floor">Height below which it does not count; far enough below the ground.</param>
    /// <param name="overEdges">Where the ball rolls over an edge or corner that juts out, chords lie below the surface: there they may be so many times the tolerance off.</param>
    public static DilatedSkin Of(DraftedTerrain terrain, CellMask over, double radius, double floor, double overEdges)
    {
        var profile = new RoundedCone(Math.Min(terrain.OpenAngle, terrain.EnclosedAngle), radius);
        var marked = new MarkedCells([.. over.Runs()]);
        var (pieces, edges, corners) = (ImmutableArray.CreateBuilder<Primitive>(), new HashSet<(Vec3, Vec3)>(), new HashSet<Vec3>());
        foreach (var piece in terrain.Pieces)
        {
            var bounds = piece.Bounds;
            // A wall farther away has fallen below all that counts.
            var reach = radius + (Math.Max(0, bounds.High.Z - floor + radius) / profile.Slope);
            if (!marked.MayMeet(bounds.Low.Plan - new Vec2(reach, reach), bounds.High.Plan + new Vec2(reach, reach))) continue;
            if (piece.IsRamp)
            {
                Edge(new(piece.A.X, piece.A.Y, piece.HeightA), new(piece.B.X, piece.B.Y, piece.HeightB));
                continue;
            }

            Vec3[] at = [.. piece.Domain(0).Select(v => new Vec3(v.X, v.Y, piece.Extended(v, out _)))];
            pieces.Add(Primitive.Face(at[0], at[1], at[2], profile));
            for (var i = 0; i < 3; i++) Edge(at[i], at[(i + 1) % 3]);
        }

        pieces.AddRange(edges.Select(e => Primitive.Edge(e.Item1, e.Item2, profile)));
        pieces.AddRange(corners.Select(v => Primitive.Vertex(v, profile)));
        return new(pieces.ToImmutable(), floor, overEdges);

        void Edge(Vec3 a, Vec3 b)
        {
            corners.Add(a);
            corners.Add(b);
            if (a != b) edges.Add((a.X, a.Y, a.Z).CompareTo((b.X, b.Y, b.Z)) < 0 ? (a, b) : (b, a));
        }
    }

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p)
    {
        var s = envelope.At(p);
        if (s.Value <= floor) return new(floor, default, Floor);
        // A ball on an edge is numbered apart from the wall that falls from it.
        ref readonly var piece = ref envelope.Primitives.ItemRef(s.Primitive);
        var isOver = piece.Kind != PrimitiveKind.Face && s.Gradient.LengthSquared < piece.Profile.Slope * piece.Profile.Slope * (1 - 1e-9);
        return new(s.Value, s.Gradient, (2 * s.Primitive) + (isOver ? 1 : 0));
    }

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        gradient = default;
        return surface == Floor ? floor : envelope.Primitives.ItemRef(surface / 2).Extended(p, out gradient);
    }

    /// <inheritdoc/>
    public double Leeway(int surface) => surface != Floor && surface % 2 == 1 ? overEdges : 1;

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) => double.PositiveInfinity;

    /// <summary>The number of the floor.</summary>
    private int Floor => 2 * envelope.Primitives.Length;
}
