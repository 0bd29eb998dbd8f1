namespace PatternKit.Patterns.JobFile;

/// <summary>How nearly the outlines of a drawing have to close, for a job and for the check of a drawing alike.</summary>
public static class OutlineTolerance
{
    /// <summary>Ends of curves no farther apart than this are joined, unless the part says <c>gap</c>.</summary>
    public const double Gap_mm = 0.01;

    /// <summary>Farthest that a chord keeps from its arc when loops are looked at for crossings.</summary>
    public const double Chord_mm = 0.002;
}
