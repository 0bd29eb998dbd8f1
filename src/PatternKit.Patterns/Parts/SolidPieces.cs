using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Parts;

/// <summary>A connected piece of a body.</summary>
/// <param name="Volume_mm3">Its volume.</param>
/// <param name="At_mm">A point in its first column.</param>
internal readonly record struct SolidPiece(double Volume_mm3, Vec3 At_mm);

/// <summary>The connected pieces of a column map: columns that share a stretch of wall hang together.</summary>
internal static class SolidPieces
{
    /// <summary>The pieces, largest first.</summary>
    internal static ImmutableArray<SolidPiece> Of(ColumnMap map)
    {
        var neighbours = CellNeighbours.Among([.. map.Cells.Select(c => c.Region)]);
        var seen = map.Cells.Select(c => new bool[c.Solid.Length]).ToArray();
        var pieces = new List<SolidPiece>();
        for (var i = 0; i < map.Cells.Length; i++)
            for (var j = 0; j < seen[i].Length; j++)
            {
                if (seen[i][j]) continue;
                seen[i][j] = true;
                var stack = new Stack<(int Cell, int Span)>([(i, j)]);
                var volume = 0.0;
                while (stack.TryPop(out var at))
                {
                    var span = map.Cells[at.Cell].Solid[at.Span];
                    volume += map.Cells[at.Cell].Region.Area * span.LengthAt(map.Cells[at.Cell].Region.Centroid);
                    foreach (var n in neighbours.Of[at.Cell])
                        for (var s = 0; s < seen[n].Length; s++)
                        {
                            var other = map.Cells[n].Solid[s];
                            if (seen[n][s] || !Touch(span, other, neighbours.Between(at.Cell, n))) continue;
                            seen[n][s] = true;
                            stack.Push((n, s));
                        }
                }

                var p = map.Cells[i].Region.InnerPoint;
                pieces.Add(new(volume, new(p.X, p.Y, (map.Cells[i].Solid[j].Low.At(p) + map.Cells[i].Solid[j].High.At(p)) / 2)));
            }

        return [.. pieces.OrderByDescending(p => p.Volume_mm3)];
    }

    /// <summary>Whether two intervals share a stretch of wall somewhere on the border between their columns.</summary>
    private static bool Touch(Span a, Span b, IEnumerable<(Vec2 A, Vec2 B)> border) => border.Select(s => 0.5 * (s.A + s.B))
        .Any(p => a.Low.At(p) < b.High.At(p) && b.Low.At(p) < a.High.At(p));
}
