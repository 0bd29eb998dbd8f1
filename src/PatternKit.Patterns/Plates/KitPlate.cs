using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;

namespace PatternKit.Patterns.Plates;

/// <summary>A hole for a pin of the flask, through every plate at one place.</summary>
/// <param name="At_mm">Plan place, pattern millimetres.</param>
/// <param name="FromMiddle_mm">The same from the middle of the plate.</param>
/// <param name="Diameter_mm">Of the pin.</param>
/// <param name="Hole_mm">Of the hole.</param>
public sealed record PinHole(Vec2 At_mm, Vec2 FromMiddle_mm, double Diameter_mm, double Hole_mm);

/// <summary>The plates of a kit, the patterns and the lying gating bars on them.</summary>
/// <param name="IsBackToBack">Whether two halves are joined back to back to one plate.</param>
/// <param name="Low_mm">Corner in plan, pattern millimetres.</param>
/// <param name="High_mm">The opposite corner.</param>
/// <param name="Thickness_mm">Of each body's plate.</param>
/// <param name="Fillet_mm">Radius where something meets the face; 0 for none.</param>
/// <param name="FilletVolume_mm3">What these fillets add to the metal, in all.</param>
/// <param name="Pins">Holes of the flask's pins.</param>
/// <param name="Dowels">Register both halves back to back; depths from their backs.</param>
/// <param name="Bodies">The plates; they meet at their backs at the height of the joint, or would.</param>
/// <param name="Cut">Those of them that are printed in pieces.</param>
/// <param name="Decisions">With rule and source.</param>
/// <param name="Findings">What the user should know.</param>
public sealed record KitPlate(
    bool IsBackToBack,
    Vec2 Low_mm,
    Vec2 High_mm,
    double Thickness_mm,
    double Fillet_mm,
    double FilletVolume_mm3,
    ImmutableArray<PinHole> Pins,
    ImmutableArray<Dowel> Dowels,
    ImmutableArray<KitBody> Bodies,
    ImmutableArray<CutBody> Cut,
    ImmutableArray<Decision> Decisions,
    ImmutableArray<Finding> Findings)
{
    /// <summary>Length along x and width along y.</summary>
    public Vec2 Size_mm => High_mm - Low_mm;
}
