namespace PatternKit.Geometry.Envelope;

/// <summary>
/// The profile that every envelope slides over a body: a cone of half-angle θ from the vertical, dilated by
/// a ball of radius r. κ(d) = √(r² − d²) for d ≤ r cos θ, and r / sin θ − d cot θ beyond; value and slope agree
/// where the two meet. r = 0 is a cone, θ = 0 a ball (nothing beyond d = r).
/// </summary>
public readonly record struct RoundedCone
{
    /// <summary>Makes the profile.</summary>
    /// <param name="angle">θ in radians, 0 ≤ θ &lt; π/2.</param>
    /// <param name="radius">r ≥ 0, mm.</param>
    /// <exception cref="ArgumentOutOfRangeException">Out of range, or both zero.</exception>
    public RoundedCone(double angle, double radius)
    {
        if (!(angle >= 0 && angle < Math.PI / 2)) throw new ArgumentOutOfRangeException(nameof(angle));
        if (!(radius >= 0 && double.IsFinite(radius))) throw new ArgumentOutOfRangeException(nameof(radius));
        if (angle == 0 && radius == 0) throw new ArgumentOutOfRangeException(nameof(radius), "A profile needs an angle or a radius.");
        Angle = angle;
        Radius = radius;
        Slope = angle == 0 ? double.PositiveInfinity : 1 / Math.Tan(angle);
        Lift = angle == 0 ? 0 : radius / Math.Sin(angle);
        BallReach = radius * Math.Cos(angle);
    }

    /// <summary>θ, radians.</summary>
    public double Angle { get; }

    /// <summary>r, mm.</summary>
    public double Radius { get; }

    /// <summary>cot θ, infinite for a ball.</summary>
    public double Slope { get; }

    /// <summary>r / sin θ: height of the tip of the cone part.</summary>
    internal double Lift { get; }

    /// <summary>r cos θ: where ball and cone meet.</summary>
    internal double BallReach { get; }

    /// <summary>κ(d): height at horizontal distance d ≥ 0; −∞ beyond the reach of a ball.</summary>
    public double Height(double d) =>
        d <= BallReach ? Math.Sqrt((Radius * Radius) - (d * d))
        : double.IsInfinity(Slope) ? double.NegativeInfinity
        : Lift - (d * Slope);

    /// <summary>κ′(d), between −cot θ and 0.</summary>
    public double Derivative(double d) =>
        d < BallReach ? -d / Math.Sqrt((Radius * Radius) - (d * d)) : -Slope;
}
