using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;

namespace PatternKit.Patterns.Parting;

/// <summary>Sand between two solid pieces of one column can leave neither up nor down; the pattern is solid there.</summary>
internal static class TrappedGaps
{
    /// <summary>The casting with its gaps filled, the volume filled, and one finding for each connected gap.</summary>
    internal static (ColumnMap Map, double Filled_mm3, ImmutableArray<Finding> Findings) Fill(CastingBody casting, LooseTable table)
    {
        var cells = casting.Map.Cells;
        var neighbours = CellNeighbours.Among([.. cells.Select(c => c.Region)]);
        double Gap_mm3(int i) => Math.Max(0, (cells[i].Region.Area * (cells[i].High - cells[i].Low)) - cells[i].Volume);
        var findings = CellGroups.Of(cells.Length, i => cells[i].Solid.Length > 1, i => neighbours.Of[i]).Select(group =>
        {
            var largest = group.MaxBy(Gap_mm3);
            var (solid, p) = (cells[largest].Solid, cells[largest].Region.InnerPoint);
            var at = casting.Frame.ToJob(new(p.X, p.Y, (solid[0].High.At(p) + solid[1].Low.At(p)) / 2));
            var volume_mm3 = group.Sum(Gap_mm3);
            var loose = Overhang.AsLoosePiece(cells, group, c => c.Solid[^1] is var top ? (top.Low.At(c.Region.Centroid) + top.High.At(c.Region.Centroid)) / 2 : 0, table);
            return new Finding(
                "undercut", Severity.Warn,
                string.Create(CultureInfo.InvariantCulture, $"Sand is trapped between metal above and below near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm; the pattern fills {volume_mm3:0.#} mm³ there."),
                at, volume_mm3, 0, Remedy: $"Machine it after casting, lay the part another way, {(loose is null ? "" : loose + ", ")}or split the part.", Unit: "mm3");
        }).ToImmutableArray();
        var map = new ColumnMap([.. cells.Select(c => c.Solid.Length > 1 ? c with { Solid = [new(c.Solid[0].Low, c.Solid[^1].High)] } : c)]);
        return (map, Enumerable.Range(0, cells.Length).Sum(i => cells[i].Solid.Length > 1 ? Gap_mm3(i) : 0), findings);
    }
}

/// <summary>Connected groups of cells.</summary>
internal static class CellGroups
{
    /// <summary>The groups of cells of a kind, each by ascending first cell.</summary>
    internal static List<List<int>> Of(int count, Func<int, bool> kind, Func<int, ImmutableArray<int>> neighbours)
    {
        var groups = new List<List<int>>();
        var seen = new bool[count];
        for (var i = 0; i < count; i++)
        {
            if (seen[i] || !kind(i)) continue;
            seen[i] = true;
            var group = new List<int> { i };
            for (var k = 0; k < group.Count; k++)
                foreach (var n in neighbours(group[k]))
                {
                    if (seen[n] || !kind(n)) continue;
                    seen[n] = true;
                    group.Add(n);
                }

            groups.Add(group);
        }

        return groups;
    }
}
