using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Silhouette;

/// <summary>
/// Heights known along closed lines, carried on over the whole plan with a limit of slope. All functions within the limit lie between the upper and the lower
/// extension (McShane 1934, Whitney 1934), which are envelopes of cones; this is the mean of the two, or of what heights wanted elsewhere leave of them. Safe to query from several threads.
/// </summary>
public sealed class HeightExtension
{
    /// <summary>The limit is put so much higher, so that a line as steep as the limit is within it.</summary>
    private const double Over = 1 + 1e-6;

    private readonly UpperEnvelope<Primitive> lower;
    private readonly UpperEnvelope<Primitive> upper;
    private readonly UpperEnvelope<Primitive> floor;
    private readonly UpperEnvelope<Primitive> ceiling;

    /// <summary>Prepares both extensions.</summary>
    /// <param name="lines">Closed lines, first corner not repeated.</param>
    /// <param name="slope">The limit, rise per plan length, above 0; not below <see cref="LeastSlope"/>.</param>
    /// <param name="wanted">Places of the plan and the heights between which the function should be there, as far as lines and limit allow.</param>
    public HeightExtension(IEnumerable<ImmutableArray<Vec3>> lines, double slope, IEnumerable<(Vec2 At, double Low, double High)>? wanted = null)
    {
        var cone = new RoundedCone(Math.Atan(1 / (slope * Over)), 0);
        ImmutableArray<ImmutableArray<Vec3>> all = [.. lines];
        lower = Envelope(v => v);
        upper = Envelope(v => v with { Z = -v.Z });
        (Vec2 At, double Low, double High)[] places = [.. wanted ?? []];
        floor = new([.. places.Select(p => Primitive.Vertex(new(p.At.X, p.At.Y, p.Low), cone))], double.NegativeInfinity);
        ceiling = new([.. places.Select(p => Primitive.Vertex(new(p.At.X, p.At.Y, -p.High), cone))], double.NegativeInfinity);

        UpperEnvelope<Primitive> Envelope(Func<Vec3, Vec3> map) => new(
            [
                .. all.SelectMany(l => l.Select((v, i) => Primitive.Edge(map(v), map(l[(i + 1) % l.Length]), cone))),
                .. all.SelectMany(l => l).Select(v => Primitive.Vertex(map(v), cone)),
            ],
            double.NegativeInfinity);
    }

    /// <summary>The mean height at a point of the plan.</summary>
    /// <remarks>Cut off at what places want, and that cut off at the extensions of the lines, each bound keeps the limit and meets the lines.</remarks>
    public double At(Vec2 p)
    {
        var (low, high) = (lower.At(p).Value, -upper.At(p).Value);
        if (!(low < high)) return (low + high) / 2;
        return (Math.Clamp(floor.At(p).Value, low, high) + Math.Clamp(-ceiling.At(p).Value, low, high)) / 2;
    }

    /// <summary>The least limit of slope that the corners of lines allow, and between which two: the steepest rise from one to another, along a line or across.</summary>
    /// <param name="lines">The lines.</param>
    public static (double Slope, Vec3 From, Vec3 To) LeastSlope(IEnumerable<ImmutableArray<Vec3>> lines)
    {
        Vec3[] all = [.. lines.SelectMany(l => l)];
        var steepest = new (double Slope, int To)[all.Length];
        Parallel.For(0, all.Length, i =>
        {
            (double Square, int To) best = (0, i);
            for (var j = 0; j < i; j++)
            {
                var d = all[j] - all[i];
                var square = d.Z == 0 ? 0 : d.Z * d.Z / ((d.X * d.X) + (d.Y * d.Y));
                if (square > best.Square) best = (square, j);
            }

            steepest[i] = (Math.Sqrt(best.Square), best.To);
        });
        var at = 0;
        for (var i = 1; i < all.Length; i++)
            if (steepest[i].Slope > steepest[at].Slope) at = i;
        return all.Length == 0 ? default : (steepest[at].Slope, all[steepest[at].To], all[at]);
    }
}
