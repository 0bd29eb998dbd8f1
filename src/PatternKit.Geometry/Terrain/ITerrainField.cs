using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>A sample of a terrain.</summary>
/// <param name="Height">mm.</param>
/// <param name="Gradient">Rise per plan length.</param>
/// <param name="Surface">Number of the plane that is responsible.</param>
public readonly record struct TerrainSample(double Height, Vec2 Gradient, int Surface);

/// <summary>A continuous height function over the plan, made of numbered planes that meet in creases.</summary>
public interface ITerrainField
{
    /// <summary>Height, gradient and responsible surface at a point.</summary>
    TerrainSample At(Vec2 p);

    /// <summary>The height of one plane continued over the plan, and its gradient.</summary>
    double Extended(int surface, Vec2 p, out Vec2 gradient);

    /// <summary>The steepest that facets lying on a plane may be, as rise per plan length; infinite where it does not matter.</summary>
    /// <param name="surface">The plane.</param>
    /// <param name="margin">Which part of the slack below the asked angle is not used, 0 to 1.</param>
    double SteepestFacet(int surface, double margin = 0);
}

/// <summary>The field that is the same everywhere.</summary>
public sealed class LevelField(double height) : ITerrainField
{
    /// <inheritdoc/>
    public TerrainSample At(Vec2 p) => new(height, default, 0);

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        gradient = default;
        return height;
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) => double.PositiveInfinity;
}
