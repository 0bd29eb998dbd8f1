using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>What concerns both halves.</summary>
internal static class MouldHalves
{
    /// <summary>The results of the same work on either half, done side by side; neither needs the other's.</summary>
    public static (T Cope, T Drag) Both<T>(Func<MouldHalf, T> work)
    {
        var drag = Task.Run(() => work(MouldHalf.Drag));
        return (work(MouldHalf.Cope), drag.GetAwaiter().GetResult());
    }

    /// <summary>The metal of both halves over a place of the plan, in the frame of the mould, the drag's first; without fillets.</summary>
    public static IEnumerable<ColumnInterval> Metal(HalfMould cope, HalfMould drag, Vec2 p)
    {
        if (drag.Metal(p) is { } below) yield return new(-below.High, -below.Low);
        if (cope.Metal(p) is { } above) yield return above;
    }
}
