using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>
/// A parallel projection from above and the front right, z up, so that the faces of the draw and two sides show.
/// Lengths along the picture are millimetres of the picture plane.
/// </summary>
internal static class Camera
{
    // Not the angles of an isometric view: there, edges along the axes of a square part fall on one another.
    private const double Azimuth = -58 * Math.PI / 180;
    private const double Elevation = 36 * Math.PI / 180;

    /// <summary>Toward the viewer.</summary>
    public static Vec3 Toward { get; } = new(
        Math.Cos(Elevation) * Math.Cos(Azimuth), Math.Cos(Elevation) * Math.Sin(Azimuth), Math.Sin(Elevation));

    /// <summary>To the right of the picture.</summary>
    public static Vec3 Right { get; } = new(-Math.Sin(Azimuth), Math.Cos(Azimuth), 0);

    /// <summary>To the top of the picture.</summary>
    public static Vec3 Up { get; } = Vec3.Cross(Toward, Right);

    /// <summary>A point as (right, up, toward the viewer).</summary>
    public static Vec3 See(Vec3 p) => new(Vec3.Dot(p, Right), Vec3.Dot(p, Up), Vec3.Dot(p, Toward));
}
