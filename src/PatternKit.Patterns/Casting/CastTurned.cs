using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// Turned features about one axis as one body, at pattern size, its walls moved by stock and rapping: where two of them abut there is no wall to move, and no gap
/// opens. Features of the other kind that come between end it, since they take from what is before them only.
/// </summary>
/// <param name="Features">Numbers of the features, in order; the body takes the place of the last.</param>
/// <param name="Like">The last of them, with the heights of all.</param>
/// <param name="Profile">As in <see cref="TurnedBody.Profile"/>, from where the last one has its origin.</param>
internal sealed record CastTurned(ImmutableArray<int> Features, Feature Like, PlanRegion Profile)
{
    /// <summary>Axes that are nearer to each other are one, mm.</summary>
    private const double Same_mm = 1e-6;

    internal bool Removes => Like.Cut != CutKind.None;

    internal int Last => Features[^1];

    /// <summary>How its axis lies, job millimetres.</summary>
    internal TurnedFrame Frame => FrameOf(Like);

    /// <summary>The turned bodies of a casting, by their last features.</summary>
    /// <param name="features">In order.</param>
    /// <param name="scale">Pattern over casting.</param>
    /// <param name="rapping_mm">Taken off walls.</param>
    /// <param name="chordTolerance_mm">How far chords lie from their arcs.</param>
    internal static ImmutableArray<CastTurned> Of(IReadOnlyList<CastFeature> features, double scale, double rapping_mm, double chordTolerance_mm)
    {
        var runs = new List<List<int>>();
        for (var i = 0; i < features.Count; i++)
        {
            if (features[i].Feature.Turned is null) continue;
            var run = runs.FindLast(r => OnOneAxis(FrameOf(features[i].Feature), FrameOf(features[r[^1]].Feature)));
            if (run is not null && Enumerable.Range(run[^1], i - run[^1] + 1).All(k => features[k].Removes == features[i].Removes)) run.Add(i);
            else runs.Add([i]);
        }

        return [.. runs.Select(r => Joined([.. r.Select(i => features[i])], scale, rapping_mm, chordTolerance_mm) with { Features = [.. r] }).OrderBy(t => t.Last)];
    }

    /// <summary>Whether two axes are one line.</summary>
    internal static bool OnOneAxis(TurnedFrame a, TurnedFrame b) => a.Axis == b.Axis && a.Off(b.At) <= Same_mm;

    /// <summary>A profile on one axis, seen from the origin of another on it.</summary>
    internal PlanRegion ProfileFrom(TurnedFrame frame, double scale) =>
        frame.Along(Frame.At) is var along && along == 0 ? Profile : Profile.Transformed(1, 0, new(scale * along, 0));

    private static TurnedFrame FrameOf(Feature f) => new(f.Turned!.Axis, f.Turned.At_mm);

    private static CastTurned Joined(ImmutableArray<CastFeature> run, double scale, double rapping_mm, double chordTolerance_mm)
    {
        var moves = run.Select(f => f.MoveOfWalls_mm(scale, rapping_mm)).ToArray();
        var like = run[^1].Feature with { Low_mm = run.Min(f => f.Feature.Low_mm), High_mm = run.Max(f => f.Feature.High_mm) };
        var frame = FrameOf(like);
        var profiles = run.Select(f => FeatureSolid.Profile(f.Feature, scale, chordTolerance_mm) is var own && frame.Along(f.Feature.Turned!.At_mm) is var along && along == 0
            ? own : own.Transformed(1, 0, new(scale * along, 0))).ToArray();
        if (run.Length == 1) return new([], like, TurnedOutline.Grown(profiles[0], moves[0]));

        // Each by its own move; and all as one by the least, which leaves what they share.
        var reach_mm = profiles.SelectMany(p => p.Rings()).SelectMany(r => r).Select(v => Math.Max(Math.Abs(v.X), v.Y)).Append(1).Max();
        var all = PlanRegion.UnionOn(Lattice.For(2 * reach_mm), profiles);
        var moved = profiles.Zip(moves, TurnedOutline.Grown).Append(TurnedOutline.Grown(all, moves.Min()));
        return new([], like, moves.All(m => m == 0) ? all : PlanRegion.UnionOn(Lattice.For(2 * (reach_mm + Math.Max(0, moves.Max()))), moved));
    }
}
