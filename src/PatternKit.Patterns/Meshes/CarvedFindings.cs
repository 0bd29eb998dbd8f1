using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parting;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>What is to be known of a joint that is not flat.</summary>
internal static class CarvedFindings
{
    /// <summary>Why nothing is sunk into the joint faces.</summary>
    public const string NoPockets = "none: dowels, draw screws and marks are set square to a level joint face, and this one is carved; line the halves up by their outlines";

    private const double DegreesPerRadian = 180 / Math.PI;

    /// <summary>How far it leaves the level, how steep it is, and what that asks for.</summary>
    public static ImmutableArray<Finding> Of(CarvedJoint joint, PatternFrame frame, CarvedLimits limits)
    {
        var ((below, above), steepest) = (joint.Off, joint.Surface.Steepest());
        var (slope_deg, at) = (Math.Atan(steepest.Slope) * DegreesPerRadian, frame.ToJob(steepest.At));
        var findings = ImmutableArray.CreateBuilder<Finding>();
        findings.Add(new(
            "carved-joint", Severity.Note,
            Invariant($"The joint goes {below:0.#} mm below and {above:0.#} mm above its level at the flask and slopes by up to {slope_deg:0.#}°. Sand in narrow places and square corners are looked for with flat joints only."),
            at, Math.Max(below, above), Source: limits.From.Text,
            Remedy: "Ram the drag on a follow board, or on a false cope, that has the shape of the joint, or cut the joint into the drag by hand along the parting line (parting.dxf). Print the halves with supports under the joint face, or on their backs.", Unit: "mm"));
        if (slope_deg > limits.Steep_deg)
        {
            findings.Add(new(
                "steep-joint", Severity.Warn, Invariant($"The joint slopes by {slope_deg:0.#}° near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm: closing the cope rubs sand off there and may shift it."),
                at, slope_deg, limits.Steep_deg, limits.From.Text, "Turn the part with lie so that its parting line is flatter, or close the cope on guides.", "deg"));
        }

        return findings.ToImmutable();
    }
}
