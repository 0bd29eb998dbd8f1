using System.Xml.Linq;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>Which sections are fed as they freeze, by what, and what is done about the others.</summary>
internal static class FeedingSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers) => kit.Feeding is not { } feeding ? null
        : Tag("section", Set("aria-labelledby", "feeding"),
            Tag("h2", Set("id", "feeding"), "Feeding"),
            Tag("p", FeedingLines.Verdict(feeding)),
            Sections(feeding, numbers), Figures(feeding, numbers), Setting(feeding));

    private static XElement? Sections(FeedingPlan feeding, SheetNumbers numbers) => feeding.Sections.IsEmpty
        ? null
        : Table("Sections that freeze after all around them, the last first", ["Middle of the section", "#Modulus in the mould", "#Of the walls beside it", "#Lacks when solid", "#Feeder by modulus", "#By volume", "#Neck at least", "#Foot as made", "#Or a chill of iron", "#Or a taper to", "What becomes of it"],
            feeding.Sections.Select((s, i) => new object?[]
            {
                s.CutOnJoint.IsEmpty ? numbers.Place(s.At_mm) : $"F{SheetNumbers.Whole(i + 1)}: {numbers.Place(s.At_mm)}", numbers.Length(s.Modulus_mm), s.Beside_mm is { } beside ? numbers.Length(beside) : "–", numbers.Volume(s.Lacks_mm3),
                s.Size is { } a ? numbers.Length(a.ByModulus_mm, 1) : "–", s.Size is { } b ? numbers.Length(b.ByVolume_mm, 1) : "–", s.Size is { } c ? numbers.Length(c.Neck_mm, 1) : "–",
                s.Foot_mm is { } foot ? numbers.Length(foot, 1) : "–",
                s.Chill is { } chill ? new object[] { numbers.Length(chill.Face_mm, 1), " square, ", numbers.Length(chill.Thick_mm, 1), " thick" } : "–",
                s.Taper is { } taper ? new object[] { numbers.Length(taper.Root_mm, 1), " over ", numbers.Length(taper.Length_mm, 1) } : "–", FeedingLines.Fate(s).Replace(" mm", "\u00A0mm", StringComparison.Ordinal),
            }));

    private static XElement Figures(FeedingPlan feeding, SheetNumbers numbers) =>
        ReckonedTable.Make("From moduli and shrinkage to diameters", FeedingLines.Of(feeding), numbers);

    private static XElement Setting(FeedingPlan feeding) => Tag("div",
        Tag("p", Classed("span", "practice", "common practice"), " Feeders are a guide: the order of freezing is surer than its times, and one casting cut through tells more."),
        Tag("ul",
            feeding.Bodies.Any()
                ? new[]
                {
                    Tag("li", "Stand each feeder on its place on the cope pattern as the cope is rammed, wide end up, and draw it out of the top before the flask is opened; round the edge at its neck. It is open: it vents the mould, and the metal in it stands as high as in the basin."),
                    Tag("li", "Cover open feeders with dry ash or an exothermic powder made for it once the mould is full, and top up with hot metal while they are liquid; keep back, they may spit. Saw them off when the casting is cold, never knock at one that may be liquid inside."),
                }
                : null,
            feeding.IsLongRange ? Tag("li", "This metal freezes over a long range: pores spread all along a section, and a feeder helps only near by. Let walls taper towards it, use several small ones, pour no hotter than it runs.") : null,
            Tag("li", "Where there is no feeder: thin sections are gated hot and taper towards the gate; thick ones may be cored, or chilled by a piece of iron of about their own thickness against them in the sand. A chill must be dry, clean and warm: moisture or rust on it explodes or blows.")));
}
