using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Templates;

/// <summary>Where a piece lies: on which sheet, and its upper left corner there.</summary>
internal readonly record struct Placed(int Sheet, Vec2 Corner_mm);

/// <summary>Lays pieces on sheets in rows, in their order, so that a half's sections stay together.</summary>
internal static class Shelves
{
    /// <summary>One place for every piece; none may be wider or higher than a sheet.</summary>
    public static ImmutableArray<Placed> Lay(IReadOnlyList<Vec2> sizes_mm, Vec2 sheet_mm, double gap_mm)
    {
        var placed = ImmutableArray.CreateBuilder<Placed>(sizes_mm.Count);
        var (sheet, x, y, row) = (0, 0.0, 0.0, 0.0);
        foreach (var size in sizes_mm)
        {
            if (x > 0 && x + size.X > sheet_mm.X) (x, y, row) = (0, y + row + gap_mm, 0);
            if (y > 0 && y + size.Y > sheet_mm.Y) (sheet, x, y, row) = (sheet + 1, 0, 0, 0);
            placed.Add(new(sheet, new(x, y)));
            (x, row) = (x + size.X + gap_mm, Math.Max(row, size.Y));
        }

        return placed.MoveToImmutable();
    }
}
