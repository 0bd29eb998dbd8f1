using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>
/// The closing of a drafted terrain by a ball, slowly and by its definition: the rounded-cone envelope of the plateaus' triangles,
/// edges and corners is the terrain dilated; a search over all centres within the ball's reach erodes it. It shares nothing with
/// the planes, offsets and valleys of the fillets.
/// </summary>
internal sealed class ClosingOracle
{
    private readonly UpperEnvelope<Primitive> dilated;
    private readonly double radius;

    public ClosingOracle(IEnumerable<Plateau> plateaus, double degrees, double radius, double floor)
    {
        this.radius = radius;
        var profile = new RoundedCone(degrees * Math.PI / 180, radius);
        var primitives = ImmutableArray.CreateBuilder<Primitive>();
        foreach (var p in plateaus.Where(p => !p.IsLevel || p.Height > floor))
        {
            foreach (var (a, b, c) in RegionTriangles.Of([p.Region], TerrainBuild.Lattice))
            {
                Vec3[] corners = [At(a, p.Surface.At(a)), At(b, p.Surface.At(b)), At(c, p.Surface.At(c))];
                primitives.Add(Primitive.Face(corners[0], corners[1], corners[2], profile));
                for (var i = 0; i < 3; i++)
                {
                    primitives.Add(Primitive.Edge(corners[i], corners[(i + 1) % 3], profile));
                    primitives.Add(Primitive.Vertex(corners[i], profile));
                }
            }
        }

        dilated = new(primitives.ToImmutable(), floor + radius);
    }

    /// <summary>The lowest that a ball whose centre is above a plan point can stand.</summary>
    public double Centre(Vec2 p) => dilated.At(p).Value;

    /// <summary>Height of the closing; never below the true one.</summary>
    public double Height(Vec2 p)
    {
        var random = new Random(1);
        var starts = new List<(double Value, Vec2 At)> { (Under(p, p), p) };
        for (var i = 1; i <= 24; i++)
        {
            for (var j = 0; j < 48; j++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * (j + (0.5 * (i % 2))) / 48);
                var centre = p + (radius * Math.Sin(Math.PI / 2 * i / 24) * new Vec2(c, s));
                starts.Add((Under(centre, p), centre));
            }
        }

        return starts.OrderBy(s => s.Value).Take(12).Min(start =>
        {
            var (best, at) = start;
            for (var step = radius / 8; step > 1e-6; step *= 0.7)
            {
                for (var k = 0; k < 24; k++)
                {
                    var (s, c) = Math.SinCos(random.NextDouble() * 2 * Math.PI);
                    var centre = at + (step * random.NextDouble() * new Vec2(c, s));
                    var value = Under(centre, p);
                    if (value < best) (best, at) = (value, centre);
                }
            }

            return best;
        });
    }

    private static Vec3 At(Vec2 p, double z) => new(p.X, p.Y, z);

    /// <summary>How high the ball with its centre above one point lies over another.</summary>
    private double Under(Vec2 centre, Vec2 p)
    {
        var rest = (radius * radius) - (centre - p).LengthSquared;
        return rest < 0 ? double.PositiveInfinity : Centre(centre) - Math.Sqrt(rest);
    }
}
