using PatternKit.Geometry.Mesh;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>The one validity check of all mesh tests.</summary>
internal static class MeshAssert
{
    public static void Valid(TriangleMesh mesh)
    {
        var edges = new HashSet<(int, int)>();
        foreach (var f in mesh.Facets)
        {
            Assert.True(edges.Add((f.A, f.B)) && edges.Add((f.B, f.C)) && edges.Add((f.C, f.A)), "an edge is used twice");
            Assert.True(mesh.AreaNormal(f).Length > 0, "a facet is degenerate");
        }

        var open = edges.Where(e => !edges.Contains((e.Item2, e.Item1))).ToArray();
        Assert.True(open.Length == 0, $"{open.Length} open edges: {string.Join(", ", open.Take(6).Select(e => $"{mesh.Vertices[e.Item1]} {mesh.Vertices[e.Item2]}"))}");
    }
}
