using PatternKit.Foundry;
using PatternKit.Patterns.Pouring;
using static System.FormattableString;

namespace PatternKit.Sheets.Texts;

/// <summary>What is needed between pattern and pour, line by line; the sheet and kit.json have the same lines.</summary>
public static class PourLines
{
    /// <summary>What lifts the cope and what holds it.</summary>
    public static IEnumerable<ReckonedLine> Forces(PourPlan p)
    {
        if (p.Thrust is { } t)
        {
            yield return ReckonedLine.Of("head_mm", "Head: level in the cup above the ingates", "mm", p.Head_mm);
            yield return ReckonedLine.Of("metal_kg_m3", "Density of the metal as poured", "kg/m³", p.Metal_kg_m3);
            yield return new("thrust_N", "Thrust on the joint, from the side", t.Metal_N, "N", "ρ g ∫ depth below the level dA over casting, sprue, runner and ingates at the joint", "law of hydrostatics");
            yield return new("thrust_depth_mm", "It acts at a depth below the level of", t.Centre_mm, "mm", "∫ h² dA over ∫ h dA", "law of hydrostatics");
            yield return new("deepest_kPa", "Pressure at the lowest place", t.Deepest_kPa, "kPa", "ρ g h", "law of hydrostatics");
            yield return ReckonedLine.Of("hold_factor", "Held so many times", "", t.Factor);
            yield return new("clamps_N", "All clamps together have to hold", t.Clamps_N, "N", "factor × thrust: no weight of sand or flask acts against it", "");
            if (p.Board is not { } board) yield break;
            yield return new("board_span_mm", "Backing boards span, from clamp to clamp", board.Span_mm, "mm", "the inside of the flask, from one upright side to the other", "");
            yield return new("board_load_kPa", "They are loaded with", board.Load_kPa, "kPa", "factor × pressure at the lowest place, taken over the whole face", "");
            yield return ReckonedLine.Of("board_stress_MPa", "Softwood bears in bending", "MPa", board.Stress_MPa);
            yield return new("board_mm", "Boards are at least as thick as", board.Thick_mm, "mm", "t = L √(3 p / (4 σ)): beam on two supports, moment p L²/8, section modulus t²/6", "law of bending");
            yield break;
        }

        var (b, lift) = (p.Balance!, p.Lift!);
        double Newton(double mm3) => CopeBalance.PressureLift_N(mm3, p.Metal_kg_m3.Value);
        yield return ReckonedLine.Of("head_mm", "Head: level in the basin above the joint", "mm", p.Head_mm);
        yield return ReckonedLine.Of("metal_kg_m3", "Density of the metal as poured", "kg/m³", p.Metal_kg_m3);
        yield return new("plan_mm2", "Plan of casting, runner and ingates", lift.Plan_mm2, "mm²", "", "");
        yield return new("casting_N", "Lift over the casting", Newton(lift.Casting_mm3), "N", "ρ g ∫ (level − height of the roof) over the plan, facet by facet; the feet of open feeders, over which there is no sand, left out", "law of hydrostatics");
        yield return new("bars_N", "Lift over runner and ingates in the cope", Newton(lift.Bars_mm3), "N", "the same, over the facets of the bars, the foot of the sprue left out", "law of hydrostatics");
        yield return new("covered_N", "Lift over what lies in the drag under the flat face of the cope", Newton(lift.Covered_mm3), "N", "ρ g head × plan", "law of hydrostatics");
        yield return new("cores_N", "Lift of cores that the cope holds down", b.Cores_N, "N", "V (ρ metal − ρ core) g of what lies in the metal, as if metal got under the core", "Groover");
        yield return new("lift_N", "Lift in all", b.Lift_N, "N", "", "");
        yield return new("sand_N", "Weight of the cope’s sand", b.Sand_N, "N", Invariant($"{p.Flask.Inside.X_mm:0} × {p.Flask.Inside.Y_mm:0} mm, {p.Sand.CopeDepth_mm:0} mm deep, patterns and bars taken out"), "");
        yield return new("flask_N", "Weight of its flask", b.Flask_N, "N", p.Flask.Owned?.Cope_kg is null ? "not known: give cope_kg in shop.toml ([[flask]])" : "given in shop.toml", "");
        yield return new("net_N", "Lift that neither holds", Math.Max(0, b.Net_N), "N", "", "");
        yield return ReckonedLine.Of("hold_factor", "Held so many times", "", b.Factor);
        yield return new("added_N", "Clamps have to add", b.Added_N, "N", "factor × lift − sand − flask", "");
        yield return new("weights_kg", "or weights to lay on", b.Weights_kg, "kg", "the same over g", "");
    }

    /// <summary>The flask and its sand.</summary>
    public static IEnumerable<ReckonedLine> Flask(PourPlan p)
    {
        var (f, s) = (p.Flask, p.Sand);
        yield return ReckonedLine.Of("wall_mm", "Sand to the wall of the flask", "mm", f.Wall_mm);
        yield return ReckonedLine.Of("above_mm", "Sand above the casting", "mm", f.Above_mm);
        yield return ReckonedLine.Of("below_mm", "Sand below it", "mm", f.Below_mm);
        yield return new("least_x_mm", "Least inside size along x", f.Length_mm, "mm", "patterns, prints and bars, and sand on both sides", "");
        yield return new("least_y_mm", "Least inside size along y", f.Width_mm, "mm", "the same", "");
        yield return new("least_cope_mm", "Least depth of the cope", f.Cope_mm, "mm", "the head, or the casting and sand above it", "");
        yield return new("least_drag_mm", "Least depth of the drag", f.Drag_mm, "mm", "what lies deepest and sand below it", "");
        yield return new("inside_x_mm", "Taken: inside size along x", f.Inside.X_mm, "mm", Taken(f), "");
        yield return new("inside_y_mm", "Taken: inside size along y", f.Inside.Y_mm, "mm", "", "");
        yield return new("cope_mm", "Taken: depth of the cope", f.TakenCope_mm, "mm", "", "");
        yield return new("drag_mm", "Taken: depth of the drag", f.TakenDrag_mm, "mm", "", "");
        yield return new("cope_sand_mm", "Sand stands in the cope", s.CopeDepth_mm, "mm", f.TakenCope_mm > s.CopeDepth_mm + 0.01 ? "no higher than the basin: the flask is deeper; fill it only so far, or give a higher head" : "to its edge", "");
        yield return new("cope_sand_kg", "Sand in the cope", s.Cope_kg, "kg", "less patterns, bars and sprue", "");
        yield return new("drag_sand_kg", "Sand in the drag", s.Drag_kg, "kg", "less patterns and bars", "");
        yield return new("sand_kg", "Moulding sand in all", s.Total_kg, "kg", Invariant($"rammed, {s.Density_kg_m3.Value:0} kg/m³"), s.Density_kg_m3.From.Text);
        yield return new("loose_litre", "The same as shovelled", s.Loose_litre, "l", Invariant($"{s.Loose_kg_m3.Value:0} kg/m³"), s.Loose_kg_m3.From.Text);
        yield return ReckonedLine.Of("facing_mm", "Facing sand, thickness", "mm", s.Facing_mm);
        yield return new("facing_kg", "Facing sand", s.Facing_kg, "kg", Invariant($"on {s.Skin_mm2 / 100:0} cm² of pattern"), "");
        yield return new("backing_kg", "Backing sand", s.Backing_kg, "kg", "the rest", "");
        yield return new("core_sand_kg", "Core sand", s.Core_kg, "kg", "", "");
    }

    /// <summary>Crucible and hands.</summary>
    public static IEnumerable<ReckonedLine> Melt(PourPlan p)
    {
        var m = p.Melt;
        yield return new("melt_kg", "Metal to melt", m.Metal.Melt_kg, "kg", m.Metal.Rule, m.Metal.Source);
        yield return new("liquid_litre", "Volume of the melt", m.Liquid_litre, "l", "over the density of the metal as poured", "");
        yield return new("crucible_litre", m.Crucible is { } c ? $"The crucible “{c.Name}” takes" : m.Listed == 0 ? "Crucible" : "The largest crucible listed takes", m.Useful_litre?.Value ?? double.NaN, "l",
            m.Useful_litre?.Rule ?? "none is listed in shop.toml ([[crucible]]), so that none is checked", m.Useful_litre?.Source ?? "");
        yield return ReckonedLine.Of("lift_limit_kg", "Most metal that one person lifts", "kg", m.Lift_kg);
    }

    /// <summary>Vents.</summary>
    public static IEnumerable<ReckonedLine> Vents(PourPlan p)
    {
        var v = p.Vents;
        yield return p.Thrust is null
            ? new("pricked", "Vents to prick through the cope", v.Pricked.Length, "", "the high places of the cope, then the places farthest from the ingates", "")
            : new("pricked", "Vents to scratch into the joint", v.Pricked.Length, "", "from the high places of the outline up to the edge of the flask", "");
        yield return ReckonedLine.Of("wire_mm", "Wire", "mm", v.Wire_mm);
        yield return ReckonedLine.Of("spacing_mm", "Farthest from a vent", "mm", v.Spacing_mm);
        yield return ReckonedLine.Of("short_mm", "Stop short of the cavity by", "mm", v.Short_mm);
        if (v.Feeders_mm2 > 0) yield return new("feeders_mm2", "Open feeders are vents, too, with", v.Feeders_mm2, "mm²", "at their feet, where they are narrowest", "");
        yield return new("area_mm2", v.Feeders_mm2 > 0 ? "Area of vents and feeders" : "Area of all", v.Area_mm2, "mm²", v.Choke_mm2 > 0 ? Invariant($"the choke has {v.Choke_mm2:0.#} mm²") : "the choke is not known", "");
    }

    /// <summary>After the pour.</summary>
    public static IEnumerable<ReckonedLine> ShakeOut(PourPlan p)
    {
        yield return new("section_mm", "Thickest section", p.ShakeOut.Section_mm, "mm", "the largest ball that fits into the metal, found on the cells that filling is reckoned on", "");
        if (p.ShakeOut.Solid_s is { } solid) yield return ReckonedLine.Of("solid_s", "Solid at the latest after", "s", solid);
        yield return ReckonedLine.Of("wait_minutes", "Leave in the sand", "min", p.ShakeOut.Wait_minutes);
    }

    private static string Taken(FlaskPlan f) => f.Owned is { } owned ? $"“{owned.Name}”, the smallest of the shop’s that does{(f.IsTurned ? ", its length along y" : "")}"
        : f.Listed == 0 ? "no flask is listed in shop.toml ([[flask]]): the least is taken" : "none of the shop’s does: the least is taken";
}
