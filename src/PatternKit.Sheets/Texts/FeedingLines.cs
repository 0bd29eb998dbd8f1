using PatternKit.Foundry;
using PatternKit.Patterns.Feeding;
using static System.FormattableString;

namespace PatternKit.Sheets.Texts;

/// <summary>How the casting is fed, line by line; the sheet, kit.json and the command line print the same lines.</summary>
public static class FeedingLines
{
    /// <summary>What all feeders are reckoned with.</summary>
    public static IEnumerable<ReckonedLine> Of(FeedingPlan feeding)
    {
        var t = feeding.Table;
        yield return ReckonedLine.Of("stands_out_times", "A section is fed from this many times the modulus of the walls that it borders", "", t.StandsOut);
        yield return ReckonedLine.Of("beside_share", "Walls count from this share of its volume", "", t.BesideShare);
        yield return ReckonedLine.Of("thick_mm", "Sections as thick as this are fed anyhow", "mm", t.Thick_mm);
        yield return ReckonedLine.Of("thin_mm", "Thinner sections are not fed", "mm", t.Thin_mm);
        yield return ReckonedLine.Of("least_void_mm3", "Smaller hollows are left", "mm³", t.LeastVoid_mm3);
        yield return ReckonedLine.Of("shrinkage_percent", "Shrinks on freezing", "%", feeding.Shrinkage_percent);
        yield return new("feeder_modulus_times", "Modulus of a feeder over that of its section", t.Moduli.Feeder, "", "its foot does not cool, its top does: DH / (4H + D)", t.Moduli.From.Text);
        yield return new("neck_modulus_times", "The same of its neck", t.Moduli.Neck, "", "a quarter of its diameter, as of a long bar: short and hot, it lasts longer", t.Moduli.From.Text);
        yield return new("ingate_modulus_mm", "Modulus of an ingate", feeding.Gate.Ingate_mm, "mm", "of a long bar", "");
        yield return new("fed_by_gate_mm", "A section of this modulus would be fed by its gate alone", feeding.Gate.Feeds_mm(t.Moduli), "mm", "the ingate as its neck, runner and foot of the sprue as its feeder; thicker ones are fed that way only until the ingate is frozen", t.Moduli.From.Text);
        yield return ReckonedLine.Of("other_wall_times", "Metal that is so many times thinner is no longer of a section", "", t.OtherWall);
        yield return ReckonedLine.Of("efficiency_percent", "Of its metal a feeder gives up", "%", t.Efficiency_percent, "volume at least α V / (η − α); the larger of both diameters is taken");
        yield return ReckonedLine.Of("feeder_height_diameters", "Height of a feeder that counts, in diameters", "", t.Height_diameters);
        yield return ReckonedLine.Of("most_feeders", "Most feeders on one section of a metal that freezes over a long range", "", t.MostFeeders);
        yield return new("chill_heat_J_kgK", "Specific heat of a chill of iron", t.Chill.Heat_J_kgK, "J/kgK", Chill.Rule, t.Chill.From.Text);
        yield return new("chill_rise_C", "It gets warmer by", t.Chill.Rise_C, "°C", "", t.Chill.From.Text);
        yield return ReckonedLine.Of("taper_step_times", "A wall that tapers gets thicker over each feeding distance by", "", t.TaperStep, "s = t (1 + g)^(L / D)");
        if (feeding.Distance_walls is { } d)
            yield return new("feeding_distance_walls", "It feeds along a wall by so many thicknesses of it", d.Value, "", "where the wall ends in sand", d.From.Text);
    }

    /// <summary>What becomes of a section, in words.</summary>
    public static string Fate(FedSection section) => section.Fate switch
    {
        FeedingFate.Fed => Invariant($"{section.Why} stands on it{(section.Sharing > 1 ? $", one of {section.Sharing} that share a section, since the metal freezes over a long range" : "")}"),
        FeedingFate.ByHand => $"a feeder by hand: {section.Why}",
        FeedingFate.Left => $"left: {section.Why}",
        FeedingFate.Thin => $"not fed: {section.Why}",
        _ => $"no feeder: {section.Why}",
    };

    /// <summary>What would do in place of a feeder, in words; empty where nothing is reckoned.</summary>
    public static string Instead(FedSection section) =>
        (section.Chill is { } c ? Invariant($"; or a chill of iron {c.Face_mm:0.#} mm square, {c.Thick_mm:0.#} mm thick, {c.Mass_kg:0.00} kg") : "")
        + (section.Taper is { } t ? Invariant($"; or a taper to {t.Root_mm:0.#} mm over {t.Length_mm:0} mm") : "");

    /// <summary>How the whole casting stands, in a sentence.</summary>
    public static string Verdict(FeedingPlan feeding) =>
        feeding.Shrinkage_percent.Value <= 0 ? "This metal expands as it freezes: in a mould that is rammed hard it needs no feeder; in a soft one it swells and then draws."
        : feeding.Bodies.Count() is > 0 and var n ? n == 1 ? "One section is fed by a feeder of its own." : feeding.Sections.Any(s => s.Sharing > 1) ? Invariant($"{n} feeders stand on what freezes last, several small ones on a section that one would not feed to its ends.") : Invariant($"{n} sections are fed by feeders of their own.")
        : feeding.Sections.Count(s => s.Fate == FeedingFate.ByHand) is > 0 and var hand ? hand == 1 ? "One section is fed by a feeder that is cut by hand." : Invariant($"{hand} sections are fed by feeders that are cut by hand.")
        : feeding.Sections.Any(s => s.Fate is FeedingFate.NoPlace or FeedingFate.NotWanted) ? "What freezes last has no feeder; see why below."
        : "No section asks for a feeder.";
}
