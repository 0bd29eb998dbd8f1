using System.Xml.Linq;
using PatternKit.Foundry;
using PatternKit.Patterns.Kits;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>How patterns are finished and moulded, in general words; every line is common practice of the trade.</summary>
internal static class PracticeSection
{
    public static XElement Make(Kit kit)
    {
        var (both, carved) = (kit.Plate is null && kit.Bodies.Length > 1, kit.Parting.Carved is not null);
        var (screws, plates) = (kit.Handling.Any(h => h.Screws.Any()), kit.Handling.Any(h => h.Seats.Any()));
        return Tag("section", Set("aria-labelledby", "practice"),
            Tag("h2", Set("id", "practice"), "Finishing and moulding"),
            Tag("p", Classed("span", "practice", "common practice"), " General hints, not reckoned for this part. Your own experience with your sand and printer comes first."),
            Tag("h3", "Finish the pattern"),
            Tag("ul",
                Tag("li", carved
                    ? $"The joint face is {kit.Parting.Carved!.Word}: print each half with supports under it, or on its back, and clean the face until the halves close without a gap."
                    : "Print with the flat face on the bed. Trim any flare of the first layer, or the halves will not close."),
                kit.Plate is { IsBackToBack: true } ? Tag("li", "Glue both halves back to back, dry on their dowels first; clamp them between flat boards.") : null,
                Tag("li", Skin(kit.Job.Pattern.Skin ?? DraftRule.UsualSkin)),
                Tag("li", "Use a sealer that the moulding sand and its binder do not soften. Coats add thickness: check the dimensions that matter afterwards."),
                kit.Plate is not null ? null : Tag("li", "Keep the drafted walls straight; do not round the edge at the joint."),
                both && (!carved || !kit.Dowels.IsEmpty) ? Tag("li", "Glue the dowels into one half; they must slide in the other without play and without force.") : null,
                screws ? Tag("li", "Press the inserts into their holes with a hot iron, a little below the face, square to it. Turn the screw in only as deep as the insert.") : null,
                plates ? Tag("li", "Fit each rapping plate flush or lower into its seat. Between its two countersunk screws, tap one hole for the draw screw and sink one for the rapping bar; neither screw nor bar may bear on the print below. The printer bridges the ceiling of a seat: scrape it flat.") : null),
            Tag("h3", "Make the mould"),
            Tag("ol",
                kit.Plate is { } plate ? Tag("li", plate.IsBackToBack
                    ? "Set the plate between cope and drag flask on the pins. With the drag side up dust it, riddle facing sand over it, ram, strike off; roll over, and do the same with the cope."
                    : "Set a flask on each plate, on the pins. Dust the plate, riddle facing sand over it, ram, strike off.") : carved
                    ? Tag("li", "Bed the drag half in a follow board or false cope that has the shape of the joint, inside the drag flask; or ram both halves together and cut the joint down to the parting line by hand, slicked smooth. Dust it with parting powder, riddle facing sand over it, ram, strike off, roll over.")
                    : both
                    ? Tag("li", "Lay the drag half, flat face down, on a flat moulding board inside the drag flask. Dust it with parting powder, riddle facing sand over it, ram, strike off, roll over.")
                    : Tag("li", "Lay the pattern, flat face down, on a flat moulding board inside the flask half that is to hold it. Dust it with parting powder, riddle facing sand over it, ram, strike off, roll over."),
                kit.Plate is { } on ? Tag("li", on.IsBackToBack
                    ? "Rap the plate, lift the cope straight off, draw the plate from the drag."
                    : on.Bodies.Length > 1 ? "Rap each plate and lift the sand straight off it." : "Ram the other half on a flat board. Rap the plate and lift the sand straight off it.") : both ? Tag("li", carved && kit.Dowels.IsEmpty ? "Set the cope half on the drag half by their outlines, dust the joint, set the cope flask and ram it." : "Set the cope half on its dowels, dust the joint, set the cope flask and ram it.") : Tag("li", screws
                    ? "Close the pockets of the flat face flush with wax, tape or plugs, or sand is rammed into them and stands into the mould. Dust the joint, set the other flask half and ram it flat; open the pockets again to draw."
                    : "Dust the joint, set the other flask half and ram it flat."),
                Tag("li", "Vent towards the pattern without touching it. Open the mould and mend broken edges with a slick."),
                kit.Plate is not null ? null : Tag("li", $"Rap lightly to all sides{(plates ? ", on the rapping plate" : screws ? ", on the draw screw" : "")}, draw straight, square to the joint{(screws ? ", by the draw screws, all at once" : "")}. If it sticks, find the place, do not pull harder."),
                Tag("li", "Blow out loose sand, close, clamp or weight the cope before pouring.")));
    }

    private static string Skin(PatternSkin skin) => skin switch
    {
        PatternSkin.Printed => "The draft counts on a skin left as printed. Sealed and sanded along the draw it leaves the sand more easily still. A groove round the pattern holds sand as an undercut does.",
        PatternSkin.Sanded => "Fill and seal the layer lines, then sand along the draw, never across it. A groove round the pattern holds sand as an undercut does.",
        _ => "The draft counts on a smooth skin: fill, seal and rub down along the draw until no layer is seen or felt, and varnish. A groove round the pattern holds sand as an undercut does.",
    };
}
