using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>An upright pocket sunk from the underside of a solid.</summary>
/// <param name="Region">Its plan, inside the flat part of the underside; on the lattice after rounding. Pockets do
/// not overlap; one that lies in another fills a hole of its region, and has another depth.</param>
/// <param name="Depth">How far it goes up, mm; it must stay below the upper terrain. Infinite: it goes through, to where the upper terrain is level.</param>
public sealed record UprightPocket(PlanRegion Region, double Depth)
{
    /// <summary>Whether it goes through.</summary>
    public bool IsThrough => double.IsPositiveInfinity(Depth);

    /// <summary>A hole with upright walls from the flat underside to a level part of the upper terrain.</summary>
    public static UprightPocket Through(PlanRegion region) => new(region, double.PositiveInfinity);
}

/// <summary>A hole through the solid where both terrains meet at one height.</summary>
public sealed record TerrainHole(PlanRegion Region, double Height);

/// <summary>
/// The solid between two terrains over one domain of the plan. Both are triangulated over the same domain and share its
/// rim, so the body is closed; each is a graph and they meet nowhere else, so it cannot cross itself.
/// </summary>
public static class TerrainSolid
{
    /// <summary>Builds the body { max(joint, under) ≤ z ≤ max(joint, upper) }; the joint is the ground of the upper terrain, level or not.</summary>
    /// <param name="upper">The upper terrain, its ground at the joint.</param>
    /// <param name="under">The lower terrain negated (so that it, too, is an upper envelope), cut off at −joint; null where the underside is the joint, as it is where that is not level.</param>
    /// <param name="holes">Where nothing is left although the upper terrain lies above the joint.</param>
    /// <param name="pockets">Pockets in the underside.</param>
    /// <param name="lattice">All coordinates of the result lie on it.</param>
    /// <param name="tolerance">Tolerances.</param>
    /// <param name="within">Only what stands over this part of the plan, cut off upright at its border, which lies on the lattice and clear of the pockets; null for the whole body.</param>
    /// <returns>The body; without facets where the upper terrain nowhere rises above the joint.</returns>
    /// <exception cref="ArgumentException">A pocket goes through where the upper terrain is not level, or through an underside that is not flat; or a body on a joint that is not level is to be cut.</exception>
    public static TriangleMesh Build(
        ITerrain upper,
        ITerrain? under,
        ImmutableArray<TerrainHole> holes,
        ImmutableArray<UprightPocket> pockets,
        Lattice lattice,
        MeshingTolerance tolerance,
        PlanRegion? within = null)
    {
        var joint = upper.GroundHeight;
        var cut = within is null ? null : new CutRim(upper, under, holes, within, lattice, tolerance);
        var domain = cut?.Domain ?? upper.Footprint;
        if (domain.IsEmpty) return new([], []);
        pockets = [.. pockets.Where(p => within is null || within.Contains(p.Region.InnerPoint))];
        var through = pockets.Where(p => p.IsThrough).Select(p => new TerrainHole(p.Region, LevelAlong(p.Region, upper, lattice))).ToImmutableArray();
        if (!through.IsEmpty && under is not null) throw new ArgumentException("A pocket goes through an underside that is not flat.", nameof(pockets));
        pockets = [.. pockets.Where(p => !p.IsThrough)];
        ImmutableArray<ZonedRing> rim =
        [
            .. cut?.Rings() ?? Rings(domain, TerrainMesher.Domain, joint).Select(r => r with { Ground = upper.Ground }).Concat(holes.SelectMany(h => Rings(h.Region, TerrainMesher.Domain, h.Height))),
            .. through.SelectMany(h => Rings(h.Region, TerrainMesher.Domain, h.Height)),
        ];
        // Facets of the upper side keep to one triangle of the ground each, so that they lie over it as their corners do.
        var sides = Sides(upper.Ground, domain);
        TerrainMesh top, bottom;
        var rounds = 0;
        while (true)
        {
            top = TerrainMesher.Mesh(upper, [.. WithBreaklines(rim, domain, upper, lattice, tolerance), .. sides], [], lattice, tolerance, liftChords: true, ground: upper.Ground, isUpright: cut is null ? null : cut.IsUpright);
            if (!holes.IsEmpty) top = LiftedBesideHoles(top, joint, lattice);
            bottom = Bottom(top);
            // A line of the underside that ends within rounding of the rim gives it a vertex more; then the top gets it, too.
            var known = top.Rim.Select(e => top.Points[e.From]).ToHashSet();
            var more = bottom.Rim.Select(e => bottom.Points[e.From]).Where(p => !known.Contains(p)).Distinct().ToArray();
            if (more.Length == 0) break;
            if (++rounds > MostRounds)
            {
                bottom = Bottom(top, clearOfRim: true);
                break;
            }

            rim = [.. rim.Select(r => With(r, more, 4 * lattice.Step))];
        }

        return new SolidStitcher(top, bottom, [.. pockets.Select(p => lattice.Snap(p.Depth))], Upright(top)).Stitch();

        // Rim points below which the underside has one of its own.
        HashSet<Vec2> Upright(TerrainMesh above)
        {
            var walls = through.IsEmpty ? null : new IndexedFacetDistance(PlanRegion.Union(through.Select(t => t.Region)).Geometry.Boundary);
            return [.. above.Rim.Select(e => above.Points[e.From]).Where(p => cut?.IsUpright(p) == true || walls?.IsWithinDistance(new Point(p.X, p.Y), 2 * lattice.Step) == true)];
        }

        TerrainMesh Bottom(TerrainMesh above, bool clearOfRim = false)
        {
            var upright = Upright(above);
            var byPosition = above.Rim.Select(e => e.From).Distinct().Where(v => !upright.Contains(above.Points[v])).ToDictionary(v => above.Points[v], v => above.Heights[v]);
            ImmutableArray<ZonedRing> rings =
            [
                .. RimLoops(above).Select(loop => new ZonedRing(loop, TerrainMesher.Domain)),
                .. pockets.SelectMany(p => Rings(p.Region, TerrainMesher.Pocket, under is null ? joint : -joint)),
            ];
            ITerrainField underside = upper.Ground ?? (under is null ? new LevelField(joint) : (ITerrainField)under);
            var lined = under is null ? [.. rings.Select(r => r with { Ground = upper.Ground }), .. sides] : WithBreaklines(rings, domain, under, lattice, tolerance);
            if (clearOfRim) lined = ClearOfRim(lined, domain.Difference(PlanRegion.Union(holes.Select(h => h.Region))), tolerance.Apart(lattice));
            var mesh = TerrainMesher.Mesh(underside, lined, [.. pockets.Select(p => p.Region)], lattice, tolerance, liftChords: false, keepAll: under is null && sides.IsEmpty);
            if (!holes.IsEmpty) mesh = LiftedBesideHoles(mesh, -joint, lattice);
            return mesh with
            {
                Heights =
                [
                    .. mesh.Heights.Select((h, v) => byPosition.TryGetValue(mesh.Points[v], out var onRim) ? onRim : under is null ? h : -h),
                ],
            };
        }
    }

    private static double LevelAlong(PlanRegion region, ITerrain upper, Lattice lattice)
    {
        var heights = region.Rings().SelectMany(r => r).Select(p => lattice.Snap(upper.At(p).Height)).Distinct().ToArray();
        return heights.Length == 1 ? heights[0] : throw new ArgumentException("A pocket goes through where the upper terrain is not level.", nameof(region));
    }

    /// <summary>The sides of the triangles of a ground that is not level, as far as they may meet a region.</summary>
    private static ImmutableArray<ZonedRing> Sides(FacetedGround? ground, PlanRegion domain)
    {
        if (ground is null) return [];
        var box = domain.Geometry.EnvelopeInternal;
        return [.. ground.SidesNear(new(box.MinX, box.MinY), new(box.MaxX, box.MaxY)).Select(s => new ZonedRing([s.From, s.To], 0, IsOpen: true, IsKept: true))];
    }

    /// <summary>The rim is made anew at most so many times, then lines that ask for more end short of it; one more vertex rarely asks for another.</summary>
    private const int MostRounds = 4;

    /// <summary>Rings that bound zones, and the stretches of lines that are well inside, so that none gives the rim a vertex.</summary>
    private static ImmutableArray<ZonedRing> ClearOfRim(ImmutableArray<ZonedRing> rings, PlanRegion domain, double apart)
    {
        var inside = domain.Offset(-4 * apart, apart);
        return [.. rings.SelectMany(r => r.Zones != 0 ? [r] : inside.Inside([r.IsOpen ? r.Points : r.Points.Add(r.Points[0])]).Select(l => new ZonedRing(l, 0, r.Height, IsOpen: true)))];
    }

    /// <summary>A ring with those of some points as vertices that lie on it within a distance.</summary>
    internal static ZonedRing With(ZonedRing ring, Vec2[] points, double within)
    {
        var all = ImmutableArray.CreateBuilder<Vec2>();
        for (var i = 0; i < ring.Points.Length; i++)
        {
            var (a, b) = (ring.Points[i], ring.Points[(i + 1) % ring.Points.Length]);
            all.Add(a);
            var along = b - a;
            all.AddRange(points.Where(p => p != a && p != b)
                .Select(p => (P: p, At: Vec2.Dot(p - a, along) / along.LengthSquared))
                .Where(p => p.At is > 0 and < 1 && Vec2.Distance(a + (p.At * along), p.P) <= within)
                .OrderBy(p => p.At).Select(p => p.P));
        }

        return ring with { Points = all.ToImmutable() };
    }

    /// <summary>
    /// Beside a hole, rounding of its rim may leave specks where both terrains are flat at its height. Inner points at that height next to
    /// such a rim are raised by a lattice step in each terrain, so that the two touch on the rim alone.
    /// </summary>
    private static TerrainMesh LiftedBesideHoles(TerrainMesh mesh, double joint, Lattice lattice)
    {
        var rim = mesh.Rim.Select(e => e.From).Where(v => mesh.Heights[v] != joint).ToHashSet();
        var outer = mesh.Rim.Select(e => e.From).ToHashSet();
        var beside = mesh.Facets.SelectMany(f => new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) })
            .SelectMany(e => new[] { e, (e.Item2, e.Item1) })
            .Where(e => rim.Contains(e.Item1) && !outer.Contains(e.Item2) && mesh.Heights[e.Item1] == mesh.Heights[e.Item2])
            .Select(e => e.Item2).ToHashSet();
        return mesh with { Heights = [.. mesh.Heights.Select((h, v) => beside.Contains(v) ? h + lattice.Step : h)] };
    }

    /// <summary>
    /// Adds the flats, the lines along curved surfaces and the creases of a terrain as breaklines. Ends of creases are drawn to points of rings, so
    /// that none crosses a rim by rounding; lines along curved surfaces end short of the rim.
    /// </summary>
    internal static ImmutableArray<ZonedRing> WithBreaklines(
        ImmutableArray<ZonedRing> rings, PlanRegion domain, ITerrain terrain, Lattice lattice, MeshingTolerance tolerance)
    {
        rings = [.. rings, .. terrain.Flats().SelectMany(f => Rings(f.Region, 0, f.Height))];
        ImmutableArray<Vec2>[] lines = [];
        ImmutableArray<(Vec2 From, Vec2 To)> visible = [];
        Parallel.Invoke(() => lines = [.. terrain.Breaklines()], () => visible = terrain.Creases());
        if (lines.Length > 0) rings = [.. rings, .. domain.Offset(-64 * lattice.Step, lattice.Step).Inside(lines).Select(l => new ZonedRing(l, 0, null, IsOpen: true))];
        var known = new PointCluster(tolerance.Apart(lattice));
        foreach (var p in rings.SelectMany(r => r.Points)) known.Add(p);
        var creases = visible.Select(c => (From: known.Nearest(c.From), To: known.Nearest(c.To))).Where(c => c.From != c.To).Distinct();
        if (terrain.Ground is not null) creases = ShortOfRim(creases, domain, rings, tolerance.Apart(lattice));
        return [.. rings, .. creases.Select(c => new ZonedRing([c.From, c.To], 0))];
    }

    /// <summary>
    /// Creases that end beside a rim, but in none of its points, end a little before. Where the rim lies on sloping ground, rounding bends it there: an end
    /// within that of it would lie on the ground, or below where points of the ground's own lines became one with the rim's.
    /// </summary>
    private static IEnumerable<(Vec2 From, Vec2 To)> ShortOfRim(IEnumerable<(Vec2 From, Vec2 To)> creases, PlanRegion domain, ImmutableArray<ZonedRing> rings, double apart)
    {
        var rim = new IndexedFacetDistance(domain.Geometry.Boundary);
        var corners = rings.Where(r => r.Zones != 0).SelectMany(r => r.Points).ToHashSet();
        foreach (var (from, to) in creases)
            if (Short(from, to) is { } first && Short(to, from) is { } last && Vec2.Dot(last - first, to - from) > 0) yield return (first, last);

        // A crease may leave the rim at a small angle; one that never does is left out.
        Vec2? Short(Vec2 end, Vec2 other)
        {
            if (corners.Contains(end) || !IsBeside(end)) return end;
            var (along, length) = ((other - end).Normalized(), Vec2.Distance(end, other));
            for (var by = 2 * apart; by < length; by *= 2)
                if (!IsBeside(end + (by * along))) return end + (by * along);
            return null;
        }

        bool IsBeside(Vec2 p) => rim.IsWithinDistance(new Point(p.X, p.Y), apart);
    }

    private static IEnumerable<ZonedRing> Rings(PlanRegion region, int zones, double height) =>
        region.Rings().Select(r => new ZonedRing(r, zones, height));

    /// <summary>The rim as closed loops.</summary>
    internal static IEnumerable<ImmutableArray<Vec2>> RimLoops(TerrainMesh mesh) => SideLoops.Of(mesh.Rim).Select(l => l.Select(v => mesh.Points[v]).ToImmutableArray());
}
