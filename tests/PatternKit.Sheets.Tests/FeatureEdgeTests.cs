using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Pictures;

namespace PatternKit.Sheets.Tests;

/// <summary>Which edges of a mesh are drawn, on a plate in whose upper face a facet is lifted at a corner.</summary>
public sealed class FeatureEdgeTests
{
    private const int Lifted = 10;
    private static readonly Vec3 Toward = new(0.3, -0.5, 0.8);

    [Fact]
    public void A_thin_facet_in_a_face_leaves_no_dash_and_a_small_peak_shows()
    {
        // 0.05 mm over 0.03 mm: 59 degrees, of no meaning. And 1 mm over 0.8 mm, which is a peak.
        Assert.DoesNotContain(FeatureEdges.Find(EdgedMesh.Of(Plate(0.03, 0.05)), Toward), e => e.A == Lifted || e.B == Lifted);
        Assert.Contains(FeatureEdges.Find(EdgedMesh.Of(Plate(0.8, 1)), Toward), e => e.A == Lifted || e.B == Lifted);
    }

    [Fact]
    public void The_edges_of_the_plate_itself_are_drawn_all_the_same()
    {
        var edges = FeatureEdges.Find(EdgedMesh.Of(Plate(0.03, 0.05)), Toward).ToArray();
        // Of a box seen from a corner nine edges show.
        Assert.Equal(9, edges.Length);
        Assert.All(edges, e => Assert.True(e.A < 8 && e.B < 8));
    }

    private static TriangleMesh Plate(double wide, double high) => new(
        [
            new(0, 0, 0), new(40, 0, 0), new(40, 40, 0), new(0, 40, 0), new(0, 0, 10), new(40, 0, 10), new(40, 40, 10), new(0, 40, 10),
            new(19.5, 20, 10), new(20.5, 20, 10), new(20, 20 + wide, 10 + high),
        ],
        [
            new(0, 2, 1), new(0, 3, 2), new(0, 1, 5), new(0, 5, 4), new(1, 2, 6), new(1, 6, 5), new(2, 3, 7), new(2, 7, 6), new(3, 0, 4), new(3, 4, 7),
            new(4, 5, 9), new(4, 9, 8), new(5, 6, 9), new(9, 6, 10), new(10, 6, 7), new(10, 7, 8), new(8, 7, 4), new(8, 9, 10),
        ]);
}
