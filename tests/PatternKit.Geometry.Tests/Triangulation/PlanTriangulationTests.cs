using System.Numerics;
using CsCheck;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Tests.Triangulation;

/// <summary>Predicates against whole numbers of any size; the triangulation against the definition of Delaunay (1934).</summary>
public class PlanTriangulationTests
{
    private static readonly Gen<LatticePoint> Anywhere =
        Gen.Select(Gen.Int[-33_000_000, 33_000_000], Gen.Int[-33_000_000, 33_000_000]).Select((x, y) => new LatticePoint(x, y));

    private static readonly Gen<LatticePoint> Crowded =
        Gen.Select(Gen.Int[0, 12], Gen.Int[0, 12]).Select((x, y) => new LatticePoint(x * 3, y * 3));

    [Fact]
    public void The_circle_predicate_has_the_sign_of_the_exact_determinant()
    {
        // Points on one circle of large radius, moved by one step: the estimate in doubles cannot tell them apart.
        var onCircle = Gen.Select(Gen.Double[0, 2 * Math.PI], Gen.Int[-1, 1]).Select((t, d) =>
            new LatticePoint((int)Math.Round(3e7 * Math.Cos(t)) + d, (int)Math.Round(3e7 * Math.Sin(t))));
        Gen.Select(Gen.OneOf(Anywhere, onCircle).Array[4], Gen.Bool).Sample(
            (p, _) =>
            {
                var expected = ExactInCircle(p[0], p[1], p[2], p[3]);
                Assert.Equal(expected, LatticePredicates.InCircle(p[0], p[1], p[2], p[3]));
            },
            iter: 20_000);
    }

    [Fact]
    public void Four_points_exactly_on_one_circle_are_told_from_four_that_miss_it_by_a_step()
    {
        // (±a, ±b) and (±b, ±a) lie on one circle; the products of the determinant are beyond what a double holds.
        Gen.Select(Gen.Int[20_000_000, 33_000_000], Gen.Int[20_000_000, 33_000_000], Gen.Int[0, 7].Array[4], Gen.Int[-1, 1]).Sample(
            (a, b, corners, miss) =>
            {
                var p = corners.Select(c =>
                {
                    var (x, y) = c < 4 ? (a, b) : (b, a);
                    return new LatticePoint((c & 1) == 0 ? x : -x, (c & 2) == 0 ? y : -y);
                }).ToArray();
                p[3] = new(p[3].X + miss, p[3].Y);
                Assert.Equal(ExactInCircle(p[0], p[1], p[2], p[3]), LatticePredicates.InCircle(p[0], p[1], p[2], p[3]));
            },
            iter: 20_000);
    }

    [Fact]
    public void A_swap_undone_leaves_every_half_edge_where_it_was() => Crowded.Array[4, 30].Sample(
        points =>
        {
            var t = new PlanTriangulation(new(-50, -50), new(90, 90));
            foreach (var p in points) t.Insert(p);
            for (var h = 0; h < 3 * t.TriangleCount; h++)
            {
                var before = State(t);
                if (!t.TryFlip(h)) continue;
                AssertCovers(t);
                Assert.NotEqual(before, State(t));
                t.UndoFlip(h);
                Assert.Equal(before, State(t));
                AssertCovers(t);
            }
        },
        iter: 200);

    private static (int Origin, int Twin)[] State(PlanTriangulation t) => [.. Enumerable.Range(0, 3 * t.TriangleCount).Select(h => (t.Origin(h), t.Twin(h)))];

    [Fact]
    public void Every_free_edge_is_Delaunay_and_the_rectangle_is_covered_once()
    {
        Gen.OneOf(Crowded, Anywhere).Array[1, 60].Sample(
            points =>
            {
                var t = new PlanTriangulation(new(-40_000_000, -40_000_000), new(40_000_000, 40_000_000));
                foreach (var p in points) t.Insert(p);
                AssertCovers(t);
                for (var h = 0; h < 3 * t.TriangleCount; h++)
                    if (t.Twin(h) is >= 0 and var g)
                        Assert.True(ExactInCircle(Corner(t, h), Corner(t, PlanTriangulation.Next(h)), Corner(t, PlanTriangulation.Previous(h)), Corner(t, PlanTriangulation.Previous(g))) <= 0);
                foreach (var p in points) Assert.True(t.TryFind(p, out _));
            },
            iter: 300);
    }

    [Fact]
    public void Segments_that_do_not_cross_are_edges_afterwards_and_stay_so()
    {
        // A fan of segments from one point cannot cross itself.
        Gen.Select(Crowded.Array[3, 40], Crowded.Array[1, 20]).Sample(
            (ends, later) =>
            {
                var t = new PlanTriangulation(new(-100, -100), new(200, 200));
                foreach (var p in ends) t.Insert(p);
                var centre = t.Insert(new(17, 19));
                var targets = ends.Distinct().Select(p => t.Insert(p)).ToArray();
                foreach (var v in targets) Assert.True(t.TryConstrain(centre, v));
                foreach (var p in later) t.Insert(new(p.X + 1, p.Y + 1));
                AssertCovers(t);
                foreach (var v in targets) AssertChainOfConstrainedEdges(t, centre, v);
            },
            iter: 300);
    }

    [Fact]
    public void A_segment_that_crosses_one_forced_in_before_is_refused_and_changes_nothing_there()
    {
        var t = new PlanTriangulation(new(-100, -100), new(100, 100));
        int a = t.Insert(new(-50, 0)), b = t.Insert(new(50, 0)), c = t.Insert(new(0, -50)), d = t.Insert(new(0, 50));
        Assert.True(t.TryConstrain(a, b));
        Assert.False(t.TryConstrain(c, d));
        Assert.True(t.Find(a, b) >= 0 && t.IsConstrained(t.Find(a, b)));
        AssertCovers(t);
    }

    [Fact(Timeout = 60_000)]
    public Task Among_spiral_arms_a_point_is_found_from_everywhere() => Task.Run(
        () =>
        {
            // The classic round trip of walks by sight (De Floriani et al. 1991): arms forced in around a polygon, each hiding the next.
            var ends = new[] { 3, 4, 5, 6, 7, 9 };
            var (size, found) = (1 << 20, 0);
            foreach (var arms in ends)
            {
                for (var twist = 0.05; twist < 1; twist += 0.05)
                {
                    for (var start = 0; start < arms; start++)
                    {
                        var t = new PlanTriangulation(new(-4 * size, -4 * size), new(4 * size, 4 * size));
                        int[] inner = [.. Enumerable.Range(0, arms).Select(i => t.Insert(OnCircle(size / 8, i, arms)))];
                        int[] outer = [.. Enumerable.Range(0, arms).Select(i => t.Insert(OnCircle(size, i + (2 * twist), arms)))];
                        for (var i = 0; i < arms; i++) t.TryConstrain(inner[i], outer[i]);
                        for (var i = 0; i < arms; i++) t.TryConstrain(inner[(i + 1) % arms], outer[i]);
                        // The walk starts where the last point went.
                        t.Insert(OnCircle(9 * size / 10, start + 0.3 + (2 * twist), arms));
                        t.Insert(new(start, 3 * start));
                        AssertCovers(t);
                        found++;
                    }
                }
            }

            Assert.Equal(ends.Sum() * 19, found);

            static LatticePoint OnCircle(int radius, double turn, int arms) =>
                new((int)(radius * Math.Cos(2 * Math.PI * turn / arms)), (int)(radius * Math.Sin(2 * Math.PI * turn / arms)));
        },
        TestContext.Current.CancellationToken);

    [Fact]
    public void A_point_outside_the_rectangle_is_refused()
    {
        var t = new PlanTriangulation(new(0, 0), new(10, 10));
        Assert.Throws<ArgumentOutOfRangeException>(() => t.Insert(new(11, 5)));
    }

    private static LatticePoint Corner(PlanTriangulation t, int h) => t.Point(t.Origin(h));

    private static void AssertCovers(PlanTriangulation t)
    {
        BigInteger area = 0;
        for (var i = 0; i < t.TriangleCount; i++)
        {
            var twice = LatticePredicates.Orient(Corner(t, 3 * i), Corner(t, (3 * i) + 1), Corner(t, (3 * i) + 2));
            Assert.True(twice > 0, "a triangle does not turn left");
            area += twice;
        }

        var (low, high) = (t.Point(0), t.Point(2));
        Assert.Equal(2 * (BigInteger)((long)high.X - low.X) * ((long)high.Y - low.Y), area);
        for (var h = 0; h < 3 * t.TriangleCount; h++)
            if (t.Twin(h) >= 0)
                Assert.True(t.Twin(t.Twin(h)) == h && t.Origin(t.Twin(h)) == t.Origin(PlanTriangulation.Next(h)) && t.IsConstrained(h) == t.IsConstrained(t.Twin(h)));
    }

    private static void AssertChainOfConstrainedEdges(PlanTriangulation t, int from, int to)
    {
        var target = t.Point(to);
        for (var steps = 0; from != to; steps++)
        {
            Assert.True(steps < 100);
            var here = t.Point(from);
            var next = t.Around(from).Where(h => t.IsConstrained(h)).Select(h => t.Origin(PlanTriangulation.Next(h)))
                .Where(v => LatticePredicates.Orient(here, target, t.Point(v)) == 0
                    && (((long)(target.X - here.X) * (t.Point(v).X - here.X)) + ((long)(target.Y - here.Y) * (t.Point(v).Y - here.Y))) > 0).ToArray();
            Assert.Single(next);
            from = next[0];
        }
    }

    private static int ExactInCircle(LatticePoint a, LatticePoint b, LatticePoint c, LatticePoint d)
    {
        BigInteger ax = a.X - (BigInteger)d.X, ay = a.Y - (BigInteger)d.Y, bx = b.X - (BigInteger)d.X, by = b.Y - (BigInteger)d.Y, cx = c.X - (BigInteger)d.X, cy = c.Y - (BigInteger)d.Y;
        return ((((ax * ax) + (ay * ay)) * ((bx * cy) - (by * cx))) + (((bx * bx) + (by * by)) * ((cx * ay) - (cy * ax))) + (((cx * cx) + (cy * cy)) * ((ax * by) - (ay * bx)))).Sign;
    }
}
