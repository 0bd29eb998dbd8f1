using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>Between pattern and pour: what holds the cope, flask and sand, the melt, vents, and the wait after.</summary>
internal static class PouringSection
{
    public static IEnumerable<XElement> Make(Kit kit, SheetNumbers numbers) => kit.Pouring is { } plan
        ? [Forces(kit, plan, numbers), Flask(kit, plan, numbers), Melt(kit, plan, numbers), Vents(plan, numbers), ShakeOut(kit, plan, numbers)]
        : [];

    private static XElement Forces(Kit kit, PourPlan plan, SheetNumbers numbers) => Section("forces", "Forces and weights",
        Lines(plan.Thrust is null ? "What lifts the cope and what holds it, in the order of the reckoning" : "What presses the halves apart, in the order of the reckoning", PourLines.Forces(plan), numbers),
        Tag("p", Tag("strong", plan.Thrust is { } thrust
            ? $"Back both halves with stiff boards over their whole faces, at least {numbers.Length(plan.Board!.Thick_mm, 1)} thick, and clamp them with {numbers.Figure(thrust.Clamps_N, "N", 0)} in all, about {numbers.Length(thrust.Centre_mm, 0)} below the level of the metal."
            : plan.Balance!.Added_N > 0
            ? $"Lay {numbers.Weight(plan.Balance.Weights_kg)} on the cope, or clamp it with {numbers.Figure(plan.Balance.Added_N, "N", 0)} in all."
            : "Sand and flask hold the cope by themselves, with the factor told. A clamp on either side costs nothing.")),
        Tag("ul",
            plan.Thrust is not null ? Tag("li", "A mould on edge runs out at its joint, and low down first: seal the joint all round, put the lowest clamp below the runner, stand the mould in dry sand, and keep clear of both faces and of the joint while it is poured.") :
            Tag("li", "Lay weights across the edges of the flask or on boards, never on the bare sand over the cavity, and clear of basin and vents; set them down before the metal is ready."),
            Tag("li", "The reckoning knows no surge: pour without a jolt, keep clear of the joint, and have dry sand ready for a leak. Where it could hurt someone, local codes and licensed practice come first.")),
        CautionSection.At(kit, "before pouring"));

    private static XElement Flask(Kit kit, PourPlan plan, SheetNumbers numbers)
    {
        return Section("flask", "Flask and sand",
            Lines("The flask and what goes into it", PourLines.Flask(plan), numbers),
            Tag("figure", FigureBox("Plan of the mould", MouldPlan.Draw(kit, plan, numbers)), Tag("figcaption", "Plan of the mould: the inside of the flask, patterns, bars and vents. layout.dxf has it too.")),
            MouldSection.Draw(kit, plan, numbers) is { } section ? Tag("figure", FigureBox("Section of the mould", section), Tag("figcaption", "The rammed mould, cut at B–B of the plan, through the sprue and the middle of the pattern.")) : null);
    }

    private static XElement Melt(Kit kit, PourPlan plan, SheetNumbers numbers) => Section("melt", "Melt",
        Lines("Metal, crucible and hands", PourLines.Melt(plan), numbers),
        CautionSection.At(kit, "melting"));

    private static XElement Vents(PourPlan plan, SheetNumbers numbers) => Section("vents", "Vents",
        Lines(plan.Thrust is null ? "Vents in the cope" : "Vents on the joint", PourLines.Vents(plan), numbers),
        plan.Vents.Vents.IsEmpty ? null : Table(plan.Thrust is null ? "Places in pattern coordinates; depth from the top of the cope’s sand" : "Places in pattern coordinates; depth from the upper edge of the flask", ["Vent", "Where", "#x", "#y", "#Depth of the wire"], plan.Vents.Vents.Select((v, i) => new object?[]
        {
            MouldPlan.Name(i), v.Place switch
            {
                VentPlace.HighPlace => plan.Thrust is null ? "high place of the cope" : "high place of the outline",
                VentPlace.FarEnd => "far from the ingates and the vents before it",
                _ => $"print of {v.Core}: lead its gas out",
            },
            numbers.Length(v.At_mm.X, 1), numbers.Length(v.At_mm.Y, 1), double.IsNaN(v.Depth_mm) ? "–" : numbers.Length(v.Depth_mm, 0),
        })),
        Tag("p", Classed("span", "practice", "common practice"), plan.Thrust is not null
            ? " Scratch them into the face of the joint before the mould is closed, from the places told up to the edge, and stop short of the cavity: metal follows a vent that is open. Light the gas at them."
            : " Prick with the pattern still in the sand, straight down, and feel for it: a vent that breaks through lets metal up. Cover vents until the pour, and light the gas at them."));

    private static XElement ShakeOut(Kit kit, PourPlan plan, SheetNumbers numbers) => Section("shake-out", "After the pour",
        Lines("How long the casting stays in the sand", PourLines.ShakeOut(plan), numbers),
        Tag("p", Classed("span", "practice", "common practice"), " A guide, not a measurement: metal burns, and lights oil in the sand, long after it has gone dark. Thick and uneven castings are better left overnight."),
        CautionSection.At(kit, "shake-out"));

    private static XElement Section(string id, string title, params object?[] content) =>
        Tag("section", Set("aria-labelledby", id), Tag("h2", Set("id", id), title), content);

    // Minutes upward, for nobody waits for a part of one; small masses and volumes finer.
    private static XElement Lines(string caption, IEnumerable<ReckonedLine> lines, SheetNumbers numbers) => ReckonedTable.Make(
        caption, lines, numbers, l => l.Unit == "min" ? Math.Ceiling(l.Value) : ReckonedTable.Rounded(l));
}
