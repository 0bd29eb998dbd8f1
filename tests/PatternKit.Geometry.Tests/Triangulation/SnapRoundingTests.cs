using System.Numerics;
using CsCheck;
using NetTopologySuite.Geometries;
using NetTopologySuite.Noding;
using NetTopologySuite.Noding.Snapround;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Tests.Triangulation;

/// <summary>Snap rounding against its definition (Hobby 1999), written out in fractions, and against NetTopologySuite's.</summary>
public class SnapRoundingTests
{
    private static readonly Gen<LatticePoint[][]> Crowded =
        Gen.Select(Gen.Int[-9, 9], Gen.Int[-9, 9]).Select((x, y) => new LatticePoint(x, y)).Array[2, 4].Array[1, 8];

    private static readonly Gen<LatticePoint[][]> Wide =
        Gen.Select(Gen.Int[-30_000_000, 30_000_000], Gen.Int[-30_000_000, 30_000_000]).Select((x, y) => new LatticePoint(x, y)).Array[2, 5].Array[2, 12];

    [Fact]
    public void A_line_is_bent_through_just_the_hot_squares_that_it_passes() => Crowded.Sample(
        lines =>
        {
            var noded = SnapRounding.Noded(lines);
            var hot = Hot(lines);
            for (var i = 0; i < lines.Length; i++) Assert.Equal(Bent(lines[i], hot), noded[i]);
        },
        iter: 5_000);

    [Fact]
    public void Lines_over_the_whole_lattice_come_out_as_those_of_the_library() => Wide.Sample(
        lines => Assert.Equal(Edges(ByLibrary(lines)), Edges(SnapRounding.Noded(lines))),
        iter: 300);

    [Fact]
    public void Hundreds_of_lines_that_coincide_touch_and_cross_come_out_as_those_of_the_library()
    {
        // A comb over concentric polygons: most lines miss each other, some share points, one is there twice.
        LatticePoint[] Ring(double radius, int corners) =>
            [.. Enumerable.Range(0, corners + 1).Select(i => new LatticePoint((int)(radius * Math.Cos(i % corners * 2 * Math.PI / corners)), (int)(radius * Math.Sin(i % corners * 2 * Math.PI / corners))))];
        LatticePoint[][] lines =
        [
            .. Enumerable.Range(1, 40).Select(i => Ring(100_003.0 * i, 50 + i)), Ring(100_003.0 * 7, 57),
            .. Enumerable.Range(-40, 80).Select(i => new[] { new LatticePoint(i * 90_001, -3_999_999), new(i * 90_007, 3_999_999) }),
        ];
        Assert.Equal(Edges(ByLibrary(lines)), Edges(SnapRounding.Noded(lines)));
    }

    [Fact]
    public void Noded_lines_meet_at_their_points_only() => Crowded.Sample(
        lines =>
        {
            // The library's own check, on lines cut at all their points.
            var edges = Edges(SnapRounding.Noded(lines)).Select(e => (ISegmentString)new BasicSegmentString([new(e.A.X, e.A.Y), new(e.B.X, e.B.Y)], null)).ToList();
            Assert.True(new FastNodingValidator(edges).IsValid);
        },
        iter: 2_000);

    [Fact]
    public void A_quotient_next_to_a_half_is_rounded_to_its_own_side() =>
        Gen.Select(Gen.Int[-30_000_000, 30_000_000], Gen.Long[1, 1L << 50], Gen.Int[0, 1000], Gen.Int[-2, 2]).Sample(
            (length, whole, k, aside) =>
            {
                // Parts of which the quotient is k and a half, but for a step.
                var part = length == 0 ? 0 : Math.Clamp((long)((2 * k) + 1) * whole / (2 * Math.Abs((long)length)) + aside, 0, whole);
                var (twice, divisor) = ((2 * (BigInteger)length * part) + whole, 2 * (BigInteger)whole);
                var expected = BigInteger.DivRem(twice, divisor, out var rest) - (rest < 0 ? 1 : 0);
                Assert.Equal((int)expected, SegmentSquares.Part(length, part, whole));
            },
            iter: 20_000);

    private static HashSet<LatticePoint> Hot(LatticePoint[][] lines)
    {
        var segments = lines.SelectMany(l => l.Zip(l.Skip(1))).ToArray();
        var hot = lines.SelectMany(l => l).ToHashSet();
        foreach (var (a, b) in segments)
        {
            foreach (var (c, d) in segments)
            {
                long x = b.X - a.X, y = b.Y - a.Y, u = d.X - c.X, v = d.Y - c.Y, whole = (x * v) - (y * u);
                if (whole == 0) continue;
                var (t, s) = (((c.X - a.X) * v) - ((c.Y - a.Y) * u), ((c.X - a.X) * y) - ((c.Y - a.Y) * x));
                if (whole < 0) (t, s, whole) = (-t, -s, -whole);
                if (t < 0 || t > whole || s < 0 || s > whole) continue;
                // Rounding half up is the floor of (2 n + m) / 2 m.
                hot.Add(new((int)Floor((2 * ((a.X * whole) + (t * x))) + whole, 2 * whole), (int)Floor((2 * ((a.Y * whole) + (t * y))) + whole, 2 * whole)));
            }
        }

        return hot;
    }

    private static long Floor(long n, long m) => n >= 0 || n % m == 0 ? n / m : (n / m) - 1;

    private static List<LatticePoint> Bent(LatticePoint[] line, HashSet<LatticePoint> hot)
    {
        List<LatticePoint> bent = [line[0]];
        foreach (var (a, b) in line.Zip(line.Skip(1)))
        {
            if (a == b) continue;
            bent.AddRange(hot.Where(p => p != a && p != b && Passes(a, b, p)).OrderBy(p => ((p.X - a.X) * (b.X - a.X)) + ((p.Y - a.Y) * (b.Y - a.Y))));
            bent.Add(b);
        }

        return bent;
    }

    /// <summary>Whether some a + t (b − a), 0 ≤ t ≤ 1, has both coordinates within [p − ½, p + ½).</summary>
    private static bool Passes(LatticePoint a, LatticePoint b, LatticePoint p)
    {
        // Every bound of t is a fraction, and may be left out itself.
        var (low, high) = ((N: 0L, D: 1L, Open: false), (N: 1L, D: 1L, Open: false));
        return Within(2L * a.X, 2L * (b.X - a.X), (2L * p.X) - 1) && Within(2L * a.Y, 2L * (b.Y - a.Y), (2L * p.Y) - 1)
            && (low.N * high.D).CompareTo(high.N * low.D) is var c && (c < 0 || (c == 0 && !low.Open && !high.Open));

        bool Within(long start, long run, long from)
        {
            if (run == 0) return start >= from && start < from + 2;
            var (enter, leave) = ((N: from - start, D: run, Open: false), (N: from + 2 - start, D: run, Open: true));
            if (run < 0) (enter, leave) = ((-leave.N, -run, true), (-enter.N, -run, false));
            if (enter.N * low.D > low.N * enter.D || (enter.N * low.D == low.N * enter.D && enter.Open)) low = enter;
            if (leave.N * high.D < high.N * leave.D || (leave.N * high.D == high.N * leave.D && leave.Open)) high = leave;
            return true;
        }
    }

    private static IEnumerable<LatticePoint[]> ByLibrary(LatticePoint[][] lines)
    {
        var noder = new SnapRoundingNoder(new PrecisionModel(1));
        noder.ComputeNodes([.. lines.Select(l => (ISegmentString)new NodedSegmentString([.. l.Select(p => new Coordinate(p.X, p.Y))], null))]);
        return noder.GetNodedSubstrings().Select(s => s.Coordinates.Select(c => new LatticePoint((int)c.X, (int)c.Y)).ToArray());
    }

    private static List<(LatticePoint A, LatticePoint B)> Edges(IEnumerable<LatticePoint[]> lines) =>
    [
        .. lines.SelectMany(l => l.Zip(l.Skip(1))).Select(e => (e.First.X, e.First.Y).CompareTo((e.Second.X, e.Second.Y)) < 0 ? (e.First, e.Second) : (e.Second, e.First))
            .Distinct().OrderBy(e => (e.Item1.X, e.Item1.Y, e.Item2.X, e.Item2.Y)),
    ];
}
