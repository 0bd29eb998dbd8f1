using PatternKit.Foundry;
using PatternKit.Patterns.Gating;

namespace PatternKit.Sheets.Texts;

/// <summary>The gating reckoning line by line, in the order in which it is reckoned; the sheet, kit.json and the command line print the same lines.</summary>
public static class GatingLines
{
    /// <summary>All figures.</summary>
    public static IEnumerable<ReckonedLine> Of(GatingPlan gating)
    {
        var r = gating.Reckoning;
        yield return new("casting_kg", "The raw casting", r.Input.Casting_kg, "kg", "", "");
        yield return new("feeders_kg", "What feeders hold", r.Feeders_kg, "kg", "", "");
        yield return new("through_kg", "Liquid that passes the choke", r.Fills_kg, "kg", "what fills casting and feeders in the mould; feeders run full through the choke, the higher in them the slower", "continuity");
        yield return new("mean_wall_mm", "Mean wall", r.Input.MeanWall_mm, "mm", "twice volume over cooling surface of the pattern", "plate of equal modulus");
        yield return new("height_mm", "Height of the casting", r.Input.Height_mm, "mm", "", "");
        var from = gating.Position.IsOnEdge || gating.Position.Gate_mm < gating.Joint_mm ? "ingates" : "joint";
        yield return new("above_joint_mm", $"Of it above the {from}", r.Input.AboveJoint_mm, "mm", "", "");
        yield return ReckonedLine.Of("liquid_density_kg_m3", "Density of the liquid", "kg/m³", r.LiquidDensity_kg_m3);
        yield return ReckonedLine.Of("pour_time_by_rule_s", "Pour time by the law of the metal", "s", r.PourTimeByRule_s);
        yield return ReckonedLine.Of("hand_rate_kg_s", "Most that one person can pour", "kg/s", r.HandRate_kg_s);
        yield return ReckonedLine.Of("pour_time_s", "Pour time aimed at", "s", r.PourTime_s);
        yield return ReckonedLine.Of("head_mm", $"Head: level in the basin above the {from}", "mm", r.Head_mm);
        yield return ReckonedLine.Of("effective_head_mm", "Effective head", "mm", r.EffectiveHead_mm);
        if (r.Feeders_kg > 0) yield return new("casting_head_mm", "The same while the casting fills, feeders left out", r.CastingHead_mm, "mm", "", "");
        yield return new("effective_head_simple_mm", "The same in the simple form, not used", r.EffectiveHeadSimple_mm, "mm", "H = h − p²/(2c)", "handbooks");
        yield return ReckonedLine.Of("discharge", "Coefficient of discharge", "", r.Discharge);
        yield return ReckonedLine.Of("choke_by_time_mm2", "Choke by the pour time", "mm²", r.ChokeByTime_mm2);
        yield return ReckonedLine.Of("least_choke_mm2", "Least choke", "mm²", r.LeastChoke_mm2);
        yield return ReckonedLine.Of("choke_mm2", "Choke taken", "mm²", r.Choke_mm2);
        yield return new("fill_time_s", "The mould then fills in", r.FillTime_s, "s", "", "");
        yield return new("rate_kg_s", "Mean pouring rate while the casting fills", r.Rate_kg_s, "kg/s", "", "");
        yield return ReckonedLine.Of("ingate_velocity_limit_m_s", "Fastest metal at the ingates", "m/s", r.IngateVelocityLimit_m_s);
        yield return new("ingate_velocity_m_s", "Speed at the ingates under the full head", r.IngateVelocity_m_s, "m/s", "", "");
        yield return new("sprue_base_mm2", "Sprue, area at its foot", r.SprueBase_mm2, "mm²", "", "");
        yield return new("sprue_base_diameter_mm", "Sprue, diameter at its foot", Flow.Diameter_mm(r.SprueBase_mm2), "mm", "", "");
        yield return new("sprue_base_head_mm", "Level in the basin above its foot", r.SprueBaseHead_mm, "mm", "", "");
        yield return ReckonedLine.Of("basin_depth_mm", "Depth of the basin", "mm", r.BasinDepth_mm);
        yield return ReckonedLine.Of("sprue_top_mm2", "Sprue, area at its top", "mm²", r.SprueTop_mm2);
        yield return new("sprue_top_diameter_mm", "Sprue, diameter at its top", Flow.Diameter_mm(r.SprueTop_mm2.Value), "mm", "", "");
        yield return ReckonedLine.Of("basin_width_mm", "Width of the basin at its rim", "mm", r.BasinWidth_mm);
        yield return new("runner_mm2", "Runner, section", r.Runner.Value.Area_mm2, "mm²", r.Runner.Rule, r.Runner.Source);
        yield return new("runner_depth_mm", "Runner, depth", r.Runner.Value.Depth_mm, "mm", "", "");
        yield return new("runner_width_mm", "Runner, mean width", r.Runner.Value.MeanWidth_mm, "mm", "", "");
        var each = r.Unlike.IsEmpty ? "Each ingate" : "Smallest ingate";
        yield return new("ingate_mm2", $"{each}, section", r.Ingate.Value.Area_mm2, "mm²", r.Ingate.Rule, r.Ingate.Source);
        yield return new("ingate_depth_mm", $"{each}, depth", r.Ingate.Value.Depth_mm, "mm", "", "");
        yield return new("ingate_width_mm", $"{each}, mean width", r.Ingate.Value.MeanWidth_mm, "mm", "", "");
        for (var i = 0; i < r.Unlike.Length; i++)
        {
            var (number, section) = (SheetNumbers.Whole(i + 1), r.Unlike[i]);
            yield return new($"ingate_{number}_mm2", $"Ingate {number}, section", section.Area_mm2, "mm²", $"{SheetNumbers.Fixed(100 * r.Input.Share(i), 1)} % of all, as its casting takes of the metal", "continuity: all castings full at once");
            yield return new($"ingate_{number}_depth_mm", $"Ingate {number}, depth", section.Depth_mm, "mm", "", "");
            yield return new($"ingate_{number}_width_mm", $"Ingate {number}, mean width", section.MeanWidth_mm, "mm", "", "");
        }

        yield return ReckonedLine.Of("well_mm2", "Well, plan area half way down", "mm²", r.Well_mm2);
        yield return ReckonedLine.Of("well_depth_mm", "Well, depth below the joint", "mm", r.WellDepth_mm);
        yield return ReckonedLine.Of("runner_clearance_mm", "Sand between runner and casting", "mm", gating.Clearance_mm);
        yield return new("gating_kg", "Metal in the gating, feeders included", gating.Metal.Gating_kg, "kg", "", "");
        yield return new("poured_kg", "Metal that fills the mould", gating.Metal.Poured_kg, "kg", "", "");
        yield return new("yield_percent", "Yield: casting over what is poured", 100 * gating.Metal.Yield, "%", "", "");
        yield return new("melt_kg", "Metal to melt", gating.Metal.Melt_kg, "kg", gating.Metal.Rule, gating.Metal.Source);
    }

    /// <summary>Rules of what is not a single figure: the ratios and the number of ingates, which is their value.</summary>
    public static IEnumerable<ReckonedLine> Counts(GatingPlan gating)
    {
        var r = gating.Reckoning;
        yield return new("ratio_by_rule", $"Sprue base : runner : ingates, {r.Ratio.Value}", double.NaN, "", r.Ratio.Rule, r.Ratio.Source);
        yield return new("ratio", $"The same as taken, {Rounded(r.RatioTaken.Value)}", double.NaN, "", r.RatioTaken.Rule, r.RatioTaken.Source);
        if (gating.Position.IsOnEdge) yield return new("up", $"The mould stands on edge, {gating.Position.UpWord} up", double.NaN, "", gating.Position.Why, "");
        yield return new("ingates", "Ingates", gating.Count.Value, "", gating.Count.Rule, gating.Count.Source);
    }

    private static GatingRatio Rounded(GatingRatio r) => new(Math.Round(r.Sprue, 2), Math.Round(r.Runner, 2), Math.Round(r.Ingates, 2));
}
