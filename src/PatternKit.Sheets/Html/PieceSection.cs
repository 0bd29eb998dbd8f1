using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>Bodies that are printed in pieces: where they are cut, and how the pieces are joined.</summary>
internal static class PieceSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.Cut.IsEmpty) return null;
        return Tag("section", Set("aria-labelledby", "pieces"),
            Tag("h2", Set("id", "pieces"), "Bodies in pieces"),
            Tag("p", "The printer’s bed does not take these bodies whole. They are cut square to the joint; each piece is printed as the whole would be. Places are those in plan, seen from above: left to right along x, front to back along y"
                + (kit.Cores.Any(c => !c.Box.Cut.IsEmpty) ? "; those of a core box lie along its core, half a seen from its back, and are measured in the core’s own frame." : ".")),
            kit.Cut.Select(c => Body(kit, c, numbers)),
            Tag("h3", "Join the pieces"),
            Tag("p", Classed("span", "practice", "common practice"), " Not reckoned for this part."),
            Tag("ol",
                Tag("li", "Trim the first layer at all edges. Lay a flat board out with paper that does not stick, and set the pieces on it with their flat faces down, beginning at one corner: every dovetail goes into its socket from above, straight along the draw. Try it dry; where it binds, scrape its flanks, do not force it."),
                Tag("li", "Take them apart, put glue on both faces of every cut (two-part epoxy; for plates also screws from the back into a board), join them again, wipe off what comes out, and weight them flat until it is hard. Glue only in fresh air, with gloves."),
                kit.Cut.Any(c => c.Plan.Cuts.Any(l => l.Tails.IsEmpty)) ? Tag("li", "A cut without dovetails has plain faces: line the pieces up along a straight edge.") : null,
                kit.Plate is { IsBackToBack: true } ? Tag("li", "Join the pieces of each half of the plate first; then both halves back to back. Where room was, the seams of one lie off those of the other, so that each half holds the other together.") : null,
                Tag("li", "Fill the seams that the sand meets, and sand them along the draw: a groove holds sand as an undercut does. Check the joint face with a straight edge.")));
    }

    private static object?[] Body(Kit kit, CutBody cut, SheetNumbers numbers)
    {
        var tails = cut.Plan.Cuts.SelectMany(c => c.Tails).ToArray();
        return
        [
            Tag("h3", cut.Whole.Name),
            CutFigure.Make(kit, cut, numbers),
            Table($"Pieces of {cut.Whole.Name}", ["Piece", "File", "#Size x × y × z as printed", "#Volume"], cut.Pieces.Select((p, i) => new object?[]
            {
                $"{SheetNumbers.Whole(i + 1)}, {cut.PlaceOf(p)}", Tag("code", p.FileName), numbers.Size(p.AsPrinted.Bounds().Size), numbers.Volume(p.AsPrinted.Volume()),
            })),
            Table($"Cuts of {cut.Whole.Name}", ["Cut", "#Place", "#Dovetails", "#Neck", "#Reach"], cut.Plan.Cuts.Select((c, i) => new object?[]
            {
                $"{SheetNumbers.Whole(i + 1)}, across {(c.IsAcrossX ? "x" : "y")}", numbers.Length(c.At), SheetNumbers.Whole(c.Tails.Length),
                c.Tails.IsEmpty ? "" : numbers.Length(c.Tails[0].Neck), c.Tails.IsEmpty ? "" : numbers.Length(c.Tails[0].Depth),
            })),
            Tag("p", $"Between the faces of two pieces {numbers.Length(cut.Plan.Gap_mm)} are left everywhere{(tails.Length == 0 ? "" : ", also round the dovetails")}."),
        ];
    }
}
