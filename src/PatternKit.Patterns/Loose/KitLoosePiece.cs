using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Loose;

/// <summary>A loose piece of the kit: it stays in the sand when the main pattern is drawn, and is then drawn sideways into the cavity and lifted out.</summary>
/// <param name="Part">As the job has it.</param>
/// <param name="Body">As printed: on its back, its own draw upward.</param>
/// <param name="Metal">What of it stands out from the pattern's wall, which is cast.</param>
/// <param name="Half">Of the mould that it lies in.</param>
/// <param name="Order">When it is drawn, from 1.</param>
/// <param name="Facing">Which way the wall looks, in plan; it is drawn the other way.</param>
/// <param name="Out_mm">How far its outer face is from the drafted wall, level.</param>
/// <param name="Draft">Along its own draw, radians.</param>
/// <param name="Travel_mm">Level way until it can be lifted.</param>
/// <param name="Free_mm">How far the cavity lets it go.</param>
/// <param name="Plan">As far as it stands out, pattern millimetres.</param>
public sealed record KitLoosePiece(
    LoosePart Part, KitBody Body, KitBody Metal, MouldHalf Half, int Order, Vec2 Facing, double Out_mm, Sourced<double> Draft, double Travel_mm, double Free_mm, PlanRegion Plan)
{
    /// <summary>The dovetail that holds it; null where pins do, or nothing.</summary>
    public LooseTail? Tail { get; init; }

    /// <summary>The pins that hold it; null where a dovetail does, or nothing.</summary>
    public LoosePins? Pins { get; init; }

    /// <summary>Whether the cavity is as long as is looked at.</summary>
    public bool HasEndlessRoom => Free_mm >= PieceTravel.Farthest_mm;

    /// <summary>How deep its tongue goes into the pattern at most; null without one.</summary>
    public double? TongueDepth_mm => Tail is null ? null : Body.AsPrinted.Bounds().Size.Z - Metal.AsPrinted.Bounds().Size.Z;

    /// <summary>Area of its back on the wall, mm².</summary>
    public double Back_mm2 { get; init; }

    /// <summary>Slot or holes in the pattern, less what of its own tongue fills them, mm³.</summary>
    public double Gap_mm3 { get; init; }
}

/// <summary>The dovetail of a loose piece.</summary>
/// <param name="Neck_mm">Width of the slot at the wall, at its closed end.</param>
/// <param name="Depth_mm">There.</param>
/// <param name="Length_mm">Up the wall, to the face at the tip.</param>
/// <param name="Clearance_mm">Between tongue and slot, square to every face.</param>
/// <param name="Taper_deg">By which it opens along the main draw.</param>
public sealed record LooseTail(double Neck_mm, double Depth_mm, double Length_mm, double Clearance_mm, double Taper_deg);

/// <summary>The pins of a loose piece.</summary>
/// <param name="Count">How many.</param>
/// <param name="Diameter_mm">Of a pin.</param>
/// <param name="Hole_mm">Of its printed hole.</param>
/// <param name="Depth_mm">In the pattern.</param>
/// <param name="Length_mm">That a pin has at least: through the piece, into the pattern, and something to pull at.</param>
public sealed record LoosePins(int Count, double Diameter_mm, double Hole_mm, double Depth_mm, double Length_mm);
