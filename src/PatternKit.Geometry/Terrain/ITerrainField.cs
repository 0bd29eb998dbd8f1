using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

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

    /// <summary>What <see cref="SteepestFacet"/> without a margin is nowhere less than: a gentler facet is gentle enough on any surface.</summary>
    double AlwaysAllowed => 0;

    /// <summary>Whether facets are to keep the volume under ground that is curved in the large, and lie on both sides of it, rather than have all corners on it.</summary>
    bool IsCurved => false;

    /// <summary>How many times the tolerance facets may be off a surface.</summary>
    double Leeway(int surface) => 1;

    /// <summary>Heights that the field nowhere leaves, mm.</summary>
    (double Low, double High) Range => (double.NegativeInfinity, double.PositiveInfinity);
}

/// <summary>A field that a solid can be made of: it knows where it leaves its ground and what lines a mesh of it should have.</summary>
public interface ITerrain : ITerrainField
{
    /// <summary>Height of the plan outside; of one whose ground is not level, a height below it.</summary>
    double GroundHeight { get; }

    /// <summary>The ground where it is not level.</summary>
    FacetedGround? Ground => null;

    /// <summary>Where the terrain rises above its ground.</summary>
    PlanRegion Footprint { get; }

    /// <summary>Flat pieces with their heights, the ground left out; on the lattice.</summary>
    IEnumerable<Plateau> Flats();

    /// <summary>Straight creases between planes, by their ends.</summary>
    ImmutableArray<(Vec2 From, Vec2 To)> Creases();

    /// <summary>Open lines along curved surfaces and their borders.</summary>
    IEnumerable<ImmutableArray<Vec2>> Breaklines();
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
