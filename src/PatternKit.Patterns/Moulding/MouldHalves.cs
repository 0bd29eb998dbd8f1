using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>Work on both halves at once; neither needs the other's.</summary>
internal static class MouldHalves
{
    /// <summary>The results of the same work on either half, done side by side.</summary>
    public static (T Cope, T Drag) Both<T>(Func<MouldHalf, T> work)
    {
        var drag = Task.Run(() => work(MouldHalf.Drag));
        return (work(MouldHalf.Cope), drag.GetAwaiter().GetResult());
    }
}
