using System.Collections.Immutable;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>A name with the colour that shows it.</summary>
/// <param name="Name">What facets of it are; characters that XML cannot hold become spaces.</param>
/// <param name="Red">Of sRGB, 0 to 255.</param>
/// <param name="Green">Of sRGB.</param>
/// <param name="Blue">Of sRGB.</param>
public readonly record struct NamedColour(string Name, byte Red, byte Green, byte Blue);

/// <summary>Colours with names on the facets of a body (3MF core specification 1.4.0, base materials, section 5.1).</summary>
/// <param name="Colours">The colours; the first is that of the body as a whole.</param>
/// <param name="OfFacet">For every facet the number of its colour.</param>
public sealed record FacetColours(ImmutableArray<NamedColour> Colours, ImmutableArray<int> OfFacet);
