using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Parting;

/// <summary>Where the sand of both halves meets when the joint outside lies at one height, and the metal that this costs.</summary>
/// <param name="Upper">Upper plane of each cell; over a hole, height of the sand joint in it.</param>
/// <param name="Lower">Lower plane; the same over a hole.</param>
/// <param name="Open">Cells of recesses open to the outside, filled to the joint.</param>
/// <param name="Added_mm3">Metal added.</param>
internal sealed record JointHeights(HeightPlane[] Upper, HeightPlane[] Lower, bool[] Open, double Added_mm3)
{
    /// <summary>Metal added to a cell, mm³.</summary>
    internal double Added(int cell, Cell before)
    {
        var (solid, centre) = (before.Solid, before.Region.Centroid);
        if (solid.IsEmpty || (Lower[cell] == solid[0].Low && Upper[cell] == solid[^1].High)) return 0;
        return before.Region.Area * (solid[0].Low.At(centre) - Lower[cell].At(centre) + (Upper[cell].At(centre) - solid[^1].High.At(centre)));
    }
}

/// <summary>
/// Settles the joint over a casting whose columns have one interval each (cells without any are through holes).
/// A recess ringed by metal is left by sand that stands or hangs in it, and costs nothing; one that reaches the
/// outside is filled to the joint, since the sand of one half cannot end in a wall against that of the other.
/// Sloped cells count as lying on the side of the joint where most of them lies: cut the map at the joint for exact figures.
/// </summary>
internal sealed class SandJoint
{
    private readonly ImmutableArray<Cell> cells;
    private readonly double[] low;
    private readonly double[] high;
    private readonly double step;
    private readonly CellNeighbours neighbours;

    /// <summary>Takes a map.</summary>
    /// <param name="map">One interval a column.</param>
    /// <param name="step">Its lattice step, mm.</param>
    internal SandJoint(ColumnMap map, double step)
    {
        (cells, this.step) = (map.Cells, step);
        low = [.. map.Cells.Select(c => c.Low)];
        high = [.. map.Cells.Select(c => c.High)];
        neighbours = CellNeighbours.Among([.. map.Cells.Select(c => c.Region)]);
    }

    /// <summary>The numbers of the neighbours of a cell.</summary>
    internal ImmutableArray<int> NeighboursOf(int cell) => neighbours.Of[cell];

    internal JointHeights At(double joint)
    {
        var upper = cells.Select(c => c.Solid.IsEmpty ? double.NegativeInfinity : c.Solid[^1].High).ToArray();
        var lower = cells.Select(c => c.Solid.IsEmpty ? double.PositiveInfinity : c.Solid[0].Low).ToArray();
        var open = new bool[cells.Length];
        foreach (var i in FromOutside(i => IsMetal(i) && low[i] > joint)) (lower[i], open[i]) = (joint, true);
        foreach (var i in FromOutside(i => IsMetal(i) && high[i] < joint)) (upper[i], open[i]) = (joint, true);

        // Beside each other, one column wholly above another leaves no metal between sand from above and sand
        // from below; both are brought to one height, the nearest to the joint.
        for (var i = 0; i < cells.Length; i++)
            foreach (var j in neighbours.Of[i].Where(j => IsMetal(i) && IsMetal(j)))
                foreach (var p in Middles(i, j))
                {
                    var (above, below) = (lower[i].At(p), upper[j].At(p));
                    if (above - below > Slack(lower[i]) + Slack(upper[j])) Meet(Math.Clamp(joint, below, above), p, i, j);
                }

        // A hole, of however many cells: the sand in it parts at one height, where every neighbour is solid.
        foreach (var hole in CellGroups.Of(cells.Length, i => !IsMetal(i), NeighboursOf))
        {
            var around = hole.SelectMany(i => neighbours.Of[i].Where(IsMetal).SelectMany(n => Ends(i, n).Select(p => (Cell: n, At: p)))).ToList();
            var (top, bottom) = (around.Min(n => upper[n.Cell].At(n.At)), around.Max(n => lower[n.Cell].At(n.At)));
            var meeting = Math.Clamp(joint, Math.Min(top, bottom), Math.Max(top, bottom));
            foreach (var n in around) Meet(meeting, n.At, n.Cell);
            foreach (var i in hole) upper[i] = lower[i] = meeting;
        }

        var heights = new JointHeights(upper, lower, open, 0);
        return heights with { Added_mm3 = Enumerable.Range(0, cells.Length).Sum(i => heights.Added(i, cells[i])) };

        // Metal reaches a height at a point of its border. Where a sloped end does not, all of its cell is brought there.
        void Meet(double height, Vec2 p, params ReadOnlySpan<int> metal)
        {
            foreach (var cell in metal)
            {
                if (lower[cell].At(p) > height + Slack(lower[cell])) lower[cell] = Math.Min(height, Corners(cell).Min(lower[cell].At));
                if (upper[cell].At(p) < height - Slack(upper[cell])) upper[cell] = Math.Max(height, Corners(cell).Max(upper[cell].At));
            }
        }
    }

    private double Slack(HeightPlane plane) => plane.IsLevel ? 0 : 4 * step * (1 + plane.Slope);

    private IEnumerable<Vec2> Corners(int cell) => cells[cell].Region.Geometry.Coordinates.Select(c => new Vec2(c.X, c.Y));

    private IEnumerable<Vec2> Middles(int i, int j) => neighbours.Between(i, j).Select(s => 0.5 * (s.A + s.B));

    private IEnumerable<Vec2> Ends(int i, int j) => neighbours.Between(i, j).SelectMany(s => new[] { s.A, s.B });

    private bool IsMetal(int cell) => high[cell] > low[cell];

    /// <summary>The cells of a kind that are joined to the outside through cells of that kind.</summary>
    private List<int> FromOutside(Func<int, bool> kind)
    {
        var reached = new bool[cells.Length];
        var list = new List<int>();
        void Reach(int i)
        {
            if (reached[i] || !kind(i)) return;
            reached[i] = true;
            list.Add(i);
        }

        for (var i = 0; i < cells.Length; i++)
            if (neighbours.ReachesOutside[i]) Reach(i);
        for (var k = 0; k < list.Count; k++)
            foreach (var n in neighbours.Of[list[k]]) Reach(n);
        return list;
    }
}
