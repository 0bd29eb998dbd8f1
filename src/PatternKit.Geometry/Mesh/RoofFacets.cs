using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>The skin that closes a hollow on a level plane off from above, or from below: facets that look to the plane, reach beyond it and hang together.</summary>
public static class RoofFacets
{
    /// <summary>The facets, ascending.</summary>
    /// <param name="mesh">Closed, facing outward.</param>
    /// <param name="seeds">Facets of the hollow; those that do not look to the plane do not count.</param>
    /// <param name="z">Height of the plane.</param>
    /// <param name="above">Whether the hollow lies above the plane.</param>
    public static ImmutableArray<int> Of(TriangleMesh mesh, IEnumerable<int> seeds, double z, bool above)
    {
        var sign = above ? 1 : -1;
        var sets = new DisjointSets(mesh.Facets.Length);
        foreach (var edge in new MeshEdges(mesh.Facets, [.. Enumerable.Range(0, mesh.Vertices.Length)]).Groups())
            if (edge.Count == 2 && IsRoof(edge[0] / 3) && IsRoof(edge[1] / 3)) sets.Join(edge[0] / 3, edge[1] / 3);
        var roots = seeds.Where(IsRoof).Select(sets.Find).ToHashSet();
        return [.. Enumerable.Range(0, mesh.Facets.Length).Where(f => IsRoof(f) && roots.Contains(sets.Find(f)))];

        bool IsRoof(int f)
        {
            var facet = mesh.Facets[f];
            return sign * mesh.AreaNormal(facet).Z < 0 && new[] { facet.A, facet.B, facet.C }.Any(v => sign * (mesh.Vertices[v].Z - z) > 0);
        }
    }

    /// <summary>The same facets as ground that looks up, heights measured from the plane away from it.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="facets">Of it.</param>
    /// <param name="z">Height of the plane.</param>
    /// <param name="above">Whether they lie above it.</param>
    public static TriangleMesh Ground(TriangleMesh mesh, ImmutableArray<int> facets, double z, bool above)
    {
        var numbers = new Dictionary<int, int>();
        var corners = ImmutableArray.CreateBuilder<Vec3>();
        // Above they look down and are turned over; below they look up, and as depths they still do: their plan stays as it is.
        ImmutableArray<Facet> turned = [.. facets.Select(f => mesh.Facets[f]).Select(f => new Facet(Number(f.A), Number(above ? f.C : f.B), Number(above ? f.B : f.C)))];
        return new(corners.ToImmutable(), turned);

        int Number(int v)
        {
            if (numbers.TryGetValue(v, out var known)) return known;
            var p = mesh.Vertices[v];
            corners.Add(p with { Z = above ? p.Z - z : z - p.Z });
            return numbers[v] = corners.Count - 1;
        }
    }
}
