using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

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
    public static ColumnMap Build(IReadOnlyList<Prism> prisms, double step) =>
        Build(Faces(prisms, step), (members, at) => ColumnSpans.Of(prisms, members, at), step);

    /// <summary>The pieces into which the outlines of prisms cut the plan, and the lines at which their ends cross.</summary>
    /// <param name="prisms">In order.</param>
    /// <param name="step">Lattice step, mm; a power of two.</param>
    /// <exception cref="ArgumentException">The step is no power of two, or a height is not finite.</exception>
    public static ImmutableArray<PartitionFace> Faces(IReadOnlyList<Prism> prisms, double step)
    {
        if (prisms.Any(p => !double.IsFinite(p.Low.AtOrigin) || !double.IsFinite(p.High.AtOrigin)))
            throw new ArgumentException("A height is not a finite number.", nameof(prisms));
        var regions = prisms.Select(p => p.Region).ToArray();
        var faces = PlanPartition.Overlay(regions, step);
        if (prisms.All(p => IsLevel(p))) return faces;
        var cuts = faces.Where(f => f.Members.Length > 1 && f.Members.Any(m => !IsLevel(prisms[m]))).SelectMany(f => Cuts(prisms, f, step)).ToArray();
        return cuts.Length == 0 ? faces : PlanPartition.Overlay(regions, step, cuts);
    }

    /// <summary>The body whose column over a face is a function of the prisms that the face lies in.</summary>
    /// <param name="faces">As <see cref="Faces"/> gives them for the same step.</param>
    /// <param name="column">
    /// From the ascending numbers of the prisms over a face and a point inside it to the solid intervals there: ascending, not touching;
    /// level ends are snapped here.
    /// </param>
    /// <param name="step">Lattice step, mm; a power of two.</param>
    public static ColumnMap Build(ImmutableArray<PartitionFace> faces, Func<ImmutableArray<int>, Vec2, ImmutableArray<Span>> column, double step)
    {
        // Columns are numbered as they turn up; number 0 is the empty one, which is also that of the outside.
        var columns = new List<ImmutableArray<Span>> { ImmutableArray<Span>.Empty };
        var numbers = new Dictionary<ImmutableArray<Span>, int>(new SameSpans()) { [[]] = 0 };
        var labels = faces.Select(f =>
        {
            var at = f.Region.InnerPoint;
            var solid = Snapped(column(f.Members, at), step, at);
            if (!numbers.TryGetValue(solid, out var number))
            {
                numbers.Add(solid, number = columns.Count);
                columns.Add(solid);
            }

            return number;
        }).ToList();
        return new([.. PlanPartition.Merge([.. faces.Select(f => f.Region)], labels, 0).Select(m => new Cell(m.Region, columns[m.Label]))]);
    }

    private static bool IsLevel(Prism p) => p.Low.IsLevel && p.High.IsLevel;

    private static IEnumerable<(Vec2 From, Vec2 To)> Cuts(IReadOnlyList<Prism> prisms, PartitionFace face, double step)
    {
        var planes = face.Members.SelectMany(m => new[] { prisms[m].Low, prisms[m].High }).Distinct().ToArray();
        var piece = new Cell(face.Region, []);
        for (var i = 0; i < planes.Length; i++)
            for (var j = i + 1; j < planes.Length; j++)
                if (!(planes[i].IsLevel && planes[j].IsLevel) && piece.Crosses(planes[i], planes[j], step))
                    foreach (var cut in PlaneCuts.Of(face.Region, planes[i], planes[j])) yield return cut;
    }

    private static ImmutableArray<Span> Snapped(ImmutableArray<Span> solid, double step, Vec2 at)
    {
        return solid.Aggregate(ImmutableArray<Span>.Empty, (sum, s) => ColumnSpans.Add(sum, Snap(s.Low), Snap(s.High), at));

        HeightPlane Snap(HeightPlane plane) => plane.IsLevel ? Math.Round(plane.AtOrigin / step) * step : plane;
    }

    private sealed class SameSpans : IEqualityComparer<ImmutableArray<Span>>
    {
        public bool Equals(ImmutableArray<Span> x, ImmutableArray<Span> y) => x.SequenceEqual(y);

        public int GetHashCode(ImmutableArray<Span> spans) => spans.Aggregate(spans.Length, HashCode.Combine);
    }
}
