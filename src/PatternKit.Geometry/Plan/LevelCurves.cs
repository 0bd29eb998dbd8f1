using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>
/// The lines of the plan along which a function changes sign, found on a square grid (marching squares: Wyvill, McPheeters and Wyvill 1986, in two dimensions) and by false
/// position on the sides of its cells. What is narrower than a cell may be missed.
/// </summary>
internal static class LevelCurves
{
    /// <summary>Crossings of sides are found to this part of a cell.</summary>
    private const double Fineness = 1e-8;

    private const int MostSteps = 60;

    /// <summary>The lines; closed ones end where they start.</summary>
    /// <param name="value">The function; asked from several threads.</param>
    /// <param name="low">Corner of the grid.</param>
    /// <param name="high">Opposite corner.</param>
    /// <param name="cell">Largest side of a cell, mm.</param>
    /// <param name="above">What counts as zero, so that a place where the function is all but that has no line.</param>
    public static IEnumerable<ImmutableArray<Vec2>> Of(Func<Vec2, double> value, Vec2 low, Vec2 high, double cell, double above)
    {
        var (columns, rows) = ((int)Math.Ceiling((high.X - low.X) / cell), (int)Math.Ceiling((high.Y - low.Y) / cell));
        var values = new double[(columns + 1) * (rows + 1)];
        Parallel.For(0, rows + 1, j =>
        {
            for (var i = 0; i <= columns; i++) values[(j * (columns + 1)) + i] = value(At(i, j)) - above;
        });

        // A side is named by its first node, and by whether it goes up.
        var next = new Dictionary<(int Node, bool Up), List<(int Node, bool Up)>>();
        for (var j = 0; j < rows; j++)
        {
            for (var i = 0; i < columns; i++)
            {
                var a = (j * (columns + 1)) + i;
                var (b, d) = (a + 1, a + columns + 1);
                var c = d + 1;
                ((int Node, bool Up) Side, bool IsCrossed)[] sides =
                    [((a, false), Differ(a, b)), ((b, true), Differ(b, c)), ((d, false), Differ(d, c)), ((a, true), Differ(a, d))];
                var crossed = sides.Where(s => s.IsCrossed).Select(s => s.Side).ToArray();
                if (crossed.Length == 2)
                {
                    Join(crossed[0], crossed[1]);
                }
                else if (crossed.Length == 4)
                {
                    // Opposite corners are alike; the middle tells which of both pairs hangs together.
                    var isLikeA = value(0.5 * (At(i, j) + At(i + 1, j + 1))) - above > 0 == values[a] > 0;
                    Join(sides[0].Side, (isLikeA ? sides[1] : sides[3]).Side);
                    Join(sides[2].Side, (isLikeA ? sides[3] : sides[1]).Side);
                }
            }
        }

        var left = next.Keys.ToHashSet();
        // Lines that leave the grid first, from their ends.
        foreach (var start in next.Keys.Where(s => next[s].Count == 1).Concat(next.Keys))
        {
            if (!left.Contains(start)) continue;
            var line = ImmutableArray.CreateBuilder<Vec2>();
            for ((int, bool)? at = start; at is { } side;)
            {
                left.Remove(side);
                line.Add(Crossing(side));
                at = next[side].Where(left.Contains).Cast<(int, bool)?>().FirstOrDefault();
            }

            if (line.Count > 2 && next[start].Count == 2) line.Add(line[0]);
            if (line.Count > 1) yield return line.ToImmutable();
        }

        Vec2 At(int i, int j) => new(low.X + ((high.X - low.X) * i / columns), low.Y + ((high.Y - low.Y) * j / rows));

        bool Differ(int a, int b) => values[a] > 0 != values[b] > 0;

        void Join((int, bool) a, (int, bool) b)
        {
            Add(a, b);
            Add(b, a);
        }

        void Add((int, bool) from, (int, bool) to)
        {
            if (!next.TryGetValue(from, out var list)) next.Add(from, list = []);
            list.Add(to);
        }

        Vec2 Crossing((int Node, bool Up) side)
        {
            var (i, j) = (side.Node % (columns + 1), side.Node / (columns + 1));
            var (from, to) = (At(i, j), side.Up ? At(i, j + 1) : At(i + 1, j));
            var at = Zero(t => value(from + (t * (to - from))) - above, values[side.Node], values[side.Up ? side.Node + columns + 1 : side.Node + 1]);
            return from + (at * (to - from));
        }
    }

    /// <summary>Where between 0 and 1 a function of different signs there is zero (regula falsi, the end that stays halved: Dowell and Jarratt 1971).</summary>
    private static double Zero(Func<double, double> value, double atLow, double atHigh)
    {
        var (low, high) = (0.0, 1.0);
        for (var (k, side) = (0, 0); k < MostSteps && high - low > Fineness; k++)
        {
            var t = Math.Clamp(low + ((high - low) * atLow / (atLow - atHigh)), low + (Fineness / 4), high - (Fineness / 4));
            var at = value(t);
            if (at == 0) return t;
            if (at > 0 == atLow > 0)
            {
                (low, atLow) = (t, at);
                if (side == -1) atHigh /= 2;
                side = -1;
            }
            else
            {
                (high, atHigh) = (t, at);
                if (side == 1) atLow /= 2;
                side = 1;
            }
        }

        return (low + high) / 2;
    }
}
