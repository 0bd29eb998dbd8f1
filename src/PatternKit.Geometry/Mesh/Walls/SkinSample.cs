using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Walls;

/// <summary>A point of a skin that stands for the area about it.</summary>
/// <param name="Facet">The facet that it lies on.</param>
/// <param name="At">Where.</param>
/// <param name="Area_mm2">What it stands for.</param>
public readonly record struct SkinSample(int Facet, Vec3 At, double Area_mm2);

/// <summary>
/// Points spread over a mesh: facets are halved across their longest side until they are no longer than the spacing, and of small facets that lie in one cell
/// of a grid of that size and look the same way the first stands for all, so that their number goes by the area of the skin, however it was cut into facets.
/// </summary>
public sealed class SkinSampling
{
    private SkinSampling(SkinSample[] samples, int[][] ofFacet) => (Samples, this.ofFacet) = (samples, ofFacet);

    private readonly int[][] ofFacet;

    /// <summary>The points.</summary>
    public IReadOnlyList<SkinSample> Samples { get; }

    /// <summary>The points that stand for a facet, as numbers into <see cref="Samples"/>; none for one without area.</summary>
    public ReadOnlySpan<int> Of(int facet) => ofFacet[facet];

    /// <summary>Spreads points.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="spacing">Longest piece of a facet, mm.</param>
    public static SkinSampling Over(TriangleMesh mesh, double spacing)
    {
        var samples = new List<SkinSample>();
        var first = new Dictionary<(int, int, int, int), int>();
        var ofFacet = new int[mesh.Facets.Length][];
        var pieces = new Stack<(Vec3 A, Vec3 B, Vec3 C)>();
        for (var f = 0; f < ofFacet.Length; f++)
        {
            var facet = mesh.Facets[f];
            var normal = mesh.AreaNormal(facet);
            if (!(normal.Length > 0))
            {
                ofFacet[f] = [];
                continue;
            }

            var (own, seen) = (new List<int>(), new HashSet<int>());
            var look = Look((1 / normal.Length) * normal);
            pieces.Push((mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]));
            while (pieces.TryPop(out var piece))
            {
                var (a, b, c) = LongestFirst(piece.A, piece.B, piece.C);
                if ((b - a).Length > spacing)
                {
                    var middle = 0.5 * (a + b);
                    pieces.Push((middle, b, c));
                    pieces.Push((a, middle, c));
                    continue;
                }

                var at = (1.0 / 3) * (a + b + c);
                var area = Vec3.Cross(b - a, c - a).Length / 2;
                var key = (Cell(at.X), Cell(at.Y), Cell(at.Z), look);
                if (first.TryGetValue(key, out var known))
                {
                    samples[known] = samples[known] with { Area_mm2 = samples[known].Area_mm2 + area };
                }
                else
                {
                    first.Add(key, known = samples.Count);
                    samples.Add(new(f, at, area));
                }

                if (seen.Add(known)) own.Add(known);
            }

            ofFacet[f] = [.. own];
        }

        return new([.. samples], ofFacet);

        int Cell(double x) => (int)Math.Floor(x / spacing);
    }

    /// <summary>Where a normal points, in steps of about 30°.</summary>
    private static int Look(Vec3 n) => Step(n.X) + (5 * Step(n.Y)) + (25 * Step(n.Z));

    private static int Step(double x) => (int)Math.Round(2 * x) + 2;

    private static (Vec3 A, Vec3 B, Vec3 C) LongestFirst(Vec3 a, Vec3 b, Vec3 c)
    {
        var (ab, bc, ca) = ((b - a).Length, (c - b).Length, (a - c).Length);
        return ab >= bc && ab >= ca ? (a, b, c) : bc >= ca ? (b, c, a) : (c, a, b);
    }
}
