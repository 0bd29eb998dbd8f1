using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>How patterns are finished and moulded, in general words; every line is common practice of the trade.</summary>
internal static class PracticeSection
{
    public static XElement Make(Kit kit)
    {
        var both = kit.Bodies.Length > 1;
        return Tag("section", Set("aria-labelledby", "practice"),
            Tag("h2", Set("id", "practice"), "Finishing and moulding"),
            Tag("p", Classed("span", "practice", "common practice"), " General hints, not reckoned for this part. Your own experience with your sand and printer comes first."),
            Tag("h3", "Finish the pattern"),
            Tag("ul",
                Tag("li", "Print with the flat face on the bed. Trim any flare of the first layer, or the halves will not close."),
                Tag("li", "Fill and seal the layer lines, then sand along the draw, never across it. A groove round the pattern holds sand as an undercut does."),
                Tag("li", "Use a sealer that the moulding sand and its binder do not soften. Coats add thickness: check the dimensions that matter afterwards."),
                Tag("li", "Keep the drafted walls straight; do not round the edge at the joint."),
                both ? Tag("li", "Glue the dowels into one half; they must slide in the other without play and without force.") : null),
            Tag("h3", "Make the mould"),
            Tag("ol",
                both
                    ? Tag("li", "Lay the drag half, flat face down, on a flat moulding board inside the drag flask. Dust it with parting powder, riddle facing sand over it, ram, strike off, roll over.")
                    : Tag("li", "Lay the pattern, flat face down, on a flat moulding board inside the flask half that is to hold it. Dust it with parting powder, riddle facing sand over it, ram, strike off, roll over."),
                both ? Tag("li", "Set the cope half on its dowels, dust the joint, set the cope flask and ram it.") : Tag("li", "Dust the joint, set the other flask half and ram it flat."),
                Tag("li", "Vent towards the pattern without touching it. Open the mould and mend broken edges with a slick."),
                Tag("li", "Rap lightly to all sides, draw straight, square to the joint. If it sticks, find the place, do not pull harder."),
                Tag("li", "Blow out loose sand, close, clamp or weight the cope before pouring.")));
    }
}
