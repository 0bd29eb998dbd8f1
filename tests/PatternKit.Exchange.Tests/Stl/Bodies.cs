using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Stl;

/// <summary>Closed bodies for the file tests.</summary>
internal static class Bodies
{
    public static TriangleMesh Box(double x, double y, double z) => new(
        [new(0, 0, 0), new(x, 0, 0), new(x, y, 0), new(0, y, 0), new(0, 0, z), new(x, 0, z), new(x, y, z), new(0, y, z)],
        [
            new(0, 2, 1), new(0, 3, 2), new(4, 5, 6), new(4, 6, 7), new(0, 1, 5), new(0, 5, 4),
            new(1, 2, 6), new(1, 6, 5), new(2, 3, 7), new(2, 7, 6), new(3, 0, 4), new(3, 4, 7),
        ]);

    /// <summary>A pulley-like ring about z, its coordinates rounded to float32.</summary>
    public static TriangleMesh Ring(double radius, double tube, int around, int section)
    {
        var v = new List<Vec3>();
        var f = new List<Facet>();
        int At(int i, int j) => (i % around * section) + (j % section);
        for (var i = 0; i < around; i++)
            for (var j = 0; j < section; j++)
            {
                var (sp, cp) = Math.SinCos(2 * Math.PI * i / around);
                var (st, ct) = Math.SinCos(2 * Math.PI * j / section);
                var r = radius + (tube * ct);
                v.Add(new((float)(r * cp), (float)(r * sp), (float)(tube * st)));
                f.Add(new(At(i, j), At(i + 1, j), At(i + 1, j + 1)));
                f.Add(new(At(i, j), At(i + 1, j + 1), At(i, j + 1)));
            }

        return new([.. v], [.. f]);
    }

    public static IEnumerable<(Vec3, Vec3, Vec3)> Triangles(this TriangleMesh mesh) =>
        mesh.Facets.Select(f => (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]));
}
