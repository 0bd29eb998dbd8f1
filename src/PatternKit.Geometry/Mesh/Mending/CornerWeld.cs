using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>Joins vertices. The first of those joined keeps its number and place.</summary>
internal static class CornerWeld
{
    /// <summary>Leaves out vertices that no facet names.</summary>
    public static (TriangleMesh Mesh, int Dropped) WithoutIdle(TriangleMesh mesh)
    {
        var tidy = Renumbered(mesh, Own(mesh.Vertices.Length));
        return (tidy, mesh.Vertices.Length - tidy.Vertices.Length);
    }

    /// <summary>Joins vertices at equal positions.</summary>
    public static (TriangleMesh Mesh, int Joined) Exact(TriangleMesh mesh)
    {
        var number = FirstAtPosition(mesh, out var joined);
        return joined == 0 ? (mesh, 0) : (Renumbered(mesh, number), joined);
    }

    /// <summary>
    /// Joins vertices of open edges to the nearest earlier one within the tolerance. Vertices kept are farther apart than that, so
    /// chains of near vertices do not run together; a closed surface is left alone, however fine it is.
    /// </summary>
    public static (TriangleMesh Mesh, int Joined) Near(TriangleMesh mesh, double tolerance_mm)
    {
        if (!(tolerance_mm > 0 && double.IsFinite(tolerance_mm))) return (mesh, 0);
        var number = Own(mesh.Vertices.Length);
        var edges = new MeshEdges(mesh.Facets, number);
        var open = new SortedSet<int>();
        foreach (var group in edges.Groups())
            if (group.Count == 1) (_, _) = (open.Add(edges.Start(group[0])), open.Add(edges.End(group[0])));
        if (open.Count == 0) return (mesh, 0);

        var low = mesh.Bounds().Low;
        var cells = new Dictionary<(long, long, long), List<int>>();
        var joined = 0;
        foreach (var v in open)
        {
            var p = mesh.Vertices[v];
            var at = (1 / tolerance_mm) * (p - low);
            var (x, y, z) = ((long)Math.Floor(at.X), (long)Math.Floor(at.Y), (long)Math.Floor(at.Z));
            var (best, distance) = (-1, tolerance_mm);
            for (var i = 0; i < 27; i++)
            {
                if (!cells.TryGetValue((x + (i % 3) - 1, y + (i / 3 % 3) - 1, z + (i / 9) - 1), out var others)) continue;
                foreach (var w in others)
                {
                    var d = (mesh.Vertices[w] - p).Length;
                    if (d > distance || (d == distance && best >= 0)) continue;
                    (best, distance) = (w, d);
                }
            }

            if (best >= 0)
            {
                number[v] = best;
                joined++;
                continue;
            }

            if (!cells.TryGetValue((x, y, z), out var cell)) cells.Add((x, y, z), cell = []);
            cell.Add(v);
        }

        return joined == 0 ? (mesh, 0) : (Renumbered(mesh, number), joined);
    }

    /// <summary>For each vertex the first at its position.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="joined">How many are not the first.</param>
    public static int[] FirstAtPosition(TriangleMesh mesh, out int joined)
    {
        var (table, first, number) = (new PositionTable(mesh.Vertices.Length), new List<int>(mesh.Vertices.Length), new int[mesh.Vertices.Length]);
        for (var v = 0; v < number.Length; v++)
        {
            var position = table.Number(mesh.Vertices[v]);
            if (position == first.Count) first.Add(v);
            number[v] = first[position];
        }

        joined = number.Length - first.Count;
        return number;
    }

    /// <summary>Each vertex its own number.</summary>
    public static int[] Own(int count) => [.. Enumerable.Range(0, count)];

    /// <summary>The mesh with vertices replaced by others of their number, and without idle ones; order stays.</summary>
    public static TriangleMesh Renumbered(TriangleMesh mesh, int[] number)
    {
        var facets = ImmutableArray.CreateBuilder<Facet>(mesh.Facets.Length);
        foreach (var f in mesh.Facets) facets.Add(new(number[f.A], number[f.B], number[f.C]));
        var joined = new TriangleMesh(mesh.Vertices, facets.MoveToImmutable());
        var used = Used(joined);
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var place = new int[used.Length];
        for (var v = 0; v < used.Length; v++)
        {
            if (!used[v]) continue;
            place[v] = vertices.Count;
            vertices.Add(mesh.Vertices[v]);
        }

        return new(vertices.ToImmutable(), [.. joined.Facets.Select(f => new Facet(place[f.A], place[f.B], place[f.C]))]);
    }

    private static bool[] Used(TriangleMesh mesh)
    {
        var used = new bool[mesh.Vertices.Length];
        foreach (var f in mesh.Facets) (used[f.A], used[f.B], used[f.C]) = (true, true, true);
        return used;
    }
}
