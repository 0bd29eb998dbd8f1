using System.Collections.Immutable;

namespace PatternKit.Geometry.Grids;

/// <summary>
/// How thick a body is at every place: diameter of the largest ball in it that covers the place (Hildebrand and Rüegsegger, A new method for the
/// model-independent assessment of thickness, 1997). In a corner that definition gives next to nothing; there a place has at least the thickness of the nearest wall, as the body
/// hangs together and in diameters of its balls.
/// </summary>
public sealed class LocalThickness
{
    private readonly float[] radii;

    private LocalThickness(SolidGrid grid, float[] radii) => (Grid, this.radii) = (grid, radii);

    /// <summary>The body.</summary>
    public SolidGrid Grid { get; }

    /// <summary>Thickness at a solid cell, mm.</summary>
    public double At_mm(int cell) => 2 * radii[cell] * Grid.Cell_mm;

    /// <summary>The balls between faces, the largest first; equal ones in the order of their cells.</summary>
    public required ImmutableArray<InscribedBall> Balls { get; init; }

    /// <summary>Diameter of the largest ball in the body, mm; 0 where it has no cell.</summary>
    public double Thickest_mm => radii.Length == 0 ? 0 : 2 * radii.Max() * Grid.Cell_mm;

    /// <summary>
    /// The same without cells that are thinner than all about them: at rounded and drafted edges a lone cell is now and then read too thin. A closing by the next neighbours (Serra 1982): what is
    /// thin over three cells or more stays.
    /// </summary>
    public LocalThickness Closed() => new(Grid, Filtered(Filtered(radii, Math.Max), Math.Min)) { Balls = Balls };

    private float[] Filtered(float[] from, Func<float, float, float> better)
    {
        var into = (float[])from.Clone();
        for (var cell = 0; cell < into.Length; cell++)
        {
            if (!Grid.IsSolid(cell)) continue;
            for (var axis = 0; axis < 3; axis++)
            {
                var stride = Grid.Stride(axis);
                if (Grid.IsSolid(cell + stride)) into[cell] = better(into[cell], from[cell + stride]);
                if (Grid.IsSolid(cell - stride)) into[cell] = better(into[cell], from[cell - stride]);
            }
        }

        return into;
    }

    /// <summary>Measures a body.</summary>
    public static LocalThickness Of(SkinDistance skin)
    {
        var grid = skin.Grid;
        var balls = InscribedBalls.Between(skin, out var beside).OrderByDescending(b => b.Radius).ToImmutableArray();
        var radii = new float[grid.Count];
        Cover(grid, balls, radii);
        // In a wall of two cells the ball may lie between middles and hold none.
        for (var cell = 0; cell < radii.Length; cell++)
            if (radii[cell] == 0) radii[cell] = beside[cell];
        var bare = Enumerable.Range(0, radii.Length).Where(c => grid.IsSolid(c) && radii[c] == 0).ToArray();
        Spread(grid, radii);
        // The edge of a thin wall hangs together with what it stands on, and is no thicker than between its own faces.
        foreach (var cell in bare) radii[cell] = Math.Min(radii[cell], Across(grid, cell));
        // Where faces meet at right angles a body may be thicker than any wall that leads there.
        Cover(grid, InscribedBalls.Standing(skin), radii);
        return new(grid, radii) { Balls = balls };
    }

    /// <summary>Gives every solid cell at least the radius of the largest ball that holds its middle, in cells.</summary>
    /// <param name="grid">The body.</param>
    /// <param name="balls">The balls.</param>
    /// <param name="radii">What each cell has so far.</param>
    internal static void Cover(SolidGrid grid, IEnumerable<InscribedBall> balls, float[] radii)
    {
        foreach (var ball in balls)
        {
            var (m, r) = (ball.Middle, (float)ball.Radius);
            int First(double at) => Math.Max(1, (int)Math.Ceiling(at - r));
            int Last(double at, int length) => Math.Min(length - 2, (int)Math.Floor(at + r));
            var square = ball.Radius * ball.Radius;
            for (int z = First(m.Z), lastZ = Last(m.Z, grid.Layers); z <= lastZ; z++)
            {
                var leftZ = square - ((z - m.Z) * (z - m.Z));
                for (int y = First(m.Y), lastY = Last(m.Y, grid.Rows); y <= lastY; y++)
                {
                    var left = leftZ - ((y - m.Y) * (y - m.Y));
                    if (left < 0) continue;
                    var half = Math.Sqrt(left);
                    var row = grid.Columns * (y + (grid.Rows * z));
                    for (int x = row + Math.Max(1, (int)Math.Ceiling(m.X - half)), last = row + Math.Min(grid.Columns - 2, (int)Math.Floor(m.X + half)); x <= last; x++)
                        if (radii[x] < r && grid.IsSolid(x)) radii[x] = r;
                }
            }
        }
    }

    /// <summary>Half of the shortest line along an axis through a cell that runs square from one face to another across from it, in cells; without end where none does.</summary>
    private static float Across(SolidGrid grid, int cell)
    {
        // Cosine of what the faces may lean.
        const double Square = 0.9;
        var shortest = double.PositiveInfinity;
        for (var axis = 0; axis < 3; axis++)
        {
            var stride = grid.Stride(axis);
            var (first, last) = (cell, cell);
            while (grid.IsSolid(first - stride)) first -= stride;
            while (grid.IsSolid(last + stride)) last += stride;
            if (SkinNormal.At(grid, axis, first - stride) is not { } low || SkinNormal.At(grid, axis, last) is not { } high || Numerics.Vec3.Dot(low, high) > -Square) continue;
            var lean = Math.Abs(axis switch { 0 => high.X, 1 => high.Y, _ => high.Z });
            if (lean >= Square) shortest = Math.Min(shortest, lean * (grid.Crossing(axis, last) - grid.Crossing(axis, first - stride)) / 2);
        }

        return (float)shortest;
    }

    private static void Spread(SolidGrid grid, float[] radii)
    {
        var queue = new PriorityQueue<(int Cell, float Radius, float Way), ulong>();
        for (var cell = 0; cell < radii.Length; cell++)
            if (radii[cell] > 0) Reach(cell, radii[cell], 0);
        while (queue.TryDequeue(out var next, out _))
        {
            if (radii[next.Cell] > 0) continue;
            radii[next.Cell] = next.Radius;
            Reach(next.Cell, next.Radius, next.Way);
        }

        void Reach(int cell, float radius, float way)
        {
            for (var axis = 0; axis < 3; axis++)
            {
                for (var sign = -1; sign <= 1; sign += 2)
                {
                    var other = cell + (sign * grid.Stride(axis));
                    if (!grid.IsSolid(other) || radii[other] != 0) continue;
                    // Bits of positive numbers are in their order; equal ways go by the number of the cell.
                    var longer = way + (1 / radius);
                    queue.Enqueue((other, radius, longer), ((ulong)BitConverter.SingleToUInt32Bits(longer) << 32) | (uint)other);
                }
            }
        }
    }
}
