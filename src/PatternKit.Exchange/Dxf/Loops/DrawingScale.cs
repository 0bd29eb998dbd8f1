using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>The lengths that count as nothing in a drawing of a given size.</summary>
/// <param name="Coincidence">Ends this close are the same point: 1e-9 of the size, or the last digits of the coordinates.</param>
/// <param name="Rounding">Gaps up to this come from writing about six figures.</param>
internal readonly record struct DrawingScale(double Coincidence, double Rounding)
{
    public static DrawingScale Of(IEnumerable<PlanPath> paths)
    {
        var (low, high, farthest) = ((X: double.MaxValue, Y: double.MaxValue), (X: double.MinValue, Y: double.MinValue), 0.0);
        foreach (var v in paths.SelectMany(p => p.Vertices))
        {
            low = (Math.Min(low.X, v.Point.X), Math.Min(low.Y, v.Point.Y));
            high = (Math.Max(high.X, v.Point.X), Math.Max(high.Y, v.Point.Y));
            farthest = Math.Max(farthest, Math.Max(Math.Abs(v.Point.X), Math.Abs(v.Point.Y)));
        }

        if (high.X < low.X) return new(1e-9, 1e-6);
        var size = Math.Max(high.X - low.X, high.Y - low.Y);
        var coincidence = Math.Max(Math.Max(1e-9 * size, 4e-15 * farthest), 1e-300);
        return new(coincidence, Math.Max(2e-6 * size, coincidence));
    }
}
