using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A drafted terrain as it stands on ground that is not level: what of it lies below the ground does not count. Since the ground is gentler than the draft, what the
/// terrain gets from points below the ground stays below it everywhere, so that the terrain of the whole body serves as it is. That holds for steps too, however near to the draft their own slope is.
/// </summary>
public sealed class TerrainOverGround : ITerrain
{
    /// <summary>Lines of the terrain end so far short of the rim, in lattice steps, where they are no creases.</summary>
    private const double Short = 64;

    /// <summary>Pieces that come nearer to the ground than this, mm, are joined; those beside the lowest give a border room where rounding leaves none.</summary>
    private const double Near = 1;

    /// <summary>What is no thicker than this, in lattice steps, lies on the ground: a level face of the body in a level patch of the ground, whose heights were rounded one by one.</summary>
    private const double OnGround = 4;

    private readonly DraftedTerrain terrain;
    private readonly Lazy<PlanRegion> footprint;
    private readonly Lazy<(ImmutableArray<Plateau> Whole, ImmutableArray<ImmutableArray<Vec2>> Cut)> flats;

    /// <summary>Puts a terrain on ground.</summary>
    /// <param name="terrain">The terrain of a mesh; its own ground lies below the other.</param>
    /// <param name="ground">The ground, less steep than the draft everywhere.</param>
    public TerrainOverGround(DraftedTerrain terrain, FacetedGround ground)
    {
        (this.terrain, Ground) = (terrain, ground);
        footprint = new(Reckoned);
        flats = new(CutFlats);
    }

    /// <summary>The terrain without the ground.</summary>
    public DraftedTerrain Whole => terrain;

    /// <inheritdoc/>
    public FacetedGround Ground { get; }

    /// <inheritdoc/>
    public double GroundHeight => terrain.GroundHeight;

    /// <inheritdoc/>
    public PlanRegion Footprint => footprint.Value;

    /// <inheritdoc/>
    public bool IsCurved => terrain.IsCurved;

    /// <inheritdoc/>
    public (double Low, double High) Range => terrain.Range;

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p) => terrain.At(p);

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient) => terrain.Extended(surface, p, out gradient);

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin) => terrain.SteepestFacet(surface, margin);

    /// <inheritdoc/>
    public double AlwaysAllowed => terrain.AlwaysAllowed;

    /// <inheritdoc/>
    public IEnumerable<Plateau> Flats() => flats.Value.Whole;

    /// <inheritdoc/>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines() => flats.Value.Cut;

    /// <inheritdoc/>
    public ImmutableArray<(Vec2 From, Vec2 To)> Creases()
    {
        var over = ImmutableArray.CreateBuilder<(Vec2, Vec2)>();
        foreach (var crease in terrain.RampCreases)
        {
            var plane = terrain.Pieces[crease.First];
            var (from, to) = (crease.From, crease.To);
            var (first, last) = (Over(from), Over(to));
            if (first <= 0 && last <= 0) continue;
            if (first > 0 && last > 0)
            {
                over.Add((from, to));
                continue;
            }

            var (inside, outside) = first > 0 ? (from, to) : (to, from);
            for (var round = 0; round < 60 && Vec2.Distance(inside, outside) > terrain.Lattice.Step / 4; round++)
            {
                var middle = 0.5 * (inside + outside);
                if (Over(middle) > 0) inside = middle;
                else outside = middle;
            }

            over.Add(first > 0 ? (from, inside) : (inside, to));

            double Over(Vec2 p) => plane.Extended(p, out _) - Ground.At(p).Height;
        }

        return over.ToImmutable();
    }

    /// <summary>Thickness over a point of the plan; negative where the ground is higher.</summary>
    public double Over(Vec2 p) => terrain.At(p).Height - Ground.At(p).Height;

    private (ImmutableArray<Plateau> Whole, ImmutableArray<ImmutableArray<Vec2>> Cut) CutFlats()
    {
        var all = terrain.Flats().ToLookup(f => Footprint.Covers(f.Region));
        var inside = Footprint.Offset(-Short * terrain.Lattice.Step, terrain.Lattice.Step);
        return ([.. all[true]], [.. inside.Inside(all[false].SelectMany(f => f.Region.Borders()))]);
    }

    /// <summary>
    /// The union of what of every piece that comes near the ground lies over it, triangle by triangle, with what other pieces cover inside. The border of the footprint belongs to
    /// such a piece everywhere.
    /// </summary>
    private PlanRegion Reckoned()
    {
        var pieces = terrain.Pieces;
        var parts = new List<PlanRegion>[pieces.Length];
        var (low, high) = Ground.Range;
        Parallel.For(0, pieces.Length, i =>
        {
            var piece = pieces[i];
            if (piece.Bounds.High.Z <= low || (!piece.IsRamp && piece.Bounds.Low.Z > high + Near)) return;
            var domain = piece.Domain(Math.Max(low - 1, GroundHeight));
            if (domain.Length < 3) return;
            var (least, found) = (double.PositiveInfinity, new List<PlanRegion>());
            foreach (var f in Ground.FacetsNear(new(domain.Min(p => p.X), domain.Min(p => p.Y)), new(domain.Max(p => p.X), domain.Max(p => p.Y))))
            {
                var (a, b, c) = Ground.Plan(f);
                var within = ConvexCut.Within([.. domain], a, b, c);
                if (within.Count < 3) continue;
                double Over(Vec2 p) => piece.Extended(p, out _) - Ground.Extended(f, p, out _);
                least = Math.Min(least, within.Min(Over));
                if (within.Max(Over) <= OnGround * terrain.Lattice.Step) continue;
                var over = ConvexCut.Where(within, Over);
                if (over.Count >= 3) found.Add(PlanRegion.Polygon(over));
            }

            if (least < Near) parts[i] = found;
        });
        var joined = PlanRegion.UnionOn(terrain.Lattice, parts.Where(p => p is not null).SelectMany(p => p));
        var region = MeshSection.Of(terrain.Lattice, [joined]).WithoutSlivers(terrain.SliverWidth);
        var inner = region.Filled().Difference(region).Pieces().Where(p => Over(p.InnerPoint) > OnGround * terrain.Lattice.Step);
        return PlanRegion.Union(inner.Prepend(region)).WithoutSlivers(terrain.SliverWidth);
    }
}
