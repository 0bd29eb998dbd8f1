using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A radius that was held back.</summary>
/// <param name="Place">Where, on the terrain.</param>
/// <param name="Radius_mm">What the ball there has at the most; 0 for none.</param>
/// <param name="Area_mm2">How much of the floor it concerns.</param>
public readonly record struct HeldRadius(Vec3 Place, double Radius_mm, double Area_mm2);

/// <summary>Fillets of a terrain of any shape: one radius wherever there is room for it, and the next smaller elsewhere.</summary>
/// <param name="Terrain">With fillets; null where there is nothing to fill.</param>
/// <param name="Radii_mm">Those that were used, largest first.</param>
/// <param name="Held">Where a radius is less than the largest, a place for each piece of the plan.</param>
public sealed record MeshFillets(ClosedTerrain? Terrain, ImmutableArray<double> Radii_mm, ImmutableArray<HeldRadius> Held)
{
    /// <summary>Cells over the smallest radius that counts, and the most that a side has.</summary>
    private const double CellOverRadius = 0.2;
    private const int MostCells = 900;

    /// <summary>The terrain is sampled anew where cells are to be finer by this.</summary>
    private const double FinerBy = 1.5;

    /// <summary>What is filled by less than this part of the radius is none.</summary>
    private const double DepthOverRadius = 0.01;

    /// <summary>Beyond what is filled, the ball's arc may go on so far, in radii: √(2 · depth), and a cell or two.</summary>
    private const double Tail = 0.5;

    /// <summary>Faces and ramps of a terrain; of more it would take minutes.</summary>
    private const int MostSurfaces = 250_000;

    /// <summary>Fillets of hollows end so far below their mouth, mm: where two walls meet, the ball would else take a piece of it.</summary>
    public const double BelowMouth_mm = 0.5;

    /// <summary>Whether a terrain has too many faces for fillets; none are made then.</summary>
    public static bool IsTooLarge(DraftedTerrain terrain) => terrain.SurfaceCount > MostSurfaces;

    /// <summary>Places of the plan that a ball would fill, a few of them over its radius.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="radius">Of the ball, mm.</param>
    /// <param name="tolerance">Largest distance of facets from the surface, mm.</param>
    public static IEnumerable<Vec2> Places(DraftedTerrain terrain, double radius, double tolerance)
    {
        if (terrain.Footprint.IsEmpty) return [];
        var samples = new TerrainSamples(terrain, 2 * radius, Cell(terrain, radius, radius));
        return samples.Fills(radius, Depth(radius, tolerance)).Cells().Select(c => samples.Grid.Centre(c.Column, c.Row));
    }

    /// <summary>Fills the inside corners of a terrain.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="radii">Those to be tried, largest first, mm.</param>
    /// <param name="share">How much of the floor between two walls the foot of one may take.</param>
    /// <param name="tolerance">Largest distance of facets from the surface, mm.</param>
    /// <param name="radiusAt">The largest radius at a place of the plan; null for any.</param>
    /// <param name="wallsEnd">Height at which walls count as ended, however high they are.</param>
    public static MeshFillets Of(
        DraftedTerrain terrain, ImmutableArray<double> radii, double share, double tolerance, Func<Vec2, double>? radiusAt = null, double wallsEnd = double.PositiveInfinity) =>
        Of(terrain, radii, share, tolerance, radiusAt, wallsEnd, double.PositiveInfinity);

    /// <summary>Fills the inside corners of hollows; the mouth stays as it is.</summary>
    /// <param name="terrain">The hollows, cut off where they open (see <see cref="MeshTerrain.OfHollows"/>).</param>
    /// <param name="radii">Those to be tried, largest first, mm.</param>
    /// <param name="share">How much of the floor between two walls the foot of one may take.</param>
    /// <param name="tolerance">Largest distance of facets from the surface, mm.</param>
    /// <param name="radiusAt">The largest radius at a place of the plan; null for any.</param>
    public static MeshFillets OfHollows(DraftedTerrain terrain, ImmutableArray<double> radii, double share, double tolerance, Func<Vec2, double>? radiusAt = null)
    {
        var end = terrain.Lattice.Snap(terrain.Cap - BelowMouth_mm);
        return Of(terrain, radii, share, tolerance, radiusAt, end, end);
    }

    private static MeshFillets Of(
        DraftedTerrain terrain, ImmutableArray<double> radii, double share, double tolerance, Func<Vec2, double>? radiusAt, double wallsEnd, double highest)
    {
        if (radii.IsEmpty || terrain.Footprint.IsEmpty || IsTooLarge(terrain)) return new(null, [], []);
        var made = new List<(HangingBall Ball, CellMask Free)>();
        TerrainSamples? samples = null;
        CellMask? held = null;
        foreach (var radius in radii)
        {
            // Cells that are fine enough for a smaller radius serve it, too.
            var cell = Cell(terrain, radius, radii[0]);
            if (samples is null || cell < samples.Grid.Cell.X / FinerBy) samples = new(terrain, 2 * radii[0], cell);
            var grid = samples.Grid;
            var room = samples.Room(radius, Depth(radius, tolerance), share, wallsEnd);
            held ??= room.Buries.Or(room.Overtops);
            // Where a larger ball fills, a smaller one changes nothing.
            var free = room.Fills.Without(room.Buries.Grown(radius)).Without(room.Overtops.Grown(radius / 2))
                .Where(c => (radiusAt is null || radiusAt(c) >= radius) && !made.Exists(m => m.Ball.Over.Contains(c)));
            if (free.IsEmpty && !room.Fills.IsEmpty) continue;
            if (free.IsEmpty) break;
            var over = free.Grown((Tail * radius) + (2 * grid.Cell.X)).Without(room.Buries).Where(c => radiusAt is null || radiusAt(c) >= radius);
            made.Add((new(terrain, over, radius, tolerance), free));
            if (room.Buries.IsEmpty && room.Overtops.IsEmpty && (radiusAt is null || room.Fills.Where(c => radiusAt(c) is > 0 and var most && most < radius).IsEmpty)) break;
        }

        var places = held!.Pieces().Select(piece =>
        {
            var cells = piece.Select(c => held.Grid.Centre(c.Column, c.Row)).ToArray();
            var there = made.Where(m => Array.Exists(cells, m.Free.Contains)).Select(m => m.Ball.Radius).DefaultIfEmpty(0).Max();
            var middle = cells[cells.Length / 2];
            return new HeldRadius(new(middle.X, middle.Y, terrain.At(middle).Height), there, cells.Length * held.Grid.CellArea_mm2);
        });
        return made.Count == 0 ? new(null, [], [.. places]) : new(new(terrain, [.. made.Select(m => m.Ball)], tolerance, highest), [.. made.Select(m => m.Ball.Radius)], [.. places]);
    }

    /// <summary>The closing of a terrain by one ball wherever that fills, whatever room there is; null where it nowhere does.</summary>
    /// <param name="terrain">The terrain.</param>
    /// <param name="radius">Of the ball, mm.</param>
    /// <param name="tolerance">Largest distance of facets from the surface, mm.</param>
    public static ClosedTerrain? Everywhere(DraftedTerrain terrain, double radius, double tolerance)
    {
        if (terrain.Footprint.IsEmpty || IsTooLarge(terrain)) return null;
        var samples = new TerrainSamples(terrain, 2 * radius, Cell(terrain, radius, radius));
        var fills = samples.Fills(radius, Depth(radius, tolerance));
        return fills.IsEmpty ? null : new(terrain, [new(terrain, fills.Grown((Tail * radius) + (2 * samples.Grid.Cell.X)), radius, tolerance)], tolerance);
    }

    private static double Depth(double radius, double tolerance) => Math.Max(DepthOverRadius * radius, tolerance);

    private static double Cell(DraftedTerrain terrain, double radius, double largest)
    {
        var box = terrain.Footprint.Geometry.EnvelopeInternal;
        return Math.Max(CellOverRadius * radius, (Math.Max(box.Width, box.Height) + (4 * largest)) / MostCells);
    }
}
