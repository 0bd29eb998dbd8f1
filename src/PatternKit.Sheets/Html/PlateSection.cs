using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The plates that the patterns stand on: sizes, holes, how they are put together.</summary>
internal static class PlateSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.Plate is not { } plate) return null;
        var boards = plate.Bodies.Length > 1 ? "Each half of the mould has a plate of its own: ram cope and drag separately, each on its plate." : "All patterns stand on one face; ram the other half of the mould on a flat board.";
        return Tag("section", Set("aria-labelledby", "plate"),
            Tag("h2", Set("id", "plate"), plate.IsBackToBack ? "Match plate" : "Pattern plates"),
            Tag("p", plate.IsBackToBack
                ? "Join both halves back to back on their dowels: the cope’s pattern then stands on one face, the drag’s on the other. The plate goes between cope and drag flask; runner and ingates are on it, the sprue is set by hand."
                : $"{boards} Runner and ingates are on the plates, the sprue is set by hand."),
            Table("Plate", ["What", "#Value"],
            [
                ["Length × width", $"{numbers.Length(plate.Size_mm.X)} × {numbers.Length(plate.Size_mm.Y)}"],
                [plate.IsBackToBack ? "Thickness of each half" : "Thickness", numbers.Length(plate.Thickness_mm)],
                ["Fillets to its face", plate.Fillet_mm == 0 ? "none" : $"R {numbers.Length(plate.Fillet_mm)}"],
                ["Middle of the plate, pattern coordinates", $"{numbers.Length((plate.Low_mm.X + plate.High_mm.X) / 2)}, {numbers.Length((plate.Low_mm.Y + plate.High_mm.Y) / 2)}"],
            ]),
            plate.Fillet_mm == 0 ? null : Tag("p", "The fillets leave a small ridge along the joint of the casting: dress it off with the flash."),
            plate.Pins.IsEmpty
                ? Tag("p", "No pins of the flask are given: fix the plate to the flask by its edges, or give [plate] pins.")
                : Table("Holes for the pins of the flask, from the middle of the plate, seen from above", ["Pin", "#x", "#y", "#Pin diameter", "#Hole diameter"],
                    plate.Pins.Select((p, i) => new object?[] { $"{i + 1}", numbers.Length(p.FromMiddle_mm.X), numbers.Length(p.FromMiddle_mm.Y), numbers.Length(p.Diameter_mm), numbers.Length(p.Hole_mm) })),
            plate.Dowels.IsEmpty ? null : Table("Dowel holes in the backs of both halves, places in pattern coordinates", ["Dowel", "#x", "#y", "#Dowel diameter", "#Hole diameter", "#Depth in each half"],
                plate.Dowels.Select((d, i) => new object?[]
                {
                    PartingPlan.DowelName(i), numbers.Length(d.At_mm.X), numbers.Length(d.At_mm.Y), numbers.Length(d.Diameter_mm), numbers.Length(d.Hole_mm), numbers.Length(d.Depth_mm),
                })));
    }
}
