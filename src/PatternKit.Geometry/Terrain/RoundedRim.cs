using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>The radius of the edge along which a flat falls off.</summary>
/// <param name="Height">Of the flat, mm.</param>
/// <param name="Ring">The border of the flat and of what rises from it, about; an edge takes the radius of the nearest ring of its height.</param>
/// <param name="Radius">mm; 0 where the edge stays sharp.</param>
public sealed record RoundedRim(double Height, ImmutableArray<Vec2> Ring, double Radius);
