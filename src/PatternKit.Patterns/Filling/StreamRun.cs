using PatternKit.Foundry;
using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Filling;

/// <summary>A wall made thicker in thought.</summary>
/// <param name="IsIn">Its cells.</param>
/// <param name="Factor">New thickness over old.</param>
internal sealed record ThickerWall(bool[] IsIn, double Factor);

/// <summary>
/// The stream on its way through a cavity: when it arrives at each cell, and what its tip has gone through by then. In walls wide enough to mix it, the tip is as warm as the
/// metal behind; from where it enters a thinner one, it is on its own.
/// </summary>
internal sealed class StreamRun
{
    private readonly RisingFlood flood;
    private readonly LocalThickness thickness;
    private readonly ThickerWall? thicker;
    private readonly float[] arrives;
    private readonly float[] latest;
    private readonly float[] channel;
    private readonly float[] entry;
    private readonly float[] front;

    private StreamRun(RisingFlood flood, LocalThickness thickness, ThickerWall? thicker)
    {
        (this.flood, this.thickness, this.thicker) = (flood, thickness, thicker);
        var n = flood.Grid.Count;
        (arrives, latest, channel, entry, front) = (new float[n], new float[n], new float[n], new float[n], new float[n]);
    }

    /// <summary>When all is full, s.</summary>
    public double FillTime_s { get; private set; }

    /// <summary>The order of filling.</summary>
    public RisingFlood Flood => flood;

    /// <summary>When the metal gets to a cell, s.</summary>
    public double Arrives_s(int cell) => arrives[cell];

    /// <summary>Thickness at a cell, mm.</summary>
    public double Wall_mm(int cell) => thickness.At_mm(cell) * (thicker?.IsIn[cell] == true ? thicker.Factor : 1);

    /// <summary>Height of the middle of a cell.</summary>
    private double Height_mm(int cell) => flood.Grid.Middle(cell).Z;

    /// <summary>Lets the metal in.</summary>
    /// <param name="flood">Order of filling.</param>
    /// <param name="thickness">How thick the metal is.</param>
    /// <param name="clock">How fast it comes.</param>
    /// <param name="gate_mm">Height of the ingates.</param>
    /// <param name="cell_mm3">Metal that a cell stands for.</param>
    /// <param name="mixing_mm">Walls from here up mix the metal.</param>
    /// <param name="thicker">A wall made thicker in thought; null for none.</param>
    public static StreamRun Of(RisingFlood flood, LocalThickness thickness, FillClock clock, double gate_mm, double cell_mm3, double mixing_mm, ThickerWall? thicker = null)
    {
        var run = new StreamRun(flood, thickness, thicker);
        var grid = flood.Grid;
        var layer = grid.Stride(2);
        // The last slice may reach over the casting by part of a cell.
        double Level(double cells) => Math.Min(grid.Origin.Z + (grid.Cell_mm * cells) - gate_mm, clock.Head_mm);
        var rates = Enumerable.Range(0, grid.Layers).Select(z => clock.Rate_mm3_s(Level(z - 0.5), Level(z + 0.5))).ToArray();
        double time = 0;
        foreach (var cell in flood.Order)
        {
            var wall = run.Wall_mm(cell);
            time += cell_mm3 * (thicker?.IsIn[cell] == true ? thicker.Factor : 1) / rates[cell / layer];
            run.arrives[cell] = run.latest[cell] = (float)time;
            var parent = flood.Parent(cell);
            var spent = (time - (parent < 0 ? 0 : run.arrives[parent])) / Modulus.Wall(wall);
            var (before, entered, fresh) = parent < 0 ? (0f, 0f, 0f) : (run.channel[parent], run.entry[parent], run.front[parent]);
            run.channel[cell] = before + (float)spent;
            var mixes = wall >= mixing_mm;
            run.entry[cell] = mixes ? run.channel[cell] : entered;
            run.front[cell] = mixes ? 0 : fresh + (float)spent;
        }

        run.FillTime_s = time;
        for (var i = flood.Order.Length - 1; i >= 0; i--)
            if (flood.Parent(flood.Order[i]) is >= 0 and var parent) run.latest[parent] = Math.Max(run.latest[parent], run.latest[flood.Order[i]]);
        return run;
    }

    /// <summary>The ratios of a cell.</summary>
    /// <param name="cell">The cell.</param>
    /// <param name="mould">Metal and sand.</param>
    /// <param name="basin_mm">Height of the level in the basin.</param>
    /// <param name="pace">Fill time over that of this run: all times go with it.</param>
    public FillRatios Ratios(int cell, PouredMould mould, double basin_mm, double pace = 1) => new(
        Front(cell, mould, mould.Table.FrontHeat.Value_W_m2K, pace),
        mould.Choked((latest[cell] - arrives[cell]) * pace, Wall_mm(cell)),
        mould.Head(Wall_mm(cell), basin_mm - Height_mm(cell)));

    /// <summary>The first of them with another heat transfer at the tip.</summary>
    public double Front(int cell, PouredMould mould, double transfer_W_m2K, double pace = 1) => mould.Front(entry[cell] * pace, front[cell] * pace, transfer_W_m2K);
}
