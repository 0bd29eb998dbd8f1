using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>
/// A parallel projection, z up, so that two sides and the faces of a draw show: from above and the front right, or from below and the back left, which show all that is open.
/// Lengths along the picture are millimetres of the picture plane.
/// </summary>
internal sealed class Camera
{
    // Not the angles of an isometric view: there, edges along the axes of a square part fall on one another.
    private const double Azimuth = -58 * Math.PI / 180;
    private const double Elevation = 36 * Math.PI / 180;

    private Camera(double azimuth, double elevation)
    {
        Toward = new(Math.Cos(elevation) * Math.Cos(azimuth), Math.Cos(elevation) * Math.Sin(azimuth), Math.Sin(elevation));
        Right = new(-Math.Sin(azimuth), Math.Cos(azimuth), 0);
        Up = Vec3.Cross(Toward, Right);
    }

    /// <summary>Looking down, from the front right.</summary>
    public static Camera Above { get; } = new(Azimuth, Elevation);

    /// <summary>Looking up, from the back left: just against the other.</summary>
    public static Camera Below { get; } = new(Azimuth + Math.PI, -Elevation);

    /// <summary>Toward the viewer.</summary>
    public Vec3 Toward { get; }

    /// <summary>To the right of the picture.</summary>
    public Vec3 Right { get; }

    /// <summary>To the top of the picture.</summary>
    public Vec3 Up { get; }

    /// <summary>A point as (right, up, toward the viewer).</summary>
    public Vec3 See(Vec3 p) => new(Vec3.Dot(p, Right), Vec3.Dot(p, Up), Vec3.Dot(p, Toward));
}
