using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Pieces;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores;

/// <summary>The box of a core: two halves that part in the plane of the core's axis, open at one end of it; of half a core one block, open at its flat side.</summary>
/// <param name="Halves">Both, or the one block, printed with the cavity up.</param>
/// <param name="Cut">Those of them that are printed in pieces.</param>
/// <param name="Plan">Outline of either, in the core's frame.</param>
/// <param name="Depth_mm">Of either half.</param>
/// <param name="Wall_mm">Around and under the cavity, at least.</param>
/// <param name="Draft">Of the cavity, radians.</param>
/// <param name="Dowels">Two of different thickness, places in the core's frame; none of one block.</param>
public sealed record CoreBox(
    ImmutableArray<KitBody> Halves, ImmutableArray<CutBody> Cut, PlanRegion Plan, double Depth_mm, double Wall_mm, double Draft, ImmutableArray<Dowel> Dowels)
{
    /// <summary>Whether one half is the mirror image of the other.</summary>
    public bool IsMirrored { get; init; }

    /// <summary>Whether it is one block that is struck off along its whole flat side and dumped.</summary>
    public bool IsDumped => Halves.Length == 1;

    /// <summary>Where the hole of a dowel is in a half as it is printed: the first lies on its back, turned over.</summary>
    public Vec2 AsPrinted(Dowel dowel, KitBody half) => half == Halves[0] ? dowel.At_mm with { Y = 0 - dowel.At_mm.Y } : dowel.At_mm;

    /// <summary>The halves, in pieces where the bed asks for it.</summary>
    public IEnumerable<KitBody> Printed => CutBody.InPieces(Halves, Cut);

    /// <summary>What the box holds when it is closed and struck off: their blocks and dowel holes less their walls, mm³.</summary>
    public double Holds_mm3 => (Halves.Length * Plan.Area * Depth_mm) - Halves.Sum(h => h.AsPrinted.Volume())
        - (Halves.Length * Dowels.Sum(d => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005).Area * d.Depth_mm));
}

/// <summary>A core of the kit, made once or several times from one box.</summary>
/// <param name="Number">From 1.</param>
/// <param name="Title">Names of the cuts that it leaves.</param>
/// <param name="Axes">How each lies in the mould, the first in front.</param>
/// <param name="Body">The first, as sand: not printed, but to check by.</param>
/// <param name="Box">Its box.</param>
/// <param name="Prints">One or two.</param>
/// <param name="Plans">Of each with its prints, in plan of the mould.</param>
/// <param name="Side_mm">Clearance on each face of a print.</param>
/// <param name="Axial_mm">Clearance over the upper end of a core that stands.</param>
/// <param name="Load">Lift, weight, and what the prints bear.</param>
/// <param name="Bearing_kPa">What a seat bears.</param>
/// <param name="CoreSand_kg_m3">Density of core sand.</param>
/// <param name="Vent_mm">Diameter of the channel for its gas.</param>
public sealed record KitCore(
    int Number,
    string Title,
    ImmutableArray<TurnedFrame> Axes,
    KitBody Body,
    CoreBox Box,
    ImmutableArray<CorePrint> Prints,
    ImmutableArray<PlanRegion> Plans,
    double Side_mm,
    double Axial_mm,
    CoreLoad Load,
    Sourced<double> Bearing_kPa,
    Quoted CoreSand_kg_m3,
    Sourced<double> Vent_mm)
{
    /// <summary>How it is called in files and messages.</summary>
    public string Name => Body.Name;

    /// <summary>How many the mould takes.</summary>
    public int Count => Axes.Length;

    /// <summary>Each in its place in the mould.</summary>
    public IEnumerable<TriangleMesh> InMould => Axes.Select((a, i) => i == 0 ? Body.InMould : Body.InMould.Mapped(p => a.Placed(Axes[0].Local(p))));

    /// <summary>Core sand for all of them, kg.</summary>
    public double Sand_kg => Count * Body.InMould.Volume() * 1e-9 * CoreSand_kg_m3.Value;

    /// <summary>Chaplet area that would bear what the prints do not, mm² a core; 0 as a rule.</summary>
    public double Chaplet_mm2 => Load.LiftOver_N + Load.WeightOver_N > 0 ? CoreForces.Area_mm2(Math.Max(Load.LiftOver_N, Load.WeightOver_N), Bearing_kPa.Value) : 0;

    /// <summary>Where a print ends in the plan of the mould, of the core that lies in a frame.</summary>
    internal Vec2 Tip(CorePrint print, TurnedFrame axis) => print.Mouth is null ? print.Tip(axis) : print.Tip(axis) + (axis.At - Axes[0].At).Plan;

    /// <summary>Which end a print is at, for people.</summary>
    public string End(CorePrint print) => print.Mouth is { } mouth ? EndOf(mouth, print) : Axes[0].Axis switch
    {
        TurnedAxis.Z => print.IsHigh ? "top" : "bottom",
        TurnedAxis.X => print.IsHigh ? "right" : "left",
        _ => print.IsHigh ? "back" : "front",
    };

    /// <summary>The core, then the halves of its box, in pieces where the bed asks for it.</summary>
    public IEnumerable<KitBody> Bodies => Box.Printed.Prepend(Body);

    // The way out that a mouth is nearest to; several on one side are numbered.
    private string EndOf(SideMouth mouth, CorePrint print)
    {
        var own = Side(mouth);
        var alike = Prints.Where(p => p.Mouth is { } m && Side(m) == own).ToArray();
        return alike.Length == 1 ? own : Invariant($"{own} {Array.IndexOf(alike, print) + 1}");

        static string Side(SideMouth m) => Math.Abs(m.Outward.X) >= Math.Abs(m.Outward.Y) ? (m.Outward.X > 0 ? "right" : "left") : m.Outward.Y > 0 ? "back" : "front";
    }
}
