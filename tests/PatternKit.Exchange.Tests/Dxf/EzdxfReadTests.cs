using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Drawings made by ezdxf, compared with the points that ezdxf itself sees on their curves.</summary>
public sealed class EzdxfReadTests
{
    private const double Chord = 5e-4;

    // Arcs fitted by the reader keep within 0.001; both sides then take chords.
    private const double Tolerance = 0.001 + (2 * Chord);

    [Theory]
    [InlineData("R12")]
    [InlineData("R2000")]
    [InlineData("R2007")]
    [InlineData("R2018")]
    public void Curves_of_a_drawing_by_another_writer_lie_where_it_says(string release)
    {
        var file = Path.GetTempFileName();
        try
        {
            var expected = EzdxfTool.Run("ezdxf_make.py", release, file);
            var result = DxfReader.Read(File.ReadAllBytes(file), "made.dxf");
            Assert.Equal(release == "R12" ? DxfUnit.None : DxfUnit.Millimetre, result.Value.Unit);
            Assert.DoesNotContain(result.Notes, n => n.Text.Contains("not read", StringComparison.Ordinal));
            var layers = expected.EnumerateObject().ToList();
            Assert.Equal(layers.Select(l => l.Name).Order(StringComparer.Ordinal), result.Value.Layers.Order(StringComparer.Ordinal));
            foreach (var layer in layers)
            {
                var curves = result.Value.Curves.Where(c => c.Layer == layer.Name).ToList();
                var rows = layer.Value.EnumerateArray().Select(row => row.EnumerateArray().Select(p => new Vec2(p[0].GetDouble(), p[1].GetDouble())).ToList()).ToList();
                if (!layer.Name.Contains("UNEQUAL", StringComparison.Ordinal))
                {
                    Assert.Equal(rows.Count, curves.Count);
                    foreach (var (row, curve) in rows.Zip(curves)) CompareEnds(layer.Name, row, curve);
                }

                // An unequal scale lets ezdxf break a polyline into pieces, so the layer is compared as a whole.
                var ours = curves.ConvertAll(Points);
                Assert.True(Farthest(rows, ours) <= Tolerance, $"{layer.Name}: {Farthest(rows, ours)}");
                Assert.True(Farthest(ours, rows) <= Tolerance, $"{layer.Name}: {Farthest(ours, rows)}");
            }
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static List<Vec2> Points(DxfCurve curve)
    {
        var points = curve.Path.Flatten(Chord);
        if (curve.Path.IsClosed) points.Add(points[0]);
        return points;
    }

    private static void CompareEnds(string name, List<Vec2> expected, DxfCurve curve)
    {
        var points = Points(curve);
        var same = Vec2.Distance(points[0], expected[0]) + Vec2.Distance(points[^1], expected[^1]);
        var turned = Vec2.Distance(points[0], expected[^1]) + Vec2.Distance(points[^1], expected[0]);
        var gap = curve.Path.IsClosed ? Vec2.Distance(expected[0], expected[^1]) : Math.Min(same, turned);
        Assert.True(gap < 1e-9 * 100, $"{name}: {gap}");
    }

    private static double Farthest(List<List<Vec2>> from, List<List<Vec2>> to)
    {
        var factory = new GeometryFactory();
        var chains = factory.CreateMultiLineString([.. to.Select(c => factory.CreateLineString([.. c.Select(p => new Coordinate(p.X, p.Y))]))]);
        var index = new IndexedFacetDistance(chains);
        return from.SelectMany(c => c).Max(p => index.Distance(factory.CreatePoint(new Coordinate(p.X, p.Y))));
    }
}
