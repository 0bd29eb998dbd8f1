using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Meshes;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>A hollow of a mesh that the job leaves to a core, in the part's own millimetres.</summary>
/// <param name="Name">For people.</param>
/// <param name="Regions">Numbers of what is hidden, on one side of the joint or on both.</param>
/// <param name="Mouths">Where it opens sideways; none where no core can be made.</param>
/// <param name="Why">Why none can be made; null where one can.</param>
internal sealed record MeshHollow(string Name, ImmutableArray<int> Regions, ImmutableArray<SideMouth> Mouths, string? Why);

/// <summary>
/// What of the hidden space of a mesh is left to cores. A core that lies parts with the mould and carries itself on prints, so that a hollow must stand on the joint all over and open sideways.
/// </summary>
internal sealed class MeshHollows
{
    /// <summary>Cells whose lines do not reach the joint make up at most this part of a hollow that stands on it: lines beside a wall may see over it.</summary>
    private const double Rim = 0.02;

    /// <summary>The joint is tried at the height of so many undercuts, the largest first, to this many decimals of a millimetre.</summary>
    private const int MostTried = 5, Decimals = 2;

    /// <summary>It is moved for no less than this part of the metal.</summary>
    private const double Worth = 0.002;

    /// <summary>A place that the job gives may lie so many cells beside its hollow.</summary>
    private const double Beside = 2;

    /// <summary>An opening is no wider than so many cells: lines beside a wall may miss it.</summary>
    private const double LeastCells = 2;

    private readonly MeshLie? lie;
    private readonly ImmutableSortedSet<int> cored;

    private readonly Dictionary<int, HiddenPiece[]> cells;

    private MeshHollows(MeshLie? lie, ImmutableArray<MeshHollow> asked)
    {
        (this.lie, Asked, cored) = (lie, asked, [.. asked.Where(h => h.Why is null).SelectMany(h => h.Regions)]);
        cells = cored.SelectMany(i => lie!.Hidden.Regions[i].Pieces).GroupBy(p => p.Cell).ToDictionary(g => g.Key, g => g.ToArray());
    }

    /// <summary>No hollow is left to a core.</summary>
    public static MeshHollows None { get; } = new(null, []);

    /// <summary>All that the job asks for, those without a core included.</summary>
    public ImmutableArray<MeshHollow> Asked { get; }

    /// <summary>Those that get a core.</summary>
    public IEnumerable<MeshHollow> Cored => Asked.Where(h => h.Why is null);

    /// <summary>Whether a region of what is hidden is left to a core.</summary>
    public bool Has(int region) => cored.Contains(region);

    /// <summary>Why a region that the job asks a core for gets none; null otherwise.</summary>
    public string? Why(int region) => Asked.FirstOrDefault(h => h.Why is not null && h.Regions.Contains(region))?.Why;

    /// <summary>Volume left to cores, mm³ of the part.</summary>
    public double Volume_mm3 => cored.Sum(i => lie!.Hidden.Regions[i].Volume_mm3);

    /// <summary>Whether a place lies in, or beside, what is left to a core.</summary>
    public bool IsBeside(Vec3 p)
    {
        if (cells.Count == 0) return false;
        var (grid, q, slack) = (lie!.Columns!.Grid, lie.Columns.Frame.FromSpace(p), lie.Spacing_mm);
        var (column, row) = ((int)Math.Floor((q.X - grid.Low.X) / grid.Cell.X), (int)Math.Floor((q.Y - grid.Low.Y) / grid.Cell.Y));
        for (var r = Math.Max(0, row - 1); r <= Math.Min(grid.Rows - 1, row + 1); r++)
            for (var c = Math.Max(0, column - 1); c <= Math.Min(grid.Columns - 1, column + 1); c++)
                if (cells.TryGetValue((r * grid.Columns) + c, out var pieces) && Array.Exists(pieces, h => q.Z >= h.Low - slack && q.Z <= h.High + slack)) return true;
        return false;
    }

    /// <summary>Finds them.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mesh">The part with its stock.</param>
    /// <param name="lie">How it lies.</param>
    /// <exception cref="InputException">Nothing is hidden where the job asks for a core.</exception>
    public static MeshHollows Of(Job job, PartMesh mesh, MeshLie lie)
    {
        if (job.Cores?.Undercuts is not { } asked) return None;
        var all = Groups(lie).Select(g => (Regions: g, Name: Invariant($"the hollow near {Shown(Middle(lie, g))}"))).ToArray();
        var chosen = asked.IsAll ? all : [.. asked.Picks.Select(Picked).DistinctBy(g => g.Regions[0])];
        return new(lie, [.. chosen.Select(g => Made(g.Name, g.Regions))]);

        (ImmutableArray<int> Regions, string Name) Picked(UndercutPick pick)
        {
            double Far(ImmutableArray<int> regions) => pick.At_mm is { } at ? regions.Min(r => Distance_mm(lie, lie.Hidden.Regions[r], at)) : regions.Any(r => lie.HiddenFacets.Value[r].Any(f => pick.Faces!.Holds(mesh.Body, mesh.Body.Facets[f]))) ? 0 : double.PositiveInfinity;
            var best = all.Length == 0 ? default : all.MinBy(g => Far(g.Regions));
            if (all.Length == 0 || !(Far(best.Regions) <= Beside * lie.Spacing_mm))
            {
                var where = all.Length == 0 ? "nothing of the part lies behind the draw" : $"what lies behind the draw is near {string.Join(" and ", all.Take(3).Select(g => Shown(Largest(lie, g.Regions).Place)))}";
                throw new InputException(pick.Where, "", $"undercuts: nothing lies behind the draw {(pick.At_mm is { } p ? $"at {Shown(p)}" : $"beside the faces {pick.Faces!.Name}")}; {where}. \"patternkit check\" tells the places.");
            }

            return pick.Faces is { } faces ? (best.Regions, faces.Name) : best;
        }

        MeshHollow Made(string name, ImmutableArray<int> regions)
        {
            MeshHollow None(string why) => new(name, regions, [], why);
            if (job.Parting.Joint != JointKind.Flat) return None("on a joint that is not flat no core is made of a mesh in this release");
            if (CorePlanner.Limit(job) is { } limit) return None(limit);
            if (!StandsOnJoint(lie, regions)) return None("its way to the joint is not free, so that no core could be set into it; move the joint into it with [parting] at");
            var openings = Openings(lie, regions);
            if (openings.Any(o => o.IsAllRound)) return None("it is open all round, and nothing would hold a core there");
            openings = [.. openings.Where(o => Vec2.Distance(o.From, o.To) > LeastCells * lie.Spacing_mm)];
            if (openings.IsEmpty) return None("it opens nowhere sideways, so that nothing could carry a core");
            var mouths = openings.Select(o => Within(o) ? SideMouth.Between(mesh.Body, lie.Joint_mm, o.From, o.To, lie.Spacing_mm, Any(HiddenSide.FromAbove), Any(HiddenSide.FromBelow)) : null).ToArray();
            return mouths.Any(m => m is null) ? None("one of its mouths runs round a corner, or has none that a print could go on from") : new(name, regions, [.. mouths.Select(m => m!)], null);

            bool Any(HiddenSide side) => regions.Any(r => lie.Hidden.Regions[r].Side == side);
        }

        // All of an opening lies before the chord between its ends, or hardly behind it.
        bool Within(SideOpening o)
        {
            var (along, slack) = ((o.To - o.From).Normalized(), 1.5 * lie.Spacing_mm);
            var length = Vec2.Distance(o.From, o.To);
            return o.Corners.All(p => Vec2.Dot(p - o.From, along) is var at && at >= -slack && at <= length + slack && Vec2.Cross(along, p - o.From) <= slack);
        }
    }

    /// <summary>The part with its joint where most of what the job leaves to cores can be, if that spares metal that would be filled else.</summary>
    /// <param name="job">The job, which gives no height of the joint.</param>
    /// <param name="mesh">The part.</param>
    /// <param name="lie">How it lies otherwise.</param>
    /// <param name="at">The same with another joint.</param>
    public static MeshLie WithJoint(Job job, PartMesh mesh, MeshLie lie, Func<double, MeshLie> at)
    {
        if (job.Cores?.Undercuts is null) return lie;
        var (best, filled) = (lie, Filled(lie));
        foreach (var z in lie.Hidden.Regions.Take(MostTried).Where(r => !r.Pieces.Any(p => Touches(p, lie.Joint_mm))).Select(r => Math.Round((r.Range.Low + r.Range.High) / 2, Decimals)).Distinct())
        {
            var other = at(z);
            if (Filled(other) is var left && left < filled - (Worth * lie.Part_mm3)) (best, filled) = (other with { IsForCores = true }, left);
        }

        return best;

        double Filled(MeshLie l) => l.Added_mm3 - Of(job, mesh, l).Volume_mm3;
    }

    private static ImmutableArray<SideOpening> Openings(MeshLie lie, ImmutableArray<int> regions) => SideOpenings.Of(lie.Columns!, regions.Select(r => lie.Hidden.Regions[r]), lie.Joint_mm);

    /// <summary>What is hidden above the joint and below it in the same lines is one hollow.</summary>
    private static IEnumerable<ImmutableArray<int>> Groups(MeshLie lie)
    {
        var regions = lie.Hidden.Regions;
        var group = Enumerable.Range(0, regions.Length).ToArray();
        var cells = new Dictionary<int, int>();
        for (var r = 0; r < regions.Length; r++)
            foreach (var piece in regions[r].Pieces.Where(p => Touches(p, lie.Joint_mm)))
                if (!cells.TryAdd(piece.Cell, r)) Join(r, cells[piece.Cell]);
        return Enumerable.Range(0, regions.Length).GroupBy(r => group[r]).Select(g => g.ToImmutableArray());

        void Join(int a, int b)
        {
            var (keep, drop) = (Math.Min(group[a], group[b]), Math.Max(group[a], group[b]));
            for (var i = 0; keep != drop && i < group.Length; i++) group[i] = group[i] == drop ? keep : group[i];
        }
    }

    private static bool StandsOnJoint(MeshLie lie, ImmutableArray<int> regions)
    {
        var pieces = regions.SelectMany(r => lie.Hidden.Regions[r].Pieces).ToArray();
        return pieces.Where(p => !Touches(p, lie.Joint_mm)).Sum(p => p.High - p.Low) <= Rim * pieces.Sum(p => p.High - p.Low);
    }

    private static bool Touches(HiddenPiece p, double joint) => p.Low == joint || p.High == joint;

    /// <summary>Middle of what lies in a hollow, to a tenth of a millimetre.</summary>
    private static Vec3 Middle(MeshLie lie, ImmutableArray<int> regions)
    {
        var grid = lie.Columns!.Grid;
        var (sum, moment) = (0.0, default(Vec3));
        foreach (var p in regions.SelectMany(r => lie.Hidden.Regions[r].Pieces))
        {
            var (row, column) = Math.DivRem(p.Cell, grid.Columns);
            var (at, length) = (grid.Centre(column, row), p.High - p.Low);
            (sum, moment) = (sum + length, moment + (length * new Vec3(at.X, at.Y, (p.Low + p.High) / 2)));
        }

        // Adding zero turns a negative zero into zero.
        var q = lie.Columns.Frame.ToSpace(1 / sum * moment);
        return new(Math.Round(q.X, 1) + 0.0, Math.Round(q.Y, 1) + 0.0, Math.Round(q.Z, 1) + 0.0);
    }

    private static HiddenRegion Largest(MeshLie lie, ImmutableArray<int> regions) => regions.Select(r => lie.Hidden.Regions[r]).MaxBy(r => r.Volume_mm3)!;

    /// <summary>How far a place lies from what a region has, by its cells.</summary>
    private static double Distance_mm(MeshLie lie, HiddenRegion region, Vec3 place)
    {
        var (grid, q) = (lie.Columns!.Grid, lie.Columns.Frame.FromSpace(place));
        return region.Pieces.Min(p =>
        {
            var (row, column) = Math.DivRem(p.Cell, grid.Columns);
            var low = grid.Corner(column, row);
            var (dx, dy, dz) = (Beyond(q.X, low.X, low.X + grid.Cell.X), Beyond(q.Y, low.Y, low.Y + grid.Cell.Y), Beyond(q.Z, p.Low, p.High));
            return Math.Sqrt((dx * dx) + (dy * dy) + (dz * dz));
        });

        static double Beyond(double at, double from, double to) => Math.Max(0, Math.Max(from - at, at - to));
    }

    private static string Shown(Vec3 p) => Invariant($"({p.X:0.#}, {p.Y:0.#}, {p.Z:0.#}) mm");
}
