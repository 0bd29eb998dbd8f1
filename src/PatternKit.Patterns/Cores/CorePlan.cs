using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores;

/// <summary>The cores of a mould on their way: planned on halves without prints, then put into the pattern, then made.</summary>
/// <param name="Cores">Planned.</param>
/// <param name="Findings">Of cuts for which no core is made.</param>
/// <param name="Cope">Upper half without prints.</param>
/// <param name="Drag">Lower half without prints.</param>
/// <param name="Loads">What lifts cores and what bears them.</param>
/// <param name="Lattice">Of the halves.</param>
internal sealed record CorePlan(ImmutableArray<IMouldCore> Cores, ImmutableArray<Finding> Findings, HalfMould Cope, HalfMould Drag, CoreLoads Loads, Lattice Lattice)
{
    /// <summary>What of each core lies in the metal; asked for twice.</summary>
    private readonly Lazy<ImmutableArray<(double Volume_mm3, double Centre_mm)>> inMetal = new(() => [.. Cores.Select(c => c.Displaced(Cope, Drag, Lattice))]);

    /// <summary>Room between the pattern and the boxes in the kit's 3MF file, mm.</summary>
    private const double Aside_mm = 40;

    /// <summary>Plans of all cores with their prints.</summary>
    public PlanRegion Plan => PlanRegion.Union(Cores.Select(c => c.Plan));

    /// <summary>The turned ones.</summary>
    private IEnumerable<PlannedCore> Turned => Cores.OfType<PlannedCore>();

    /// <summary>The pattern before draft with the prints of turned cores joined to it, and without them, both on a lattice that holds the prints.</summary>
    /// <param name="terrain">Without prints.</param>
    /// <param name="lattice">Of the terrain.</param>
    /// <param name="rapping_mm">Taken off the prints, as off every wall.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    public (TerrainMap Terrain, TerrainMap Plain, Lattice Lattice) Printed(TerrainMap terrain, Lattice lattice, double rapping_mm, MeshingTolerance tolerance)
    {
        var seats = Turned.Select(c => c.Seat(rapping_mm, tolerance.Error_mm)).ToArray();
        var reach = seats.SelectMany(s => s).SelectMany(p => p.Region.Geometry.Coordinates).Max(c => Math.Max(Math.Abs(c.X), Math.Abs(c.Y)));
        reach = Math.Max(reach, Turned.Max(c => Math.Abs(c.Axis.At.Z) + Math.Max(Math.Abs(c.Profile.Low), Math.Abs(c.Profile.High)) + c.Profile.Largest + 2));
        var wider = Lattice.For(1.2 * reach);
        if (wider.Step < lattice.Step) wider = lattice;
        var plain = Task.Run(() => TerrainUnion.Of(terrain, [], wider.Step));
        return (TerrainUnion.Of(terrain, seats, wider.Step), plain.GetAwaiter().GetResult(), wider);
    }

    /// <summary>By how much more surface the casting cools by, mm².</summary>
    public double Surface_mm2 => Cores.Sum(c => c.Surface_mm2(Cope, Drag));

    /// <summary>What of the cores lies in the metal, mm³.</summary>
    public double Displaced_mm3 => inMetal.Value.Sum(m => m.Volume_mm3);

    /// <summary>The cores with their boxes; equal ones share a box.</summary>
    /// <param name="tables">Rules.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    /// <param name="up">Which way is up when the metal comes.</param>
    public ImmutableArray<KitCore> Make(FoundryTables tables, MeshingTolerance tolerance, GridUp up)
    {
        if (Cores.IsEmpty) return [];
        var groups = Cores.GroupBy(c => c.Key).Select(g => g.ToArray()).ToArray();
        var feet = PlanRegion.Union([Cope.Footprint, Drag.Footprint, Plan]).Geometry.EnvelopeInternal;
        var made = ImmutableArray.CreateBuilder<KitCore>();
        var y = feet.MaxY + Aside_mm;
        foreach (var (group, number) in groups.Select((g, i) => (g, i + 1)))
        {
            var (core, extent) = (group[0], group[0].Extent);
            var half = Math.Max(extent.High.Y, -extent.Low.Y) + (3 * tables.Cores.BoxWall_mm.Value);
            var (body, box) = core.Made(Invariant($"core-{number}"), new(feet.MinX - extent.Low.X, y + half, Cope.Joint_mm), tables, tolerance);
            y += (2 * half) + Aside_mm;
            made.Add(new(
                number, string.Join(", ", group.Select(c => c.Name).Distinct()), [.. group.Select(c => c.Axis)], body, box, core.Prints, [.. group.Select(c => c.Plan)],
                core.Side_mm, core.Axial_mm, group.Select(c => c.Load(Loads, inMetal.Value[Cores.IndexOf(c)], up)).MaxBy(l => l.LiftOver_N + l.WeightOver_N)!, Loads.Bearing_kPa, tables.Cores.CoreSand_kg_m3, PrintRules.Vent(core.Least_mm, tables.Cores)));
        }

        return made.ToImmutable();
    }

    /// <summary>What is decided about cores, with rule and source.</summary>
    public static IEnumerable<Decision> Decisions(ImmutableArray<KitCore> cores, ImmutableArray<IMouldCore> planned, FoundryTables tables)
    {
        const double degrees = 180 / Math.PI;
        foreach (var core in cores)
        {
            string Key(string what) => $"{core.Name.Replace('-', '_')}_{what}";
            var clearance = planned.First(p => p.Axis == core.Axes[0]).ClearanceFrom;
            foreach (var p in core.Prints)
                yield return new(Key($"print_{core.End(p)}_mm"), $"{Sentence(core.Name)}, length of the {core.End(p)} print", p.Length_mm, "mm", p.Rule.Rule, p.Rule.Source);
            yield return new(Key("clearance_mm"), $"{Sentence(core.Name)}, clearance on each face of its prints", core.Side_mm, "mm", clearance.Rule, clearance.Source);
            yield return new(Key("draft_deg"), $"{Sentence(core.Name)}, draft in its box", core.Box.Draft * degrees, "deg", "from the core-box table", tables.Cores.BoxDraft_deg.From.Text);
            yield return new(Key("vent_mm"), $"{Sentence(core.Name)}, vent through it", core.Vent_mm.Value, "mm", core.Vent_mm.Rule, core.Vent_mm.Source);
        }
    }

    /// <summary>Prints that do not bear their load.</summary>
    public static IEnumerable<Finding> Lifted(ImmutableArray<KitCore> cores, PatternFrame frame)
    {
        foreach (var core in cores)
        {
            var (load, at) = (core.Load, frame.ToJob(core.Axes[0].Placed(new((core.Body.AsPrinted.Bounds().Low.X + core.Body.AsPrinted.Bounds().High.X) / 2, 0, 0))));
            var chaplets = Invariant($"chaplets of the casting's own metal, tinned, dry and free of rust, with {core.Chaplet_mm2:0} mm² of head on the sand");
            if (load.LiftOver_N > 0)
            {
                var borne = load.Lift_N - load.LiftOver_N;
                yield return new("core-lift", Severity.Warn,
                    Invariant($"The metal lifts {core.Name} ({core.Title}) by {load.Lift_N:0.#} N, and its prints bear {borne:0.#} N of that at {core.Bearing_kPa.Value:0.#} kPa: the core floats and the wall over it gets thin."),
                    at, load.Lift_N, borne, core.Bearing_kPa.Source,
                    $"Lengthen the prints ([cores] print), take a stronger sand, or set {chaplets} above the core.", "N");
            }

            if (load.WeightOver_N > 0)
            {
                var borne = load.Weight_N - load.WeightOver_N;
                yield return new("core-lift", Severity.Warn,
                    Invariant($"{Sentence(core.Name)} ({core.Title}) weighs {load.Weight_N:0.#} N, and its prints bear {borne:0.#} N of that from below at {core.Bearing_kPa.Value:0.#} kPa: it sinks or falls before the metal comes."),
                    at, load.Weight_N, borne, core.Bearing_kPa.Source,
                    core.Prints.All(p => p.IsHigh) && !core.Axes[0].Lies ? "It hangs in the cope: glue it into its seat or tie it through the cope with wire, or turn the part over so that it stands."
                    : $"Lengthen the prints ([cores] print), or set {chaplets} under the core.", "N");
            }
        }
    }

    private static string Sentence(string name) => char.ToUpperInvariant(name[0]) + name[1..];
}
