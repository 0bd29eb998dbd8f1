using System.Collections.Concurrent;
using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The least terrain over a set of plateaus whose slopes nowhere exceed a cone: the upper envelope of the plateaus under
/// that cone, except that the cone at a jutting corner is replaced by planes around it (see <see cref="Ramps"/>), at most a
/// tolerance farther out. So the terrain is made of planes alone. Walls around an enclosed hollow may have their own angle.
/// </summary>
public sealed class DraftedTerrain : ITerrain
{
    /// <summary>How far below the asked angle a facet may come out before it must be refined.</summary>
    public const double AngleSlack = 0.04 * Math.PI / 180;

    private const int Ground = -1;
    private const int Capped = -2;

    /// <summary>The contour of a ramp is hidden only where the terrain over it is higher by more than this, mm.</summary>
    private const double ContourSlack = 1e-6;

    private readonly UpperEnvelope<TerrainPiece> envelope;
    private readonly ImmutableArray<Plateau> plateaus;

    /// <summary>What lies beside the borders of the plateaus; null where the ramps were known.</summary>
    private readonly PlateauEdges? edges;
    private readonly ImmutableArray<RampBand> bands;
    private readonly ImmutableArray<SlopedFacet> slopes;
    private readonly ImmutableArray<double> levels;
    private readonly bool isMesh;
    private readonly Func<double, IEnumerable<PlanRegion>> patchesAbove;
    private readonly double openAngle;
    private readonly double enclosedAngle;
    private readonly Lattice lattice;
    private readonly ConcurrentDictionary<double, Lazy<PlanRegion>> above = [];
    private readonly Lazy<ImmutableArray<RampCrease>> rampCreases;
    private readonly Lazy<ImmutableArray<Plateau>> flats;

    /// <summary>Builds the envelope.</summary>
    /// <param name="plateaus">Border vertices and heights on the lattice.</param>
    /// <param name="ground">Height of the plan outside; nothing is lower.</param>
    /// <param name="openAngle">Angle from the vertical of walls open to the outside, radians.</param>
    /// <param name="enclosedAngle">Angle of walls around an enclosed hollow.</param>
    /// <param name="lattice">The lattice.</param>
    /// <param name="cornerTolerance">How far the planes around a jutting corner may stand out from the cone.</param>
    /// <param name="cap">Heights are cut off here.</param>
    /// <param name="cornerReach">How far surfaces that are moved outward from this terrain will be moved; their corners keep the tolerance too.</param>
    public DraftedTerrain(
        ImmutableArray<Plateau> plateaus,
        double ground,
        double openAngle,
        double enclosedAngle,
        Lattice lattice,
        double cornerTolerance,
        double cap = double.PositiveInfinity,
        double cornerReach = 0)
    {
        this.plateaus = plateaus;
        this.openAngle = openAngle;
        this.enclosedAngle = enclosedAngle;
        this.lattice = lattice;
        GroundHeight = ground;
        Cap = cap;
        edges = new PlateauEdges(plateaus, ground, openAngle, enclosedAngle, lattice);
        slopes = Slopes(edges);
        HasSlopes = plateaus.Any(p => !p.IsLevel);
        levels =
        [
            .. plateaus.Where(p => p.IsLevel).Select(p => p.Height).Append(slopes.Select(s => s.Highest).DefaultIfEmpty(ground).Max())
                .Concat(LevelCrests()).Where(h => h > ground).Distinct().OrderDescending(),
        ];
        Bends = LevelBends.Of(slopes, plateaus, lattice.Step);
        var ramps = RampsOf(edges, cornerTolerance, cornerReach);
        RampCount = ramps.Count;
        envelope = new([.. ramps, .. Faces(ramps.Count)], ground);
        bands = RampBand.Of(envelope.Primitives);
        patchesAbove = _ => [];
        rampCreases = new(() => Terrain.Creases.Visible(envelope.Primitives, GroundHeight, Cap));
        flats = new(() => [.. FlatsLeft()]);
    }

    /// <summary>The same ground with other corners.</summary>
    private DraftedTerrain(DraftedTerrain like, PlateauEdges edges, double cornerTolerance, double cornerReach)
    {
        (plateaus, openAngle, enclosedAngle, lattice, this.edges) = (like.plateaus, like.openAngle, like.enclosedAngle, like.lattice, edges);
        (GroundHeight, Cap, slopes, HasSlopes, levels, Bends) = (like.GroundHeight, like.Cap, like.slopes, like.HasSlopes, like.levels, like.Bends);
        var ramps = RampsOf(edges, cornerTolerance, cornerReach);
        RampCount = ramps.Count;
        envelope = new([.. ramps, .. Faces(ramps.Count)], GroundHeight);
        bands = RampBand.Of(envelope.Primitives);
        patchesAbove = _ => [];
        rampCreases = new(() => Terrain.Creases.Visible(envelope.Primitives, GroundHeight, Cap));
        flats = new(() => [.. FlatsLeft()]);
    }

    /// <summary>The terrain of ramps already known, numbered from 0, over level plateaus, which may overlap.</summary>
    internal DraftedTerrain(
        ImmutableArray<Plateau> plateaus, ImmutableArray<TerrainPiece> ramps, double ground, double openAngle, double enclosedAngle, Lattice lattice, double cap)
    {
        this.plateaus = plateaus;
        this.openAngle = openAngle;
        this.enclosedAngle = enclosedAngle;
        this.lattice = lattice;
        GroundHeight = ground;
        Cap = cap;
        slopes = [];
        Bends = [];
        levels = [.. plateaus.Select(p => p.Height).Where(h => h > ground).Distinct().OrderDescending()];
        RampCount = ramps.Length;
        envelope = new([.. ramps, .. Faces(ramps.Length)], ground);
        bands = RampBand.Of(envelope.Primitives);
        patchesAbove = _ => [];
        rampCreases = new(() => Terrain.Creases.Visible(envelope.Primitives, GroundHeight, Cap));
        flats = new(() => [.. FlatsLeft()]);
    }

    /// <summary>The terrain over the upper skin of a mesh. All walls have one angle.</summary>
    /// <param name="mesh">What of the mesh may show.</param>
    /// <param name="lattice">Where its corners are.</param>
    /// <param name="cornerTolerance">How far the planes around a jutting corner may stand out from the cone.</param>
    /// <param name="cap">Heights are cut off here.</param>
    internal DraftedTerrain(MeshGround mesh, Lattice lattice, double cornerTolerance, double cap = double.PositiveInfinity)
    {
        plateaus = mesh.Flats;
        (openAngle, enclosedAngle) = (mesh.Angle, mesh.Angle);
        this.lattice = lattice;
        (GroundHeight, Cap) = (mesh.Ground, cap);
        slopes = [];
        Bends = [];
        isMesh = true;
        HasSlopes = !mesh.Facets.IsEmpty;
        var highest = mesh.Highest;
        levels = [.. plateaus.Select(p => p.Height).Append(highest).Where(h => h > GroundHeight).Distinct().OrderDescending()];
        var ramps = Ramps.Build(mesh.Falls, mesh.Tips, mesh.IsHidden, openAngle, enclosedAngle, LargestTurn(highest - GroundHeight, cornerTolerance, 0));
        RampCount = ramps.Count;
        TerrainPiece[] level = [.. Faces(ramps.Count)];
        var first = new Dictionary<int, int>();
        // Pieces are large and may be many: they are made in their place.
        var pieces = ImmutableArray.CreateBuilder<TerrainPiece>(ramps.Count + level.Length + mesh.Facets.Length);
        pieces.AddRange(ramps);
        pieces.AddRange(level);
        foreach (var f in mesh.Facets)
        {
            first.TryAdd(f.Face, pieces.Count);
            pieces.Add(TerrainPiece.Face(f.A, f.B, f.C, f.Plane, openAngle, first[f.Face]));
        }

        envelope = new(pieces.MoveToImmutable(), GroundHeight);
        bands = RampBand.Of(ramps);
        patchesAbove = height => mesh.Above(height, p => At(p).Height > height);
        rampCreases = new(() => Terrain.Creases.Visible(
            envelope.Primitives, GroundHeight, Cap, mesh.SharpSides.Select(s => (first[s.Face], s.From, s.To))));
        flats = new(() => [.. FlatsLeft()]);
    }

    /// <summary>Height of the plan outside.</summary>
    public double GroundHeight { get; }

    /// <summary>Height above which nothing rises.</summary>
    public double Cap { get; }

    /// <inheritdoc/>
    public (double Low, double High) Range => (GroundHeight, Cap);

    /// <summary>
    /// Heights of the level plateaus above the ground, of level crests of sloped ones and of the highest point of all, highest first:
    /// between them the area of the section changes smoothly, but for small kinks.
    /// </summary>
    public ImmutableArray<double> Levels => levels;

    /// <summary>Heights at which sloped ground bends sharply along a level line, ascending: there the area of the section has large kinks.</summary>
    public ImmutableArray<double> Bends { get; }

    /// <summary>Whether any of the ground before draft is sloped.</summary>
    public bool HasSlopes { get; }

    /// <inheritdoc/>
    public PlanRegion Footprint => Above(GroundHeight);

    /// <inheritdoc/>
    public bool IsCurved => isMesh;

    /// <summary>What it was drafted from.</summary>
    public ImmutableArray<Plateau> Plateaus => plateaus;

    /// <summary>The ramps; the number of each is that of its surface.</summary>
    internal IEnumerable<TerrainPiece> RampPieces => envelope.Primitives.Take(RampCount);

    internal int RampCount { get; }

    /// <summary>The ramps, then the faces.</summary>
    internal ImmutableArray<TerrainPiece> Pieces => envelope.Primitives;

    /// <summary>The facets of sloped ground.</summary>
    internal IEnumerable<TerrainPiece> SlopedPieces => envelope.Primitives.Skip(RampCount).Where(q => q.Gradient != default);

    /// <summary>One more than the largest number of a surface.</summary>
    internal int SurfaceCount => envelope.Primitives.Length;

    internal double OpenAngle => openAngle;

    internal double EnclosedAngle => enclosedAngle;

    internal Lattice Lattice => lattice;

    internal double SliverWidth => 8 * lattice.Step;

    /// <inheritdoc/>
    public TerrainSample At(Vec2 p)
    {
        var s = envelope.At(p);
        return CutOff(new(s.Value, s.Gradient, s.Primitive < 0 ? Ground : envelope.Primitives.ItemRef(s.Primitive).Surface));
    }

    /// <summary>Height of the terrain with its walls running on below the ground; −∞ where there is none at all.</summary>
    internal double WithoutGround(Vec2 p) => Math.Min(Cap, envelope.WithoutBackground(p).Value);

    /// <summary>The terrain where it is higher than a level, false elsewhere; quicker than to ask how high it is.</summary>
    internal bool TryAtLeast(Vec2 p, double level, out TerrainSample sample)
    {
        sample = new(GroundHeight, default, Ground);
        if (GroundHeight <= level)
        {
            var s = envelope.AtLeast(p, level);
            if (s.Primitive < 0) return false;
            sample = new(s.Value, s.Gradient, envelope.Primitives.ItemRef(s.Primitive).Surface);
        }
        else
        {
            sample = At(p);
        }

        sample = CutOff(sample);
        return true;
    }

    /// <summary>A sample of a surface that is cut off where this terrain is.</summary>
    internal TerrainSample CutOff(TerrainSample sample) => sample.Height >= Cap ? new(Cap, default, Capped) : sample;

    /// <summary>Whether the terrain is higher than a level at a point; quicker than to ask how high it is.</summary>
    internal bool Exceeds(Vec2 p, double level) => Cap > level && envelope.Exceeds(p, level);

    /// <inheritdoc/>
    public double Extended(int surface, Vec2 p, out Vec2 gradient)
    {
        gradient = default;
        return surface switch
        {
            Ground => GroundHeight,
            Capped => Cap,
            _ => envelope.Primitives.ItemRef(surface).Extended(p, out gradient),
        };
    }

    /// <inheritdoc/>
    public double SteepestFacet(int surface, double margin)
    {
        var angle = surface >= 0 ? envelope.Primitives.ItemRef(surface).Angle : Math.Min(openAngle, enclosedAngle);
        return 1 / Math.Tan(angle - ((1 - margin) * AngleSlack));
    }

    /// <inheritdoc/>
    public double AlwaysAllowed => 1 / Math.Tan(Math.Max(openAngle, enclosedAngle) - AngleSlack);

    /// <summary>The same terrain with corners fine enough for surfaces that will be moved outward by a distance.</summary>
    /// <param name="cornerTolerance">How far the planes around a jutting corner may stand out.</param>
    /// <param name="reach">The distance, mm.</param>
    public DraftedTerrain WithCorners(double cornerTolerance, double reach) => edges is null
        ? new(plateaus, GroundHeight, openAngle, enclosedAngle, lattice, cornerTolerance, Cap, reach)
        : new(this, edges, cornerTolerance, reach);

    /// <inheritdoc/>
    public IEnumerable<ImmutableArray<Vec2>> Breaklines() => [];

    /// <summary>
    /// Where the terrain rises above a height: the plateaus above it and the parts of their ramps above it. The contour is put
    /// three quarters of a lattice step too far out, so that rounding to the lattice never makes a facet steeper.
    /// </summary>
    public PlanRegion Above(double height)
    {
        // Asked from several threads at once; the first reckons, the others wait.
        return (above.TryGetValue(height, out var known) ? known : above.GetOrAdd(height, h => new(() => Reckoned(h)))).Value;
    }

    /// <summary>The section just below a height: what rises above it, and the flats at it.</summary>
    /// <param name="height">Height.</param>
    /// <param name="by">How far below sloped plateaus are cut, mm; flats have no need of it.</param>
    public PlanRegion JustBelow(double height, double by) => HasSlopes
        ? Above(height - by)
        : PlanRegion.UnionOn(lattice, [Above(height), .. plateaus.Where(p => p.Height == height).Select(p => p.Region)]);

    private PlanRegion Reckoned(double height)
    {
        var ground = GroundPartsAbove(height);
        var walls = (isMesh ? ShownBands(height) : bands).SelectMany(b => b.Above(height, 0.75 * lattice.Step));
        return (isMesh ? MeshSection.Of(lattice, ground.Concat(walls.Select(PlanRegion.Polygon)), p => At(p).Height > height)
            : PlanRegion.UnionOn(lattice, ground, SlopesAbove(height).Concat(walls))).WithoutSlivers(SliverWidth);
    }

    /// <summary>What of the ground of a mesh is above a height, before draft; walls too upright to be seen from above have no part in it.</summary>
    public PlanRegion GroundAbove(double height) => MeshSection.Of(lattice, GroundPartsAbove(height));

    /// <summary>
    /// The ramps of a mesh whose contour at a height shows. Where one does not, what it alone covers is shut in by others: a hole of the union that is none.
    /// </summary>
    private ImmutableArray<RampBand> ShownBands(double height)
    {
        var shows = new bool[RampCount];
        Parallel.For(0, RampCount, i => shows[i] = Math.Max(envelope.Primitives[i].HeightA, envelope.Primitives[i].HeightB) > height && Shows(envelope.Primitives[i].Contour(height)));
        return RampBand.Of(RampPieces.Where((_, i) => shows[i]));

        bool Shows((Vec2 From, Vec2 To) contour, int halvings = 5)
        {
            var middle = 0.5 * (contour.From + contour.To);
            var room = envelope.At(middle).Value - height;
            if (room <= ContourSlack) return true;
            // The terrain falls by no more than its walls do over a length.
            if (room > Vec2.Distance(contour.From, contour.To) / 2 / Math.Tan(openAngle)) return false;
            return halvings == 0 || Shows((contour.From, middle), halvings - 1) || Shows((middle, contour.To), halvings - 1);
        }
    }

    private IEnumerable<PlanRegion> GroundPartsAbove(double height) =>
        plateaus.Where(p => p.IsLevel && p.Height > height).Select(p => p.Region).Concat(patchesAbove(height));

    private IEnumerable<IReadOnlyList<Vec2>> SlopesAbove(double height) => slopes.Where(s => s.Highest > height).Select(s => s.Above(height)).Where(s => s.Length > 2);

    /// <summary>The flat ground left at every level, highest first, the cap included and the outside ground left out.</summary>
    public IEnumerable<Plateau> Flats() => flats.Value;

    private IEnumerable<Plateau> FlatsLeft()
    {
        if (levels.Length > 0 && levels[0] > Cap) yield return new(Above(Cap), Cap);
        foreach (var level in levels.Where(l => l <= Cap))
        {
            var flat = PlanRegion.Union(plateaus.Where(p => p.IsLevel && p.Height == level).Select(p => p.Region)).Difference(Above(level)).WithoutSlivers(SliverWidth);
            if (!flat.IsEmpty) yield return new(flat, level);
        }
    }

    /// <inheritdoc/>
    public ImmutableArray<(Vec2 From, Vec2 To)> Creases() => [.. RampCreases.Select(c => (c.From, c.To))];

    /// <summary>The lines of the plan between which the terrain is a plane.</summary>
    public IEnumerable<ImmutableArray<Vec2>> Bendings() =>
        Flats().Select(f => f.Region).Append(Footprint).SelectMany(r => r.Borders()).Concat(RampCreases.Select(c => ImmutableArray.Create(c.From, c.To)));

    internal ImmutableArray<RampCrease> RampCreases => rampCreases.Value;

    private List<TerrainPiece> RampsOf(PlateauEdges edges, double cornerTolerance, double cornerReach)
    {
        return Ramps.Build(edges.Falls(), openAngle, enclosedAngle, LargestTurn(levels.IsEmpty ? 0 : levels[0] - GroundHeight, cornerTolerance, cornerReach));
    }

    /// <summary>Planes that turn by φ stand out from a circle of radius R by R (1 / cos(φ / 2) − 1).</summary>
    private double LargestTurn(double tallest, double cornerTolerance, double cornerReach)
    {
        var longestRun = (tallest * Math.Tan(Math.Max(openAngle, enclosedAngle))) + cornerReach;
        return Math.Min(2 * Math.Acos(longestRun / (longestRun + cornerTolerance)), Math.PI / 6);
    }

    /// <summary>Triangles of the plateaus; those of one height or one plane are one surface, numbered as the first of them.</summary>
    private IEnumerable<TerrainPiece> Faces(int surface)
    {
        foreach (var group in plateaus.Where(p => p.IsLevel && p.Height > GroundHeight).GroupBy(p => p.Height).OrderByDescending(g => g.Key))
        {
            var (first, height) = (surface, group.Key);
            foreach (var (a, b, c) in RegionTriangles.Of([.. group.Select(p => p.Region)], lattice))
            {
                var (u, v, w) = (new Vec3(a.X, a.Y, height), new Vec3(b.X, b.Y, height), new Vec3(c.X, c.Y, height));
                yield return TerrainPiece.Face(u, v, w, height, Math.Min(openAngle, enclosedAngle), first);
                surface++;
            }
        }

        foreach (var facets in slopes.GroupBy(s => s.Plateau))
        {
            var first = surface;
            foreach (var f in facets)
            {
                yield return TerrainPiece.Face(f.A, f.B, f.C, plateaus[f.Plateau].Surface, f.Angle, first);
                surface++;
            }
        }
    }

    /// <summary>Heights of the level edges from which sloped facets fall on both sides.</summary>
    private IEnumerable<double> LevelCrests()
    {
        var falling = new Dictionary<(Vec3, Vec3), int>();
        foreach (var s in slopes)
        {
            foreach (var (a, b, c) in new[] { (s.A, s.B, s.C), (s.B, s.C, s.A), (s.C, s.A, s.B) })
            {
                if (a.Z != b.Z || c.Z >= a.Z) continue;
                var edge = (a.X, a.Y).CompareTo((b.X, b.Y)) < 0 ? (a, b) : (b, a);
                falling[edge] = falling.GetValueOrDefault(edge) + 1;
            }
        }

        return falling.Where(e => e.Value == 2).Select(e => e.Key.Item1.Z);
    }

    /// <summary>The triangles of the sloped plateaus that are no steeper than their draft; steeper ones lie under the ramps.</summary>
    private ImmutableArray<SlopedFacet> Slopes(PlateauEdges edges)
    {
        var facets = ImmutableArray.CreateBuilder<SlopedFacet>();
        for (var i = 0; i < plateaus.Length; i++)
        {
            var plateau = plateaus[i];
            if (plateau.IsLevel) continue;
            var angle = edges.IsEnclosed(i) ? enclosedAngle : openAngle;
            if (plateau.Surface.Slope * Math.Tan(angle) > 1) continue;
            foreach (var (a, b, c) in RegionTriangles.Of([plateau.Region], lattice))
                facets.Add(new(Raised(a), Raised(b), Raised(c), angle, i));

            Vec3 Raised(Vec2 p) => new(p.X, p.Y, edges.Heights.At(i, p));
        }

        return facets.ToImmutable();
    }
}
