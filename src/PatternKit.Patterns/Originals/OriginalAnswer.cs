using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Meshes;

namespace PatternKit.Patterns.Originals;

/// <summary>Whether a part will do as its own pattern.</summary>
public enum OriginalVerdict
{
    /// <summary>It will.</summary>
    WillDo,

    /// <summary>It can be moulded, but a printed pattern is the better way.</summary>
    PatternIsBetter,

    /// <summary>It cannot leave the sand.</summary>
    CannotBeDrawn,
}

/// <summary>What is to be said of a part that is to be its own pattern.</summary>
/// <param name="Job">The job.</param>
/// <param name="AlloyTitle">Full name of the alloy.</param>
/// <param name="Lie">How it lies.</param>
/// <param name="Verdict">The answer.</param>
/// <param name="Reasons">Why not the part itself, each a sentence; empty where it will do.</param>
/// <param name="Work">What is to be done if it is moulded all the same, each a sentence.</param>
/// <param name="Contraction">As a fraction of the casting, with rule and source.</param>
/// <param name="Rapping_mm">Growth of the cavity on either side.</param>
/// <param name="Draft">Taper that walls are held against, radians.</param>
/// <param name="Measures">The dimensions of the job.</param>
/// <param name="Overall">Those of the box around the part.</param>
/// <param name="Faces">Faces with less taper than asked; those that are listed are findings as well, in this order.</param>
/// <param name="Skin_mm2">Area of the skin.</param>
/// <param name="Rise">How far the edge of the part lies off the joint.</param>
/// <param name="Findings">What the user should know, faces first.</param>
public sealed record OriginalAnswer(
    Job Job, string AlloyTitle, MeshLie Lie, OriginalVerdict Verdict, ImmutableArray<string> Reasons, ImmutableArray<string> Work,
    Sourced<double> Contraction, Sourced<double> Rapping_mm, Sourced<double> Draft, ImmutableArray<MeasureResult> Measures, ImmutableArray<MeasureResult> Overall,
    ImmutableArray<UntaperedFace> Faces, double Skin_mm2, EdgeRise Rise, ImmutableArray<Finding> Findings)
{
    /// <summary>So many faces are listed one by one.</summary>
    public const int ListedFaces = 8;

    /// <summary>Whether a finding says stop.</summary>
    public bool HasStop => Findings.Any(f => f.Severity == Severity.Stop);
}
