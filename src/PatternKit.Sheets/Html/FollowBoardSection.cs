using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The follow board: its sizes, and how both halves of the mould are rammed with it.</summary>
internal static class FollowBoardSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.FollowBoard is not { } board) return null;
        var (nested, other) = board.Nested == MouldHalf.Drag ? ("drag", "cope") : ("cope", "drag");
        var picture = BodyPicture.Of(board.Body.AsPrinted);
        return Tag("section", Set("aria-labelledby", "follow-board"),
            Tag("h2", Set("id", "follow-board"), "Follow board"),
            Tag("p", $"Its face is the joint, and in it is a nest for the {nested} half of the pattern: the {other} is rammed on it first, and the {nested} on the {other} after that. Its edge is level, for the flask."),
            Table("Board", ["What", "#Value"],
            [
                ["Length × width", $"{numbers.Length(board.Size_mm.X)} × {numbers.Length(board.Size_mm.Y)}"],
                ["Thickness at the flask", numbers.Length(board.Thickness_mm)],
                ["Height over all, as printed", numbers.Length(board.Body.AsPrinted.Bounds().Size.Z)],
                ["Clearance of the nest, square to its faces", numbers.Length(board.Clearance_mm.Value)],
                ["Corner in pattern coordinates", $"{numbers.Length(board.Low_mm.X)}, {numbers.Length(board.Low_mm.Y)}"],
            ]),
            Tag("p", Classed("span", "practice", "common practice"), " How to ram with it:"),
            Tag("ol",
                Tag("li", $"Seal the face of the board as the pattern, lay the board on a stiff flat bottom board, and set the {nested} half of the pattern into the nest: it must lie without rocking, its joint face level with that of the board. Where it binds, scrape the nest; where it rocks, bed it with a little wax."),
                kit.Bodies.Length > 1 ? Tag("li", $"Set the {other} half on it{(kit.Dowels.IsEmpty ? ", by its outline" : ", on its dowels")}.") : null,
                Tag("li", $"Set the {other} flask on the board, dust face and pattern, and ram the {other}{(other == "cope" ? ", the sprue standing on the joint at its place" : "")}; strike off and lay a bottom board on."),
                Tag("li", $"Clamp board, flask and bottom board, roll them over, and lift the follow board straight off; the pattern stays in the {other}. Slick the joint where sand came away."),
                Tag("li", $"Set the {nested} flask on, dust with parting powder, and ram the {nested} on the {other} and the pattern. {(other == "cope" ? "Roll the closed mould over, so that the cope is on top, before it is opened." : "Lift it off again to draw.")}")),
            Classed("div", "pictures", PictureFigure.Make("picture-follow-board", "The follow board as printed, its face up, seen from the front right and above", picture, numbers)));
    }
}
