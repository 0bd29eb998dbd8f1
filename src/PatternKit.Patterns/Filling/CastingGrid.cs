using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Filling;

/// <summary>The cavity that the metal fills, on cells: both halves without prints, less what cores keep free. Fillets are left out.</summary>
/// <param name="Grid">The cells, pattern millimetres.</param>
/// <param name="Thickness">How thick the metal is.</param>
internal sealed record CastingGrid(SolidGrid Grid, LocalThickness Thickness)
{
    /// <summary>Thinnest wall looked for in a metal of which none is known.</summary>
    public const double UsualThin_mm = 3;

    // Cells of metal: enough that places of a casting differ, few enough to be reckoned beside the meshes.
    private const double FewestCells = 10_000;
    private const double MostCells = 20_000;

    /// <summary>Reads a cavity.</summary>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="cores">In the mould.</param>
    /// <param name="volume_mm3">About how much metal there is.</param>
    /// <param name="thin_mm">Walls as thin as this are to be two cells wide, as far as the number of cells allows.</param>
    public static CastingGrid Of(HalfMould cope, HalfMould drag, ImmutableArray<PlannedCore> cores, double volume_mm3, double thin_mm)
    {
        var cell = Math.Clamp(thin_mm / 2, Math.Cbrt(volume_mm3 / MostCells), Math.Cbrt(volume_mm3 / FewestCells));
        ImmutableArray<CoreColumns> columns = [.. cores.Select(c => new CoreColumns(c))];
        var grid = SolidGrid.Read(Box(cope, drag), cell, Read);
        return new(grid, LocalThickness.Of(SkinDistance.Of(grid)));

        void Read(Vec2 p, List<ColumnInterval> into)
        {
            foreach (var metal in MouldHalves.Metal(cope, drag, p))
            {
                if (into.Count > 0 && into[0].High >= metal.Low - 1e-6) into[0] = new(into[0].Low, metal.High);
                else into.Add(metal);
            }

            if (into.Count == 0) return;
            foreach (var core in columns.SelectMany(c => c.Over(p))) Remove(into, core.Low, core.High);
        }
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
