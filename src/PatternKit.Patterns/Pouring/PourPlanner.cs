using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Pouring;

/// <summary>From a mould to what is needed to pour it.</summary>
internal static class PourPlanner
{
    /// <summary>Places of the cavity that are looked at.</summary>
    private const int Stations = 400;

    /// <summary>The plan; null where there is no metal.</summary>
    /// <param name="mould">What is poured.</param>
    /// <param name="alloy">The metal.</param>
    /// <param name="sand">The mould's sand.</param>
    /// <param name="tables">Rules, the shop's own included.</param>
    public static PourPlan? Of(PouredMould mould, Alloy alloy, Sand sand, FoundryTables tables)
    {
        if (mould.Metal.IsEmpty) return null;
        var head = mould.Gating is { } gating ? gating.Reckoning.Head_mm with { Value = gating.Level_mm - (gating.Position.IsOnEdge ? gating.Position.Gate_mm : mould.Joint_mm) }
            : GatingRules.Head(mould.Casting_kg, mould.Above_mm, tables.Gating);
        var upright = mould.Gating is { Position.IsOnEdge: true } onEdge ? onEdge : null;
        var density = GatingRules.LiquidDensity(alloy);
        var stations = PlanStations.Over(mould.Cavity, Stations);
        var flask = FlaskPlanner.Of(mould, head.Value, tables);
        // A mould on edge is full to the edges of its flask.
        var inSand = SandOf(mould, flask, upright is null ? head.Value : flask.TakenCope_mm, sand, tables);
        var thrust = upright is null ? null : ThrustOfMetal.Of(mould, upright, density.Value, tables.Mould.Hold);
        // Across the flask, from one upright side to the other, under the pressure of the lowest place.
        var board = thrust is null ? null : BackingBoard.Of(upright!.Position.Up.Axis == 0 ? flask.Inside.Y_mm : flask.Inside.X_mm, thrust.Factor.Value * thrust.Deepest_kPa, tables.Mould.BoardStress_MPa);
        var lift = upright is null ? LiftOfMetal.Of(mould, head.Value) : null;
        var balance = lift is null ? null : new CopeBalance(
            CopeBalance.PressureLift_N(lift.Under_mm3, density.Value), lift.Cores_N, CoreForces.Weight_N(inSand.Cope_mm3, inSand.Density_kg_m3.Value),
            (flask.Owned?.Cope_kg ?? 0) * CoreForces.Gravity_m_s2, tables.Mould.Hold);
        var metal = mould.Gating?.Metal ?? PouredMetal.Of(mould.Casting_kg, 0, alloy, tables.Gating);
        var melt = MeltOf(metal, density.Value, tables);
        var section = mould.Thickness().Thickest_mm;
        // As a wall: no section so thick freezes later.
        var solid = mould.Constant_s_mm2 is { } constant ? constant with { Value = MouldConstant.Time_s(constant.Value, Modulus.Wall(section)), Rule = FormattableString.Invariant($"t = B M², M half of it, B {constant.Value:0.00} s/mm², {constant.Rule}") } : null;
        return new(
            head, density, lift, balance, thrust, flask, inSand, melt,
            upright is null ? VentPlanner.Of(mould, stations, mould.Joint_mm + inSand.CopeDepth_mm, tables.Mould.Vents) : VentPlanner.OnJoint(mould, upright, tables.Mould.Vents),
            new(section, ShakeOutRow.Wait_minutes(tables.Mould.ShakeOut, alloy.Family, section, solid?.Value, tables.Mould.SolidTimes), solid),
            [.. balance is null ? [] : Lifted(balance, flask), .. thrust is null ? [] : PressedApart(thrust, board!, upright!), .. NoFlask(flask, tables), .. TooMuch(melt, tables)])
        { Board = board };
    }

    private static SandPlan SandOf(PouredMould mould, FlaskPlan flask, double head_mm, Sand sand, FoundryTables tables)
    {
        var plan_mm2 = flask.Inside.X_mm * flask.Inside.Y_mm;
        // Sand over the level of the metal would bury the basin.
        var depth = Math.Min(flask.TakenCope_mm, Math.Max(head_mm, flask.Cope_mm));
        var skin = mould.Patterns.Sum(b => b.InMould.Facets.Select(b.InMould.AreaNormal).Where(n => n.Z != 0).Sum(n => n.Length / 2)) - mould.Cope.Footprint.Area - mould.Drag.Footprint.Area;
        return new(
            depth, (plan_mm2 * depth) - mould.Cavity_mm3(MouldHalf.Cope), (plan_mm2 * flask.TakenDrag_mm) - mould.Cavity_mm3(MouldHalf.Drag), sand.Density_kg_m3, tables.Mould.LooseSand_kg_m3,
            skin, tables.Mould.Facing_mm(mould.Casting_kg), mould.Cores.Sum(c => c.Sand_kg));
    }

    private static MeltPlan MeltOf(PouredMetal metal, double density_kg_m3, FoundryTables tables)
    {
        var table = tables.Mould.Melting;
        var litre = metal.Melt_kg / density_kg_m3 * 1000;
        var listed = tables.Workshop.Crucibles.Select(c => (Crucible: c, Useful: c.Useful_litre(table))).OrderBy(c => c.Useful.Value).ToImmutableArray();
        var taken = listed.FirstOrDefault(c => c.Useful.Value >= litre);
        return new(
            metal, litre, taken.Crucible, listed.IsEmpty ? null : taken.Useful ?? listed[^1].Useful,
            new(table.Lift_kg.Value, table.Lift_kg.From.Text, "the most metal that one person lifts, carries and pours"), listed.Length);
    }

    private static IEnumerable<Finding> Lifted(CopeBalance b, FlaskPlan flask)
    {
        if (b.Added_N <= 0) yield break;
        var held = Invariant($"its sand{(b.Flask_N > 0 ? " and flask weigh" : " weighs")} {b.Held_N:0} N in a flask of {flask.Inside.X_mm:0} × {flask.Inside.Y_mm:0} mm");
        var remedy = Invariant($"Lay {b.Weights_kg:0.0} kg on the cope, or clamp it with {b.Added_N:0} N in all; leave weights and clamps on until the casting is solid.");
        var cores = b.Cores_N > 0 ? Invariant($", {b.Cores_N:0} N of it through cores") : "";
        yield return b.Net_N > 0
            ? new("cope-lift", Severity.Warn, Invariant($"The metal lifts the cope by {b.Lift_N:0} N{cores}, and {held}: without weights it floats, and the metal runs out at the joint."),
                null, b.Lift_N, b.Held_N, b.Factor.Source, remedy, "N")
            : new("cope-lift", Severity.Note, Invariant($"The metal lifts the cope by {b.Lift_N:0} N{cores}, and {held}: less than {b.Factor.Value:0.##} times the lift."),
                null, b.Lift_N, b.Held_N, b.Factor.Source, remedy, "N");
    }

    private static IEnumerable<Finding> PressedApart(JointThrust t, BackingBoard board, GatingPlan gating)
    {
        yield return new(
            "side-thrust", Severity.Warn,
            Invariant($"The mould stands on edge, {gating.Position.UpWord} up: the metal presses its halves apart with {t.Metal_N:0} N, deepest down with {t.Deepest_kPa:0.0} kPa; without clamps it runs out at the joint."),
            null, t.Metal_N, null, t.Factor.Source,
            Invariant($"Back both halves with stiff boards over their whole faces, of sound softwood at least {Math.Ceiling(board.Thick_mm):0} mm thick across {board.Span_mm:0} mm ({board.Stress_MPa.From.Text}), and clamp them with {t.Clamps_N:0} N in all, so that the clamps pull about {t.Centre_mm:0} mm below the level of the metal, the lowest below the runner; seal the joint all round, stand the mould in dry sand, and leave the clamps on until the casting is solid."), "N");
    }

    private static IEnumerable<Finding> NoFlask(FlaskPlan flask, FoundryTables tables)
    {
        if (flask.Listed == 0 || flask.Owned is not null) yield break;
        // The one that lacks the least in its worst size.
        double Lacks(Flask f, bool turned) => new[]
        {
            flask.Length_mm - (turned ? f.Width_mm : f.Length_mm), flask.Width_mm - (turned ? f.Length_mm : f.Width_mm), flask.Cope_mm - f.Cope_mm, flask.Drag_mm - f.Drag_mm,
        }.Max();
        var (near, lacks) = tables.Workshop.Flasks.Select(f => (f.Name, Lacks: Math.Min(Lacks(f, false), Lacks(f, true)))).MinBy(f => f.Lacks);
        yield return new(
            "over-flask", Severity.Warn,
            Invariant($"None of the shop's flasks leaves enough sand: {Math.Ceiling(flask.Length_mm):0} × {Math.Ceiling(flask.Width_mm):0} mm inside are needed, cope {Math.Ceiling(flask.Cope_mm):0} mm and drag {Math.Ceiling(flask.Drag_mm):0} mm deep; \"{near}\" comes nearest and lacks {Math.Ceiling(lacks):0} mm."),
            null, lacks, 0, flask.Wall_mm.Source, "Make or borrow a flask of that size; where only the cope is too low, set a frame on it; or lower the head ([gating] head), or gate another side ([gating] at).", "mm");
    }

    private static IEnumerable<Finding> TooMuch(MeltPlan melt, FoundryTables tables)
    {
        if (melt is { Listed: > 0, Crucible: null, Useful_litre: { } useful })
        {
            yield return new(
                "over-crucible", Severity.Stop,
                Invariant($"The melt of {melt.Metal.Melt_kg:0.##} kg is {melt.Liquid_litre:0.###} litre of liquid metal, and the shop's largest crucible takes {useful.Value:0.###} litre: it would run short in the middle of the pour, or be carried brim-full."),
                null, melt.Liquid_litre, useful.Value, useful.Source, "Melt in a larger crucible and list it in shop.toml ([[crucible]]). Never pour one casting from two melts one after the other.", "l");
        }

        if (melt.Metal.Melt_kg > melt.Lift_kg.Value)
        {
            yield return new(
                "over-lift", Severity.Warn,
                Invariant($"The melt of {melt.Metal.Melt_kg:0.##} kg is more than the {melt.Lift_kg.Value:0.##} kg that one person lifts, carries and pours; the crucible comes on top."),
                null, melt.Metal.Melt_kg, melt.Lift_kg.Value, melt.Lift_kg.Source, "Pour with two at a two-man shank, or from a crane ladle; give your own limit in shop.toml ([melting] lift_kg).", "kg");
        }
    }
}
