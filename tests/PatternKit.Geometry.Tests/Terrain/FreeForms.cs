using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Closed meshes of bodies that no prisms make, and how they are drafted. Some are several shells that overlap: a terrain does not mind.</summary>
internal static class FreeForms
{
    public const double Tolerance = 0.02;

    /// <summary>Bodies with overhangs, steep and gentle, flat and free-form, whose halves are held against the mesh reference.</summary>
    public static IReadOnlyDictionary<string, Func<TriangleMesh>> Compared { get; } = new Dictionary<string, Func<TriangleMesh>>
    {
        ["ball on a stem"] = () => BallOnStem(32, 12),
        ["wedge"] = Wedge,
        ["tilted torus"] = () => TiltedTorus(32, 16),
        ["superellipsoid"] = () => Superellipsoid(32, 16),
        ["animal"] = () => Animal(28, 18),
        ["tilted spool"] = () => TiltedSpool(28),
    };

    public static Lattice Lattice { get; } = Lattice.For(127);

    public static DraftedTerrain Terrain(TriangleMesh mesh, double degrees, double joint = 0, double tolerance = Tolerance) =>
        MeshTerrain.Of(mesh, joint, degrees * Math.PI / 180, Lattice, tolerance);

    public static TriangleMesh Solid(TriangleMesh mesh, double degrees, double joint = 0, double tolerance = Tolerance) =>
        TerrainSolid.Build(Terrain(mesh, degrees, joint, tolerance), null, [], [], Lattice, new(tolerance));

    /// <summary>Seen from below: the drag becomes a cope.</summary>
    public static TriangleMesh Overturned(this TriangleMesh mesh) => mesh.Mapped(v => v with { Z = -v.Z }).Reversed();

    /// <summary>A ball of radius 14 on a stem of radius 5 that goes down 25; one shell, a surface of revolution.</summary>
    public static TriangleMesh BallOnStem(int around, int rings)
    {
        const double r = 14, stem = 5;
        var low = Math.Asin(-Math.Sqrt((r * r) - (stem * stem)) / r);
        var profile = new List<(double Radius, double Height)> { (stem, -25) };
        for (var i = 0; i < rings; i++)
        {
            var (s, c) = Math.SinCos(low + (((Math.PI / 2) - low) * i / rings));
            profile.Add((r * c, r * s));
        }

        return Revolved(around, -25, r, profile);
    }

    /// <summary>A wedge with a leaning back, a step and a sloped front, as a bracket is cast: convex outline pulled along y, turned about z.</summary>
    public static TriangleMesh Wedge() => Columns.TestBodies.Bar(30, (-20, -6), (22, -6), (20, 3), (4, 5), (2, 15), (-8, 18), (-17, 4))
        .Mapped(v => Turned(v + new Vec3(0, -15, 0), 0, 0, 0.4));

    /// <summary>A torus of radii 26 and 8, tilted, so that its silhouette rises and falls.</summary>
    public static TriangleMesh TiltedTorus(int around, int tube) => Shapes.Torus(26, 8, around, tube).Mapped(v => Turned(v, 0, 0.3, 0.2));

    /// <summary>Two flanges on a waist, turned out of the upright by half a radian: both hang over on either side.</summary>
    public static TriangleMesh TiltedSpool(int around) =>
        Revolved(around, -14, 14, [(17, -14), (18, -12), (17, -10), (9, -6), (7, 0), (9, 6), (17, 10), (18, 12), (17, 14)]).Mapped(v => Turned(v, 0.3, 0.5, 0.4));

    /// <summary>A squarish rounded body, half axes 30, 20 and 15: |x/a|^2/e and so on.</summary>
    public static TriangleMesh Superellipsoid(int around, int rings) => Shapes.Sphere(1, around, rings).Mapped(p =>
    {
        var r = Math.Sqrt((p.X * p.X) + (p.Y * p.Y));
        var (c, s) = r > 0 ? (p.X / r, p.Y / r) : (1, 0);
        return new Vec3(30 * Power(r, 0.5) * Power(c, 0.6), 20 * Power(r, 0.5) * Power(s, 0.6), 15 * Power(p.Z, 0.5));
        static double Power(double x, double e) => Math.Abs(x) < 1e-12 ? 0 : Math.Sign(x) * Math.Pow(Math.Abs(x), e);
    });

    /// <summary>A body with head, trunk and legs, star-shaped, with hollows that hang over.</summary>
    public static TriangleMesh Animal(int around, int rings) => Shapes.Sphere(1, around, rings).Mapped(p =>
    {
        var bumps = 1 + (0.45 * Math.Exp(-6 * Away(p, 0.9, 0, 0.45))) + (0.35 * Math.Exp(-9 * Away(p, 0.5, 0.5, -0.7))) + (0.35 * Math.Exp(-9 * Away(p, 0.5, -0.5, -0.7)))
            + (0.3 * Math.Exp(-9 * Away(p, -0.6, 0.45, -0.65))) + (0.3 * Math.Exp(-9 * Away(p, -0.6, -0.45, -0.65))) + (0.2 * Math.Exp(-12 * Away(p, -1, 0, 0.2)));
        return new Vec3(18 * bumps * p.X, 12 * bumps * p.Y, 13 * bumps * p.Z);
        static double Away(Vec3 p, double x, double y, double z) => (p - (1 / new Vec3(x, y, z).Length * new Vec3(x, y, z))) is var d ? Vec3.Dot(d, d) : 0;
    });

    /// <summary>Turned about z, then x, then z, radians.</summary>
    public static Vec3 Turned(Vec3 v, double a, double b, double c)
    {
        v = AboutZ(v, a);
        var (s, k) = Math.SinCos(b);
        return AboutZ(new(v.X, (k * v.Y) - (s * v.Z), (s * v.Y) + (k * v.Z)), c);
    }

    private static Vec3 AboutZ(Vec3 v, double angle)
    {
        var (s, c) = Math.SinCos(angle);
        return new((c * v.X) - (s * v.Y), (s * v.X) + (c * v.Y), v.Z);
    }

    private static TriangleMesh Revolved(int around, double bottom, double top, List<(double Radius, double Height)> profile)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        vertices.Add(new(0, 0, bottom));
        vertices.Add(new(0, 0, top));
        foreach (var (radius, height) in profile)
            for (var i = 0; i < around; i++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * i / around);
                vertices.Add(new(radius * c, radius * s, height));
            }

        var facets = ImmutableArray.CreateBuilder<Facet>();
        int At(int ring, int i) => 2 + (ring * around) + (i % around);
        for (var i = 0; i < around; i++)
        {
            facets.Add(new(0, At(0, i + 1), At(0, i)));
            facets.Add(new(1, At(profile.Count - 1, i), At(profile.Count - 1, i + 1)));
            for (var ring = 0; ring + 1 < profile.Count; ring++)
            {
                facets.Add(new(At(ring, i), At(ring, i + 1), At(ring + 1, i + 1)));
                facets.Add(new(At(ring, i), At(ring + 1, i + 1), At(ring + 1, i)));
            }
        }

        return new(vertices.ToImmutable(), facets.ToImmutable());
    }
}
