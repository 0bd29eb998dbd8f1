using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A terrain that counts as standing on more of the plan than it rises over: there it is its ground, so that it shares a rim with one that rises there.</summary>
/// <param name="terrain">On level ground.</param>
/// <param name="footprint">On the lattice; that of the terrain and more.</param>
/// <param name="lattice">Where its corners are.</param>
public sealed class WiderTerrain(ITerrain terrain, PlanRegion footprint, Lattice lattice) : ITerrain
{
    private readonly Lazy<PlanRegion> level = new(() => PlanRegion.UnionOn(lattice, [footprint.Difference(terrain.Footprint).WithoutSlivers(8 * lattice.Step)]));

    /// <inheritdoc/>
    public double GroundHeight => terrain.GroundHeight;

    /// <inheritdoc/>
    public PlanRegion Footprint => footprint;

    /// <inheritdoc/>
    public double AlwaysAllowed => terrain.AlwaysAllowed;

    /// <inheritdoc/>
    public bool IsCurved => terrain.IsCurved;

    /// <inheritdoc/>
    public (double Low, double High) Range => terrain.Range;

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p) => terrain.At(p);

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient) => terrain.Extended(surface, p, out gradient);

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) => terrain.SteepestFacet(surface, margin);

    /// <inheritdoc/>
    public double Leeway(int surface) => terrain.Leeway(surface);

    /// <inheritdoc/>
    public IEnumerable<Plateau> Flats() => level.Value.IsEmpty ? terrain.Flats() : terrain.Flats().Append(new Plateau(level.Value, GroundHeight));

    /// <inheritdoc/>
    public ImmutableArray<(Vec2 From, Vec2 To)> Creases() => terrain.Creases();

    /// <inheritdoc/>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines() => terrain.Breaklines();
}
