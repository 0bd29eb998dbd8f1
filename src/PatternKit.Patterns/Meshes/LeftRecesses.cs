using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Cores.Hollows;

namespace PatternKit.Patterns.Meshes;

/// <summary>
/// The hollows of a mesh behind its joint that are left to the sand of the other half: those whose way to the joint is free and that metal encloses all round. What is open
/// sideways, or through to the other side, is filled: there the sands of both halves would have to meet off the joint.
/// </summary>
internal sealed class LeftRecesses
{
    /// <summary>Beyond the cells that lines were found hollow in, the hollow may reach so many cells more.</summary>
    private const double Beyond = 1;

    private readonly MeshLie lie;
    private readonly ImmutableSortedSet<int> left;

    private LeftRecesses(MeshLie lie, ImmutableSortedSet<int> left) => (this.lie, this.left) = (lie, left);

    /// <summary>Finds them.</summary>
    /// <param name="lie">How the part lies.</param>
    /// <param name="asked">Whether the job leaves any to the sand.</param>
    /// <param name="hollows">What is left to cores.</param>
    public static LeftRecesses Of(MeshLie lie, bool asked, MeshHollows hollows) =>
        new(lie, asked ? [.. Enumerable.Range(0, lie.Hidden.Regions.Length).Where(i => MeshFindings.IsRecess(lie.Hidden.Regions[i]) && !lie.Hidden.Regions[i].IsOpenSideways && !hollows.Has(i))] : []);

    /// <summary>Whether there is none.</summary>
    public bool IsEmpty => left.IsEmpty;

    /// <summary>Whether a region of what is hidden is left.</summary>
    public bool Has(int region) => left.Contains(region);

    /// <summary>Volume left on a side, or on both, mm³ of the part.</summary>
    public double Volume_mm3(HiddenSide? side = null) => left.Select(i => lie.Hidden.Regions[i]).Where(r => side is null || r.Side == side).Sum(r => r.Volume_mm3);

    /// <summary>Whether a place lies in, or beside, what is left on its side of the joint.</summary>
    public bool IsBeside(Vec3 p)
    {
        var q = lie.Columns!.Frame.FromSpace(p);
        var slack = lie.Spacing_mm;
        return left.Any(i => lie.Hidden.Regions[i] is var r
            && q.X >= r.PlanLow.X - slack && q.X <= r.PlanHigh.X + slack && q.Y >= r.PlanLow.Y - slack && q.Y <= r.PlanHigh.Y + slack && q.Z >= r.Range.Low - slack && q.Z <= r.Range.High + slack);
    }

    /// <summary>Where in plan the other half's sand may reach over a side of the joint, a cell more than the lines tell.</summary>
    /// <param name="side">Above or below the joint.</param>
    /// <param name="scale">Pattern size over that of the part.</param>
    public PlanRegion Plan(HiddenSide side, double scale)
    {
        var others = Enumerable.Range(0, lie.Hidden.Regions.Length).Where(i => !left.Contains(i) && lie.Hidden.Regions[i] is var r && r.Side == side && MeshFindings.IsRecess(r));
        return Cells(left.Where(i => lie.Hidden.Regions[i].Side == side), scale).Difference(Cells(others, scale));
    }

    private PlanRegion Cells(IEnumerable<int> regions, double scale)
    {
        var columns = lie.Columns!;
        var (grid, frame) = (columns.Grid, columns.Frame);
        var rectangles = new List<PlanRegion>();
        foreach (var row in regions.SelectMany(i => lie.Hidden.Regions[i].Pieces).Select(p => p.Cell).Distinct().Order().GroupBy(c => c / grid.Columns))
        {
            // Runs of neighbouring cells are one rectangle.
            var run = new List<int>();
            foreach (var column in row.Select(c => c % grid.Columns))
            {
                if (run.Count > 0 && column > run[^1] + 1) Add(row.Key, run);
                run.Add(column);
            }

            Add(row.Key, run);
        }

        return PlanRegion.Union(rectangles);

        void Add(int row, List<int> run)
        {
            var (low, high) = (grid.Centre(run[0], row) - ((0.5 + Beyond) * grid.Cell), grid.Centre(run[^1], row) + ((0.5 + Beyond) * grid.Cell));
            Vec2[] corners = [low, new(high.X, low.Y), high, new(low.X, high.Y)];
            rectangles.Add(PlanRegion.Polygon([.. corners.Select(p => scale * frame.ToSpace(new(p.X, p.Y, 0)).Plan)]));
            run.Clear();
        }
    }
}
