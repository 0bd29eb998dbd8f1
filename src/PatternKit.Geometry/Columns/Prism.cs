using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>An upright prism, its ends level or sloped, that adds to, or removes from, what came before it in a list.</summary>
/// <param name="Region">Its plan.</param>
/// <param name="Low">Its lower end.</param>
/// <param name="High">Its upper end; nowhere over the plan below the lower one.</param>
/// <param name="Removes">Whether it removes.</param>
public sealed record Prism(PlanRegion Region, HeightPlane Low, HeightPlane High, bool Removes = false);
