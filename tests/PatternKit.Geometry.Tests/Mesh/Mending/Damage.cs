using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh.Mending;

/// <summary>What goes wrong with meshes on the way, by a seeded random sequence.</summary>
internal sealed class Damage(int seed)
{
    private readonly Random _random = new(seed);

    /// <summary>Takes facets away, no two of which share an edge, so that each hole has one filling.</summary>
    public TriangleMesh WithHoles(TriangleMesh mesh, int count)
    {
        var taken = new HashSet<(int, int)>();
        var gone = new HashSet<int>();
        var around = mesh.Facets.SelectMany(f => new[] { f.A, f.B, f.C }).CountBy(v => v).ToDictionary();
        var lost = new HashSet<int>();
        for (var i = 0; i < count; i++)
        {
            var at = _random.Next(mesh.Facets.Length);
            var f = mesh.Facets[at];
            (int, int)[] sides = [Side(f.A, f.B), Side(f.B, f.C), Side(f.C, f.A)];
            if (sides.Any(taken.Contains)) continue;
            // A corner of few facets that loses two of them tells no longer in what order the rest go round it.
            int[] corners = [f.A, f.B, f.C];
            if (corners.Any(v => around[v] < 6 && lost.Contains(v))) continue;
            lost.UnionWith(corners);
            taken.UnionWith(sides);
            gone.Add(at);
        }

        return mesh.WithFacets(facets => [.. facets.Where((_, i) => !gone.Contains(i))]);
    }

    /// <summary>Turns facets over.</summary>
    public TriangleMesh WithTurned(TriangleMesh mesh, double share) =>
        mesh.WithFacets(facets => [.. facets.Select(f => _random.NextDouble() < share ? new Facet(f.A, f.C, f.B) : f)]);

    /// <summary>Has some facets twice, started at any corner and either way round.</summary>
    public TriangleMesh WithDoubled(TriangleMesh mesh, int count) => mesh.WithFacets(facets => facets.AddRange(Enumerable.Range(0, count).Select(_ =>
    {
        var f = facets[_random.Next(facets.Length)];
        return _random.Next(4) switch { 0 => f, 1 => new(f.B, f.C, f.A), 2 => new(f.C, f.B, f.A), _ => new Facet(f.A, f.C, f.B) };
    })));

    /// <summary>Gives some corners of facets a vertex of their own, up to a distance away.</summary>
    public TriangleMesh WithSplitVertices(TriangleMesh mesh, double share, double distance)
    {
        var vertices = mesh.Vertices.ToBuilder();
        var facets = mesh.Facets.Select(f => new Facet(Own(f.A), Own(f.B), Own(f.C))).ToImmutableArray();
        return new(vertices.ToImmutable(), facets);

        int Own(int v)
        {
            if (_random.NextDouble() >= share) return v;
            vertices.Add(mesh.Vertices[v] + (distance * new Vec3(_random.NextDouble() - 0.5, _random.NextDouble() - 0.5, _random.NextDouble() - 0.5)));
            return vertices.Count - 1;
        }
    }

    /// <summary>Facets in any order.</summary>
    public TriangleMesh Shuffled(TriangleMesh mesh)
    {
        var facets = mesh.Facets.ToArray();
        _random.Shuffle(facets);
        return new(mesh.Vertices, [.. facets]);
    }

    private static (int, int) Side(int a, int b) => (Math.Min(a, b), Math.Max(a, b));
}
