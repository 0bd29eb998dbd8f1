using System.Collections.Immutable;
using NetTopologySuite.Algorithm;
using NetTopologySuite.Geometries;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>A face of a plan partition and the ascending numbers of the regions that it lies in.</summary>
public sealed record PartitionFace(PlanRegion Region, ImmutableArray<int> Members);

/// <summary>
/// Partitions of the plan: the faces that overlapping regions cut it into, and the joining of faces that are alike.
/// Faces never overlap, and neighbours share their border vertices exactly. All results are in a fixed order.
/// </summary>
public static class PlanPartition
{
    /// <summary>
    /// The bounded faces that the outlines cut the plan into, vertices on the lattice of <paramref name="step"/>.
    /// Membership follows the snapped outlines, crossing by crossing, so it is consistent however nearly outlines
    /// coincide; a face that lies in no region (a gap that others enclose) is listed without members.
    /// </summary>
    /// <param name="regions">Any regions.</param>
    /// <param name="step">A power of two, mm.</param>
    public static ImmutableArray<PartitionFace> Overlay(IReadOnlyList<PlanRegion> regions, double step) => Overlay(regions, step, []);

    /// <summary>The same with further lines that cut faces.</summary>
    internal static ImmutableArray<PartitionFace> Overlay(IReadOnlyList<PlanRegion> regions, double step, IReadOnlyList<(Vec2 From, Vec2 To)> cuts)
    {
        if (!(step > 0) || Math.ScaleB(1, Math.ILogB(step)) != step) throw new ArgumentException("The lattice step must be a power of two.", nameof(step));
        var pieces = NodedOutlines.Of(regions, step, cuts);
        var faces = PlanFaces.Of([.. pieces.Select(p => (p.A, p.B))]);
        var steps = new List<(int Face, List<int> Crossed)>[faces.Polygons.Length + 1];
        for (var i = 0; i < steps.Length; i++) steps[i] = [];
        for (var i = 0; i < pieces.Count; i++)
        {
            var (left, right) = faces.Beside(i);
            if (left == right) continue;
            steps[left + 1].Add((right, pieces[i].Regions));
            steps[right + 1].Add((left, pieces[i].Regions));
        }

        // From the outside, which is in no region, every face is reached over borders.
        var members = new SortedSet<int>?[steps.Length];
        members[0] = [];
        var queue = new Queue<int>([Border.Outside]);
        while (queue.TryDequeue(out var from))
            foreach (var (to, toggles) in steps[from + 1])
            {
                if (members[to + 1] is not null) continue;
                var set = new SortedSet<int>(members[from + 1]!);
                set.SymmetricExceptWith(toggles);
                members[to + 1] = set;
                queue.Enqueue(to);
            }

        return [.. faces.Polygons.Select((f, i) => new PartitionFace(PlanRegion.From(f), [.. members[i + 1]!]))];
    }

    /// <summary>
    /// Joins neighbouring pieces of equal label, and drops vertices that have become needless (two borders meet there
    /// in a straight line). Pieces labelled like the outside that reach it vanish; those that are enclosed stay.
    /// </summary>
    /// <param name="pieces">Single polygons that share their border vertices exactly.</param>
    /// <param name="labels">A label per piece.</param>
    /// <param name="outside">The label of the unbounded outside.</param>
    public static ImmutableArray<(PlanRegion Region, int Label)> Merge(IReadOnlyList<PlanRegion> pieces, IReadOnlyList<int> labels, int outside)
    {
        int Label(int face) => face == Border.Outside ? outside : labels[face];
        var borders = Faces.Borders([.. pieces.Select(p => (Polygon)p.Geometry)])
            .Select(b => b with { Left = Label(b.Left), Right = Label(b.Right) })
            .Where(b => b.Left != b.Right).ToList();
        borders = Straightened(borders);
        var faces = PlanFaces.Of([.. borders.Select(b => (b.A, b.B))]);
        var labelOf = new int[faces.Polygons.Length];
        for (var i = 0; i < borders.Count; i++)
        {
            var (left, right) = faces.Beside(i);
            if (left >= 0) labelOf[left] = borders[i].Left;
            if (right >= 0) labelOf[right] = borders[i].Right;
        }

        return [.. faces.Polygons.Select((f, i) => (PlanRegion.From(f), labelOf[i]))];
    }

    private static List<Border> Straightened(List<Border> borders)
    {
        var at = new SortedDictionary<Coordinate, List<Border>>();
        foreach (var b in borders)
            foreach (var end in (Coordinate[])[b.A, b.B])
            {
                if (!at.TryGetValue(end, out var list)) at.Add(end, list = []);
                list.Add(b);
            }

        foreach (var (v, list) in at)
        {
            if (list.Count != 2) continue;
            var (from, to) = (Far(list[0], v), Far(list[1], v));
            // On the lattice the turn is exact; equal far ends would be a border walked there and back.
            if (from.Equals2D(to) || Orientation.Index(from, v, to) != OrientationIndex.Collinear) continue;
            if (((from.X - v.X) * (to.X - v.X)) + ((from.Y - v.Y) * (to.Y - v.Y)) > 0) continue;
            var joined = Border.Between(from, to, list[0].LeftFrom(from), list[0].LeftFrom(v));
            at[from][at[from].IndexOf(list[0])] = joined;
            at[to][at[to].IndexOf(list[1])] = joined;
            list.Clear();
        }

        return [.. at.SelectMany(v => v.Value.Where(b => b.A.Equals2D(v.Key)))];
    }

    private static Coordinate Far(Border b, Coordinate v) => b.A.Equals2D(v) ? b.B : b.A;
}
