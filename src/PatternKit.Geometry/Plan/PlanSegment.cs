using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>One straight segment or circular arc of a <see cref="PlanPath"/>; <c>Bulge</c> as in <see cref="PlanVertex"/>.</summary>
public readonly record struct PlanSegment(Vec2 Start, Vec2 End, double Bulge)
{
    /// <summary>Whether the segment is an arc.</summary>
    public bool IsArc => Bulge != 0;

    /// <summary>Signed angle swept, radians, positive counter-clockwise.</summary>
    public double Sweep => 4 * Math.Atan(Bulge);

    /// <summary>Radius of an arc: chord (1 + b²) / (4 |b|).</summary>
    public double Radius => Vec2.Distance(Start, End) * (1 + (Bulge * Bulge)) / (4 * Math.Abs(Bulge));

    /// <summary>Centre of an arc.</summary>
    public Vec2 Centre
    {
        get
        {
            var half = 0.5 * (End - Start);
            return Start + half + ((1 - (Bulge * Bulge)) / (2 * Bulge) * half.Left);
        }
    }

    /// <summary>Length along the segment.</summary>
    public double Length => IsArc ? Radius * Math.Abs(Sweep) : Vec2.Distance(Start, End);

    /// <summary>Signed area between the chord and the arc.</summary>
    public double CapArea => IsArc ? Radius * Radius * (Sweep - Math.Sin(Sweep)) / 2 : 0;

    /// <summary>Appends the start and the points inside the arc, not the end.</summary>
    internal void AppendChords(List<Vec2> points, double chordTolerance)
    {
        points.Add(Start);
        if (!IsArc) return;
        var (radius, sweep, centre) = (Radius, Sweep, Centre);
        if (!double.IsFinite(radius) || radius <= chordTolerance / 2) return;
        // 1 - cos(step / 2) = tolerance / radius, written so that a nearly straight arc does not lose all its digits.
        var step = 4 * Math.Asin(Math.Sqrt(Math.Min(chordTolerance / (2 * radius), 1)));
        // Never coarser than an eighth of a turn, so that a small circle still looks round; never a runaway count.
        var count = (int)Math.Clamp(Math.Ceiling(Math.Abs(sweep) / Math.Min(step, Math.PI / 4)), 1, 20000);
        var arm = Start - centre;
        for (var i = 1; i < count; i++)
        {
            var (s, c) = Math.SinCos(sweep * i / count);
            points.Add(centre + new Vec2((c * arm.X) - (s * arm.Y), (s * arm.X) + (c * arm.Y)));
        }
    }
}
