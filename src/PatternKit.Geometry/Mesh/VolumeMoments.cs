using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Volume, centre and spread of the body that a closed mesh bounds, by sums over the tetrahedra from one point to its facets (Tonon 2004).</summary>
/// <param name="Volume_mm3">Signed volume.</param>
/// <param name="Centre">Centroid of the volume.</param>
/// <param name="Axes">The principal axes of the volume, square to each other and of length one, that of the greatest spread first.</param>
/// <param name="Spread_mm">Along each, the standard deviation of the volume about the centre, mm.</param>
public sealed record VolumeMoments(double Volume_mm3, Vec3 Centre, ImmutableArray<Vec3> Axes, ImmutableArray<double> Spread_mm)
{
    /// <summary>Reckons them. Bodies with equal spreads have no axes of their own; which are given then rests on rounding.</summary>
    /// <exception cref="ArgumentException">The mesh bounds no volume, or faces inward.</exception>
    public static VolumeMoments Of(TriangleMesh mesh)
    {
        var box = mesh.Bounds();
        var origin = 0.5 * (box.Low + box.High);
        double volume = 0, xx = 0, yy = 0, zz = 0, xy = 0, yz = 0, zx = 0;
        var first = default(Vec3);
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (mesh.Vertices[f.A] - origin, mesh.Vertices[f.B] - origin, mesh.Vertices[f.C] - origin);
            var six = Vec3.Dot(a, Vec3.Cross(b, c));
            var s = a + b + c;
            volume += six / 6;
            first += (six / 24) * s;
            // ∫ p pᵀ over the tetrahedron (0, a, b, c) = 6V/120 (s sᵀ + a aᵀ + b bᵀ + c cᵀ).
            var w = six / 120;
            xx += w * ((s.X * s.X) + (a.X * a.X) + (b.X * b.X) + (c.X * c.X));
            yy += w * ((s.Y * s.Y) + (a.Y * a.Y) + (b.Y * b.Y) + (c.Y * c.Y));
            zz += w * ((s.Z * s.Z) + (a.Z * a.Z) + (b.Z * b.Z) + (c.Z * c.Z));
            xy += w * ((s.X * s.Y) + (a.X * a.Y) + (b.X * b.Y) + (c.X * c.Y));
            yz += w * ((s.Y * s.Z) + (a.Y * a.Z) + (b.Y * b.Z) + (c.Y * c.Z));
            zx += w * ((s.Z * s.X) + (a.Z * a.X) + (b.Z * b.X) + (c.Z * c.X));
        }

        if (!(volume > 0)) throw new ArgumentException("The mesh bounds no volume, or faces inward.", nameof(mesh));
        var m = (1 / volume) * first;
        var (axes, values) = Eigen(
            new[,]
            {
                { (xx / volume) - (m.X * m.X), (xy / volume) - (m.X * m.Y), (zx / volume) - (m.Z * m.X) },
                { (xy / volume) - (m.X * m.Y), (yy / volume) - (m.Y * m.Y), (yz / volume) - (m.Y * m.Z) },
                { (zx / volume) - (m.Z * m.X), (yz / volume) - (m.Y * m.Z), (zz / volume) - (m.Z * m.Z) },
            });
        return new(volume, origin + m, axes, [.. values.Select(v => Math.Sqrt(Math.Max(0, v)))]);
    }

    /// <summary>Eigenvectors and eigenvalues of a symmetric matrix, the greatest first, by cyclic rotations (Jacobi 1846).</summary>
    private static (ImmutableArray<Vec3> Vectors, ImmutableArray<double> Values) Eigen(double[,] a)
    {
        const int MostSweeps = 50;
        var v = new double[,] { { 1, 0, 0 }, { 0, 1, 0 }, { 0, 0, 1 } };
        // Off-diagonal parts below rounding of the whole are nothing.
        var size = Math.Abs(a[0, 0]) + Math.Abs(a[1, 1]) + Math.Abs(a[2, 2]);
        for (var sweep = 0; sweep < MostSweeps && Math.Abs(a[0, 1]) + Math.Abs(a[0, 2]) + Math.Abs(a[1, 2]) > 1e-16 * size; sweep++)
        {
            Rotate(0, 1);
            Rotate(0, 2);
            Rotate(1, 2);
        }

        var order = Enumerable.Range(0, 3).OrderByDescending(i => a[i, i]).ToArray();
        return ([.. order.Select(i => new Vec3(v[0, i], v[1, i], v[2, i]))], [.. order.Select(i => a[i, i])]);

        void Rotate(int p, int q)
        {
            if (a[p, q] == 0) return;
            var theta = (a[q, q] - a[p, p]) / (2 * a[p, q]);
            var t = (theta < 0 ? -1 : 1) / (Math.Abs(theta) + Math.Sqrt((theta * theta) + 1));
            var c = 1 / Math.Sqrt((t * t) + 1);
            var s = t * c;
            for (var k = 0; k < 3; k++) (a[k, p], a[k, q]) = ((c * a[k, p]) - (s * a[k, q]), (s * a[k, p]) + (c * a[k, q]));
            for (var k = 0; k < 3; k++) (a[p, k], a[q, k]) = ((c * a[p, k]) - (s * a[q, k]), (s * a[p, k]) + (c * a[q, k]));
            for (var k = 0; k < 3; k++) (v[k, p], v[k, q]) = ((c * v[k, p]) - (s * v[k, q]), (s * v[k, p]) + (c * v[k, q]));
        }
    }
}
