using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>An upright prism that adds to, or removes from, what came before it in a list.</summary>
/// <param name="Region">Its plan.</param>
/// <param name="Low">Lower height, mm.</param>
/// <param name="High">Upper height, mm.</param>
/// <param name="Removes">Whether it removes.</param>
public readonly record struct Prism(PlanRegion Region, double Low, double High, bool Removes = false);
