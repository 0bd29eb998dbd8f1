using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>What to print, and how it looks.</summary>
internal static class PrintSection
{
    private static readonly string[] Heads = ["Body", "File", "#Size x × y × z as printed", "#Volume", "#Triangles", "#Least draft"];

    // Many small bodies in one picture, at most half a page wide.
    private const int ApartWidth = 900;

    public static XElement Make(Kit kit, SheetNumbers numbers)
    {
        // Drawing is most of the sheet's work: all at once.
        var printed = kit.Printed;
        var pictures = printed.Select(b => Task.Run(() => BodyPicture.Of(b.AsPrinted))).ToArray();
        var apart = TakenApart.Of(kit) is { } all ? Apart(all.Names, BodyPicture.Of(all.Mesh, ApartWidth), numbers) : null;
        return Tag("section", Set("aria-labelledby", "print"),
            Tag("h2", Set("id", "print"), "What to print"),
            kit.Bodies.IsEmpty ? Tag("p", "No body: there is nothing to print.") : null,
            kit.Bodies.IsEmpty ? null : Table("Bodies of the kit", Heads, kit.AllBodies.Select(b => new object?[]
            {
                printed.Contains(b) ? Name(kit, b) : OfCores(kit, b) ?? OfLoose(kit, b) ?? OfCoupon(kit, b) ?? OfBoard(kit, b) ?? $"Gating: {b.Name}", Tag("code", b.FileName), numbers.Size(b.AsPrinted.Bounds().Size), numbers.Volume(b.AsPrinted.Volume()),
                SheetNumbers.Whole(b.AsPrinted.Facets.Length), SheetNumbers.Angle(b.LeastDraft),
            })),
            kit.Bodies.IsEmpty ? null : Tag("p", (kit.Parting.Carved is not { } joint ? $"Each file lies as it is printed: flat face down on the bed, the draw upward, no support{(kit.Loose.Any(l => l.Tail is not null) ? "; but a loose piece with a dovetail lies on its tongue and wants supports" : "")}."
                : $"Each half lies with its joint face down and the draw upward. The joint face is {joint.Word} and not flat: print the halves with supports under it, or turned over on their backs.") + " The least draft is the smallest angle from the draw of any facet that the sand touches, measured on the file."),
            TakenOff(kit, numbers),
            kit.Plate is null && kit.Bodies.Length == 1 ? Tag("p", $"The part lies in one half with a flat back; the {kit.Bodies[0].Name} is the whole pattern.") : null,
            Classed("div", "pictures", apart, printed.Zip(pictures, (b, drawn) => Picture(Name(kit, b), b, drawn.GetAwaiter().GetResult(), numbers))));
    }

    private static XElement? TakenOff(Kit kit, SheetNumbers numbers)
    {
        if (kit.Inset is not { } inset || inset.Files.IsEmpty) return null;
        var (growth, trimmed) = (inset.Growth, inset.Files.Where(f => f.Value.IsTrimmed).Select(f => f.Key).ToArray());
        return Tag("p", Set("id", "taken-off"),
            $"The files are smaller than the finished bodies of this table. Taken off {string.Join(", ", inset.Files.Keys)}: {numbers.Length(growth.Skin_mm)} of every face that sand touches ({numbers.Length(growth.Oversize_mm)} for what prints come out proud, {numbers.Length(growth.Finish_mm)} for filler and paint), "
            + $"{numbers.Length(growth.Oversize_mm)} of upright walls and of holes in the face on the bed; that face stays."
            + (trimmed.Length == 0 ? "" : $" The edge on the bed is cut back by {numbers.Length(growth.Flare_mm)} up to {numbers.Length(growth.FirstLayer_mm)} for the spread of the first layer: {string.Join(", ", trimmed)}.")
            + (inset.AsDrawn.IsEmpty ? "" : $" Nothing is taken off {string.Join(", ", inset.AsDrawn.Select(b => b.Name))}: their files have the finished bodies.")
            + " Sizes of the pattern elsewhere on this sheet are what a caliper reads when it is finished.");
    }

    private static string? OfCores(Kit kit, KitBody body) => kit.Cores.FirstOrDefault(c => c.Bodies.Contains(body)) is not { } core ? null
        : body == core.Body ? $"Sand, not to print: {body.Name}" : $"Core box: {body.Name}";

    private static string? OfLoose(Kit kit, KitBody body) => kit.Loose.FirstOrDefault(l => l.Body == body) is { } piece ? $"Loose piece: {piece.Part.Name}" : null;

    private static string? OfCoupon(Kit kit, KitBody body) => kit.Coupon?.Bodies.Contains(body) == true ? $"To try first: {body.Name}" : null;

    private static string? OfBoard(Kit kit, KitBody body) => kit.FollowBoard is not { } board || !board.Printed.Contains(body) ? null
        : body == board.Body ? "Follow board" : $"Follow board, {board.Cut!.PlaceOf(body)}";

    private static string Name(Kit kit, KitBody body) => kit.Cut.FirstOrDefault(c => c.Pieces.Contains(body)) is { } cut ? $"{Name(kit, cut.Whole)}, {cut.PlaceOf(body)}" : (kit.Plate is null, body.Half) switch
    {
        (true, MouldHalf.Cope) => "Cope half (upper)",
        (true, _) => "Drag half (lower)",
        (false, MouldHalf.Cope) => "Plate of the cope (upper)",
        _ => "Plate of the drag (lower)",
    };

    private static XElement Apart(IReadOnlyList<string> names, BodyPicture picture, SheetNumbers numbers) =>
        PictureFigure.Make("picture-kit", $"The kit taken apart along the draw, from above: {string.Join(", ", names)}", picture, numbers);

    private static XElement Picture(string name, KitBody body, BodyPicture picture, SheetNumbers numbers) =>
        PictureFigure.Make($"picture-{body.Name}", $"{name} as printed, joint face down, seen from the front right and above", picture, numbers);
}
