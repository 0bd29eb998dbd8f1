using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Why a direction is tried.</summary>
public enum DirectionSource
{
    /// <summary>Much of the skin is square to it.</summary>
    FlatFace,

    /// <summary>It is an axis of the coordinates, to which bodies are commonly aligned.</summary>
    CoordinateAxis,

    /// <summary>It is a principal axis of the volume.</summary>
    PrincipalAxis,

    /// <summary>It belongs to the even spread.</summary>
    Spread,
}

/// <summary>A direction to try; its opposite stands for the same.</summary>
/// <param name="Direction">Of length one, pointing up.</param>
/// <param name="Source">Where it comes from.</param>
public readonly record struct DirectionCandidate(Vec3 Direction, DirectionSource Source);

/// <summary>Directions worth looking along at a body.</summary>
public static class DirectionCandidates
{
    /// <summary>Normals within this angle make one flat face, rad: what a scan of a flat face scatters.</summary>
    private const double FaceSpread = 3 * Math.PI / 180;

    /// <summary>A flat face smaller than this share of the skin gives no candidate.</summary>
    private const double LeastFace = 0.01;

    /// <summary>
    /// Normals of flat faces by falling area, axes of the coordinates, principal axes, and an even spread, in this order; what lies
    /// nearer to an earlier one, or to its opposite, than the angle of merging is left out. The same for the same mesh.
    /// </summary>
    /// <param name="mesh">Closed, facing outward.</param>
    /// <param name="spread">Number of directions in the even spread.</param>
    /// <param name="merge">Angle of merging, rad.</param>
    /// <exception cref="ArgumentException">The mesh bounds no volume.</exception>
    public static ImmutableArray<DirectionCandidate> Of(TriangleMesh mesh, int spread, double merge)
    {
        var listed = ImmutableArray.CreateBuilder<DirectionCandidate>();
        foreach (var face in FlatNormals.Of(mesh, FaceSpread, LeastFace)) Add(face.Normal, DirectionSource.FlatFace);
        foreach (var axis in new Vec3[] { new(0, 0, 1), new(0, 1, 0), new(1, 0, 0) }) Add(axis, DirectionSource.CoordinateAxis);
        foreach (var axis in VolumeMoments.Of(mesh).Axes) Add(axis, DirectionSource.PrincipalAxis);
        foreach (var d in EvenSpread(spread)) Add(d, DirectionSource.Spread);
        return listed.ToImmutable();

        void Add(Vec3 d, DirectionSource source)
        {
            if (listed.Any(l => Math.Abs(Vec3.Dot(l.Direction, d)) > Math.Cos(merge))) return;
            listed.Add(new(FlatNormals.IsDown(d) ? -1 * d : d, source));
        }
    }

    /// <summary>
    /// Points of the upper half of the Fibonacci lattice of the sphere (González 2010): heights at equal steps, so each stands for the same area, turned
    /// by the golden angle from one to the next. Neighbours lie about √(2π/n) apart.
    /// </summary>
    public static IEnumerable<Vec3> EvenSpread(int count)
    {
        var golden = Math.PI * (3 - Math.Sqrt(5));
        for (var i = 0; i < count; i++)
        {
            var z = 1 - ((i + 0.5) / count);
            var r = Math.Sqrt(1 - (z * z));
            var (sin, cos) = Math.SinCos(golden * i);
            yield return new(r * cos, r * sin, z);
        }
    }
}
