using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Where hidden space that stands on a plane leaves a body sideways, as exact as the cells are.</summary>
/// <param name="From">One end of the opening, in plan; seen from inside, out of it, the left one.</param>
/// <param name="To">The other end. Both are one where the space is open all round.</param>
/// <param name="Corners">Corners of cells along it, both ends included.</param>
public sealed record SideOpening(Vec2 From, Vec2 To, ImmutableArray<Vec2> Corners)
{
    /// <summary>Whether it runs once round the body and ends nowhere.</summary>
    public bool IsAllRound => From == To;
}

/// <summary>Finds the openings of hidden regions: sides of their cells beyond which the plane meets neither the body nor the region.</summary>
public static class SideOpenings
{
    /// <summary>The openings, in the order of their cells.</summary>
    /// <param name="columns">The body along the direction.</param>
    /// <param name="regions">Hidden regions that stand on the plane; together one hollow.</param>
    /// <param name="z">Height of the plane.</param>
    public static ImmutableArray<SideOpening> Of(MeshColumns columns, IEnumerable<HiddenRegion> regions, double z)
    {
        var grid = columns.Grid;
        var inside = new SortedDictionary<int, bool>();
        foreach (var region in regions)
            foreach (var piece in region.Pieces) inside[piece.Cell] = inside.GetValueOrDefault(piece.Cell) || region.Side == HiddenSide.FromAbove;

        // Sides with the region to their left: what is outside lies to the right.
        var next = new Dictionary<(int, int), (int, int)>();
        foreach (var (cell, above) in inside)
        {
            var (row, column) = Math.DivRem(cell, grid.Columns);
            if (IsOpen(column, row - 1, above)) next[(column, row)] = (column + 1, row);
            if (IsOpen(column + 1, row, above)) next[(column + 1, row)] = (column + 1, row + 1);
            if (IsOpen(column, row + 1, above)) next[(column + 1, row + 1)] = (column, row + 1);
            if (IsOpen(column - 1, row, above)) next[(column, row + 1)] = (column, row);
        }

        var ends = next.Values.ToHashSet();
        var left = new SortedSet<(int, int)>(next.Keys);
        var openings = ImmutableArray.CreateBuilder<SideOpening>();
        foreach (var start in next.Keys.Where(k => !ends.Contains(k)).Order().ToArray()) Follow(start);
        while (left.Count > 0) Follow(left.Min);
        return openings.ToImmutable();

        void Follow((int, int) start)
        {
            var corners = ImmutableArray.CreateBuilder<Vec2>();
            var at = start;
            corners.Add(grid.Corner(at.Item1, at.Item2));
            while (left.Remove(at))
            {
                at = next[at];
                corners.Add(grid.Corner(at.Item1, at.Item2));
            }

            openings.Add(new(corners[0], corners[^1], corners.ToImmutable()));
        }

        bool IsOpen(int column, int row, bool above)
        {
            if (column < 0 || row < 0 || column >= grid.Columns || row >= grid.Rows) return true;
            if (inside.ContainsKey((row * grid.Columns) + column)) return false;
            foreach (var solid in columns.At(column, row))
                if (above ? solid.Low <= z && solid.High > z : solid.Low < z && solid.High >= z) return false;
            return true;
        }
    }
}
