using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Parts;

/// <summary>What a feature fills, metal or cut, by itself.</summary>
/// <param name="Plan">What it covers.</param>
/// <param name="Prisms">In order; of those over one point, each that removes takes from those of this feature alone.</param>
internal sealed record FeatureSolid(PlanRegion Plan, ImmutableArray<Prism> Prisms)
{
    /// <summary>The columns that the feature fills where its prisms of the given numbers stand.</summary>
    internal ImmutableArray<Span> Column(IEnumerable<int> prisms, Vec2 at) => ColumnSpans.Of(Prisms, prisms, at);

    /// <summary>A feature of one upright prism.</summary>
    internal static FeatureSolid Upright(PlanRegion plan, double low_mm, double high_mm) => new(plan, [new(plan, low_mm, high_mm)]);

    /// <summary>The solids of features as designed.</summary>
    /// <param name="features">In order.</param>
    /// <param name="chordTolerance_mm">How far chords lie from their arcs.</param>
    internal static ImmutableArray<FeatureSolid> Of(IReadOnlyList<Feature> features, double chordTolerance_mm)
    {
        var plans = FeatureOutline.Of([.. features.Select(f => (f, 0.0))], 1, chordTolerance_mm);
        return
        [
            .. features.Select((f, i) => f.Turned is { } turned
                ? OfProfile(Profile(f, 1, chordTolerance_mm), turned, 1, chordTolerance_mm)
                : Upright(plans[i], f.Low_mm, f.High_mm)),
        ];
    }

    /// <summary>What a profile at its size fills about the axis of a feature, which is scaled.</summary>
    internal static FeatureSolid OfProfile(PlanRegion profile, Turning turned, double scale, double chordTolerance_mm)
    {
        var at = scale * turned.At_mm;
        return new(TurnedBody.Shadow(profile, turned.Axis, at, chordTolerance_mm), TurnedBody.Prisms(profile, turned.Axis, at, chordTolerance_mm));
    }

    /// <summary>The profile of a turned feature under a scale.</summary>
    internal static PlanRegion Profile(Feature feature, double scale, double chordTolerance_mm) =>
        TurnedBody.Profile(feature.Loops.Select(l => scale == 1 ? l : l.Transformed(scale, 0, default)), chordTolerance_mm);
}

/// <summary>The solids of features in order, laid over each other in plan.</summary>
internal sealed class FeatureStack
{
    private readonly ImmutableArray<(int Feature, int Prism)> pieces;

    /// <summary>Lays them over each other.</summary>
    /// <param name="solids">In order.</param>
    /// <param name="step">Lattice step, mm.</param>
    /// <param name="further">Prisms whose ends also cut sloped ones where they cross, and do nothing else.</param>
    internal FeatureStack(ImmutableArray<FeatureSolid> solids, double step, IEnumerable<Prism>? further = null)
    {
        (Solids, Step) = (solids, step);
        pieces = [.. solids.SelectMany((s, i) => Enumerable.Range(0, s.Prisms.Length).Select(k => (i, k)))];
        Faces = ColumnMapBuilder.Faces([.. solids.SelectMany(s => s.Prisms), .. further ?? []], step);
    }

    internal ImmutableArray<FeatureSolid> Solids { get; }

    internal ImmutableArray<PartitionFace> Faces { get; }

    internal double Step { get; }

    /// <summary>The features over a face, in order, each with the intervals that it fills there.</summary>
    internal IEnumerable<(int Feature, ImmutableArray<Span> Filled)> Over(ImmutableArray<int> members, Vec2 at)
    {
        var own = members.TakeWhile(m => m < pieces.Length);
        foreach (var group in own.Select(m => pieces[m]).GroupBy(p => p.Feature))
            yield return (group.Key, Solids[group.Key].Column(group.Select(p => p.Prism), at));
    }

    /// <summary>The body whose columns come from those of the features over them.</summary>
    internal ColumnMap Map(Func<IEnumerable<(int Feature, ImmutableArray<Span> Filled)>, Vec2, ImmutableArray<Span>> column) =>
        ColumnMapBuilder.Build(Faces, (members, at) => column(Over(members, at), at), Step);

    /// <summary>The column that features leave one after the other; a cut takes from those before it.</summary>
    internal static ImmutableArray<Span> Column(ImmutableArray<Feature> features, IEnumerable<(int Feature, ImmutableArray<Span> Filled)> over, Vec2 at)
    {
        var solid = ImmutableArray<Span>.Empty;
        foreach (var (feature, filled) in over)
            foreach (var s in filled)
                solid = features[feature].Cut == CutKind.None ? ColumnSpans.Add(solid, s.Low, s.High, at) : ColumnSpans.Remove(solid, s.Low, s.High, at);
        return solid;
    }
}
