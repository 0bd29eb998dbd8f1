using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>How the metal gets into the mould: the reckoning, the bars, how they are set, and what can hurt.</summary>
internal static class GatingSection
{
    public static XElement Make(Kit kit, SheetNumbers numbers) =>
        Tag("section", Set("aria-labelledby", "gating"),
            Tag("h2", Set("id", "gating"), "Gating"),
            kit.Gating is { } gating
                ? new object?[] { Reckoning(gating, numbers), Bars(gating, numbers), Drawings(kit, gating, numbers), Setting(gating) }
                : Tag("p", "The job wants no gating: sprue, runner and ingates are yours to cut."));

    private static XElement Reckoning(Patterns.Gating.GatingPlan gating, SheetNumbers numbers) =>
        ReckonedTable.Of("From weight and wall to areas, in the order of the reckoning; areas are those that the metal runs through",
        [
            .. GatingLines.Of(gating).Select(l => ReckonedTable.Row(l, numbers.WithUnit(ReckonedTable.Rounded(l), l.Unit))),
            .. GatingLines.Counts(gating).Select(l => ReckonedTable.Row(l, double.IsNaN(l.Value) ? "" : SheetNumbers.Short(l.Value))),
        ]);

    private static XElement? Bars(Patterns.Gating.GatingPlan gating, SheetNumbers numbers) => gating.Bars.IsEmpty
        ? null
        : Table("Gating bars; sections measured on the files", ["Bar", "Lies in the", "#Size as printed", "#Sections, measured and reckoned"],
            gating.Bars.Select(b => new object?[]
            {
                Tag("code", b.Body.FileName), b.Body.Half == MouldHalf.Cope ? "cope" : "drag", numbers.Size(b.Body.AsPrinted.Bounds().Size),
                string.Join("; ", b.Cuts.Select(c => $"{c.Name} {numbers.Figure(c.Region.Area, "mm²", 1)}, reckoned {numbers.Figure(c.Reckoned_mm2, "mm²", 1)}")),
            }));

    // Drawing is most of the work: all at once.
    private static IEnumerable<XElement> Drawings(Kit kit, Patterns.Gating.GatingPlan gating, SheetNumbers numbers) => BarDrawing.Distinct(gating.Bars)
        .Select(alike => (Names: string.Join(", ", alike.Select(b => b.Body.Name)), Drawn: Task.Run(() => BarDrawing.Draw(kit, alike, numbers)))).ToArray()
        .Select(d => Tag("figure", FigureBox($"Gating: {d.Names}", d.Drawn.GetAwaiter().GetResult()), Tag("figcaption", $"{d.Names} as printed; lettered sections are those of the table, with the areas measured.")));

    private static XElement Setting(Patterns.Gating.GatingPlan gating) => Tag("div",
        Tag("p", Classed("span", "practice", "common practice"), " The bars are made to the areas reckoned; contraction and rapping are not put on them. They are loose: layout.dxf shows where they lie."),
        Tag("ul",
            Tag("li", gating.Position.IsOnEdge
                ? $"The mould stands on edge, {gating.Position.UpWord} up ({gating.Position.Why}). All bars lie on the joint: the runner below the casting, the ingates and the sprue over it in the other half; open the cup at the upper edge into both halves. Ram and close the mould lying, clamp it between boards, then stand it up."
                : gating.Reckoning.Input.RunnerInCope
                ? "Ingates in the drag, runner across their outer ends in the cope, the sprue on the runner, the well in the drag under it."
                : "Ingates in the cope, runner with its well across their outer ends in the drag, the sprue in the cope over the well."),
            Tag("li", "The ingates butt against the foot of the pattern. Fill the wedge that draft leaves above with wax, and round every edge of sand that the metal passes: a sharp one washes away."),
            gating.Position.IsOnEdge ? Tag("li", "Draw the sprue with the other bars before the mould is closed. Blow all ways clear of loose sand.") : Tag("li", "Set the sprue wide end up and draw it out of the top of the cope before the flask is opened. Blow all ways clear of loose sand."),
            Tag("li", "Keep the basin full from the first moment to the last, without a break; stop when the metal stands in it. Have the mould weighted or clamped, dry sand under it, and more metal ready than the mould takes."),
            Tag("li", "Pouring rate, floor of the choke and ingate speed are guides. Where you doubt them, or pour more than you can carry safely, ask licensed practice; local codes come first.")));
}
