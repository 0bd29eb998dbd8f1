using System.Text;
using static System.FormattableString;

namespace PatternKit.Patterns.Tests.Meshes;

/// <summary>Bodies in OBJ, facing outward.</summary>
internal static class ObjBodies
{
    /// <summary>A block 30 × 20 × 10 in OBJ, quads facing outward.</summary>
    internal const string Block = """
        v 0 0 0
        v 30 0 0
        v 30 20 0
        v 0 20 0
        v 0 0 10
        v 30 0 10
        v 30 20 10
        v 0 20 10
        f 4 3 2 1
        f 5 6 7 8
        f 1 2 6 5
        f 2 3 7 6
        f 3 4 8 7
        f 4 1 5 8
        """;

    /// <summary>Square prisms about the z axis, one on the other: z from, z to, half width.</summary>
    internal static string Stack(params (int From, int To, int Half)[] parts)
    {
        var (lines, faces, count) = (new List<string>(), new List<string>(), 0);
        int[]? below = null;
        foreach (var (from, to, half) in parts)
        {
            var (low, high) = (Ring(from, half), Ring(to, half));
            if (below is null) faces.Add(Invariant($"f {low[3]} {low[2]} {low[1]} {low[0]}"));
            for (var i = 0; i < 4; i++)
            {
                var j = (i + 1) % 4;
                if (below is not null) faces.Add(Invariant($"f {below[i]} {below[j]} {low[j]} {low[i]}"));
                faces.Add(Invariant($"f {low[i]} {low[j]} {high[j]} {high[i]}"));
            }

            below = high;
        }

        faces.Add(Invariant($"f {below![0]} {below[1]} {below[2]} {below[3]}"));
        return string.Join('\n', lines.Concat(faces));

        int[] Ring(int z, int h)
        {
            lines.AddRange([Invariant($"v {-h} {-h} {z}"), Invariant($"v {h} {-h} {z}"), Invariant($"v {h} {h} {z}"), Invariant($"v {-h} {h} {z}")]);
            count += 4;
            return [count - 3, count - 2, count - 1, count];
        }
    }

    /// <summary>An outline in x and z pulled along y, its ends as one face each.</summary>
    internal static string Bar(double length, params (double X, double Z)[] outline)
    {
        var n = outline.Length;
        IEnumerable<string> lines =
        [
            .. outline.Select(p => Invariant($"v {p.X} 0 {p.Z}")), .. outline.Select(p => Invariant($"v {p.X} {length} {p.Z}")),
            "f " + string.Join(' ', Enumerable.Range(1, n)), "f " + string.Join(' ', Enumerable.Range(n + 1, n).Reverse()),
            .. Enumerable.Range(0, n).Select(i => Invariant($"f {((i + 1) % n) + 1} {i + 1} {i + n + 1} {((i + 1) % n) + n + 1}")),
        ];
        return string.Join('\n', lines);
    }

    /// <summary>A round bar along x, each cross section moved up by a function of x.</summary>
    internal static string RoundBar(double radius, double length, int around, int along, Func<double, double> rise)
    {
        var text = new StringBuilder();
        for (var i = 0; i <= along; i++)
        {
            var x = length * (((double)i / along) - 0.5);
            for (var j = 0; j < around; j++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * j / around);
                text.Append(Invariant($"v {x:R} {radius * c:R} {(radius * s) + rise(x):R}\n"));
            }
        }

        int At(int i, int j) => 1 + (i * around) + (j % around);
        for (var i = 0; i < along; i++)
            for (var j = 0; j < around; j++) text.Append(Invariant($"f {At(i, j)} {At(i, j + 1)} {At(i + 1, j + 1)} {At(i + 1, j)}\n"));
        text.Append("f ").AppendJoin(' ', Enumerable.Range(0, around).Select(j => At(0, around - 1 - j))).Append('\n');
        text.Append("f ").AppendJoin(' ', Enumerable.Range(0, around).Select(j => At(along, j))).Append('\n');
        return text.ToString();
    }

    /// <summary>A profile of radii and heights carried round a regular polygon, of four sides half widths; ends in the middle are closed. Mending turns it outward.</summary>
    internal static string Around(int sides, (double Radius, double Z)[] profile)
    {
        var (lines, faces) = (new List<string>(), new List<string>());
        var rings = profile.Select(p => (p.Radius == 0 ? [] : Enumerable.Range(0, sides)).Select(i =>
        {
            var (s, c) = Math.SinCos(((2 * i) + 1) * Math.PI / sides);
            var r = sides == 4 ? p.Radius * Math.Sqrt(2) : p.Radius;
            lines.Add(Invariant($"v {Math.Round(r * c, 9)} {Math.Round(r * s, 9)} {p.Z}"));
            return lines.Count;
        }).ToArray()).ToArray();
        for (var i = 1; i < rings.Length; i++)
        {
            var (from, to) = (rings[i - 1], rings[i]);
            if (from.Length == 0) faces.Add($"f {string.Join(' ', to)}");
            else if (to.Length == 0) faces.Add($"f {string.Join(' ', from.Reverse())}");
            else for (var k = 0; k < sides; k++) faces.Add($"f {from[k]} {from[(k + 1) % sides]} {to[(k + 1) % sides]} {to[k]}");
        }

        return string.Join('\n', lines.Concat(faces));
    }
}
