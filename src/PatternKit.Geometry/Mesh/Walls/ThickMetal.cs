using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Walls;

/// <summary>Balls at least as wide as a limit that lie in a body: about three places behind each point of the skin whose wall is as thick, as large as they fit.</summary>
internal sealed class ThickMetal
{
    /// <summary>On a curved skin of flat facets a ball just below the skin is that much smaller than on a flat one.</summary>
    private const double Faceted = 0.95;

    private readonly FacetTree tree;
    private readonly (Vec3 Centre, double Radius)[] balls;

    private ThickMetal(IEnumerable<(Vec3 Centre, double Radius)> balls)
    {
        this.balls = [.. balls];
        tree = new([.. this.balls.Select(b => Around(b.Centre, b.Radius))], [.. Enumerable.Range(0, this.balls.Length)]);
    }

    /// <summary>Behind all readings at least as thick as the limit: below the skin, in the middle, and below the other side.</summary>
    internal static ThickMetal Of(IReadOnlyList<SkinSample> samples, WallReading?[] readings, WallThickness walls, double limit)
    {
        var found = new (Vec3 Centre, double Radius)[3 * readings.Length];
        Parallel.For(0, readings.Length, i =>
        {
            if (readings[i] is not { } r || r.Thickness_mm < limit * (1 - 1e-6)) return;
            var (at, inward) = (samples[i].At, -1 * walls.Normal(samples[i].Facet));
            ReadOnlySpan<double> depths = [limit / 2, r.Thickness_mm / 2, r.Thickness_mm - (limit / 2)];
            for (var k = 0; k < depths.Length; k++)
            {
                var centre = at + (depths[k] * inward);
                found[(3 * i) + k] = (centre, walls.DistanceTo(centre));
            }
        });
        return new(found.Where(b => b.Radius >= Faceted * limit / 2));
    }

    /// <summary>Whether a ball comes within a distance of a point.</summary>
    internal bool IsWithin(Vec3 p, double distance)
    {
        if (tree.NodeCount == 0) return false;
        var stack = new Stack<int>();
        stack.Push(0);
        while (stack.TryPop(out var node))
        {
            if (tree.BoxOf(node).DistanceTo(p) > distance) continue;
            var right = tree.RightOf(node);
            if (right != 0)
            {
                stack.Push(right);
                stack.Push(node + 1);
                continue;
            }

            foreach (var i in tree.ItemsOf(node))
                if ((balls[i].Centre - p).Length - balls[i].Radius <= distance) return true;
        }

        return false;
    }

    private static Box3 Around(Vec3 centre, double radius)
    {
        var half = new Vec3(radius, radius, radius);
        return new(centre - half, centre + half);
    }
}
