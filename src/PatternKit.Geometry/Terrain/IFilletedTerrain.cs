using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A terrain with fillets, maybe with rounded edges.</summary>
public interface IFilletedTerrain : ITerrain
{
    /// <summary>By how much fillets raise the sharp terrain, mm.</summary>
    double Raise(Vec2 p);

    /// <summary>What the fillets add, mm³.</summary>
    /// <param name="error">Wanted accuracy, mm³.</param>
    /// <param name="holes">Where nothing is, whatever the terrain does there.</param>
    double AddedVolume(double error, PlanRegion? holes = null);

    /// <summary>What rounding takes away, mm³.</summary>
    /// <param name="error">Wanted accuracy, mm³.</param>
    double RemovedVolume(double error);

    /// <summary>The same as a mesh of it is to be made: where chords would add metal, deeper by as much.</summary>
    ITerrain ForMeshing();
}
