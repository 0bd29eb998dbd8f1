using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>Bodies with known counts and volumes.</summary>
internal static class Shapes
{
    /// <summary>12 facets, 8 vertices.</summary>
    public static TriangleMesh Box(Vec3 low, Vec3 high) => new(
        [
            low, new(high.X, low.Y, low.Z), new(high.X, high.Y, low.Z), new(low.X, high.Y, low.Z),
            new(low.X, low.Y, high.Z), new(high.X, low.Y, high.Z), high, new(low.X, high.Y, high.Z),
        ],
        [
            new(0, 2, 1), new(0, 3, 2), new(4, 5, 6), new(4, 6, 7), new(0, 1, 5), new(0, 5, 4),
            new(1, 2, 6), new(1, 6, 5), new(2, 3, 7), new(2, 7, 6), new(3, 0, 4), new(3, 4, 7),
        ]);

    public static TriangleMesh Cube(double size) => Box(new(0, 0, 0), new(size, size, size));

    /// <summary>Poles on z; 2·around·(rings − 1) facets.</summary>
    public static TriangleMesh Sphere(double radius, int around, int rings, Vec3 centre = default)
    {
        var v = new List<Vec3> { centre + new Vec3(0, 0, -radius) };
        for (var i = 1; i < rings; i++)
            for (var j = 0; j < around; j++)
            {
                var (st, ct) = Math.SinCos(Math.PI * i / rings);
                var (sp, cp) = Math.SinCos(2 * Math.PI * j / around);
                v.Add(centre + new Vec3(radius * st * cp, radius * st * sp, -radius * ct));
            }

        v.Add(centre + new Vec3(0, 0, radius));
        var f = new List<Facet>();
        int At(int i, int j) => 1 + ((i - 1) * around) + (j % around);
        for (var j = 0; j < around; j++)
        {
            f.Add(new(0, At(1, j + 1), At(1, j)));
            f.Add(new(v.Count - 1, At(rings - 1, j), At(rings - 1, j + 1)));
            for (var i = 1; i < rings - 1; i++)
            {
                f.Add(new(At(i, j), At(i, j + 1), At(i + 1, j + 1)));
                f.Add(new(At(i, j), At(i + 1, j + 1), At(i + 1, j)));
            }
        }

        return new([.. v], [.. f]);
    }

    /// <summary>Axis z; 2·around·tube facets.</summary>
    public static TriangleMesh Torus(double ring, double tubeRadius, int around, int tube)
    {
        var v = new List<Vec3>();
        for (var i = 0; i < around; i++)
            for (var j = 0; j < tube; j++)
            {
                var (sp, cp) = Math.SinCos(2 * Math.PI * i / around);
                var (st, ct) = Math.SinCos(2 * Math.PI * j / tube);
                var r = ring + (tubeRadius * ct);
                v.Add(new(r * cp, r * sp, tubeRadius * st));
            }

        var f = new List<Facet>();
        int At(int i, int j) => (i % around * tube) + (j % tube);
        for (var i = 0; i < around; i++)
            for (var j = 0; j < tube; j++)
            {
                f.Add(new(At(i, j), At(i + 1, j), At(i + 1, j + 1)));
                f.Add(new(At(i, j), At(i + 1, j + 1), At(i, j + 1)));
            }

        return new([.. v], [.. f]);
    }

    /// <summary>Both in one mesh, nothing welded.</summary>
    public static TriangleMesh Plus(this TriangleMesh a, TriangleMesh b)
    {
        var n = a.Vertices.Length;
        return new(a.Vertices.AddRange(b.Vertices), a.Facets.AddRange(b.Facets.Select(f => new Facet(f.A + n, f.B + n, f.C + n))));
    }

    public static TriangleMesh Reversed(this TriangleMesh a) => new(a.Vertices, [.. a.Facets.Select(f => new Facet(f.A, f.C, f.B))]);

    public static TriangleMesh Welded(this TriangleMesh a) =>
        MeshBuilder.Weld(a.Facets.Select(f => (a.Vertices[f.A], a.Vertices[f.B], a.Vertices[f.C])));

    public static TriangleMesh Shifted(this TriangleMesh a, double x, double y, double z) => a.Mapped(p => p + new Vec3(x, y, z));

    public static TriangleMesh WithFacets(this TriangleMesh a, Func<ImmutableArray<Facet>, ImmutableArray<Facet>> change) =>
        new(a.Vertices, change(a.Facets));
}
