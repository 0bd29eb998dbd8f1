using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Impressions;

/// <summary>The rectangle that one casting takes in the plan of the mould, core prints and loose pieces included.</summary>
/// <param name="Low">Lower corner from the part's origin, mm.</param>
/// <param name="High">Upper corner.</param>
/// <param name="PrintsX">Whether core prints stand out along x, so that no runner can pass there.</param>
/// <param name="PrintsY">Whether they do along y.</param>
internal readonly record struct CastingRoom(Vec2 Low, Vec2 High, bool PrintsX = false, bool PrintsY = false);

/// <summary>What a runner takes of the plan.</summary>
/// <param name="Clearance_mm">From it to the castings on either side.</param>
/// <param name="Width_mm">Its own width, that of the round under the sprue where this is wider.</param>
internal readonly record struct RunnerRoom(double Clearance_mm, double Width_mm)
{
    /// <summary>From pattern to pattern where it runs between two rows.</summary>
    public double Between_mm => (2 * Clearance_mm) + Width_mm;

    /// <summary>Beyond the patterns where it runs beside one row.</summary>
    public double Beside_mm => Clearance_mm + (Width_mm / 2) + Math.Max(Width_mm, Basin_mm) / 2;

    /// <summary>Width of the basin over the sprue.</summary>
    public double Basin_mm { get; init; }

    /// <summary>From the middle of the first casting along the runner to the end where the sprue is.</summary>
    public double Before_mm { get; init; }

    /// <summary>From the middle of the last casting to the other end.</summary>
    public double After_mm { get; init; }
}

/// <summary>
/// Arranges castings in one row beside a runner, or in two rows with the runner between them, along x or y: the way that takes the smallest flask, but none with core prints before the runner while
/// there is another. In a row all stand with their near sides against the runner, so that ingates are short. Of two rows the deeper castings share one, and the others fill up the shorter.
/// </summary>
internal static class CastingRows
{
    /// <summary>Where the origin of each casting goes, whole millimetres; the first stays where it is.</summary>
    /// <param name="rooms">What each takes.</param>
    /// <param name="sand_mm">Least sand between two, and between them and the flask.</param>
    /// <param name="runner">What the runner takes.</param>
    public static ImmutableArray<Vec2> Arrange(ImmutableArray<CastingRoom> rooms, double sand_mm, RunnerRoom runner)
    {
        var best = Along(false).Concat(Along(true))
            .OrderBy(w => w.IsBarred).ThenBy(w => Math.Round(w.Area, 3)).First().At;
        return [.. best.Select(p => p - best[0])];

        IEnumerable<(ImmutableArray<Vec2> At, bool IsBarred, double Area)> Along(bool alongY) =>
            Ways(rooms, alongY, sand_mm, runner).Select(at => (at, rooms.Any(r => alongY ? r.PrintsX : r.PrintsY), Flask_mm2(rooms, at, alongY, sand_mm, runner)));
    }

    /// <summary>Plan area of the flask that castings and runner ask for.</summary>
    private static double Flask_mm2(ImmutableArray<CastingRoom> rooms, ImmutableArray<Vec2> at, bool alongY, double sand_mm, RunnerRoom runner)
    {
        var placed = rooms.Zip(at, (r, p) => (Low: Turned(r.Low + p, alongY), High: Turned(r.High + p, alongY))).ToArray();
        var (first, last) = (placed.Min(r => (r.Low.X + r.High.X) / 2), placed.Max(r => (r.Low.X + r.High.X) / 2));
        var length = Math.Max(placed.Max(r => r.High.X), last + runner.After_mm) - Math.Min(placed.Min(r => r.Low.X), first - runner.Before_mm);
        var across = placed.Max(r => r.High.Y) - placed.Min(r => r.Low.Y);
        var isBetween = placed.Any(r => r.High.Y <= 0);
        return (length + (2 * sand_mm)) * (across + (isBetween ? 0 : runner.Beside_mm) + (2 * sand_mm));
    }

    /// <summary>One row, then two by every depth that divides them.</summary>
    private static IEnumerable<ImmutableArray<Vec2>> Ways(ImmutableArray<CastingRoom> rooms, bool alongY, double sand_mm, RunnerRoom runner)
    {
        // As if along x: turned back in the end.
        var laid = rooms.Select(r => (Low: Turned(r.Low, alongY), High: Turned(r.High, alongY))).ToArray();
        double Length(int i) => laid[i].High.X - laid[i].Low.X;
        double Depth(int i) => laid[i].High.Y - laid[i].Low.Y;
        int[] deepest = [.. Enumerable.Range(0, laid.Length).OrderByDescending(i => Math.Round(Depth(i), 6))];
        yield return Placed(deepest, []);
        for (var k = 1; k < deepest.Length; k++)
        {
            // Those that are as deep as the second row may be divide so that both rows are about as long.
            List<int> first = [.. deepest[..k]], second = [];
            double RowLength(List<int> row) => row.Sum(i => Length(i) + sand_mm);
            foreach (var i in deepest[k..].OrderByDescending(i => Math.Round(Length(i), 6)))
                (RowLength(second) <= RowLength(first) ? second : first).Add(i);
            if (second.Count > 0) yield return Placed([.. first], [.. second]);
        }

        ImmutableArray<Vec2> Placed(int[] above, int[] below)
        {
            var at = new Vec2[laid.Length];
            var between = Math.Max(sand_mm, runner.Between_mm);
            var (one, other) = (Row(above), Row(below));
            // The shorter row stands over the middle of the longer.
            var shift = Math.Round((one - other) / 2);
            foreach (var i in above) at[i] = new(at[i].X, Math.Ceiling(-laid[i].Low.Y));
            foreach (var i in below) at[i] = new(at[i].X + shift, Math.Floor(-between - laid[i].High.Y));
            return [.. at.Select(p => Turned(p, alongY))];

            double Row(int[] row)
            {
                var next = 0.0;
                foreach (var i in row)
                {
                    at[i] = new(Math.Ceiling(Math.Round(next - laid[i].Low.X, 6)), 0);
                    next = at[i].X + laid[i].High.X + sand_mm;
                }

                return next;
            }
        }
    }

    // The plan mirrored in its diagonal, so that y takes the place of x.
    private static Vec2 Turned(Vec2 p, bool alongY) => alongY ? new(p.Y, p.X) : p;
}
