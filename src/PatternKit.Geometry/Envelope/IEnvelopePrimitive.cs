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
}
