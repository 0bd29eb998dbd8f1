using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parting;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>What is to be known of a joint that is not flat.</summary>
internal static class CarvedFindings
{
    private const double DegreesPerRadian = 180 / Math.PI;

    /// <summary>How far it leaves the level, how steep it is, and what that asks for.</summary>
    public static ImmutableArray<Finding> Of(CarvedJoint joint, PatternFrame frame, JointTable table) => joint.Steps is { } steps ? Stepped(joint, steps, frame, table.Stepped) : Carved(joint, frame, table.Carved);

    private static ImmutableArray<Finding> Stepped(CarvedJoint joint, JointSteps steps, PatternFrame frame, StepLimits limits)
    {
        var (draft_deg, at) = (steps.Draft.Value * DegreesPerRadian, frame.ToJob(joint.Surface.Steepest().At));
        var findings = ImmutableArray.CreateBuilder<Finding>();
        findings.Add(new(
            "stepped-joint", Severity.Note,
            Invariant($"The joint stands at z {string.Join(", ", steps.Levels_mm.Select(z => Invariant($"{z:0.###}")))} mm, with steps of {draft_deg:0.#}° from the draw between; the higher level keeps its outline. Sand in narrow places and square corners are looked for with flat joints only."),
            at, joint.Surface.Range.High - joint.Surface.Range.Low, Source: limits.From.Text,
            Remedy: "Ram one half on a follow board that has the levels and the steps of the joint: [parting] follow_board = \"drag\" makes one with a nest for the drag half, or lay boards on each other with their edges planed to the slope. Close the cope on guides that keep it from swaying before the steps meet. Print the halves with supports under the joint face, or on their backs.", Unit: "mm"));
        if (draft_deg < limits.Rubs_deg)
        {
            findings.Add(new(
                "steep-joint", Severity.Warn, Invariant($"The steps of the joint have {draft_deg:0.#}° from the draw: closing the cope rubs sand off there and may shift it."),
                at, draft_deg, limits.Rubs_deg, limits.From.Text, "Give more step_draft in [parting], if the part has room for it.", "deg"));
        }

        return findings.ToImmutable();
    }

    private static ImmutableArray<Finding> Carved(CarvedJoint joint, PatternFrame frame, CarvedLimits limits)
    {
        var ((below, above), steepest) = (joint.Off, joint.Surface.Steepest());
        var (slope_deg, at) = (Math.Atan(steepest.Slope) * DegreesPerRadian, frame.ToJob(steepest.At));
        var findings = ImmutableArray.CreateBuilder<Finding>();
        findings.Add(new(
            "carved-joint", Severity.Note,
            Invariant($"The joint goes {below:0.#} mm below and {above:0.#} mm above its level at the flask and slopes by up to {slope_deg:0.#}°. Sand in narrow places and square corners are looked for with flat joints only."),
            at, Math.Max(below, above), Source: limits.From.Text,
            Remedy: "Ram one half on a follow board that has the shape of the joint, [parting] follow_board = \"drag\" makes one with a nest for the drag half, or on a false cope, or cut the joint into the drag by hand along the parting line (parting.dxf). Print the halves with supports under the joint face, or on their backs.", Unit: "mm"));
        if (slope_deg > limits.Steep_deg)
        {
            findings.Add(new(
                "steep-joint", Severity.Warn, Invariant($"The joint slopes by {slope_deg:0.#}° near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm: closing the cope rubs sand off there and may shift it."),
                at, slope_deg, limits.Steep_deg, limits.From.Text, "Turn the part with lie so that its parting line is flatter, or close the cope on guides.", "deg"));
        }

        return findings.ToImmutable();
    }
}
