using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Loose;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Filling;

/// <summary>The cavity that the metal fills, on cells: both halves without prints, less what cores keep free. Fillets are left out.</summary>
/// <param name="Grid">The cells, pattern millimetres.</param>
/// <param name="Thickness">How thick the metal is.</param>
internal sealed record CastingGrid(SolidGrid Grid, LocalThickness Thickness)
{
    /// <summary>The same as the stream meets it: a lone cell that is read too thin is no wall.</summary>
    public LocalThickness Walls { get; } = Thickness.Closed();

    /// <summary>Thinnest wall looked for in a metal of which none is known.</summary>
    public const double UsualThin_mm = 3;

    /// <summary>What is no farther apart is one: the back of a loose piece lies on its wall.</summary>
    private const double Touch_mm = 1e-3;

    // Cells of metal: enough that places of a casting differ, few enough to be reckoned beside the meshes.
    private const double FewestCells = 20_000;
    private const double MostCells = 40_000;

    /// <summary>Reads a cavity.</summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="cores">In the mould.</param>
    /// <param name="loose">Pieces that stand out of the halves.</param>
    /// <param name="volume_mm3">About how much metal there is.</param>
    /// <param name="thin_mm">Walls as thin as this are to be two cells wide, as far as the number of cells allows.</param>
    public static CastingGrid Of(HalfMould cope, HalfMould drag, ImmutableArray<IMouldCore> cores, ImmutableArray<KitLoosePiece> loose, double volume_mm3, double thin_mm) =>
        Of(cope, drag, cores, loose, Math.Clamp(thin_mm / 2, Math.Cbrt(volume_mm3 / MostCells), Math.Cbrt(volume_mm3 / FewestCells)), default(Vec3));

    /// <summary>Reads a cavity on cells of a given size.</summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="cores">In the mould.</param>
    /// <param name="loose">Pieces that stand out of the halves.</param>
    /// <param name="cell_mm">Edge of a cell.</param>
    /// <param name="aside">By which part of a cell the cells are moved along each axis, 0 to 1.</param>
    internal static CastingGrid Of(HalfMould cope, HalfMould drag, ImmutableArray<IMouldCore> cores, ImmutableArray<KitLoosePiece> loose, double cell_mm, Vec3 aside)
    {
        Func<Vec2, IEnumerable<(double Low, double High)>>[] columns = [.. cores.Select(c => c.Columns())];
        ImmutableArray<PieceColumns> beside = [.. loose.Select(l => new PieceColumns(l))];
        // The body stands in the middle of its cells: a larger box moves them by half of what it is larger.
        var box = beside.Aggregate(Box(cope, drag), (all, l) => all.With(l.Box.Low).With(l.Box.High));
        var grid = SolidGrid.Read(box.With(box.High + (2 * cell_mm * aside)), cell_mm, Read);
        return new(grid, LocalThickness.Of(SkinDistance.Of(grid)));

        void Read(Vec2 p, List<ColumnInterval> into)
        {
            foreach (var metal in MouldHalves.Metal(cope, drag, p).Concat(beside.SelectMany(l => l.Over(p))).OrderBy(m => m.Low))
            {
                if (into.Count > 0 && into[^1].High >= metal.Low - Touch_mm) into[^1] = new(into[^1].Low, Math.Max(into[^1].High, metal.High));
                else into.Add(metal);
            }

            if (into.Count == 0) return;
            foreach (var core in columns.SelectMany(c => c(p))) Remove(into, core.Low, core.High);
        }
    }

    /// <summary>The level slices of the cavity, from its lowest to its highest level.</summary>
    /// <param name="up">Which way is up.</param>
    /// <param name="low_mm">Lowest level of the casting along it.</param>
    /// <param name="high_mm">Highest level.</param>
    /// <param name="from_mm">What heights are counted from: the ingates.</param>
    /// <param name="volume_mm3">Of the metal, which all slices hold together.</param>
    public ImmutableArray<CavitySlice> Slices(GridUp up, double low_mm, double high_mm, double from_mm, double volume_mm3)
    {
        var parts = new double[Grid.Length(up.Axis)];
        for (var cell = 0; cell < Grid.Count; cell++)
            if (Grid.IsSolid(cell)) parts[up.Level(Grid, cell)] += Grid.Part(cell);
        // The outermost cells reach over the casting by a part of themselves.
        double Height(double level) => Math.Clamp(up.Height_mm(Grid, level), low_mm, high_mm) - from_mm;
        return
        [
            .. Enumerable.Range(0, parts.Length).Where(i => parts[i] > 0).Select(i => (Low: Height(i - 0.5), High: Height(i + 0.5), Parts: parts[i])).Where(s => s.High > s.Low)
                .Select(s => new CavitySlice(s.Low, s.High, s.Parts * volume_mm3 / Grid.Filled / (s.High - s.Low))),
        ];
    }

    private static void Remove(List<ColumnInterval> metal, double low, double high)
    {
        for (var i = metal.Count - 1; i >= 0; i--)
        {
            var m = metal[i];
            if (high <= m.Low || low >= m.High) continue;
            metal.RemoveAt(i);
            if (high < m.High) metal.Insert(i, new(high, m.High));
            if (m.Low < low) metal.Insert(i, new(m.Low, low));
        }
    }

    private static Box3 Box(HalfMould cope, HalfMould drag)
    {
        var box = Box3.Empty;
        foreach (var (half, up) in new[] { (cope, 1.0), (drag, -1.0) })
        {
            if (half.IsEmpty) continue;
            var (plan, heights) = (half.Footprint.Geometry.EnvelopeInternal, half.Heights);
            box = box.With(new(plan.MinX, plan.MinY, up * heights.Low)).With(new(plan.MaxX, plan.MaxY, up * heights.High));
        }

        return box;
    }
}
