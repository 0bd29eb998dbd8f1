using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>Which facets of a body bound its hidden regions.</summary>
public static class HiddenFacets
{
    /// <summary>So many cells outside the skin a point looks for hidden space: beyond the rounding of columns, and inside all but the narrowest.</summary>
    private const double Outside = 0.75;

    /// <summary>Distance of the points that are looked at, in cells.</summary>
    private const double Spacing = 4;

    /// <summary>For each region its facets, ascending: those with at least half their points beside it.</summary>
    /// <param name="mesh">The body.</param>
    /// <param name="columns">The same, along the direction.</param>
    /// <param name="regions">Its hidden regions.</param>
    /// <param name="zero">Height that the columns were measured from over a place of the frame's plan; 0 when left out.</param>
    public static ImmutableArray<ImmutableArray<int>> Of(TriangleMesh mesh, MeshColumns columns, ImmutableArray<HiddenRegion> regions, Func<Vec2, double>? zero = null)
    {
        var (grid, frame) = (columns.Grid, columns.Frame);
        var cell = Math.Max(grid.Cell.X, grid.Cell.Y);
        var pieces = new Dictionary<int, List<(double Low, double High, int Region)>>();
        for (var r = 0; r < regions.Length; r++)
            foreach (var piece in regions[r].Pieces)
            {
                if (!pieces.TryGetValue(piece.Cell, out var here)) pieces.Add(piece.Cell, here = []);
                here.Add((piece.Low, piece.High, r));
            }

        var sampling = SkinSampling.Over(mesh, Spacing * cell);
        var regionOf = sampling.Samples.Select(RegionBeside).ToArray();
        var found = regions.Select(_ => ImmutableArray.CreateBuilder<int>()).ToArray();
        var counts = new int[regions.Length];
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            Array.Clear(counts);
            var own = sampling.Of(f);
            foreach (var i in own)
                if (regionOf[i] >= 0) counts[regionOf[i]]++;
            for (var r = 0; r < counts.Length; r++)
                if (counts[r] > 0 && 2 * counts[r] >= own.Length) found[r].Add(f);
        }

        return [.. found.Select(b => b.ToImmutable())];

        int RegionBeside(SkinSample s)
        {
            var n = mesh.AreaNormal(mesh.Facets[s.Facet]);
            var p = frame.FromSpace(s.At + (Outside * cell / n.Length * n));
            var (column, row) = ((int)Math.Floor((p.X - grid.Low.X) / grid.Cell.X), (int)Math.Floor((p.Y - grid.Low.Y) / grid.Cell.Y));
            if (column < 0 || row < 0 || column >= grid.Columns || row >= grid.Rows || !pieces.TryGetValue((row * grid.Columns) + column, out var here)) return -1;
            var height = p.Z - (zero?.Invoke(p.Plan) ?? 0);
            foreach (var piece in here)
                if (height >= piece.Low && height <= piece.High) return piece.Region;
            return -1;
        }
    }
}
