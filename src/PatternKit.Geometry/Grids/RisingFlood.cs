using System.Collections.Immutable;

namespace PatternKit.Geometry.Grids;

/// <summary>
/// A body filled from some of its cells as by a liquid that finds its level: always the lowest cell that it can reach is next, and on one level the one with the shortest
/// way (priority flood, Barnes, Lehman and Mulla 2014; shortest paths within a level, Dijkstra 1959). Ways go along the axes, and across corners within a level.
/// <para>
/// Several cells are so many pools, each of which fills by its own part of the liquid until it meets another; from there on both are one with one level.
/// </para>
/// </summary>
public sealed class RisingFlood
{
    private readonly float[] ways;

    private RisingFlood(SolidGrid grid, GridUp up, float[] ways, ImmutableArray<int> order)
    {
        (Grid, Up, this.ways, Order) = (grid, up, ways, order);
        Steps = StepsOf(grid, up);
    }

    /// <summary>The body.</summary>
    public SolidGrid Grid { get; }

    /// <summary>Which way is up.</summary>
    public GridUp Up { get; }

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
    public static RisingFlood Of(SolidGrid grid, IEnumerable<(int Cell, double Share)> from, GridUp up)
    {
        var order = ImmutableArray.CreateBuilder<int>(grid.SolidCount);
        var (steps, pools) = (StepsOf(grid, up), new List<Pool>());
        // The pool that fills a cell; −1 while it is empty.
        var owners = new int[grid.Count];
        Array.Fill(owners, -1);
        var ways = new float[grid.Count];
        Array.Fill(ways, float.PositiveInfinity);
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
            if (!pool.Next.TryDequeue(out var cell, out _))
            {
                open.Remove(pool);
                continue;
            }

            if (owners[cell] >= 0) continue;
            owners[cell] = pool.Number;
            ways[cell] = pool.Ways[cell];
            pool.Clock += 1 / pool.Share;
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
                }
            }
        }

        return new(grid, up, ways, order.ToImmutable());

        // The level first, then the way in 256ths of a cell, then the number of the cell.
        ulong Key(int cell, float way) => ((ulong)up.Level(grid, cell) << 50) | ((ulong)(way * 256) << 28) | (uint)cell;

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
            (a.Share, a.Clock) = (a.Share + b.Share, Math.Max(a.Clock, b.Clock));
            for (var i = 0; i < a.Ways.Length; i++)
            {
                if (owners[i] >= 0 || !(b.Ways[i] < a.Ways[i])) continue;
                a.Ways[i] = b.Ways[i];
                a.Next.Enqueue(i, Key(i, b.Ways[i]));
            }

            return a;
        }
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

        /// <summary>Cells filled over the part of the liquid.</summary>
        public double Clock { get; set; }

        /// <summary>Shortest ways found to cells, in cells.</summary>
        public float[] Ways { get; } = ways;

        public PriorityQueue<int, ulong> Next { get; } = new();

        /// <summary>The pool that it has run into; null while it is on its own.</summary>
        public Pool? Into { get; set; }
    }
}
