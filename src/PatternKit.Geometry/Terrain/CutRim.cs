using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The rim of a piece that upright cuts take out of the solid between two terrains. Where the piece ends as the solid does, both terrains meet at one height; along a cut
/// they are joined by an upright wall, and the rim gets so many points there that its sides follow both.
/// </summary>
internal sealed class CutRim : ITerrainField
{
    /// <summary>Points of the rim are rounded, and bent to lines that pass close by, at most so many steps.</summary>
    private const int Rounded = 4;

    /// <summary>A side is halved at most so often.</summary>
    private const int Halvings = 14;

    /// <summary>Where a side is compared with a terrain.</summary>
    private static readonly double[] Parts = [0.25, 0.5, 0.75];

    private readonly ITerrain upper;
    private readonly ITerrain? under;
    private readonly ImmutableArray<TerrainHole> holes;
    private readonly Lattice lattice;
    private readonly MeshingTolerance tolerance;
    private readonly IndexedFacetDistance cuts;
    private readonly IndexedFacetDistance uncut;
    private readonly Lazy<(Vec2 From, Vec2 To)[]> lines;

    /// <summary>Cuts the solid.</summary>
    /// <param name="upper">The upper terrain, on a level ground.</param>
    /// <param name="under">The lower one negated; null where the underside is the ground.</param>
    /// <param name="holes">Where nothing is left.</param>
    /// <param name="within">The plan of the piece and what lies beside it; on the lattice.</param>
    /// <param name="lattice">Of the result.</param>
    /// <param name="tolerance">Of the upper ends of the walls.</param>
    /// <exception cref="ArgumentException">The ground is not level.</exception>
    public CutRim(ITerrain upper, ITerrain? under, ImmutableArray<TerrainHole> holes, PlanRegion within, Lattice lattice, MeshingTolerance tolerance)
    {
        if (upper.Ground is not null) throw new ArgumentException("A solid on ground that is not level is not cut.", nameof(upper));
        (this.upper, this.under, this.holes, this.lattice, this.tolerance) = (upper, under, holes, lattice, tolerance);
        var whole = holes.IsEmpty ? upper.Footprint : upper.Footprint.Difference(PlanRegion.Union(holes.Select(h => h.Region)));
        Domain = whole.Intersection(within).WithoutSlivers(Rounded * lattice.Step);
        (cuts, uncut) = (new(within.Geometry.Boundary), new(whole.Geometry.Boundary));
        lines = new(() => [.. Lines(upper), .. under is null ? [] : Lines(under)]);
    }

    /// <summary>The plan of the piece.</summary>
    public PlanRegion Domain { get; }

    /// <summary>Whether a point of the rim has a wall below it.</summary>
    public bool IsUpright(Vec2 p) => IsNear(cuts, p) && !IsNear(uncut, p);

    /// <summary>The rim, its heights those of the upper side.</summary>
    public IEnumerable<ZonedRing> Rings() => Domain.Rings().Select(r => new ZonedRing([.. r.SelectMany((p, i) => Side(p, r[(i + 1) % r.Length]))], TerrainMesher.Domain, Ground: this));

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p)
    {
        if (IsUpright(p)) return upper.At(p);
        var height = holes.Where(h => IsNear(new(h.Region.Geometry.Boundary), p)).Select(h => (double?)h.Height).FirstOrDefault();
        return new(height ?? upper.GroundHeight, default, 0);
    }

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient) => upper.Extended(surface, p, out gradient);

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) => upper.SteepestFacet(surface, margin);

    private static IEnumerable<(Vec2 From, Vec2 To)> Lines(ITerrain terrain) =>
        terrain.Creases().Concat(terrain.Flats().SelectMany(f => f.Region.Sides())).Concat(terrain.Breaklines().SelectMany(l => l.Zip(l.Skip(1))));

    /// <summary>The start of a side of the rim, and along a cut the points on it.</summary>
    private IEnumerable<Vec2> Side(Vec2 from, Vec2 to)
    {
        yield return from;
        if (!IsUpright(0.5 * (from + to))) yield break;
        var apart = 2 * tolerance.Apart(lattice);
        double[] at = [0, .. lines.Value.Select(l => Crossing(from, to, l.From, l.To)).OfType<double>().Order(), 1];
        var last = 0.0;
        for (var i = 1; i < at.Length; i++)
        {
            if (at[i] < 1 && ((at[i] - last) * Vec2.Distance(from, to) < apart || (1 - at[i]) * Vec2.Distance(from, to) < apart)) continue;
            foreach (var between in Halved(from, to, last, at[i], Halvings)) yield return between;
            if (at[i] < 1) yield return Along(from, to, at[i]);
            last = at[i];
        }
    }

    private static Vec2 Along(Vec2 from, Vec2 to, double at) => from + (at * (to - from));

    private static double? Crossing(Vec2 from, Vec2 to, Vec2 a, Vec2 b)
    {
        var (u, v, w) = (to - from, b - a, a - from);
        var det = Vec2.Cross(u, v);
        if (det == 0) return null;
        var (at, along) = (Vec2.Cross(w, v) / det, Vec2.Cross(w, u) / det);
        return at is > 0 and < 1 && along is >= 0 and <= 1 ? at : null;
    }

    /// <summary>The places between two where a straight side is farther than the tolerance from either terrain.</summary>
    private IEnumerable<Vec2> Halved(Vec2 from, Vec2 to, double low, double high, int times)
    {
        if (times == 0 || (high - low) * Vec2.Distance(from, to) < 4 * tolerance.Apart(lattice) || (IsStraight(upper, from, to, low, high) && (under is null || IsStraight(under, from, to, low, high)))) yield break;
        var middle = (low + high) / 2;
        foreach (var p in Halved(from, to, low, middle, times - 1)) yield return p;
        yield return Along(from, to, middle);
        foreach (var p in Halved(from, to, middle, high, times - 1)) yield return p;
    }

    private bool IsStraight(ITerrain terrain, Vec2 from, Vec2 to, double low, double high)
    {
        double Height(double part) => terrain.At(Along(from, to, low + (part * (high - low)))).Height;
        var (a, b) = (Height(0), Height(1));
        var slope = (b - a) / ((high - low) * Vec2.Distance(from, to));
        return Parts.All(part => Math.Abs(Height(part) - a - (part * (b - a))) <= tolerance.Error_mm / 2 * Math.Sqrt(1 + (slope * slope)));
    }

    private bool IsNear(IndexedFacetDistance line, Vec2 p) => line.IsWithinDistance(new Point(p.X, p.Y), Rounded * lattice.Step);
}
