using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Sheets.Pictures;

namespace PatternKit.Sheets.Tests;

/// <summary>Which edges of a mesh are drawn: of a plate in whose upper face a facet is lifted at a corner, and of bars.</summary>
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

    [Theory]
    [InlineData(0.002, 0)]
    [InlineData(0.05, 0)]
    [InlineData(1, 2)]
    public void A_step_shows_where_it_is_one_however_long_it_is(double high, int shown)
    {
        var bar = Bar((0, 0), (40, 0), (40, 10), (20, 10), (20, 10 + high), (0, 10 + high));
        // Above and below the riser two creases, from the other side two silhouettes.
        Assert.Equal(shown, Along(bar, new(0.3, 0.5, 0.8), 20));
        Assert.Equal(shown, Along(bar, new(0.3, -0.5, 0.8), 20));
    }

    [Theory]
    [InlineData(0.04)]
    [InlineData(1)]
    public void A_corner_that_is_hardly_broken_is_one_line(double broken) =>
        Assert.Equal(broken < 0.1 ? 1 : 2, Along(Bar((0, 0), (40, 0), (40, 10 - broken), (40 - broken, 10), (0, 10)), new(0.3, 0.5, 0.8), 40));

    [Fact]
    public void A_thin_facet_that_is_folded_back_shows_neither_in_a_face_nor_beside_a_corner()
    {
        // Along the middle of the upper face two strips lie on each other, a third of a tolerance wide.
        Assert.Equal(0, Along(Bar((0, 0), (40, 0), (40, 10), (20, 10), (20.006, 10.001), (0, 10)), new(0.3, 0.5, 0.8), 20));
        Assert.Equal(1, Along(Bar((0, 0), (40, 0), (40, 10), (39.99, 10), (39.996, 10.001), (0, 10)), new(0.3, 0.5, 0.8), 40));
    }

    /// <summary>Lines that run along a bar, near a place across it, on its upper side.</summary>
    private static int Along(TriangleMesh bar, Vec3 toward, double y) => FeatureEdges.Find(EdgedMesh.Of(bar), toward).Count(e =>
        bar.Vertices[e.A] is var a && bar.Vertices[e.B] is var b && Math.Abs(a.X - b.X) > 30 && new[] { a, b }.All(v => v.Z > 5 && Math.Abs(v.Y - y) < 1.5));

    /// <summary>A bar along x with a section of y and z, anticlockwise.</summary>
    private static TriangleMesh Bar(params (double Y, double Z)[] section)
    {
        var n = section.Length;
        return new(
            [.. section.Select(p => new Vec3(0, p.Y, p.Z)), .. section.Select(p => new Vec3(40, p.Y, p.Z))],
            [
                .. Enumerable.Range(0, n).SelectMany(i => new Facet[] { new(i, (i + 1) % n, n + ((i + 1) % n)), new(i, n + ((i + 1) % n), n + i) }),
                .. Enumerable.Range(1, n - 2).SelectMany(i => new Facet[] { new(0, i + 1, i), new(n, n + i, n + i + 1) }),
            ]);
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
