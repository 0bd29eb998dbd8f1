using System.Collections.Immutable;
using PatternKit.Geometry.Columns;

namespace PatternKit.Patterns.Parting;

/// <summary>Where the sand of both halves meets when the joint outside lies at one height, and the metal that this costs.</summary>
/// <param name="Upper">Upper height of each cell; over a hole, height of the sand joint in it.</param>
/// <param name="Lower">Lower height; the same over a hole.</param>
/// <param name="Open">Cells of recesses open to the outside, filled to the joint.</param>
/// <param name="Added_mm3">Metal added.</param>
internal sealed record JointHeights(double[] Upper, double[] Lower, bool[] Open, double Added_mm3);

/// <summary>
/// Settles the joint over a casting whose columns have one interval each (cells without any are through holes).
/// A recess ringed by metal is left by sand that stands or hangs in it, and costs nothing; one that reaches the
/// outside is filled to the joint, since the sand of one half cannot end in a wall against that of the other.
/// </summary>
internal sealed class SandJoint
{
    private readonly double[] area;
    private readonly double[] low;
    private readonly double[] high;
    private readonly CellNeighbours neighbours;

    internal SandJoint(ColumnMap map)
    {
        area = [.. map.Cells.Select(c => c.Region.Area)];
        low = [.. map.Cells.Select(c => c.Low)];
        high = [.. map.Cells.Select(c => c.High)];
        neighbours = CellNeighbours.Among([.. map.Cells.Select(c => c.Region)]);
    }

    /// <summary>The numbers of the neighbours of a cell.</summary>
    internal ImmutableArray<int> NeighboursOf(int cell) => neighbours.Of[cell];

    internal JointHeights At(double joint)
    {
        var (upper, lower) = ((double[])high.Clone(), (double[])low.Clone());
        var open = new bool[area.Length];
        foreach (var i in FromOutside(i => IsMetal(i) && low[i] > joint)) (lower[i], open[i]) = (joint, true);
        foreach (var i in FromOutside(i => IsMetal(i) && high[i] < joint)) (upper[i], open[i]) = (joint, true);

        // Beside each other, one column wholly above another leaves no metal between sand from above and sand
        // from below; both are brought to one height, the nearest to the joint.
        for (var i = 0; i < area.Length; i++)
            foreach (var j in neighbours.Of[i].Where(j => IsMetal(i) && IsMetal(j) && lower[i] > upper[j]))
                Meet(Math.Clamp(joint, upper[j], lower[i]), [i, j]);

        // A hole, of however many cells: the sand in it parts at one height, where every neighbour is solid.
        foreach (var hole in CellGroups.Of(area.Length, i => !IsMetal(i), NeighboursOf))
        {
            var around = hole.SelectMany(i => neighbours.Of[i]).Where(IsMetal).Distinct().ToArray();
            var (top, bottom) = (around.Min(n => upper[n]), around.Max(n => lower[n]));
            var meeting = Math.Clamp(joint, Math.Min(top, bottom), Math.Max(top, bottom));
            Meet(meeting, around);
            foreach (var i in hole) upper[i] = lower[i] = meeting;
        }

        var added = 0.0;
        for (var i = 0; i < area.Length; i++)
            if (IsMetal(i)) added += area[i] * (low[i] - lower[i] + (upper[i] - high[i]));
        return new(upper, lower, open, added);

        void Meet(double height, IEnumerable<int> cells)
        {
            foreach (var c in cells)
            {
                lower[c] = Math.Min(lower[c], height);
                upper[c] = Math.Max(upper[c], height);
            }
        }
    }

    private bool IsMetal(int cell) => high[cell] > low[cell];

    /// <summary>The cells of a kind that are joined to the outside through cells of that kind.</summary>
    private List<int> FromOutside(Func<int, bool> kind)
    {
        var reached = new bool[area.Length];
        var list = new List<int>();
        void Reach(int i)
        {
            if (reached[i] || !kind(i)) return;
            reached[i] = true;
            list.Add(i);
        }

        for (var i = 0; i < area.Length; i++)
            if (neighbours.ReachesOutside[i]) Reach(i);
        for (var k = 0; k < list.Count; k++)
            foreach (var n in neighbours.Of[list[k]]) Reach(n);
        return list;
    }
}
