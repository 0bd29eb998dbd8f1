using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Originals;

/// <summary>
/// The faces of a mesh that drag on the sand, each with what it lacks. The least metal that gives every wall the taper asked is the drafted envelope of the
/// part; what that stands over a point of a wall, times the tangent of the taper, is how much the wall must be built up there, square to the draw.
/// </summary>
internal static class UntaperedFaces
{
    /// <summary>A wall drawn with just the taper asked for may be off it so much by rounding, radians.</summary>
    private const double Slack = 1e-3;

    /// <summary>Edges at which the skin turns by more part two faces, radians.</summary>
    private const double Crease = Math.PI / 6;

    /// <summary>Points along the diagonal at which a wall is looked at.</summary>
    private const int PointsAcross = 300;

    /// <summary>How far planes around jutting corners of an envelope may stand out, mm.</summary>
    private const double MeshingError_mm = 0.01;

    /// <summary>How far outside its skin a point looks for what is in its way, as a part of the diagonal.</summary>
    private const double Outside = 1e-4;

    /// <summary>The faces, the most to be built up in all first.</summary>
    /// <param name="mesh">Closed, facing outward, z along the draw.</param>
    /// <param name="walls">The same.</param>
    /// <param name="joint_mm">Height of the joint.</param>
    /// <param name="asked">Taper, radians.</param>
    /// <param name="roof">What leans over by more, radians, is no wall.</param>
    /// <param name="lattice">For the envelopes.</param>
    public static ImmutableArray<UntaperedFace> Of(TriangleMesh mesh, WallThickness walls, double joint_mm, double asked, double roof, Lattice lattice)
    {
        var box = mesh.Bounds();
        var diagonal = box.Size.Length;
        var halves = new MouldHalf?[mesh.Facets.Length];
        Parallel.For(0, halves.Length, f => halves[f] = Dragging(f));
        var sampling = SkinSampling.Over(mesh, diagonal / PointsAcross);
        var cope = new Lazy<DraftedTerrain>(() => MeshTerrain.Of(mesh, lattice.Snap(box.Low.Z) - 1, asked, lattice, MeshingError_mm));
        var drag = new Lazy<DraftedTerrain>(() => MeshTerrain.Of(mesh.MirroredBy(v => new(v.X, v.Y, -v.Z)), lattice.Snap(-box.High.Z) - 1, asked, lattice, MeshingError_mm));
        return [.. SmoothPatches.Of(mesh, f => halves[f] is not null, Crease).Select(Face).OrderByDescending(f => f.Area_mm2 * f.MeanBuiltUp_mm).ThenBy(f => f.Facets[0])];

        // The half of the mould that a facet without enough taper drags on; null for one with enough, a ceiling, and what is caught.
        MouldHalf? Dragging(int f)
        {
            var n = walls.Normal(f);
            if (!(n.Length > 0) || Math.Abs(n.Z) > Math.Max(Math.Sin(asked), Math.Sin(roof))) return null;
            var own = Middle(f).Z >= joint_mm ? MouldHalf.Cope : MouldHalf.Drag;
            var other = own == MouldHalf.Cope ? MouldHalf.Drag : MouldHalf.Cope;
            MouldHalf? half = IsFree(f, own) ? own : IsFree(f, other) ? other : null;
            return half is { } h && Taper(n, h) < asked - Slack && Taper(n, h) > -roof ? h : null;
        }

        bool IsFree(int f, MouldHalf half) => walls.Meeting(Middle(f) + (Outside * diagonal * walls.Normal(f)), new(0, 0, half == MouldHalf.Cope ? 1 : -1)) is null;

        UntaperedFace Face(ImmutableArray<int> patch)
        {
            var (area, volume, most, at, least) = (0.0, 0.0, -1.0, default(Vec3), asked);
            var (onCope, onDrag) = (false, false);
            foreach (var f in patch)
            {
                var own = mesh.AreaNormal(mesh.Facets[f]).Length / 2;
                area += own;
                double sum = 0, weight = 0;
                foreach (var i in sampling.Of(f))
                {
                    var s = sampling.Samples[i];
                    var lack = Lack(HalfAt(f, s.At.Z), s.At);
                    (sum, weight) = (sum + (lack * s.Area_mm2), weight + s.Area_mm2);
                }

                volume += own * sum / weight;
                least = Math.Min(least, Taper(walls.Normal(f), halves[f]!.Value));
                foreach (var (half, p) in Corners(f))
                {
                    if (half == MouldHalf.Cope) onCope = true;
                    else onDrag = true;
                    if (Lack(half, p) is var lack && lack > most) (most, at) = (lack, p);
                }
            }

            return new(onCope && onDrag ? null : onCope ? MouldHalf.Cope : MouldHalf.Drag, area, least, most, volume / area, at, patch);
        }

        double Lack(MouldHalf half, Vec3 p) =>
            Math.Max(0, half == MouldHalf.Cope ? cope.Value.At(p.Plan).Height - p.Z : drag.Value.At(p.Plan).Height + p.Z) * Math.Tan(asked);

        // A wall through the joint drags on each half on its own side of it; in a recess behind the joint it drags on the other half all the way.
        MouldHalf HalfAt(int facet, double z) => IsBehind(facet) ? halves[facet]!.Value : z >= joint_mm ? MouldHalf.Cope : MouldHalf.Drag;

        bool IsBehind(int facet) => halves[facet] == MouldHalf.Cope ? Middle(facet).Z < joint_mm : Middle(facet).Z >= joint_mm;

        IEnumerable<(MouldHalf Half, Vec3 At)> Corners(int facet)
        {
            var f = mesh.Facets[facet];
            Vec3[] corners = [mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]];
            for (var i = 0; i < 3; i++)
            {
                var (p, q) = (corners[i], corners[(i + 1) % 3]);
                var half = p.Z == joint_mm && !IsBehind(facet) ? halves[facet]!.Value : HalfAt(facet, p.Z);
                yield return (half, p);
                if (IsBehind(facet) || (p.Z - joint_mm) * (q.Z - joint_mm) >= 0) continue;
                var crossing = p + ((joint_mm - p.Z) / (q.Z - p.Z) * (q - p));
                yield return (MouldHalf.Cope, crossing);
                yield return (MouldHalf.Drag, crossing);
            }
        }

        Vec3 Middle(int f) => (1 / 3.0) * (mesh.Vertices[mesh.Facets[f].A] + mesh.Vertices[mesh.Facets[f].B] + mesh.Vertices[mesh.Facets[f].C]);
    }

    private static double Taper(Vec3 normal, MouldHalf half) => Math.Asin(Math.Clamp(half == MouldHalf.Cope ? normal.Z : -normal.Z, -1, 1));
}
