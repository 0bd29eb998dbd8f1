using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Envelope;

/// <summary>Something that an upper envelope is taken of.</summary>
public interface IEnvelopePrimitive
{
    /// <summary>The box that the points of the primitive lie in.</summary>
    Box3 Bounds { get; }

    /// <summary>A profile that, slid over the box, is nowhere below the primitive's own surface.</summary>
    RoundedCone Reach { get; }

    /// <summary>Height and gradient at a plan point; false where the primitive has nothing to say.</summary>
    bool TryEvaluate(Vec2 p, out double value, out Vec2 gradient);

    /// <summary>
    /// What the primitive is nowhere below in a rectangle, −∞ where that is not known or it has nothing to say somewhere in it; and what it is nowhere above,
    /// −∞ where it has nothing to say anywhere in it. By rounding it may be otherwise at the rectangle's own border.
    /// </summary>
    (double Least, double Most) Over(Vec2 low, Vec2 high);
}
