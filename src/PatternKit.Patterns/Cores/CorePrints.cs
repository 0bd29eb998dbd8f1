using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Cores.Hollows;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Cores;

/// <summary>The prints of the cores on their way into the pattern, and what that changes in volumes.</summary>
/// <param name="Plan">The cores.</param>
/// <param name="Pattern">Before draft, with the prints of turned cores and without, on one lattice; null where there are none.</param>
/// <param name="Prints_mm3">What the prints add before draft.</param>
internal sealed record CorePrints(CorePlan Plan, (TerrainMap Terrain, TerrainMap Plain, Lattice Lattice)? Pattern, double Prints_mm3)
{
    /// <summary>The cores of hollows of a mesh.</summary>
    public ImmutableArray<HollowCore> Hollows => [.. Plan.Cores.OfType<HollowCore>()];

    /// <summary>The prints of cores of hollows in plan; empty where there are none.</summary>
    /// <param name="beside_mm">What lies beside a print by no more counts, too.</param>
    public PlanRegion HollowPrints(double beside_mm) => PlanRegion.Union(Hollows.SelectMany(c => c.Prints.Select(p => p.Mouth is { } m && (p.Width_mm / 2) + c.Side_mm + beside_mm is var half
        ? PlanRegion.Polygon([m.Plan(0, -half), m.Plan(p.End_mm + half, -half), m.Plan(p.End_mm + half, half), m.Plan(0, half)]) : PlanRegion.Empty)));

    /// <summary>Plans the cores of outlines and puts their prints into the pattern.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">The finished part.</param>
    /// <param name="casting">At pattern size, cored cuts filled.</param>
    /// <param name="terrain">Before draft, without prints.</param>
    /// <param name="cope">Upper half without prints.</param>
    /// <param name="drag">Lower half without prints.</param>
    /// <param name="allowances">Contraction, stock, rapping.</param>
    /// <param name="loads">What lifts cores and what bears them.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    /// <exception cref="InputException">Cores meet.</exception>
    public static CorePrints Into(
        Job job, PartBody part, CastingBody casting, TerrainMap terrain, HalfMould cope, HalfMould drag, Allowances allowances, CoreLoads loads, FoundryTables tables, MeshingTolerance tolerance)
    {
        var (cores, findings) = CorePlanner.Plan(job, part, casting, cope, drag, allowances, loads, tables);
        var plan = new CorePlan([.. cores], findings, cope, drag, loads, casting.Lattice);
        if (cores.IsEmpty) return new(plan, null, 0);
        var printed = plan.Printed(terrain, casting.Lattice, allowances.Rapping_mm.Value, tolerance);
        return new(plan, printed, printed.Terrain.Volume - terrain.Volume);
    }

    /// <summary>Plans the cores of the hollows of a mesh.</summary>
    /// <param name="planner">With the halves without prints.</param>
    /// <param name="hollows">Those left to cores.</param>
    /// <param name="cope">Upper half without prints.</param>
    /// <param name="drag">Lower half without prints.</param>
    /// <param name="loads">What lifts cores and what bears them.</param>
    /// <param name="lattice">Of the halves.</param>
    public static CorePrints Of(HollowCorePlanner planner, MeshHollows hollows, HalfMould cope, HalfMould drag, CoreLoads loads, Lattice lattice)
    {
        var (cores, findings) = planner.Plan(hollows);
        return new(new([.. cores], findings, cope, drag, loads, lattice), null, HollowSeats.Added_mm3(cores, MouldHalf.Cope) + HollowSeats.Added_mm3(cores, MouldHalf.Drag));
    }

    /// <summary>The bridge with what the prints add.</summary>
    public VolumeBridge Bridged(VolumeBridge bridge) => bridge with { Prints_mm3 = Prints_mm3 };

    /// <summary>What of the pattern the metal does not fill: the prints, drafted, and what of the cores lies in the casting, mm³.</summary>
    /// <param name="cope">Upper half with prints.</param>
    /// <param name="drag">Lower half with prints.</param>
    public double NoMetal_mm3(HalfMould cope, HalfMould drag) => Plan.Cores.IsEmpty ? 0
        : Volume(cope) + Volume(drag) - Volume(Plan.Cope) - Volume(Plan.Drag) + Plan.Displaced_mm3;

    /// <summary>The halves as the casting has them: those given where there are no prints.</summary>
    public ImmutableArray<KitBody> CastingBodies(ImmutableArray<KitBody> bodies)
    {
        if (Plan.Cores.IsEmpty) return bodies;
        var (cope, drag) = MouldHalves.Both(half => PlacedHalves.Body(half == MouldHalf.Cope ? Plan.Cope : Plan.Drag, half, []));
        return [.. new[] { cope, drag }.OfType<KitBody>()];
    }

    private static double Volume(HalfMould half) => half.IsEmpty ? 0 : half.DraftedVolume_mm3();
}
