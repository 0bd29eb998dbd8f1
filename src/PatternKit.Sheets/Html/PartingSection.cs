using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parting;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>How the part lies, where it parts, and the plan of the joint.</summary>
internal static class PartingSection
{
    public static XElement Make(Kit kit, SheetNumbers numbers)
    {
        var general = Task.Run(() => GeneralDrawing.Draw(kit, numbers));
        var parting = kit.Parting;
        return Tag("section", Set("aria-labelledby", "parting"),
            Tag("h2", Set("id", "parting"), "Parting"),
            Tag("p", parting.Reason),
            Table("Height of the joint", ["What", "#Value"],
            [
                [parting.Carved is null ? "Joint in the part, job z" : "Joint at the flask, job z", numbers.Length(parting.Height_mm)],
                ["The same in the pattern", numbers.Length(parting.PatternHeight_mm)],
                ["Heights of equal cost, job z", $"{numbers.Length(parting.Low_mm)} to {numbers.Length(parting.High_mm)}"],
                ["Metal added to make it draw, before draft", numbers.Volume(parting.Cost_mm3)],
                ["Widest ledge of one half over the other", numbers.Length(parting.Ledge_mm)],
                .. parting.Carved is { } carved ? Carved(carved, numbers) : [],
            ]),
            general.GetAwaiter().GetResult() is { } drawn ? Tag("figure", FigureBox("General drawing", drawn), Tag("figcaption", "The closed pattern, gating left out. Wide lines are seen edges, dashed ones hidden; A–A is the section below.")) : null,
            Plan(kit, numbers),
            SectionView.Draw(kit, numbers) is { } section ? Tag("figure", FigureBox("Section", section), Tag("figcaption", $"Section of the closed pattern through {SectionPlane.Of(kit).Through}; cope above the joint, drag below{(kit.Cores.IsEmpty ? "" : "; chain lines with two dots are cores where they will lie")}.")) : null,
            kit.Dowels.IsEmpty ? null : Table("Dowel holes, at one place in both halves, places in pattern coordinates",
                ["Dowel", "#x", "#y", "#Dowel diameter", "#Hole diameter", "#Depth in each half"],
                kit.Dowels.Select((d, i) => new object?[]
                {
                    PartingPlan.DowelName(i), numbers.Length(d.At_mm.X), numbers.Length(d.At_mm.Y),
                    numbers.Length(d.Diameter_mm), numbers.Length(d.Hole_mm), numbers.Length(d.Depth_mm),
                })),
            HandlingTables.Make(kit, numbers));
    }

    private static object?[][] Carved(CarvedJoint joint, SheetNumbers numbers) =>
    [
        [$"The {joint.Word} joint goes below the flask's by", numbers.Length(joint.Off.Below_mm)],
        ["And above it by", numbers.Length(joint.Off.Above_mm)],
        ["Steepest slope of the parting line", SheetNumbers.Angle(Math.Atan(joint.Slope))],
        ["Steepest slope of the joint", SheetNumbers.Angle(Math.Atan(joint.Surface.Steepest().Slope))],
        .. joint.Steps is not { } steps ? Array.Empty<object?[]>() :
        [
            ["Levels of the joint, job z", string.Join(", ", steps.Levels_mm.Select(z => numbers.Length(z)))],
            ["Draft of the steps between them", SheetNumbers.Angle(steps.Draft.Value)],
        ],
    ];

    private static XElement? Plan(Kit kit, SheetNumbers numbers)
    {
        if (kit.Plan.CopeOutline.IsEmpty && kit.Plan.DragOutline.IsEmpty) return null;
        var svg = PartingPlan.Draw(kit, numbers);
        return Tag("figure",
            FigureBox("Parting plan", svg),
            Legend(kit),
            Tag("figcaption", "The joint seen from above, pattern sizes. The same plan is in parting.dxf."));
    }

    private static XElement Legend(Kit kit)
    {
        var plan = kit.Plan;
        return Classed("ul", "legend",
            plan.CopeOutline.IsEmpty ? null : Entry("cope-outline", "solid line: outline of the cope half at the joint"),
            plan.DragOutline.IsEmpty ? null : Entry("drag-outline", "heavy dashes: outline of the drag half at the joint"),
            plan.Flats.Any(f => f.Half == MouldHalf.Cope) ? Entry("cope-flat", "thin line: flat grounds of the cope half") : null,
            plan.Flats.Any(f => f.Half == MouldHalf.Drag) ? Entry("drag-flat", "thin dashes: flat grounds of the drag half") : null,
            kit.Dowels.IsEmpty ? null : Tag("li", "circles with crossed centre lines: dowel holes"),
            !kit.Handling.Any(h => h.Screws.Any()) ? null : Tag("li", "S1, S2 …: holes of draw screws, each in one half only, as the table below tells; P1, P2 …: seats of rapping plates around them"),
            plan.Marks.IsEmpty ? null : Tag("li", $"lettering on the joint: {string.Join(", ", plan.Marks.Select(m => $"“{m.Text}” in the {(m.Half == MouldHalf.Cope ? "cope" : "drag")} half"))}{(PartingPlan.ShownMarks(kit).Length < plan.Marks.Length ? "; the drag's, which lies under the cope's, is not drawn" : "")}"));
    }

    private static XElement Entry(string className, string words) =>
        Tag("li", Shape("svg", Set("viewBox", "0 0 12 4"), Set("aria-hidden", "true"),
            Shape("line", Set("class", className), Set("x1", 0), Set("y1", 2), Set("x2", 12), Set("y2", 2))), words);
}
