using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>
/// The core of a hollow of a mesh that lies in the joint. Each half of it is a terrain over the joint: the skin that closes the hollow off, and the sections of its mouths drawn on
/// as prints, with the draft of the box taken off (see <see cref="MeshErosion"/>), so that the core is nowhere larger than the hollow and the metal round it nowhere thinner.
/// </summary>
internal sealed class HollowCore : IMouldCore
{
    /// <summary>How far a print goes on where the box cuts it off, mm, beyond what draft takes off its end.</summary>
    private const double Overlap_mm = 1;

    /// <summary>Places along the longer side at which the core is compared with itself turned over, or with another.</summary>
    private const int Compared = 160;

    /// <summary>How far heights and prints of equal cores may differ, by rounding, mm.</summary>
    private const double Rounding_mm = 0.01;

    private readonly HollowShape shape;
    private readonly Lazy<(DraftedTerrain? Above, DraftedTerrain? Below)> sides;
    private readonly Lazy<PlanRegion> footprint;

    /// <summary>A core with its prints.</summary>
    /// <param name="shape">Of the hollow.</param>
    /// <param name="prints">Its prints, each with its mouth.</param>
    /// <param name="struck">Which of them the box is open at.</param>
    /// <param name="clearance">On each face of a print, with its rule.</param>
    /// <param name="table">Of cores.</param>
    public HollowCore(HollowShape shape, ImmutableArray<CorePrint> prints, int struck, Sourced<double> clearance, CoreTable table)
    {
        (this.shape, Prints, StruckPrint, ClearanceFrom) = (shape, prints, struck, clearance);
        (EndTaper, Draft) = (double.DegreesToRadians(table.Lying.EndTaper_deg), double.DegreesToRadians(table.BoxDraft_deg.Value));
        var (mouth, lattice) = (prints[struck].Mouth!, shape.Lattice);
        Axis = new(
            Math.Abs(mouth.Outward.X) >= Math.Abs(mouth.Outward.Y) ? TurnedAxis.X : TurnedAxis.Y, new(lattice.Snap(mouth.Middle.X), lattice.Snap(mouth.Middle.Y), lattice.Snap(shape.Joint_mm)));
        sides = new(() => MouldHalves.Both(Side));
        Key = shape.Name;
        footprint = new(() => PlanRegion.UnionOn(lattice, new[] { sides.Value.Above, sides.Value.Below }.OfType<DraftedTerrain>().Select(t => t.Footprint)));
    }

    private HollowCore(HollowCore same, string key) =>
        (shape, sides, footprint, Axis, Prints, StruckPrint, ClearanceFrom, EndTaper, Draft, InMetal_mm3, Key) =
        (same.shape, same.sides, same.footprint, same.Axis, same.Prints, same.StruckPrint, same.ClearanceFrom, same.EndTaper, same.Draft, same.InMetal_mm3, key);

    /// <inheritdoc/>
    public string Name => shape.Name;

    /// <inheritdoc/>
    public TurnedFrame Axis { get; }

    /// <inheritdoc/>
    public ImmutableArray<CorePrint> Prints { get; }

    /// <summary>Which of them the box is open at.</summary>
    public int StruckPrint { get; }

    /// <inheritdoc/>
    public Sourced<double> ClearanceFrom { get; }

    /// <inheritdoc/>
    public double Side_mm => ClearanceFrom.Value;

    /// <summary>It never stands.</summary>
    public double Axial_mm => 0;

    /// <summary>Of the ends of its seats, radians.</summary>
    public double EndTaper { get; }

    /// <summary>Of the core in its box, radians.</summary>
    public double Draft { get; }

    /// <summary>What of it lies in the metal, where it is known already: longer prints lie in the sand and change nothing.</summary>
    public double? InMetal_mm3 { get; init; }

    /// <summary>Its shape.</summary>
    public HollowShape Shape => shape;

    /// <summary>In its frame: what of it lies above the joint; null for nothing.</summary>
    public DraftedTerrain? Above => sides.Value.Above;

    /// <summary>What of it lies below the joint, as depth; null for nothing.</summary>
    public DraftedTerrain? Below => sides.Value.Below;

    /// <summary>Where either rises, in its frame, cut off at the end at which the box is open.</summary>
    public PlanRegion Local => shape.IsHalf ? footprint.Value : PlanRegion.UnionOn(shape.Lattice, [footprint.Value.Difference(BeyondStruck())]);

    /// <inheritdoc/>
    public PlanRegion Plan => Local.Transformed(1, Axis.Axis == TurnedAxis.X ? 0 : Math.PI / 2, Axis.At.Plan);

    /// <inheritdoc/>
    public Box3 Extent
    {
        get
        {
            var e = Local.Geometry.EnvelopeInternal;
            return Box3.Empty.With(new(e.MinX, e.MinY, -Top(Below))).With(new(e.MaxX, e.MaxY, Top(Above)));
        }
    }

    /// <summary>That of its narrowest mouth.</summary>
    public double Least_mm => Prints.Min(p => Math.Min(p.Width_mm, CorePrint.HeightOf(p.Mouth!.Above) + CorePrint.HeightOf(p.Mouth.Below)));

    /// <summary>The name of the first that is like it.</summary>
    public string Key { get; }

    /// <summary>The same core, to come out of the box of another that is like it.</summary>
    public HollowCore OutOf(HollowCore first) => new(this, first.Key);

    /// <summary>Whether it is another but for where it lies: not turned, with the same prints, and as high everywhere.</summary>
    public bool IsLike(HollowCore other)
    {
        if (Axis.Axis != other.Axis.Axis || Axis.At.Z != other.Axis.At.Z || Prints.Length != other.Prints.Length || shape.IsHalf != other.shape.IsHalf) return false;
        var (box, there) = (Extent, other.Extent);
        if ((box.Low - there.Low).Length > Rounding_mm || (box.High - there.High).Length > Rounding_mm) return false;
        if (!Prints.All(p => other.Prints.Any(q => IsLike(p, q, other)))) return false;
        return Cells(box).All(p =>
        {
            var ((up, down), (upThere, downThere)) = (Heights(p), other.Heights(p));
            return Math.Abs(up - upThere) <= Rounding_mm && Math.Abs(down - downThere) <= Rounding_mm;
        });
    }

    /// <summary>The middles of the cells at which cores are compared.</summary>
    private static IEnumerable<Vec2> Cells(Box3 box)
    {
        var cell = Math.Max(box.Size.X, box.Size.Y) / Compared;
        for (var x = box.Low.X + (cell / 2); x < box.High.X; x += cell)
            for (var y = box.Low.Y + (cell / 2); y < box.High.Y; y += cell)
                yield return new(x, y);
    }

    private bool IsLike(CorePrint print, CorePrint its, HollowCore other) =>
        Vec2.Distance(print.Tip(Axis) - Axis.At.Plan, its.Tip(other.Axis) - other.Axis.At.Plan) <= Rounding_mm && Vec2.Dot(print.Mouth!.Outward, its.Mouth!.Outward) > 0
        && new[] { print.Length_mm - its.Length_mm, print.Width_mm - its.Width_mm, print.Height_mm - its.Height_mm }.All(d => Math.Abs(d) <= Rounding_mm) && print.Flat is null == its.Flat is null;

    /// <inheritdoc/>
    public Func<Vec2, IEnumerable<(double Low, double High)>> Columns() => Over;

    /// <summary>The skin of the hollow less its mouths.</summary>
    public double Surface_mm2(HalfMould cope, HalfMould drag) => shape.Skin_mm2 - Prints.Sum(p => p.Mouth!.Above.Area + p.Mouth.Below.Area);

    /// <inheritdoc/>
    public (double Volume_mm3, double Centre_mm) Displaced(HalfMould cope, HalfMould drag, Lattice lattice) => (
        InMetal_mm3 ?? SampledVolume.Of(Plan, p => MouldHalves.Metal(cope, drag, p).Sum(m => Over(p).Sum(c => Math.Max(0, Math.Min(c.High, m.High) - Math.Max(c.Low, m.Low))))), 0);

    /// <inheritdoc/>
    public CoreLoad Load(CoreLoads loads, (double Volume_mm3, double Centre_mm) inMetal, GridUp up) => HollowLoads.Of(this, loads, inMetal.Volume_mm3, up);

    /// <inheritdoc/>
    public (KitBody Body, CoreBox Box) Made(string name, Vec3 aside, FoundryTables tables, MeshingTolerance tolerance) => CoreBoxBuilder.Build(this, name, aside, tables, tolerance);

    /// <summary>Of its plan, in how much of it the core would lie otherwise upside down, and turned half round about the middle of its two prints: where heights differ by more than the clearance.</summary>
    public (double Upright, double Turned) Unlikeness()
    {
        var middle = Prints is [var a, var b] ? (Vec2?)(0.5 * (a.Tip(Axis) + b.Tip(Axis))) : null;
        var (plan, upright, turned) = (0, 0, 0);
        foreach (var p in Cells(Extent))
        {
            var (up, down) = Heights(p);
            if (up == 0 && down == 0) continue;
            plan++;
            if (Math.Abs(up - down) > Side_mm) upright++;
            if (middle is not { } m) continue;
            var (upThere, downThere) = Heights((2 * Axis.Local(new(m.X, m.Y, 0)).Plan) - p);
            if (Math.Abs(up - upThere) > Side_mm || Math.Abs(down - downThere) > Side_mm) turned++;
        }

        return ((double)upright / plan, (double)turned / plan);
    }

    /// <summary>What the box ends at: all that lies beyond the end of the print at which it is open, in the core's frame.</summary>
    public PlanRegion BeyondStruck()
    {
        var (print, mouth) = (Prints[StruckPrint], Prints[StruckPrint].Mouth!);
        var far = 4 * shape.Lattice.Extent;
        Vec2 At(double outward, double across) => Axis.Local(new(mouth.Plan(outward, across).X, mouth.Plan(outward, across).Y, 0)).Plan;
        return PlanRegion.Polygon([At(print.End_mm, -far), At(print.End_mm + far, -far), At(print.End_mm + far, far), At(print.End_mm, far)]);
    }

    private static double Top(DraftedTerrain? side) => side is null || side.Levels.IsEmpty ? 0 : side.Levels[0];

    /// <summary>Over the joint and under it, in the core's frame; nothing beyond the end at which the box is open.</summary>
    private (double Up, double Down) Heights(Vec2 local)
    {
        var (print, mouth) = (Prints[StruckPrint], Prints[StruckPrint].Mouth!);
        if (!shape.IsHalf && Vec2.Dot(Axis.Placed(new(local.X, local.Y, 0)).Plan - mouth.Middle, mouth.Outward) > print.End_mm) return (0, 0);
        return (Above?.At(local).Height ?? 0, Below?.At(local).Height ?? 0);
    }

    private IEnumerable<(double Low, double High)> Over(Vec2 p)
    {
        var (up, down) = Heights(Axis.Local(new(p.X, p.Y, 0)).Plan);
        if (up > 0 || down > 0) yield return (shape.Joint_mm - down, shape.Joint_mm + up);
    }

    private DraftedTerrain? Side(MouldHalf half)
    {
        var above = half == MouldHalf.Cope;
        var ground = new GroundSoup();
        ground.Add(above ? shape.Above : shape.Below);
        foreach (var (print, i) in Prints.Select((p, i) => (p, i)))
        {
            var mouth = print.Mouth!;
            var section = above ? mouth.Above : mouth.Below;
            var flat = above ? null : print.Flat;
            var over = !shape.IsHalf && i == StruckPrint ? Overlap_mm + (CorePrint.HeightOf(flat ?? section) * Math.Tan(Draft)) : 0;
            var end = print.End_mm + over;
            PrintGround.Add(ground, mouth, section, -SideMouth.Inside_mm, flat is null ? end : print.Face_mm, 0);
            if (flat is not null) PrintGround.Add(ground, mouth, flat, print.Face_mm, end, 0);
        }

        var mesh = ground.Mesh().Mapped(v => Axis.Local(new(v.X, v.Y, v.Z + Axis.At.Z)));
        if (mesh.Facets.IsEmpty) return null;
        var terrain = MeshTerrain.Of(mesh, 0, Draft, shape.Lattice, shape.Tolerance.Error_mm, 1);
        return terrain.Footprint.IsEmpty ? null : terrain;
    }
}
