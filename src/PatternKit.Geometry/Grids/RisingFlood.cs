using System.Collections.Immutable;

namespace PatternKit.Geometry.Grids;

/// <summary>How the front of a liquid runs along a floor; a liquid without it rises level by level, however thin they are.</summary>
/// <param name="Height_mm">Height of the front: what is no higher over its floor fills with it.</param>
/// <param name="Slope">How much the surface falls along the way, rise over length.</param>
public sealed record FloodFront(double Height_mm, double Slope);

/// <summary>
/// A body filled from some of its cells as by a liquid that finds its level: always the lowest cell that it can reach is next, and on one level the one with the shortest
/// way (priority flood, Barnes, Lehman and Mulla 2014; shortest paths within a level, Dijkstra 1959). Ways go along the axes, and across corners within a level.
/// <para>
/// Where its front has a height, a flat space no higher fills over that whole height from its entry on, as far as the liquid has run elsewhere; what stands higher over its floor rises as before.
/// Then it does not matter how many cells are in the height of a thin space, nor in which of them a gentle slope of its floor falls.
/// </para>
/// <para>
/// Several cells are so many pools, each of which fills by its own part of the liquid until it meets another; from there on both are one with one level.
/// </para>
/// </summary>
public sealed class RisingFlood
{
    // A floor that rises no more than this is level for a front.
    private const float Gentle = 0.2f;

    private readonly float[] ways;

    private RisingFlood(SolidGrid grid, GridUp up, FloodFront? front, float[] ways, ImmutableArray<int> order)
    {
        (Grid, Up, Front, this.ways, Order) = (grid, up, front, ways, order);
        Steps = StepsOf(grid, up);
    }

    /// <summary>The body.</summary>
    public SolidGrid Grid { get; }

    /// <summary>Which way is up.</summary>
    public GridUp Up { get; }

    /// <summary>How it runs along floors; null where it rises level by level.</summary>
    public FloodFront? Front { get; }

    /// <summary>The cells that are reached, in the order in which they fill.</summary>
    public ImmutableArray<int> Order { get; }

    /// <summary>The ways from a cell to its neighbours: what is added to its number, and their length in cells.</summary>
    public ImmutableArray<(int By, float Length)> Steps { get; }

    /// <summary>Length of the shortest way to a cell over what is full by then, mm.</summary>
    public double Way_mm(int cell) => ways[cell] * Grid.Cell_mm;

    /// <summary>Fills a body.</summary>
    /// <param name="grid">The body.</param>
    /// <param name="from">Solid cells, each once, with the part of the liquid that enters there; parts are positive.</param>
    /// <param name="up">Which way is up.</param>
    /// <param name="front">How it runs along floors; null for a liquid that rises level by level.</param>
    public static RisingFlood Of(SolidGrid grid, IEnumerable<(int Cell, double Share)> from, GridUp up, FloodFront? front = null)
    {
        var order = ImmutableArray.CreateBuilder<int>(grid.SolidCount);
        var (steps, pools) = (StepsOf(grid, up), new List<Pool>());
        // The pool that fills a cell; −1 while it is empty.
        var owners = new int[grid.Count];
        Array.Fill(owners, -1);
        var ways = new float[grid.Count];
        Array.Fill(ways, float.PositiveInfinity);
        var (levels, isFlat) = Levels(grid, up, front);
        var slope = front?.Slope ?? 0;
        foreach (var (cell, share) in from)
        {
            var pool = new Pool(pools.Count, share, pools.Count == 0 ? ways : Unreached(grid.Count));
            pool.Ways[cell] = 0;
            pool.Next.Enqueue(cell, Key(cell, 0));
            pools.Add(pool);
        }

        var open = new List<Pool>(pools);
        while (open.Count > 0)
        {
            // The one that is behind with its part of the liquid.
            var pool = open.Count == 1 ? open[0] : open.MinBy(p => p.Clock)!;
            if (!pool.TryNext(out var cell))
            {
                open.Remove(pool);
                continue;
            }

            if (owners[cell] >= 0) continue;
            owners[cell] = pool.Number;
            ways[cell] = pool.Ways[cell];
            pool.Farthest = Math.Max(pool.Farthest, ways[cell]);
            pool.Clock += grid.Part(cell) / pool.Share;
            order.Add(cell);
            foreach (var (by, length) in steps)
            {
                var other = cell + by;
                if (!grid.IsSolid(other)) continue;
                if (owners[other] >= 0)
                {
                    if (Find(owners[other]) is var met && met != pool) pool = Joined(pool, met);
                }
                else if (ways[cell] + length < pool.Ways[other])
                {
                    pool.Ways[other] = ways[cell] + length;
                    pool.Next.Enqueue(other, Key(other, pool.Ways[other]));
                    if (isFlat[cell] && isFlat[other] && levels[other] - levels[cell] <= Gentle * length) pool.Beside.Enqueue(other, (pool.Ways[other], other));
                }
            }
        }

        return new(grid, up, front, ways, order.ToImmutable());

        // The level that brings the liquid there, in 16ths of a cell, then the way in 64ths, then the number of the cell.
        ulong Key(int cell, float way) => ((ulong)((levels[cell] + (slope * way)) * 16) << 48) | ((ulong)(way * 64) << 28) | (uint)cell;

        Pool Find(int number)
        {
            var pool = pools[number];
            while (pool.Into is { } into) pool = into;
            return pool;
        }

        Pool Joined(Pool a, Pool b)
        {
            if (b.Number < a.Number) (a, b) = (b, a);
            b.Into = a;
            open.Remove(b);
            if (!open.Contains(a)) open.Add(a);
            (a.Share, a.Clock, a.Farthest) = (a.Share + b.Share, Math.Max(a.Clock, b.Clock), Math.Max(a.Farthest, b.Farthest));
            foreach (var (cell, way) in b.Beside.UnorderedItems) a.Beside.Enqueue(cell, way);
            for (var i = 0; i < a.Ways.Length; i++)
            {
                if (owners[i] >= 0 || !(b.Ways[i] < a.Ways[i])) continue;
                a.Ways[i] = b.Ways[i];
                a.Next.Enqueue(i, Key(i, b.Ways[i]));
            }

            return a;
        }
    }

    /// <summary>The level at which the liquid gets to each cell: that of its floor, or, higher over it, less the height of the front; and whether all over its floor is no higher than the front.</summary>
    private static (float[] Levels, bool[] IsFlat) Levels(SolidGrid grid, GridUp up, FloodFront? front)
    {
        var (levels, isFlat) = (new float[grid.Count], new bool[grid.Count]);
        var (rise, down) = (up.Rise(grid), up.IsReversed ? 1 : -1);
        var height = (float)((front?.Height_mm ?? 0) / grid.Cell_mm);
        for (var cell = 0; cell < levels.Length; cell++)
        {
            if (!grid.IsSolid(cell)) continue;
            levels[cell] = up.Level(grid, cell);
            if (front is null) continue;
            var (low, high) = (cell, cell);
            while (grid.IsSolid(low - rise) && up.Level(grid, cell) - up.Level(grid, low) < height) low -= rise;
            while (grid.IsSolid(high + rise) && up.Level(grid, high) - up.Level(grid, low) < height) high += rise;
            levels[cell] -= height;
            if (grid.IsSolid(low - rise)) continue;
            var floor = up.Level(grid, low) - grid.Reach(up.Axis, low, down);
            levels[cell] = Math.Max(levels[cell], floor);
            isFlat[cell] = !grid.IsSolid(high + rise) && up.Level(grid, high) + grid.Reach(up.Axis, high, -down) - floor <= height;
        }

        return (levels, isFlat);
    }

    private static float[] Unreached(int count)
    {
        var ways = new float[count];
        Array.Fill(ways, float.PositiveInfinity);
        return ways;
    }

    private static ImmutableArray<(int By, float Length)> StepsOf(SolidGrid grid, GridUp up)
    {
        var (rise, (a, b)) = (up.Rise(grid), up.Aside(grid));
        return
        [
            (-rise, 1), (rise, 1), (-a, 1), (a, 1), (-b, 1), (b, 1),
            (-b - a, MathF.Sqrt(2)), (-b + a, MathF.Sqrt(2)), (b - a, MathF.Sqrt(2)), (b + a, MathF.Sqrt(2)),
        ];
    }

    /// <summary>What has come in by one cell, or by several that have met.</summary>
    private sealed class Pool(int number, double share, float[] ways)
    {
        public int Number { get; } = number;

        public double Share { get; set; } = share;

        /// <summary>What is filled over the part of the liquid.</summary>
        public double Clock { get; set; }

        /// <summary>Shortest ways found to cells, in cells.</summary>
        public float[] Ways { get; } = ways;

        /// <summary>How far it has run, in cells.</summary>
        public float Farthest { get; set; }

        /// <summary>What it can reach, by level.</summary>
        public PriorityQueue<int, ulong> Next { get; } = new();

        /// <summary>What of that lies on the floor of a flat space that it runs along, by way.</summary>
        public PriorityQueue<int, (float Way, int Cell)> Beside { get; } = new();

        /// <summary>The next cell: what lies beside it on such a floor, no farther than it has run, before all else.</summary>
        public bool TryNext(out int cell) => Beside.TryPeek(out cell, out var first) && first.Way <= Farthest ? Beside.TryDequeue(out cell, out _) : Next.TryDequeue(out cell, out _);

        /// <summary>The pool that it has run into; null while it is on its own.</summary>
        public Pool? Into { get; set; }
    }
}
