using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Patterns.Moulding;

/// <summary>Draft angles of a half, radians.</summary>
/// <param name="Outside">Walls open to the outside of the plan.</param>
/// <param name="Inside">Walls around a hole or recess of the plan.</param>
/// <param name="Inset">How much of a wall's run is taken off inward before draft: 0 where sizes hold at the tip, ½ at the middle, 1 at the parting.</param>
public readonly record struct DraftAngles(double Outside, double Inside, double Inset = 0);

/// <summary>
/// One half of the pattern in the frame in which its draw points up: the cope as it lies, the drag negated in z. Between the two
/// drafted terrains lies the body; both are at the joint outside the part.
/// </summary>
public sealed class HalfMould
{
    /// <summary>Steps in height that are lower than this vanish: the lattice could not carry their draft, mm.</summary>
    private const double LeastStep_mm = 0.002;

    /// <summary>The underside stands on the joint where it is no higher than this, mm.</summary>
    private const double OnJoint_mm = 0.001;

    private readonly ImmutableArray<TerrainCell> cells;
    private readonly ImmutableArray<Plateau> plateaus;
    private readonly DraftAngles draft;
    private readonly Lattice lattice;
    private readonly MeshingTolerance tolerance;
    private readonly FilletedTerrain? rounded;
    private readonly double? meshUndrafted_mm3;
    private readonly Lazy<double> drafted_mm3;
    private readonly TerrainOverGround? carved;
    private readonly PlanRegion? shadow;
    private readonly Lazy<Plateau[]> levels = new(() => []);
    private readonly Task<IFilletedTerrain>? filleted;
    private readonly Task<ITerrain>? meshable;
    private readonly bool mayWiden;
    private readonly Lazy<double>? edges_mm3;
    private readonly Lazy<double>? meshFillets_mm3;
    private readonly FilletedSlopes? slopes;
    private readonly Task<IFilletedTerrain>? underFilleted;
    private readonly Task<ITerrain>? underMeshable;

    private HalfMould(ImmutableArray<TerrainCell> cells, double joint, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance)
    {
        this.cells = cells;
        this.lattice = lattice;
        this.tolerance = tolerance;
        Joint_mm = joint;
        this.draft = draft;
        plateaus = [.. cells.Where(c => c.Upper > joint).Select(c => new Plateau(c.Region, c.Top))];
        Upper = Tapered(plateaus, joint, double.PositiveInfinity);
        if (cells.Any(c => c.Lower > joint)) Under = UnderTerrain();
        drafted_mm3 = new(Drafted_mm3);
    }

    private HalfMould(DraftedTerrain upper, DraftedTerrain? under, double undrafted_mm3, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance)
    {
        (cells, plateaus, this.draft, this.lattice, this.tolerance) = ([], upper.Plateaus, draft, lattice, tolerance);
        (Joint_mm, Upper, Under, meshUndrafted_mm3, drafted_mm3) = (upper.GroundHeight, upper, under, undrafted_mm3, new(Drafted_mm3));
    }

    private HalfMould(TerrainOverGround upper, PlanRegion shadow, double undrafted_mm3, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance)
        : this(upper.Whole, null, undrafted_mm3, draft, lattice, tolerance) =>
        (Joint_mm, carved, this.shadow, levels) = (upper.Ground.Level, upper, shadow, new(() => [.. upper.Ground.Patches()]));

    private HalfMould(HalfMould narrower, PlanRegion footprint, double reach)
        : this(narrower.cells, narrower.Joint_mm, narrower.draft, narrower.lattice, narrower.tolerance) =>
        Upper = new(
            PlateauLevels.WidenedTo(narrower.plateaus, Joint_mm, footprint, reach, draft.Outside, lattice, tolerance.Error_mm),
            Joint_mm, draft.Outside, draft.Inside, lattice, tolerance.Error_mm);

    private HalfMould(HalfMould sharp, FilletPlan fillets, ImmutableArray<RoundedRim> rims, HalfMould? loose)
    {
        (slopes, var carried) = (fillets.Slopes, loose?.slopes is null ? null : loose.filleted);
        (cells, plateaus, draft, lattice, tolerance, drafted_mm3) = (sharp.cells, sharp.plateaus, sharp.draft, sharp.lattice, sharp.tolerance, new(Drafted_mm3));
        (Joint_mm, PlateFace_mm, Under, Upper) = (sharp.Joint_mm, sharp.PlateFace_mm, sharp.Under, sharp.Upper);
        var isRound = rims.Any(r => r.Radius > 0);
        // Much of what is asked of a half concerns its walls alone, so that there is time to prepare its fillets and what their mesh needs.
        if (isRound || !fillets.Floors.IsEmpty || fillets.Slopes is not null || carried is not null)
        {
            Upper = WithCorners(Upper, fillets.Floors, fillets.Slopes ?? loose?.slopes);
            var edged = new FilletedTerrain(Upper, [], rims, tolerance.Error_mm);
            if (isRound) rounded = edged;
            (filleted, meshable) = Prepare(edged, fillets.Floors, fillets.Slopes, carried);
            mayWiden = fillets.Slopes is not null;
        }

        if (fillets.UnderFloors.IsEmpty) return;
        Under = WithCorners(Under!, fillets.UnderFloors, null);
        (underFilleted, underMeshable) = Prepare(new(Under, [], [], tolerance.Error_mm), fillets.UnderFloors, null, null);

        DraftedTerrain WithCorners(DraftedTerrain terrain, ImmutableArray<FilletedFloor> filleted, FilletedSlopes? slopes) =>
            filleted.SelectMany(f => f.Islands).Select(i => i.Radius).Append(slopes?.Radii[0] ?? 0).Max() is > 0 and var largest ? terrain.WithCorners(tolerance.Error_mm, largest) : terrain;

        static (Task<IFilletedTerrain> Filleted, Task<ITerrain> Meshable) Prepare(FilletedTerrain edged, ImmutableArray<FilletedFloor> at, FilletedSlopes? slopes, Task<IFilletedTerrain>? carried)
        {
            var made = Task.Run(MadeAsync);
            return (made, Task.Run(async () => (await made.ConfigureAwait(false)).ForMeshing()));

            async Task<IFilletedTerrain> MadeAsync() =>
                carried is not null && await carried.ConfigureAwait(false) is FilletedTerrain { SlopeRadius: > 0 } standing ? edged.Carrying(at, standing) : edged.WithFillets(at, slopes);
        }
    }

    private HalfMould(HalfMould mesh, DraftedTerrain upper)
        : this(upper, mesh.Under, mesh.UndraftedVolume_mm3(), mesh.draft, mesh.lattice, mesh.tolerance)
    {
        (drafted_mm3, edges_mm3, meshFillets_mm3) = (mesh.drafted_mm3, mesh.edges_mm3, mesh.meshFillets_mm3);
        if (mesh.carved is { } on) (Joint_mm, carved, shadow, levels) = (on.Ground.Level, new(upper, on.Ground), mesh.shadow, mesh.levels);
    }

    private HalfMould(HalfMould before, DraftedTerrain upper, bool areEdges)
        : this(before, upper)
    {
        var sign = areEdges ? 1 : -1;
        var changed_mm3 = new Lazy<double>(() => SampledVolume.Of(before.Footprint.Union(Footprint), p => sign * (before.Thickness(p) - Thickness(p))));
        if (areEdges) edges_mm3 = changed_mm3;
        else meshFillets_mm3 = changed_mm3;
    }

    private HalfMould(HalfMould sharp, ClosedTerrain? upper, ClosedTerrain? under)
        : this(sharp, sharp.Upper)
    {
        if (upper is not null) (filleted, meshable, mayWiden) = (Task.FromResult<IFilletedTerrain>(upper), Task.Run(upper.ForMeshing), true);
        if (under is not null) (underFilleted, underMeshable) = (Task.FromResult<IFilletedTerrain>(under), Task.Run(under.ForMeshing));
    }

    /// <summary>Largest distance of facets from the surface, mm.</summary>
    public double Tolerance_mm => tolerance.Error_mm;

    /// <summary>Height of the joint in this half's frame; of one that is not flat, that around it.</summary>
    public double Joint_mm { get; }

    /// <summary>Height of the face of the plate that the half stands on; null without one.</summary>
    public double? PlateFace_mm { get; private init; }

    /// <summary>Whether a flat is the face of the plate or of what stands on it beside the half.</summary>
    public bool IsOfPlate(Plateau flat) => flat.Height == PlateFace_mm || OnPlateBeside.Any(o => o.Surface.AtOrigin == flat.Height && o.Region.Contains(flat.Region.InnerPoint));

    /// <summary>The upper surface without the plate that it stands on, if it does.</summary>
    private MouldFace? Loose { get; init; }

    /// <summary>Faces of what else stands on the plate.</summary>
    private ImmutableArray<Plateau> OnPlateBeside { get; init; } = [];

    /// <summary>Largest radius of the fillets on a joint that is not flat, mm; 0 for none.</summary>
    public double LargestFillet_mm { get; private init; }

    /// <summary>Whether the joint is not flat.</summary>
    public bool IsCarved => carved is not null;

    /// <summary>The drafted upper terrain, without fillets.</summary>
    public DraftedTerrain Upper { get; }

    /// <summary>The underside negated, where recesses reach above the joint; else null and the underside is flat.</summary>
    public DraftedTerrain? Under { get; }

    /// <summary>Where the half touches the joint or hangs over it.</summary>
    public PlanRegion Footprint => carved?.Footprint ?? (mayWiden ? filleted!.GetAwaiter().GetResult().Footprint : Upper.Above(Joint_mm));

    /// <summary>The plan of the body: its footprint without the holes through it. What hangs together in it is one piece.</summary>
    public PlanRegion Covered => Holes() is { IsEmpty: false } ? Footprint.Difference(HolesInPlan()).WithoutSlivers(8 * lattice.Step) : Footprint;

    /// <summary>Whether there is nothing in this half.</summary>
    public bool IsEmpty => Footprint.IsEmpty;

    /// <summary>The half above the joint.</summary>
    public static HalfMould Cope(TerrainMap map, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance) =>
        new([.. map.Cells.Select(c => c with { Top = Settled(c.Top, map.Base), Floor = Settled(c.Floor, map.Base) })], map.Base, draft, lattice, tolerance);

    /// <summary>The half below the joint, seen from below: z negated, plan kept (a mirror image).</summary>
    public static HalfMould Drag(TerrainMap map, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance) =>
        new([.. map.Cells.Select(c => c with { Top = -Settled(c.Floor, map.Base), Floor = -Settled(c.Top, map.Base) })], -map.Base, draft, lattice, tolerance);

    /// <summary>A half of a part that is a mesh, solid from the joint up, or from the hollows that are left to the other half's sand: what else hangs over the joint or lies behind it is filled.</summary>
    /// <param name="upper">Its drafted terrain, drawn upward; its ground is the joint.</param>
    /// <param name="under">The drafted hollows, negated and cut off at the joint; null for none.</param>
    /// <param name="undrafted_mm3">Volume of the half before draft, filled.</param>
    /// <param name="draft">Angles.</param>
    /// <param name="lattice">Where its corners are.</param>
    /// <param name="tolerance">Of its surfaces.</param>
    public static HalfMould OfMesh(DraftedTerrain upper, DraftedTerrain? under, double undrafted_mm3, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance) =>
        new(upper, under, undrafted_mm3, draft, lattice, tolerance);

    /// <summary>
    /// This half on a plate whose face is the joint, with what else stands on it; its own joint is the back of the plate. Sizes hold as they do here.
    /// </summary>
    /// <param name="plate">Plan of the plate.</param>
    /// <param name="thickness_mm">Of the plate.</param>
    /// <param name="others">Plans of faces away from the joint, and their heights over it.</param>
    /// <param name="fine">Where the corners of all that are.</param>
    public HalfMould OnPlate(PlanRegion plate, double thickness_mm, IEnumerable<(PlanRegion Region, double Height_mm)> others, Lattice fine)
    {
        var face = fine.Snap(Joint_mm);
        var back = face - fine.Snap(thickness_mm);
        ImmutableArray<Plateau> beside = [.. others.Select(o => new Plateau(o.Region, face + fine.Snap(o.Height_mm)))];
        Prism[] prisms =
        [
            new(plate, back, face), .. Upper.Plateaus.Select(p => new Prism(p.Region, back, p.Surface)),
            .. beside.Select(o => new Prism(o.Region, back, o.Surface)),
        ];
        ImmutableArray<TerrainCell> standing =
            [.. ColumnMapBuilder.Build(prisms, fine.Step).Cells.Where(c => !c.Solid.IsEmpty).Select(c => new TerrainCell(c.Region, c.Solid[^1].High, back, true, false))];
        return new(standing, back, draft with { Inset = 0 }, fine, tolerance) { PlateFace_mm = face, OnPlateBeside = beside, Loose = Top };
    }

    /// <summary>A half of a part that is a mesh, solid from a joint up that is not flat.</summary>
    /// <param name="upper">Its drafted terrain, drawn upward, on the joint.</param>
    /// <param name="shadow">The part in plan, before draft.</param>
    /// <param name="undrafted_mm3">Volume of the half before draft, filled.</param>
    /// <param name="draft">Angles.</param>
    /// <param name="lattice">Where its corners are.</param>
    /// <param name="tolerance">Of its surfaces.</param>
    public static HalfMould OfMesh(TerrainOverGround upper, PlanRegion shadow, double undrafted_mm3, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance) =>
        new(upper, shadow, undrafted_mm3, draft, lattice, tolerance);

    /// <summary>Height of the joint over a place of the plan, in this half's frame.</summary>
    public double JointAt(Vec2 p) => carved?.Ground.At(p).Height ?? Joint_mm;

    /// <summary>The flats of the upper surface, highest first.</summary>
    public IEnumerable<Plateau> Flats() => carved?.Flats() ?? Upper.Flats();

    /// <summary>This half widened so that its footprint reaches another's where both have their walls in common.</summary>
    /// <param name="footprint">The footprint to reach.</param>
    /// <param name="reach">How far walls may be moved at most, mm.</param>
    public HalfMould WidenedTo(PlanRegion footprint, double reach) => new(this, footprint, reach);

    /// <summary>This half with fillets and rounded edges; neither leaves the half as it is.</summary>
    /// <param name="fillets">Where fillets are.</param>
    /// <param name="rims">Edges of the upper surface with their radii.</param>
    /// <param name="loose">Of a half on a plate, the filleted half without it: along turned surfaces both have the same fillets.</param>
    public HalfMould Filleted(FilletPlan fillets, ImmutableArray<RoundedRim> rims, HalfMould? loose = null) =>
        fillets.Floors.IsEmpty && fillets.UnderFloors.IsEmpty && fillets.Slopes is null && loose?.slopes is null && rims.All(r => r.Radius == 0) ? this : new(this, fillets, rims, loose);

    /// <summary>This half, of a part that is a mesh, with fillets; none leave it as it is.</summary>
    /// <param name="upper">Its upper side with them; null for none there.</param>
    /// <param name="under">The same of its hollows, which no half on a carved joint has.</param>
    public HalfMould Filleted(ClosedTerrain? upper, ClosedTerrain? under) =>
        upper is null && under is null ? this
        : carved is null ? new(this, upper, under)
        : new(this, upper!.Meshed(), areEdges: false) { LargestFillet_mm = upper.LargestRadius };

    /// <summary>This half, of a part that is a mesh, with rounded edges.</summary>
    /// <param name="rounded">Its upper terrain with them.</param>
    public HalfMould Rounded(DraftedTerrain rounded) => new(this, rounded, areEdges: true);

    /// <summary>The heights between which sections change but little: all flats and bends of upright profiles, from the joint up.</summary>
    public double[] Levels_mm() =>
    [
        .. Upper.Levels.Concat(Upper.Bends).Concat(Under?.Levels.Concat(Under.Bends).Append(Under.GroundHeight).Select(z => -z) ?? []).Append(Joint_mm).Where(z => z >= Joint_mm).Distinct().Order(),
    ];

    /// <summary>Done when fillets, rounded edges and what their mesh needs are prepared.</summary>
    public Task Prepared => Task.WhenAll(new[] { meshable, underMeshable }.OfType<Task>());

    /// <summary>By how much fillets raise the upper surface or lower the underside at a place of the plan, mm: the more of both.</summary>
    public double RaisedByFillets(Vec2 p) => Math.Max(filleted?.GetAwaiter().GetResult().Raise(p) ?? 0, underFilleted?.GetAwaiter().GetResult().Raise(p) ?? 0);

    /// <summary>Radius of the fillets between turned surfaces and the rest, mm; 0 for none.</summary>
    public double TurnedFillet_mm => mayWiden && filleted!.GetAwaiter().GetResult() is FilletedTerrain turned ? turned.SlopeRadius : 0;

    /// <summary>Whether fillets fill a place of this half's frame, in the plan and in height, that is empty without them.</summary>
    public bool IsFilledByFillets(Vec2 p, double height) =>
        (Upper.At(p).Height < height && filleted?.GetAwaiter().GetResult().At(p).Height >= height)
        || (Under is not null && Under.At(p).Height < -height && underFilleted?.GetAwaiter().GetResult().At(p).Height >= -height);

    /// <summary>What the fillets add, mm³, to a few millionths of the half, where it is smooth.</summary>
    public double FilletVolume_mm3()
    {
        if (meshFillets_mm3 is not null) return meshFillets_mm3.Value;
        var holes = HolesInPlan();
        return new[] { filleted, underFilleted }.OfType<Task<IFilletedTerrain>>().Sum(f => f.GetAwaiter().GetResult().AddedVolume(5e-6 * UndraftedVolume_mm3(), holes));
    }

    /// <summary>What rounding edges takes away, mm³, as exactly.</summary>
    public double RoundedVolume_mm3() => edges_mm3?.Value ?? filleted?.GetAwaiter().GetResult().RemovedVolume(5e-6 * UndraftedVolume_mm3()) ?? 0;

    /// <summary>The upper surface.</summary>
    public MouldFace Top => new(Upper, cells, new(HolesInPlan), Loose);

    /// <summary>The underside, where it has recesses.</summary>
    public MouldFace? Underside => Under is null ? null : new(Under, [.. cells.Select(c => c with { Top = -c.Floor, Floor = -c.Top })], new(HolesInPlan));

    /// <summary>The least of both draft angles, radians.</summary>
    public double LeastDraft => Math.Min(draft.Outside, draft.Inside);

    /// <summary>How far draft carries the foot of a wall out at most, mm.</summary>
    public double Run(double height_mm) => height_mm * Math.Tan(Math.Max(draft.Outside, draft.Inside));

    /// <summary>The closed body, sunk pockets included, in this half's frame.</summary>
    /// <param name="pockets">In its underside.</param>
    /// <param name="within">Only what stands over this part of the plan, cut off upright at its border, clear of all pockets; null for the whole body. A half whose joint is not flat is not cut.</param>
    public TriangleMesh Body(ImmutableArray<UprightPocket> pockets, PlanRegion? within = null) =>
        TerrainSolid.Build(
            meshable?.GetAwaiter().GetResult() ?? (ITerrain?)carved ?? Upper, underMeshable?.GetAwaiter().GetResult() ?? (ITerrain?)Under, Holes(), pockets, lattice, tolerance, within);

    /// <summary>A part of the plan on the lattice of this half's bodies.</summary>
    public PlanRegion OnLattice(PlanRegion region) => OnLattice([region]);

    private PlanRegion OnLattice(IEnumerable<PlanRegion> regions) => PlanRegion.UnionOn(lattice, regions);

    /// <summary>Volume of the half before draft, mm³.</summary>
    public double UndraftedVolume_mm3() => meshUndrafted_mm3 ??
        cells.Sum(c => c.Region.Area * (Math.Max(c.Upper, Joint_mm) - Math.Max(c.Lower, Joint_mm)));

    /// <summary>Volume of the half after draft and before fillets, mm³; that of a mesh to about a ten-thousandth.</summary>
    public double DraftedVolume_mm3() => drafted_mm3.Value;

    private double Drafted_mm3() => meshUndrafted_mm3 is not null ? SampledVolume.Of(Footprint, SignedThickness) :
        PlanarVolume.Of(Footprint, Under is null ? Upper.Bendings() : Upper.Bendings().Concat(Under.Bendings()), lattice, SignedThickness);

    /// <summary>A place where sand of the other half stands above the joint; null where none does.</summary>
    public Vec2? SandAboveJoint => cells.Where(c => c.Lower > Joint_mm || (!c.IsMetal && c.Upper > Joint_mm)).Select(c => (Vec2?)c.Region.InnerPoint).FirstOrDefault();

    /// <summary>The metal of this half at the joint before draft.</summary>
    public PlanRegion UndraftedFootprint() => shadow?.Intersection(Footprint) ?? (meshUndrafted_mm3 is not null ? WithoutHollows(Upper.GroundAbove(Joint_mm)) : OnLattice(plateaus.Select(p => p.Region)));

    private PlanRegion WithoutHollows(PlanRegion metal) => Under is null ? metal : metal.Intersection(Under.Above(-Joint_mm - OnJoint_mm));

    /// <summary>Enclosed holes of the plan whose sand in this half meets before it reaches the joint: a dimple is left.</summary>
    public IEnumerable<PlanRegion> ClosedHoles() =>
        // What rounding leaves between regions that touch is no hole.
        cells.Where(c => !c.IsMetal && c.Upper <= Joint_mm && !c.Region.WithoutSlivers(tolerance.Spacing_mm).IsEmpty && c.Region.Difference(Footprint).WithoutSlivers(tolerance.Spacing_mm).IsEmpty).Select(c => c.Region);

    /// <summary>The level section just below a height, the flats at it included.</summary>
    /// <param name="height">Height of this half's frame, above the joint.</param>
    /// <param name="by">How far below, mm, where a flat does not say.</param>
    public PlanRegion SectionJustBelow(double height, double by)
    {
        var section = Upper.JustBelow(height, by);
        return Under is null || by - height < Under.GroundHeight ? section : section.Intersection(Under.Above(by - height));
    }

    /// <summary>Where the half touches or hangs over a level place of the joint.</summary>
    public PlanRegion OverLevel => carved is null ? Footprint : Footprint.Intersection(PlanRegion.Union(levels.Value.Select(l => l.Region)));

    /// <summary>Where the half stands on the joint, recesses from below left out.</summary>
    public PlanRegion Standing => Under is null ? Footprint : Section(Joint_mm + OnJoint_mm);

    /// <summary>The level section of the body at a height of this half's frame, above the joint.</summary>
    public PlanRegion Section(double height)
    {
        var section = Upper.Above(height);
        return Under is null || -height < Under.GroundHeight ? section : section.Intersection(Under.Above(-height));
    }

    /// <summary>Where walls of higher plateaus stand at a height, seen from a plateau that ends there and keeps its outline.</summary>
    /// <param name="raw">The plateaus before taper.</param>
    /// <param name="height">Height of this half's frame.</param>
    /// <param name="chord_mm">Largest distance of chords.</param>
    public PlanRegion Higher(IEnumerable<Plateau> raw, double height, double chord_mm)
    {
        if (draft.Inset == 0) return Section(height);
        // Taper that takes metal away moves every outline by its part of the run, so that of a higher wall the rest is seen.
        return PlanRegion.Union(raw.Where(p => p.IsLevel && p.Height > height).GroupBy(p => p.Height).Select(g =>
            PlanRegion.Union(g.Select(p => p.Region)).Offset((1 - draft.Inset) * Run(g.Key - height), chord_mm)));
    }

    /// <summary>Where taper that takes metal away left none between a recess from above and one from below; empty as a rule.</summary>
    public PlanRegion Consumed()
    {
        if (Under is null) return PlanRegion.Empty;
        var heights = Levels_mm();
        var holes = HolesInPlan();
        // Metal above a height and metal below it leave open only what both recesses take.
        return PlanRegion.Union(heights.Zip(heights.Skip(1), (low, high) => (low + high) / 2).Select(z =>
            Footprint.Difference(Upper.Above(z)).Difference(Under.Above(-z)).Difference(holes).WithoutSlivers(8 * lattice.Step)));
    }

    /// <summary>Where the body stands on a level place of the joint and is at least so thick, exactly but for fillets, which only add to it.</summary>
    public PlanRegion AtLeast(double thickness_mm)
    {
        if (carved is not null) return PlanRegion.Union(levels.Value.Select(l => Section(l.Height + thickness_mm - 1e-6).Intersection(l.Region)));
        // A body just as thick as asked is thick enough.
        var height = Joint_mm + thickness_mm - 1e-6;
        var section = Section(height).Intersection(Standing);
        return rounded is null ? section : section.Difference(rounded.LoweredTo(height));
    }

    /// <summary>Heights of both drafted surfaces over a place of the plan, in this half's frame; equal where there is nothing.</summary>
    internal (double Top, double Bottom) Surfaces(Vec2 p) =>
        Thickness(p) > 0 ? (Upper.At(p).Height, Math.Max(Joint_mm, -(Under?.At(p).Height ?? -Joint_mm))) : (Joint_mm, Joint_mm);

    /// <summary>Height of the finished upper surface over a place of the plan, fillets and rounded edges included, in this half's frame.</summary>
    internal double Surface(Vec2 p) => filleted?.GetAwaiter().GetResult().At(p).Height ?? Upper.At(p).Height;

    /// <summary>Where the corners of its bodies are.</summary>
    internal Lattice Lattice => lattice;

    /// <summary>Lowest and highest of the half, in this half's frame.</summary>
    internal (double Low, double High) Heights => (carved?.Ground.Range.Low ?? Joint_mm, Upper.Levels.IsEmpty ? Joint_mm : Upper.Levels[0]);

    /// <summary>The metal over a place of the plan, in this half's frame, without fillets; null where there is none.</summary>
    internal ColumnInterval? Metal(Vec2 p)
    {
        if (IsEmpty) return null;
        if (carved is not null) return carved.Over(p) is > 0 and var over ? new(JointAt(p), JointAt(p) + over) : null;
        var top = Upper.At(p).Height;
        if (top <= Joint_mm) return null;
        var bottom = Under is null ? Joint_mm : Math.Max(Joint_mm, -Under.At(p).Height);
        return bottom < top ? new(bottom, top) : null;
    }

    /// <summary>Thickness of the body over a place of the plan, mm.</summary>
    internal double Thickness(Vec2 p) => Math.Max(0, SignedThickness(p));

    /// <summary>Negative where a recess from below reaches above one from above.</summary>
    private double SignedThickness(Vec2 p) => carved?.Over(p) ?? Upper.At(p).Height - Math.Max(Joint_mm, -(Under?.At(p).Height ?? -Joint_mm));

    private static HeightPlane Settled(HeightPlane height, double joint) =>
        height.IsLevel && Math.Abs(height.AtOrigin - joint) < LeastStep_mm ? joint : height;

    private PlanRegion HolesInPlan() => PlanRegion.Union(Holes().Select(h => h.Region));

    /// <summary>
    /// Holes whose sand belongs to the other half above the joint: where the upper terrain is flat at the height of such a hole and the
    /// underside nowhere lower. That reaches beyond the hole's own cell where taper moved the walls around it.
    /// </summary>
    private ImmutableArray<TerrainHole> Holes()
    {
        var heights = cells.Where(c => !c.IsMetal && c.Upper > Joint_mm).Select(c => c.Upper).ToHashSet();
        if (heights.Count == 0) return [];
        return
        [
            .. from flat in Upper.Flats()
               where heights.Contains(flat.Height)
               let left = Under is null ? flat.Region : flat.Region.Difference(Under.Above(-flat.Height))
               where !left.IsEmpty
               select new TerrainHole(left, flat.Height),
        ];
    }

    private DraftedTerrain UnderTerrain()
    {
        // A frame at the joint stands for the sand outside; it reaches beyond all draft.
        var reach = lattice.Extent * 0.9;
        var frame = PlanRegion.Rectangle(new(-reach, -reach), new(reach, reach)).Difference(PlanRegion.Union(cells.Select(c => c.Region)));
        // Its ground lies below the highest recess, so that the bottom of that is a flat like others.
        return Tapered([.. cells.Select(c => new Plateau(c.Region, -c.Floor)), new(frame, -Joint_mm)], -cells.Max(c => c.Lower) - 1, -Joint_mm);
    }

    private DraftedTerrain Tapered(ImmutableArray<Plateau> raw, double ground, double cap) => new(
        PlateauLevels.Inset(raw, ground, draft.Inset, draft.Outside, draft.Inside, lattice, tolerance.Error_mm),
        ground, draft.Outside, draft.Inside, lattice, tolerance.Error_mm, cap);
}
