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

        return [.. runs.SelectMany(r => Joined(r, features, scale, rapping_mm, chordTolerance_mm)).OrderBy(t => t.Last)];
    }

    /// <summary>Whether two axes are one line.</summary>
    internal static bool OnOneAxis(TurnedFrame a, TurnedFrame b) => a.Axis == b.Axis && a.Off(b.At) <= Same_mm;

    /// <summary>A profile on one axis, seen from the origin of another on it.</summary>
    internal PlanRegion ProfileFrom(TurnedFrame frame, double scale) =>
        Shifted(Profile, scale * frame.Along(Frame.At));

    private static TurnedFrame FrameOf(Feature f) => new(f.Turned!.Axis, f.Turned.At_mm);

    /// <summary>What touches is joined; the rest keeps the sides that its own circle asks for.</summary>
    private static IEnumerable<CastTurned> Joined(
        List<int> run, IReadOnlyList<CastFeature> features, double scale, double rapping_mm, double chordTolerance_mm)
    {
        // All seen from the origin of the first.
        var first = FrameOf(features[run[0]].Feature);
        var profiles = run.ToDictionary(i => i, i => Shifted(FeatureSolid.Profile(features[i].Feature, scale, chordTolerance_mm), scale * first.Along(features[i].Feature.Turned!.At_mm)));
        var groups = new List<ImmutableArray<int>>();
        foreach (var i in run)
        {
            var met = groups.FindAll(g => g.Any(j => profiles[j].Geometry.IsWithinDistance(profiles[i].Geometry, Same_mm)));
            groups.RemoveAll(met.Contains);
            groups.Add([.. met.SelectMany(g => g).Append(i).Order()]);
        }

        foreach (var group in groups)
        {
            var last = features[group[^1]].Feature;
            var like = last with { Low_mm = group.Min(i => features[i].Feature.Low_mm), High_mm = group.Max(i => features[i].Feature.High_mm) };
            var moved = Moved([.. group.Select(i => profiles[i])], [.. group.Select(i => features[i].MoveOfWalls_mm(scale, rapping_mm))]);
            yield return new(group, like, Shifted(moved, -scale * first.Along(last.Turned!.At_mm)));
        }
    }

    private static PlanRegion Moved(PlanRegion[] profiles, double[] moves)
    {
        if (profiles.Length == 1) return TurnedOutline.Grown(profiles[0], moves[0]);
        // Each by its own move; and all as one by the least, which leaves what they share.
        var reach_mm = profiles.SelectMany(p => p.Rings()).SelectMany(r => r).Max(v => Math.Max(Math.Abs(v.X), v.Y)) + Math.Max(0, moves.Max());
        var all = PlanRegion.UnionOn(Lattice.For(2 * reach_mm), profiles);
        return moves.All(m => m == 0) ? all
            : PlanRegion.UnionOn(Lattice.For(2 * reach_mm), profiles.Zip(moves, TurnedOutline.Grown).Append(TurnedOutline.Grown(all, moves.Min())));
    }

    private static PlanRegion Shifted(PlanRegion profile, double along) => along == 0 ? profile : profile.Transformed(1, 0, new(along, 0));
}
