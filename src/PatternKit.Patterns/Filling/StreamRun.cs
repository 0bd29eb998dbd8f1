using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Filling;

/// <summary>A wall made thicker in thought.</summary>
/// <param name="IsIn">Its cells.</param>
/// <param name="Factor">New thickness over old.</param>
internal sealed record ThickerWall(bool[] IsIn, double Factor);

/// <summary>
/// The stream on its way through a cavity: when it arrives at each cell, and what its tip has gone through by then. A cell is fed by that of its neighbours, full before it, whose metal is
/// the warmest. Until then that metal has stood where it was: in a wall wide enough to mix it, it is as warm as the metal behind; in a thinner one, it is on its own from where it entered.
/// Feeders rise with the casting at their level, each taking of the rate as it is wide; what stands higher fills last.
/// Over the way itself it runs no faster than it comes out of the ingates, where it is always fresh.
/// </summary>
internal sealed class StreamRun
{
    private readonly RisingFlood flood;
    private readonly LocalThickness thickness;
    private readonly ThickerWall? thicker;
    private readonly int[] feeds;
    private readonly float[] arrives;
    private readonly float[] latest;
    private readonly float[] channel;
    private readonly float[] entry;
    private readonly float[] front;

    private readonly double basin;

    private StreamRun(RisingFlood flood, LocalThickness thickness, ThickerWall? thicker, double basin)
    {
        (this.flood, this.thickness, this.thicker, this.basin) = (flood, thickness, thicker, basin);
        var n = flood.Grid.Count;
        feeds = new int[n];
        (arrives, latest, channel, entry, front) = (new float[n], new float[n], new float[n], new float[n], new float[n]);
    }

    /// <summary>When all is full, feeders included, s.</summary>
    public double FillTime_s { get; private set; }

    /// <summary>The order of filling.</summary>
    public RisingFlood Flood => flood;

    /// <summary>When the metal gets to a cell, s.</summary>
    public double Arrives_s(int cell) => arrives[cell];

    /// <summary>Length of the shortest way to it, mm.</summary>
    public double Way_mm(int cell) => flood.Way_mm(cell);

    /// <summary>Thickness at a cell, mm.</summary>
    public double Wall_mm(int cell) => thickness.At_mm(cell) * (thicker?.IsIn[cell] == true ? thicker.Factor : 1);

    /// <summary>Lets the metal in.</summary>
    /// <param name="flood">Order of filling.</param>
    /// <param name="thickness">How thick the metal is.</param>
    /// <param name="gating">How fast it comes.</param>
    /// <param name="gate_mm">Height of the ingates.</param>
    /// <param name="cell_mm3">Metal of a whole cell.</param>
    /// <param name="feeders">What feeders hold, by heights like that of the ingates.</param>
    /// <param name="table">Heat transfer, and from where walls mix the metal.</param>
    /// <param name="thicker">A wall made thicker in thought; null for none.</param>
    public static StreamRun Of(RisingFlood flood, LocalThickness thickness, GatingReckoning gating, double gate_mm, double cell_mm3, ImmutableArray<CavitySlice> feeders, FillingTable table, ThickerWall? thicker = null)
    {
        var run = new StreamRun(flood, thickness, thicker, gate_mm + gating.Head_mm.Value);
        var grid = flood.Grid;
        var clock = new FillClock(gating.Choke_mm2.Value, gating.Discharge.Value, gating.Head_mm.Value);
        double Above(double height) => Math.Min(height - gate_mm, clock.Head_mm);
        // The last slice may reach over the casting by part of a cell.
        double Level(double level) => Above(flood.Up.Height_mm(grid, level));
        var rates = Enumerable.Range(0, grid.Length(flood.Up.Axis)).Select(z => clock.Rate_mm3_s(Level(z - 0.5), Level(z + 0.5))).ToArray();
        // What feeders take at each level, for each whole cell of casting there.
        double Held(double from, double to) => feeders.Sum(f => f.Area_mm2 * Math.Max(0, Math.Min(f.High_mm, to) - Math.Max(f.Low_mm, from)));
        var parts = new double[rates.Length];
        if (!feeders.IsEmpty)
            foreach (var cell in flood.Order) parts[flood.Up.Level(grid, cell)] += grid.Part(cell);
        var beside = parts.Select((p, z) => p > 0 ? Held(flood.Up.Height_mm(grid, z - 0.5), flood.Up.Height_mm(grid, z + 0.5)) / p : 0).ToArray();
        double time = 0;
        Array.Fill(run.feeds, -1);
        Array.Fill(run.arrives, float.PositiveInfinity);
        foreach (var cell in flood.Order)
        {
            run.Feed(cell, time, 1000 * gating.IngateVelocity_m_s, table);
            var level = flood.Up.Level(grid, cell);
            time += ((cell_mm3 * (thicker?.IsIn[cell] == true ? thicker.Factor : 1)) + beside[level]) * grid.Part(cell) / rates[level];
            run.arrives[cell] = run.latest[cell] = (float)time;
        }

        var top = flood.Up.Height_mm(grid, Array.FindLastIndex(parts, p => p > 0) + 0.5);
        run.FillTime_s = time + clock.Time_s(feeders.Where(f => f.High_mm > top).Select(f => new CavitySlice(Above(Math.Max(f.Low_mm, top)), Above(f.High_mm), f.Area_mm2)));
        for (var i = flood.Order.Length - 1; i >= 0; i--)
            if (run.feeds[flood.Order[i]] is >= 0 and var feed) run.latest[feed] = Math.Max(run.latest[feed], run.latest[flood.Order[i]]);
        return run;
    }

    private void Feed(int cell, double time, double speed_mm_s, FillingTable table)
    {
        var least = double.PositiveInfinity;
        var (here, mixing) = (Wall_mm(cell), table.MixingWall_mm.Value);
        foreach (var (by, cells) in flood.Steps)
        {
            var from = cell - by;
            if (float.IsInfinity(arrives[from])) continue;
            var wall = Wall_mm(from);
            var length = cells * flood.Grid.Cell_mm;
            var runs = length / speed_mm_s;
            var stood = feeds[from] < 0 ? 0 : (float)(Math.Max(0, time - arrives[from] - runs) / Modulus.Wall(wall));
            var passes = (float)(runs / Modulus.Wall(here));
            var warm = channel[from] + stood;
            var (entered, fresh) = wall >= mixing ? (warm, 0) : (entry[from], front[from] + stood);
            (entered, fresh) = here >= mixing ? (warm + passes, 0) : (entered, fresh + passes);
            var lost = (entered * table.ChannelHeat.Value_W_m2K) + (fresh * table.FrontHeat.Value_W_m2K);
            if (!(lost < least)) continue;
            least = lost;
            (feeds[cell], channel[cell], entry[cell], front[cell]) = (from, warm + passes, entered, fresh);
        }
    }

    /// <summary>The ratios of a cell.</summary>
    /// <param name="cell">The cell.</param>
    /// <param name="mould">Metal and sand.</param>
    public FillRatios Ratios(int cell, StreamHeat mould) => new(
        Front(cell, mould, t => t.Value_W_m2K),
        mould.Choked(latest[cell] - arrives[cell], Wall_mm(cell)),
        mould.Head(Wall_mm(cell), basin - flood.Up.Of(flood.Grid.Middle(cell))));

    /// <summary>The first of them with another heat transfer at the tip.</summary>
    public double Front(int cell, StreamHeat mould, Func<HeatTransfer, double> transfer) => mould.Front(entry[cell], front[cell], transfer);
}
