using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>How a body lies along a direction, as separate numbers; what they are worth is the caller's to say.</summary>
/// <param name="Direction">Of length one.</param>
/// <param name="Source">Why it was tried.</param>
/// <param name="LeastFrom_mm">Lower end of the heights of the plane at which least is added, along the direction.</param>
/// <param name="LeastTo_mm">Upper end.</param>
/// <param name="Plane_mm">Of these heights the end of the body if one is among them, that with the larger flat face of two; else their middle.</param>
/// <param name="Added_mm3">Volume added there, see <see cref="HiddenSpace"/>.</param>
/// <param name="Gaps_mm3">The part of it that no height of the plane avoids.</param>
/// <param name="Range">Lowest and highest vertex along the direction, mm.</param>
/// <param name="Shadow_mm2">Projected area.</param>
/// <param name="FlatBelow">Share of the shadow that lies in one plane at the lower end.</param>
/// <param name="FlatAbove">The same at the upper end.</param>
/// <param name="Steep_mm2">Area of the facets that stand nearer to the direction than the angle asked for.</param>
/// <param name="Overhung_mm2">Area of the other facets that face back to <paramref name="Plane_mm"/>.</param>
/// <param name="Spacing_mm">Longer side of the cells on which the volumes and the shadow were taken.</param>
public sealed record DirectionScore(
    Vec3 Direction, DirectionSource Source, double LeastFrom_mm, double LeastTo_mm, double Plane_mm, double Added_mm3, double Gaps_mm3,
    ColumnInterval Range, double Shadow_mm2, double FlatBelow, double FlatAbove, double Steep_mm2, double Overhung_mm2, double Spacing_mm)
{
    /// <summary>Share of the shadow that is a flat face in the plane; 0 when the plane is at no end of the body.</summary>
    public double FlatInPlane => Plane_mm == Range.Low ? FlatBelow : Plane_mm == Range.High ? FlatAbove : 0;
}

/// <summary>How finely directions are told apart and scored.</summary>
/// <param name="Spread">Directions in the even spread over the half-sphere.</param>
/// <param name="Merge">Directions nearer than this are one, rad.</param>
/// <param name="Steep">Facets nearer to the direction than this count as steep, rad.</param>
/// <param name="Flat_mm">What is no farther from an end of the body counts as being there.</param>
/// <param name="CoarseCells">Cells along the diagonal of the body's box for all directions.</param>
/// <param name="FineCells">Cells along the diagonal for the best.</param>
/// <param name="Best">How many are scored again on the fine grid.</param>
public sealed record DirectionSearch(int Spread, double Merge, double Steep, double Flat_mm, int CoarseCells, int FineCells, int Best);

/// <summary>Scored directions.</summary>
/// <param name="Best">The best few by the fine grid, the least cost first.</param>
/// <param name="Rest">All others by the coarse grid, the least cost first.</param>
public sealed record DirectionRanking(ImmutableArray<DirectionScore> Best, ImmutableArray<DirectionScore> Rest);

/// <summary>Scores directions for a closed mesh. The same result for the same mesh.</summary>
public static class MeshDirections
{
    /// <summary>Columns that hold the body's volume to this share tell enough of it to compare directions.</summary>
    private const double VolumeShare = 0.05;

    /// <summary>Cells are halved no more often than this, so that a mesh whose shells overlap, and whose volume they never reach, ends too.</summary>
    private const int MostHalvings = 3;

    /// <summary>Scores the candidates on a coarse grid, and the best few of them again on a fine one.</summary>
    /// <param name="mesh">Closed, facing outward.</param>
    /// <param name="search">How finely.</param>
    /// <param name="cost">What a score costs; less is better, earlier candidates first among equals.</param>
    /// <exception cref="ArgumentException">The mesh is not closed, faces inward, or is thinner than the cells everywhere.</exception>
    public static DirectionRanking Rank(TriangleMesh mesh, DirectionSearch search, Func<DirectionScore, double> cost)
    {
        var diagonal = mesh.Bounds().Size.Length;
        var coarse = Scored(DirectionCandidates.Of(mesh, search.Spread, search.Merge), search.CoarseCells).OrderBy(cost).ToList();
        var best = Scored([.. coarse.Take(search.Best).Select(s => new DirectionCandidate(s.Direction, s.Source))], search.FineCells).OrderBy(cost);
        return new([.. best], [.. coarse.Skip(search.Best)]);

        // Side by side, in their order.
        DirectionScore[] Scored(ImmutableArray<DirectionCandidate> candidates, int cells)
        {
            var scores = new DirectionScore[candidates.Length];
            try
            {
                Parallel.For(0, scores.Length, i => scores[i] = Score(mesh, candidates[i], diagonal / cells, search));
            }
            catch (AggregateException e)
            {
                System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(e.InnerExceptions[0]);
            }

            return scores;
        }
    }

    /// <summary>Scores one direction. Cells that walls of the body fall between are halved, see <see cref="DirectionScore.Spacing_mm"/>.</summary>
    /// <param name="mesh">Closed, facing outward.</param>
    /// <param name="candidate">The direction.</param>
    /// <param name="spacing">Longest side of a cell, mm.</param>
    /// <param name="search">What counts as steep and flat.</param>
    /// <exception cref="ArgumentException">The mesh is not closed, faces inward, or is thinner than the cells everywhere.</exception>
    public static DirectionScore Score(TriangleMesh mesh, DirectionCandidate candidate, double spacing, DirectionSearch search)
    {
        var columns = Columns(mesh, candidate.Direction, spacing);
        var (frame, range) = (columns.Frame, columns.Range);
        var hidden = HiddenSpace.Of(columns);
        var sine = Math.Sin(search.Steep);
        double steep = 0, below = 0, above = 0;
        var planes = new[] { range.Low, range.High, (hidden.Reach.LeastFrom + hidden.Reach.LeastTo) / 2 };
        var overhung = new double[planes.Length];
        foreach (var f in mesh.Facets)
        {
            var normal = mesh.AreaNormal(f);
            var (twice, along) = (normal.Length, Vec3.Dot(normal, frame.Direction));
            // The normal leans from the direction's level by the angle at which the facet stands to the direction.
            if (Math.Abs(along) < sine * twice)
            {
                steep += twice / 2;
                continue;
            }

            var (a, b, c) = (Height(f.A), Height(f.B), Height(f.C));
            var middle = (a + b + c) / 3;
            for (var i = 0; i < planes.Length; i++)
                if (along < 0 ? middle > planes[i] + search.Flat_mm : middle < planes[i] - search.Flat_mm) overhung[i] += twice / 2;
            if (along < 0 && Math.Max(a, Math.Max(b, c)) <= range.Low + search.Flat_mm) below -= along / 2;
            else if (along > 0 && Math.Min(a, Math.Min(b, c)) >= range.High - search.Flat_mm) above += along / 2;
        }

        // What lies within the slack of an end counts as being there.
        var slack_mm3 = search.Flat_mm * hidden.Shadow_mm2;
        var height = hidden.Reach.Plane(range, slack_mm3, slack_mm3, highOfEqual: above > below);
        var plane = Array.IndexOf(planes, height);
        return new(
            frame.Direction, candidate.Source, hidden.Reach.LeastFrom, hidden.Reach.LeastTo, planes[plane], hidden.Least_mm3, hidden.Gaps_mm3, range,
            hidden.Shadow_mm2, Math.Min(1, below / hidden.Shadow_mm2), Math.Min(1, above / hidden.Shadow_mm2), steep, overhung[plane], Math.Max(columns.Grid.Cell.X, columns.Grid.Cell.Y));

        double Height(int v) => Vec3.Dot(frame.Direction, mesh.Vertices[v]);
    }

    private static MeshColumns Columns(TriangleMesh mesh, Vec3 direction, double spacing)
    {
        var volume = mesh.Volume();
        for (var halvings = 0; ; halvings++, spacing /= 2)
        {
            var columns = MeshColumns.Cast(mesh, direction, spacing);
            if (halvings == MostHalvings || Math.Abs(columns.Volume_mm3 - volume) <= VolumeShare * volume
                || columns.Grid.Columns * columns.Grid.Rows > PlanGrid.MostCells / 4) return columns;
        }
    }
}
