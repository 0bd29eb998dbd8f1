using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>A high place of the upper side of a mesh.</summary>
/// <param name="At">In the middle of it, on the mesh.</param>
/// <param name="Rise_mm">Height over the lowest place of the best way to a higher one; over the lowest place of all it hangs together with where there is none.</param>
public sealed record MeshPeak(Vec3 At, double Rise_mm);

/// <summary>
/// The high places of the side of a mesh that looks up: corners are taken from the top down and joined along edges, and where two grounds meet the lower peak ends
/// (0-dimensional persistence; Edelsbrunner, Letscher and Zomorodian 2002).
/// </summary>
public static class MeshPeaks
{
    // Corners of one level flat, after rounding to the lattice.
    private const double Flat_mm = 0.01;

    /// <summary>The peaks, the highest first; of equals the one met first.</summary>
    /// <param name="mesh">Facing outward.</param>
    /// <param name="leastRise_mm">Lower ones are left out.</param>
    public static ImmutableArray<MeshPeak> Of(TriangleMesh mesh, double leastRise_mm)
    {
        Facet[] up = [.. mesh.Facets.Where(f => mesh.AreaNormal(f).Z > 0)];
        var (first, beside) = Neighbours(up, mesh.Vertices.Length);
        var z = mesh.Vertices.Select(v => v.Z).ToArray();
        int[] order = [.. up.SelectMany(f => new[] { f.A, f.B, f.C }).Distinct().OrderByDescending(v => z[v]).ThenBy(v => v)];
        var (sets, top, taken) = (new DisjointSets(z.Length), Enumerable.Range(0, z.Length).ToArray(), new bool[z.Length]);
        var found = new List<(int Top, double Rise)>();
        foreach (var v in order)
        {
            taken[v] = true;
            for (var i = first[v]; i < first[v + 1]; i++)
            {
                var n = beside[i];
                if (!taken[n]) continue;
                var (a, b) = (sets.Find(v), sets.Find(n));
                if (a == b) continue;
                var (high, low) = z[top[a]] > z[top[b]] || (z[top[a]] == z[top[b]] && top[a] < top[b]) ? (top[a], top[b]) : (top[b], top[a]);
                if (z[low] - z[v] >= leastRise_mm) found.Add((low, z[low] - z[v]));
                sets.Join(a, b);
                top[sets.Find(a)] = high;
            }
        }

        foreach (var ground in order.GroupBy(sets.Find)) found.Add((top[ground.Key], z[top[ground.Key]] - ground.Min(v => z[v])));
        return [.. found.Where(p => p.Rise >= leastRise_mm).OrderByDescending(p => z[p.Top]).ThenBy(p => p.Top).Select(p => new MeshPeak(Middle(mesh, up, p.Top), p.Rise))];
    }

    /// <summary>The corners that share an edge with each, counted into one list; an edge between two facets is in it twice.</summary>
    private static (int[] First, int[] Beside) Neighbours(Facet[] facets, int corners)
    {
        var first = new int[corners + 1];
        foreach (var f in facets)
            foreach (var v in new[] { f.A, f.B, f.C }) first[v + 1] += 2;
        for (var v = 0; v < corners; v++) first[v + 1] += first[v];
        var (next, beside) = (first[..^1], new int[first[^1]]);
        foreach (var f in facets)
        {
            foreach (var (a, b, c) in new[] { (f.A, f.B, f.C), (f.B, f.C, f.A), (f.C, f.A, f.B) })
            {
                beside[next[a]++] = b;
                beside[next[a]++] = c;
            }
        }

        return (first, beside);
    }

    /// <summary>The centre of the flat at a peak, or of its largest facet where that lies beside it, as in a ring; a peak without a flat is its own middle.</summary>
    private static Vec3 Middle(TriangleMesh mesh, Facet[] up, int top)
    {
        var level = mesh.Vertices[top].Z - Flat_mm;
        var flat = up.Where(f => mesh.Vertices[f.A].Z >= level && mesh.Vertices[f.B].Z >= level && mesh.Vertices[f.C].Z >= level).ToList();
        HashSet<int> reached = [top];
        var mine = new List<Facet>();
        for (var grown = true; grown;)
        {
            var next = flat.Where(f => reached.Contains(f.A) || reached.Contains(f.B) || reached.Contains(f.C)).ToList();
            grown = next.Count > 0;
            mine.AddRange(next);
            foreach (var f in next) reached.UnionWith([f.A, f.B, f.C]);
            flat.RemoveAll(next.Contains);
        }

        if (mine.Count == 0) return mesh.Vertices[top];
        var area = mine.Sum(f => mesh.AreaNormal(f).Z);
        var centre = mine.Aggregate(default(Vec3), (sum, f) => sum + (mesh.AreaNormal(f).Z / area * Centre(f)));
        return mine.Exists(f => Holds(f, centre.Plan)) ? centre : Centre(mine.MaxBy(f => mesh.AreaNormal(f).Z));

        Vec3 Centre(Facet f) => 1.0 / 3 * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C]);

        bool Holds(Facet f, Vec2 p)
        {
            var (a, b, c) = (mesh.Vertices[f.A].Plan, mesh.Vertices[f.B].Plan, mesh.Vertices[f.C].Plan);
            return Vec2.Cross(b - a, p - a) >= 0 && Vec2.Cross(c - b, p - b) >= 0 && Vec2.Cross(a - c, p - c) >= 0;
        }
    }
}
