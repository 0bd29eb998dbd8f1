using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>Peaks of ground whose hills and passes are known.</summary>
public class MeshPeaksTests
{
    // Two hills of 10 and 7 on a plain, a dent of 5 between them whose way is 2 high: the lower stands 5 over the pass, the higher 10 over the plain.
    [Fact]
    public void A_hill_counts_by_its_height_over_the_pass_to_a_higher_one()
    {
        var ground = Ground([[0, 0, 0, 0, 0, 0, 0], [0, 10, 2, 2, 7, 0, 0], [0, 0, 0, 0, 0, 0, 0]]);
        var peaks = MeshPeaks.Of(ground, 1);
        Assert.Equal([(10.0, 10.0), (7.0, 5.0)], peaks.Select(p => (p.At.Z, p.Rise_mm)));
        Assert.Equal([new Vec2(1, 1), new(4, 1)], peaks.Select(p => p.At.Plan));
        Assert.Single(MeshPeaks.Of(ground, 5.5));
    }

    [Fact]
    public void A_flat_top_is_one_peak_in_its_middle()
    {
        var ground = Ground([[0, 0, 0, 0, 0], [0, 6, 6, 6, 0], [0, 6, 6, 6, 0], [0, 6, 6, 6, 0], [0, 0, 0, 0, 0]]);
        var peak = Assert.Single(MeshPeaks.Of(ground, 1));
        Assert.Equal((6.0, 6.0), (peak.At.Z, peak.Rise_mm));
        Assert.True(Vec2.Distance(peak.At.Plan, new(2, 2)) < 1e-12);
    }

    // The centre of a ring lies in its hollow: the peak is a place of the ring itself.
    [Fact]
    public void A_ring_is_one_peak_that_lies_on_it()
    {
        var ground = Ground([[6, 6, 6, 6, 6, 6], [6, 6, 6, 6, 6, 6], [6, 6, 0, 0, 6, 6], [6, 6, 0, 0, 6, 6], [6, 6, 6, 6, 6, 6], [6, 6, 6, 6, 6, 6]]);
        var peak = Assert.Single(MeshPeaks.Of(ground, 1));
        Assert.Equal(6, peak.At.Z, 1e-12);
        Assert.False(peak.At.X is > 1 and < 4 && peak.At.Y is > 1 and < 4);
    }

    // Random ground against a reference by flooding from above at every height: as many separate grounds over a height as peaks whose span holds it.
    [Fact]
    public void As_many_grounds_stand_over_a_height_as_peaks_span_it()
    {
        var random = new Random(7);
        for (var round = 0; round < 50; round++)
        {
            var heights = Enumerable.Range(0, 9).Select(_ => Enumerable.Range(0, 9).Select(_ => (double)random.Next(0, 1000)).ToArray()).ToArray();
            var ground = Ground(heights);
            var peaks = MeshPeaks.Of(ground, 0.5);
            foreach (var level in new[] { 250.5, 500.5, 750.5, 950.5 })
                Assert.Equal(Grounds(ground, level), peaks.Count(p => p.At.Z > level && p.At.Z - p.Rise_mm < level));
        }
    }

    private static int Grounds(TriangleMesh mesh, double level)
    {
        var over = Enumerable.Range(0, mesh.Vertices.Length).Where(v => mesh.Vertices[v].Z > level).ToHashSet();
        var count = 0;
        while (over.Count > 0)
        {
            count++;
            var wave = new Queue<int>([over.First()]);
            over.Remove(wave.Peek());
            while (wave.TryDequeue(out var v))
            {
                foreach (var n in mesh.Facets.Where(f => f.A == v || f.B == v || f.C == v).SelectMany(f => new[] { f.A, f.B, f.C }))
                    if (over.Remove(n)) wave.Enqueue(n);
            }
        }

        return count;
    }

    /// <summary>Ground over a square grid, one millimetre apart.</summary>
    private static TriangleMesh Ground(double[][] heights)
    {
        var width = heights[0].Length;
        var facets = new List<Facet>();
        for (var j = 0; j + 1 < heights.Length; j++)
        {
            for (var i = 0; i + 1 < width; i++)
            {
                var a = (j * width) + i;
                facets.Add(new(a, a + 1, a + width + 1));
                facets.Add(new(a, a + width + 1, a + width));
            }
        }

        return new([.. heights.SelectMany((row, j) => row.Select((z, i) => new Vec3(i, j, z)))], [.. facets]);
    }
}
