using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The coupon: what is tried on each of its bodies, how, and what to make of what comes out.</summary>
internal static class CouponSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.Coupon is not { } coupon) return null;
        var pictures = coupon.Bodies.Select(b => (Body: b, Drawn: Task.Run(() => BodyPicture.Of(b.AsPrinted)))).ToArray();
        var first = coupon.Trials[0];
        return Tag("section", Set("aria-labelledby", "coupon"),
            Tag("h2", Set("id", "coupon"), "Coupon to try first"),
            Tag("p", $"Print these before the pattern. Each has a rib, {numbers.Length(coupon.Rib_mm)} thick at its tip, and a block with round pockets, both {numbers.Length(first.Walls_mm)} high; all walls of one body have one draft, which its raised figures say: outside, then inside. Sizes are as printed; contraction is not on them."),
            Table("Bodies of the coupon", ["Body", "File", "Figures", "#Times the pattern’s draft", "#Outside", "#Inside", "#First pocket, mouth × depth", "#Depth over width", "#Second pocket", "#Depth over width", "Insert to draw by"], coupon.Trials.Select(t => new object?[]
            {
                t.Body.Name, Tag("code", t.Body.FileName), t.Figures, SheetNumbers.Short(t.Times), SheetNumbers.Angle(t.Draft.Outside), SheetNumbers.Angle(t.Draft.Inside),
                Pocket(t.Pockets[0].Diameter_mm, t.Pockets[0].Depth_mm), SheetNumbers.Short(Math.Round(t.Pockets[0].Slenderness, 2)),
                t.Pockets.Length < 2 ? "none: its draft leaves no room" : Pocket(t.Pockets[1].Diameter_mm, t.Pockets[1].Depth_mm),
                t.Pockets.Length < 2 ? "" : SheetNumbers.Short(Math.Round(t.Pockets[1].Slenderness, 2)),
                t.Handling.Screws.FirstOrDefault() is { } s ? $"{s.Thread}, hole {numbers.Length(s.Hole_mm)}, {numbers.Length(s.Depth_mm)} deep" : "none: lift it with wax or tape",
            })),
            Tag("p", $"{kit.Job.Sand}: sand that stands in the drag usually holds to {SheetNumbers.Short(coupon.Limit.Value)} times its width ({coupon.Limit.From.Text})."),
            Tag("p", Classed("span", "practice", "common practice"), " How to try:"),
            Tag("ol",
                Tag("li", "Give each body the skin that the pattern will have: sealed and sanded along the draw, or as the job says. A different skin tries something else."),
                Tag("li", "Lay them flat face down on a board and ram a drag over them with the sand, and as hard, as for the pattern. Roll it over, so that the sand of the pockets stands."),
                Tag("li", "Rap each and draw it straight up by itself, the one with most draft first. Note where sand came out with it: at the rib, at the corners of the block, in the first pocket, in the second."),
                Tag("li", "The least draft that comes clean at rib and block is enough: write its figures as draft = { outside, inside } under [pattern]. If even the most tears at the layer lines, it is the skin and not the draft."),
                Tag("li", "If the first pocket breaks where the walls come clean, the sand is weaker than the table: change its standing_limit in shop.toml, or the sand. If the second holds, it is stronger.")),
            Classed("div", "pictures", pictures.Select((p, i) => PictureFigure.Make(
                $"picture-{p.Body.Name}", $"{p.Body.Name} as printed, figures {coupon.Trials[i].Figures}, flat face down, seen from the front right and above", p.Drawn.GetAwaiter().GetResult(), numbers))));

        string Pocket(double mouth_mm, double depth_mm) => $"⌀\u00A0{numbers.Length(mouth_mm)} × {numbers.Length(depth_mm)}";
    }
}
