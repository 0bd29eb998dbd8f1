using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <content>Keeping the volume under curved ground.</content>
internal sealed partial class TerrainMesher
{
    /// <summary>What is steeper than this part of the steepest allowed stays: there a height moves a facet's direction too much.</summary>
    private const double Gentle = 0.5;

    /// <summary>
    /// Facets whose corners lie on a curved surface all lie to one side of it. Free corners are moved by the mean error around them, weighted by area:
    /// then the sum of all errors is zero, and none is larger than before.
    /// </summary>
    private void Balance()
    {
        var (errors, areas) = (new double[triangles.TriangleCount], new double[triangles.TriangleCount]);
        Parallel.For(0, errors.Length, t =>
        {
            if (zoned.Zone(t) != Domain) return;
            var (a, b, c) = (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
            var truth = field.At(Centroid(t));
            var gradient = Gradient(t);
            var steepest = Gentle * field.SteepestFacet(truth.Surface);
            if (gradient.Length > steepest || truth.Gradient.Length > steepest)
            {
                areas[t] = double.NaN;
                return;
            }

            areas[t] = Vec2.Cross(b - a, c - a) / 2;
            // A quadratic surface through the corners is off a facet by three quarters of what it is off in the middle, in the mean.
            errors[t] = 0.75 * (truth.Height - (heights[triangles.Origin(3 * t)] + Vec2.Dot(gradient, Centroid(t) - a)));
        });

        var moved = new double[heights.Count];
        for (var v = 0; v < moved.Length; v++)
        {
            moved[v] = heights[v];
            if (zoned.TryHeight(v, out _)) continue;
            double sum = 0, area = 0;
            foreach (var t in Star(v))
            {
                area += zoned.Zone(t) == Domain ? areas[t] : double.NaN;
                sum += areas[t] * errors[t];
            }

            // Where a neighbour is too steep, or no part of the domain, the area is no number.
            if (area > 0) moved[v] = lattice.Snap(heights[v] + (sum / area));
        }

        for (var v = 0; v < moved.Length; v++) heights[v] = moved[v];
    }
}
