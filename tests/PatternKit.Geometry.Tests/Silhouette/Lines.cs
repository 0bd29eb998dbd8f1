using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Silhouette;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Geometry.Tests.Silhouette;

/// <summary>Bodies whose line on the silhouette is known, and how it is found.</summary>
internal static class Lines
{
    /// <summary>A round bar of radius r along x, each cross section moved up by a function of x; its ends are upright, its silhouette is at y = ±r.</summary>
    public static TriangleMesh Bent(double radius, double length, int around, int along, Func<double, double> rise)
    {
        var vertices = new List<Vec3>();
        for (var i = 0; i <= along; i++)
        {
            var x = length * (((double)i / along) - 0.5);
            for (var j = 0; j < around; j++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * j / around);
                vertices.Add(new(x, radius * c, (radius * s) + rise(x)));
            }
        }

        var facets = new List<Facet>();
        int At(int i, int j) => (i * around) + (j % around);
        for (var j = 0; j < around; j++)
            for (var i = 0; i < along; i++)
            {
                facets.Add(new(At(i, j), At(i + 1, j + 1), At(i + 1, j)));
                facets.Add(new(At(i, j), At(i, j + 1), At(i + 1, j + 1)));
            }

        for (var j = 1; j + 1 < around; j++)
        {
            facets.Add(new(At(0, 0), At(0, j + 1), At(0, j)));
            facets.Add(new(At(along, 0), At(along, j), At(along, j + 1)));
        }

        return new([.. vertices], [.. facets]);
    }

    /// <summary>A bar leaning by 10°.</summary>
    public static TriangleMesh Leaning() => Bent(8, 80, 64, 1, x => x * Math.Tan(10 * Math.PI / 180));

    /// <summary>A bar bent to an arc of radius 90 in the upright plane.</summary>
    public static TriangleMesh Arc() => Bent(7, 90, 48, 60, x => 90 - Math.Sqrt((90 * 90) - (x * x)));

    /// <summary>A block 60 × 20 × 12 with its left half standing on a base 8 lower and its right end raised: sides of 0 to 12, and of 8 to 20.</summary>
    public static TriangleMesh Stepped() => TestBodies.Bar(20, (-30, 0), (0, 0), (10, 8), (30, 8), (30, 20), (5, 20), (-5, 12), (-30, 12));

    public static Corridor Corridor(TriangleMesh mesh, double degrees, double spacing = 0.5)
    {
        var low = FreeForms.Lattice.Snap(mesh.Bounds().Low.Z - 1);
        var high = FreeForms.Lattice.Snap(mesh.Bounds().High.Z + 1);
        return Geometry.Silhouette.Corridor.Of(FreeForms.Terrain(mesh, degrees, low), FreeForms.Terrain(mesh.Overturned(), degrees, -high), spacing);
    }

    public static FacetedGround Ground(Corridor corridor, double level = 0, double runOut = 0.5, double margin = 15, double tolerance = 0.05) =>
        SilhouetteGround.Of(corridor.Line(level, 4 * tolerance), corridor.Shadow, corridor.Body, level, runOut, margin, FreeForms.Lattice, tolerance);
}
