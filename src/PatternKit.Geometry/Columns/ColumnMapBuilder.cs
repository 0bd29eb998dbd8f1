using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>
/// Makes a <see cref="ColumnMap"/>: all outlines are noded on the lattice (snap rounding), the faces between them get
/// their solid intervals, and neighbours that are alike are joined. The result depends on nothing but the input.
/// </summary>
public static class ColumnMapBuilder
{
    /// <summary>
    /// The body that the prisms make in order; one that removes takes only from those before it. Heights are snapped
    /// to the step; a prism whose ends fall together has no effect.
    /// </summary>
    /// <param name="prisms">In order.</param>
    /// <param name="step">Lattice step, mm; a power of two.</param>
    /// <exception cref="ArgumentException">The step is no power of two, or a height is not finite.</exception>
    public static ColumnMap Build(IReadOnlyList<Prism> prisms, double step)
    {
        if (prisms.Any(p => !double.IsFinite(p.Low) || !double.IsFinite(p.High)))
            throw new ArgumentException("A height is not a finite number.", nameof(prisms));
        return Build([.. prisms.Select(p => p.Region)], members => ColumnSpans.Of(prisms, members), step);
    }

    /// <summary>The body whose column over a face is a function of the regions that the face lies in.</summary>
    /// <param name="regions">The regions.</param>
    /// <param name="column">
    /// From the ascending numbers of the regions that contain a face to its solid intervals: ascending, not touching;
    /// they are snapped here. It is asked once for each set.
    /// </param>
    /// <param name="step">Lattice step, mm; a power of two.</param>
    public static ColumnMap Build(IReadOnlyList<PlanRegion> regions, Func<ImmutableArray<int>, ImmutableArray<Span>> column, double step)
    {
        return Build(PlanPartition.Overlay(regions, step), column, step);
    }

    /// <summary>The same from faces already cut, as <see cref="PlanPartition.Overlay"/> gives them for the same step.</summary>
    public static ColumnMap Build(ImmutableArray<PartitionFace> faces, Func<ImmutableArray<int>, ImmutableArray<Span>> column, double step)
    {
        // Columns are numbered as they turn up; number 0 is the empty one, which is also that of the outside.
        var columns = new List<ImmutableArray<Span>> { ImmutableArray<Span>.Empty };
        var numbers = new Dictionary<string, int> { [""] = 0 };
        var known = new Dictionary<string, int>();
        var labels = faces.Select(f =>
        {
            var set = string.Join(' ', f.Members);
            if (known.TryGetValue(set, out var number)) return number;
            var solid = Snapped(column(f.Members), step);
            var key = string.Join(' ', solid.Select(s => FormattableString.Invariant($"{s.Low:R} {s.High:R}")));
            if (!numbers.TryGetValue(key, out number))
            {
                numbers.Add(key, number = columns.Count);
                columns.Add(solid);
            }

            known.Add(set, number);
            return number;
        }).ToList();
        return new([.. PlanPartition.Merge([.. faces.Select(f => f.Region)], labels, 0).Select(m => new Cell(m.Region, columns[m.Label]))]);
    }

    private static ImmutableArray<Span> Snapped(ImmutableArray<Span> solid, double step) =>
        solid.Aggregate(ImmutableArray<Span>.Empty, (sum, s) => ColumnSpans.Add(sum, Math.Round(s.Low / step) * step, Math.Round(s.High / step) * step));
}
