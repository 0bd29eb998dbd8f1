using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>Bodies whose hidden space is known.</summary>
internal static class TestBodies
{
    /// <summary>A convex or hollow outline, counter-clockwise, pulled along y; the outline is in x and z.</summary>
    public static TriangleMesh Bar(double length, params (double X, double Z)[] outline)
    {
        var n = outline.Length;
        var vertices = outline.Select(p => new Vec3(p.X, 0, p.Z)).Concat(outline.Select(p => new Vec3(p.X, length, p.Z)));
        var facets = new List<Facet>();
        for (var i = 0; i < n; i++)
        {
            var j = (i + 1) % n;
            facets.Add(new(i, n + j, j));
            facets.Add(new(i, n + i, n + j));
        }

        foreach (var (a, b, c) in Ears(outline))
        {
            facets.Add(new(a, b, c));
            facets.Add(new(n + a, n + c, n + b));
        }

        return new([.. vertices], [.. facets]);
    }

    /// <summary>Turned about z; the first and the last ring are closed by a level face.</summary>
    public static TriangleMesh Turned(int corners, params (double Radius, double Height)[] profile) =>
        TurnedSolid.Build(default, [.. profile], corners, Lattice.For(200));

    /// <summary>x becomes z: a body turned about z lies along x.</summary>
    public static TriangleMesh Laid(this TriangleMesh mesh) => mesh.Mapped(p => new(p.Z, p.X, p.Y));

    /// <summary>Half a cylinder on its flat side, axis along y.</summary>
    public static TriangleMesh HalfCylinder(double radius, double length, int chords) =>
        Bar(length, [.. Enumerable.Range(0, chords + 1).Select(i => Math.SinCos(Math.PI * i / chords)).Select(a => (radius * a.Cos, radius * a.Sin))]);

    /// <summary>Flanges 20 apart inside, discs of radius 20 and 5 thick, on a core of radius 8.</summary>
    public static TriangleMesh Spool(int corners) => Turned(corners, (20, 0), (20, 5), (8, 5 + Thin), (8, 25 - Thin), (20, 25), (20, 30));

    /// <summary>Height over which a step of a turned profile runs.</summary>
    public const double Thin = 1.0 / 4096;

    private static IEnumerable<(int A, int B, int C)> Ears((double X, double Z)[] outline)
    {
        var left = Enumerable.Range(0, outline.Length).ToList();
        while (left.Count > 3)
        {
            var ear = Enumerable.Range(0, left.Count).First(i => IsEar(i));
            yield return Corner(ear);
            left.RemoveAt(ear);
        }

        yield return (left[0], left[1], left[2]);

        (int, int, int) Corner(int i) => (left[(i + left.Count - 1) % left.Count], left[i], left[(i + 1) % left.Count]);

        bool IsEar(int i)
        {
            var (a, b, c) = Corner(i);
            return Turn(a, b, c) > 0 && !left.Any(p => p != a && p != b && p != c && Turn(a, b, p) >= 0 && Turn(b, c, p) >= 0 && Turn(c, a, p) >= 0);
        }

        double Turn(int a, int b, int c) => Vec2.Cross(
            new(outline[b].X - outline[a].X, outline[b].Z - outline[a].Z), new(outline[c].X - outline[a].X, outline[c].Z - outline[a].Z));
    }
}
