using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>What keeps large meshes quick, against the plain way of doing the same.</summary>
public class LargeMeshTests
{
    [Fact]
    public void Split_keys_are_those_of_a_whole_sort() => Gen.Select(Gen.Int[0, 20].Array[1, 400], Gen.Int[0, 399]).Sample((numbers, at) =>
    {
        var place = at % numbers.Length;
        var (keys, items) = (numbers.Select(n => (double)n).ToArray(), Enumerable.Range(0, numbers.Length).ToArray());
        Selection.Split(keys, items, place);
        // Language-integrated queries sort stably, so equal keys stay in the order of their numbers.
        var sorted = Enumerable.Range(0, numbers.Length).OrderBy(i => numbers[i]).ToArray();
        Assert.Equal(sorted[..place].Order(), items[..place].Order());
        Assert.Equal(items.Select(i => (double)numbers[i]), keys);
    });

    [Fact]
    public void Sides_come_together_by_edge_in_order() => Gen.Select(Gen.Int[0, 9], Gen.Int[0, 9]).Array[1, 300].Sample(ends =>
    {
        var (sides, starts) = EdgeSides.Of([.. Enumerable.Range(0, ends.Length)], i => ends[i], 10);
        var expected = Enumerable.Range(0, ends.Length).GroupBy(i => (Math.Min(ends[i].Item1, ends[i].Item2), Math.Max(ends[i].Item1, ends[i].Item2))).OrderBy(g => g.Key).ToArray();
        Assert.Equal(expected.Length, starts.Length - 1);
        for (var e = 0; e < expected.Length; e++) Assert.Equal(expected[e], sides[starts[e]..starts[e + 1]]);
    });

    [Fact]
    public void No_box_that_meets_a_marked_one_is_missed()
    {
        var number = Gen.Double[-50, 50];
        var box = Gen.Select(number, number, Gen.Double[0, 3], Gen.Double[0, 3]).Select((x, y, w, h) => (Low: new Vec2(x, y), High: new Vec2(x + w, y + h)));
        var told = 0;
        Gen.Select(box.Array[1, 5], box.Array[20]).Sample((marked, asked) =>
        {
            var cells = new MarkedCells(marked);
            foreach (var a in asked)
            {
                var meets = Array.Exists(marked, m => m.Low.X <= a.High.X && a.Low.X <= m.High.X && m.Low.Y <= a.High.Y && a.Low.Y <= m.High.Y);
                Assert.True(!meets || cells.MayMeet(a.Low, a.High));
                if (!cells.MayMeet(a.Low, a.High)) Interlocked.Increment(ref told);
            }
        });
        Assert.True(told > 100, "nothing is ever told apart");
    }

    [Fact]
    public void A_sound_shell_comes_back_as_it_is_and_one_turned_inside_out_does_not()
    {
        var ball = Shapes.Sphere(10, 24, 12);
        Assert.Same(ball, MeshMending.Mend(ball).Mesh);
        var inside = new TriangleMesh(ball.Vertices, [.. ball.Facets.Select(f => new Facet(f.A, f.C, f.B))]);
        Assert.Equal(ball.Volume(), MeshMending.Mend(inside).Mesh.Volume(), 1e-9);
        // Two shells, one a void in the other, take the long way and stay.
        var hollow = ball.Plus(Shapes.Sphere(5, 12, 6).Reversed());
        Assert.True(MeshMending.Mend(hollow).Report.IsMended);
        Assert.Equal(hollow.Volume(), MeshMending.Mend(hollow).Mesh.Volume(), 1e-9);
    }
}
