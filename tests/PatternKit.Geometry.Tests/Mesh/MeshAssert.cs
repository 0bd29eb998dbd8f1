using PatternKit.Geometry.Mesh;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>The one validity check of all mesh tests.</summary>
internal static class MeshAssert
{
    public static void Valid(TriangleMesh mesh)
    {
        var report = MeshInspection.Inspect(mesh);
        Assert.True(report.IsValid, report.ToString());
    }
}
