using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Level lines along which sloped ground bends sharply, or goes over into a wall: those of the corners of an upright turned profile. Across
/// their heights the area of the level section changes at another rate. Chords of one arc bend too little to count.
/// </summary>
internal static class LevelBends
{
    /// <summary>A smaller bend is that of an arc in chords, radians.</summary>
    private const double Sharp = 10 * Math.PI / 180;

    /// <summary>Heights nearer than this are one, mm.</summary>
    private const double Same = 1e-3;

    /// <summary>The heights, ascending.</summary>
    /// <param name="slopes">The sloped ground that is seen.</param>
    /// <param name="plateaus">What it belongs to.</param>
    /// <param name="step">Lattice step, mm.</param>
    public static ImmutableArray<double> Of(ImmutableArray<SlopedFacet> slopes, ImmutableArray<Plateau> plateaus, double step)
    {
        var sides = new Dictionary<(Vec2, Vec2), List<(Vec3 A, Vec3 B, SlopedFacet Facet)>>();
        foreach (var s in slopes)
        {
            foreach (var (a, b) in new[] { (s.A, s.B), (s.B, s.C), (s.C, s.A) })
            {
                var key = (a.X, a.Y).CompareTo((b.X, b.Y)) < 0 ? (a.Plan, b.Plan) : (b.Plan, a.Plan);
                if (!sides.TryGetValue(key, out var list)) sides.Add(key, list = []);
                list.Add((a, b, s));
            }
        }

        // Corners on the lattice are off the level line by as much as the ground rises over a step.
        var heights = ImmutableArray.CreateBuilder<double>();
        foreach (var height in sides.Values.Where(e => Math.Abs(e[0].A.Z - e[0].B.Z) <= 4 * step * (1 + Gradient(e[0].Facet).Length) && Bend(e) > Sharp)
            .Select(e => (e[0].A.Z + e[0].B.Z) / 2).Order())
        {
            if (heights.Count == 0 || height - heights[^1] > Same) heights.Add(height);
        }

        return heights.ToImmutable();

        Vec2 Gradient(SlopedFacet facet) => plateaus[facet.Plateau].Surface.Gradient;

        double Bend(List<(Vec3 A, Vec3 B, SlopedFacet Facet)> edge)
        {
            var own = Gradient(edge[0].Facet);
            // Beside a facet without a neighbour stands a wall, as steep as the draft.
            return edge.Count == 1
                ? (Math.PI / 2) - edge[0].Facet.Angle - Math.Atan(own.Length)
                : Between(Normal(own), Normal(Gradient(edge[1].Facet)));
        }

        static double Between(Vec3 a, Vec3 b) => Math.Atan2(Vec3.Cross(a, b).Length, Vec3.Dot(a, b));

        static Vec3 Normal(Vec2 gradient) => new(-gradient.X, -gradient.Y, 1);
    }
}
