using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// A plane B-spline, rational or not, evaluated by de Boor's algorithm in homogeneous coordinates
/// (Piegl and Tiller 1997, The NURBS Book, sections 4.2 and 4.3).
/// </summary>
internal sealed class BSpline
{
    private readonly int _degree;
    private readonly double[] _knots;
    private readonly Vec3[] _points;

    /// <param name="degree">Degree, from 1.</param>
    /// <param name="knots">Ascending, points + degree + 1 of them.</param>
    /// <param name="points">Control points (w x, w y, w).</param>
    public BSpline(int degree, double[] knots, Vec3[] points)
    {
        _degree = degree;
        _knots = knots;
        _points = points;
    }

    /// <summary>The knot intervals of positive length: index of the interval, its start, its end.</summary>
    public IEnumerable<(int Span, double From, double To)> Spans()
    {
        for (var i = _degree; i < _points.Length; i++)
            if (_knots[i] < _knots[i + 1]) yield return (i, _knots[i], _knots[i + 1]);
    }

    /// <summary>Point and derivative by the polynomial of one interval.</summary>
    public CurvePoint At(int span, double t)
    {
        Span<Vec3> d = stackalloc Vec3[DxfLimits.Degree + 1];
        for (var j = 0; j <= _degree; j++) d[j] = _points[span - _degree + j];
        Vec3 slope = default;
        for (var level = 1; level <= _degree; level++)
        {
            if (level == _degree)
                slope = (_degree / (_knots[span + 1] - _knots[span])) * (d[_degree] - d[_degree - 1]);
            for (var j = _degree; j >= level; j--)
            {
                var low = _knots[span - _degree + j];
                var share = (t - low) / (_knots[span + 1 + j - level] - low);
                d[j] = ((1 - share) * d[j - 1]) + (share * d[j]);
            }
        }

        var (h, w) = (d[_degree], d[_degree].Z);
        var at = new Vec2(h.X / w, h.Y / w);
        return new(at, new((slope.X - (slope.Z * at.X)) / w, (slope.Y - (slope.Z * at.Y)) / w));
    }
}
