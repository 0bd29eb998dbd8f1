using System.Xml.Linq;
using PatternKit.Foundry;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Loose;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>
/// The work step by step, from the printed pattern to the cold casting, with the quantities of this job and the cautions at the steps where they matter.
/// The order of the work is common practice of the trade; every quantity is one of the sheet's tables.
/// </summary>
internal static class StepSection
{
    /// <summary>A step.</summary>
    /// <param name="Text">What to do.</param>
    /// <param name="Cautions">Keys of the cautions that belong to it.</param>
    private sealed record Step(string Text, params string[] Cautions);

    public static XElement Make(Kit kit, SheetNumbers numbers)
    {
        numbers = numbers.WithInchesBeside();
        (string Title, Step?[] Steps)[] stages =
        [
            ("Finish the pattern", Finish(kit, numbers)),
            ("Ram the drag", Drag(kit, numbers)),
            ("Ram the cope", Cope(kit, numbers)),
            ("Draw and close", Close(kit, numbers)),
            ("Melt and pour", Pour(kit, numbers)),
            ("Shake out", ShakeOut(kit)),
        ];
        var left = kit.Cautions.Where(c => !stages.SelectMany(s => s.Steps).OfType<Step>().Any(s => s.Cautions.Contains(c.Key))).ToArray();
        var number = 1;
        return Tag("section", Set("aria-labelledby", "steps"),
            Tag("h2", Set("id", "steps"), "Steps"),
            Tag("p", Classed("span", "practice", "common practice"), " The order of the work; quantities are those of this job. Your own experience with your sand, metal and printer comes first."),
            stages.Select(s =>
            {
                var steps = s.Steps.OfType<Step>().ToArray();
                var first = number;
                number += steps.Length;
                return steps.Length == 0 ? null : new object?[]
                {
                    Tag("h3", s.Title),
                    Tag("ol", first == 1 ? null : Set("start", first), steps.Select(step => Tag("li", step.Text,
                        step.Cautions.SelectMany(key => kit.Cautions.Where(c => c.Key == key)).Concat(step.Cautions.Contains("sand-bed") ? left : []).Select(c => Classed("p", "caution", Tag("strong", "⚠\u00A0"), c.Text))))),
                };
            }));
    }

    private static Step?[] Finish(Kit kit, SheetNumbers numbers)
    {
        var (both, carved) = (kit.Plate is null && kit.Bodies.Length > 1, kit.Parting.Carved is not null);
        var (screws, plates) = (kit.Handling.Any(h => h.Screws.Any()), kit.Handling.Any(h => h.Seats.Any()));
        return
        [
            kit.Coupon is null ? null : new("Print the coupon, give it the skin of the pattern, and try it in the sand before anything else is printed; see “Coupon to try first”.", "silica-dust"),
            new(carved
                ? $"The joint face is {kit.Parting.Carved!.Word}: print each half with supports under it, or on its back, and clean the face until the halves close without a gap."
                : kit.Inset is { Growth.Flare_mm: > 0, Untrimmed.IsEmpty: true } ? "Print with the flat face on the bed. The edge there is cut back for the first layer; should it flare all the same, trim it, or the halves will not close."
                : "Print with the flat face on the bed. Trim any flare of the first layer, or the halves will not close."),
            kit.Cut.IsEmpty ? null : new($"Glue the pieces of {string.Join(", ", kit.Cut.Select(c => c.Whole.Name))} at their dovetails on a flat board, and fill the seams flush."),
            kit.Plate is { IsBackToBack: true } ? new("Glue both halves back to back, dry on their dowels first; clamp them between flat boards.") : null,
            new($"{Skin(kit.Job.Pattern.Skin ?? DraftRule.UsualSkin)} A groove round the pattern holds sand as an undercut does. Sand under extraction or wet, with a mask on."),
            new($"Seal with what the moulding sand and its binder do not soften: two thin coats, rubbed down between. {Coats(kit, numbers)} Follow the maker's safety sheet, with air and without flame."),
            kit.Plate is not null ? null : new("Keep the drafted walls straight; do not round the edge at the joint."),
            both && (!carved || !kit.Dowels.IsEmpty) ? new("Glue the dowels into one half; they must slide in the other without play and without force.") : null,
            screws ? new("Press the inserts into their holes with a hot iron, a little below the face, square to it. Turn the screw in only as deep as the insert.") : null,
            plates ? new("Fit each rapping plate flush or lower into its seat. Between its two countersunk screws, tap one hole for the draw screw and sink one for the rapping bar; neither screw nor bar may bear on the print below. The printer bridges the ceiling of a seat: scrape it flat.") : null,
            kit.Loose.IsEmpty ? null : new($"Fit the loose pieces, {And([.. kit.Loose.Select(l => $"“{l.Part.Name}”")])}: flush on the wall, held without force; see “Loose pieces”. Mark piece and pattern, so that each is found again after the draw."),
            kit.Measures.IsEmpty ? null : new($"Measure the finished pattern: {string.Join("; ", kit.Measures.Where(m => m.Pattern_mm is not null).Select(m => $"{m.Name} {numbers.Length(m.Pattern_mm!.Value)}"))}. The contraction rule of the templates reads what the cold casting will have."),
        ];
    }

    private static string Coats(Kit kit, SheetNumbers numbers) => kit.Inset?.Growth.Finish_mm is > 0 and var finish
        ? $"Filler and coats together {numbers.Length(finish)} on every face: the files are smaller by it." : "Coats add thickness.";

    private static Step?[] Drag(Kit kit, SheetNumbers numbers)
    {
        var sand = kit.Pouring?.Sand;
        var flask = kit.Pouring?.Flask;
        var inside = flask is null ? "" : $" The flask is {numbers.Length(flask.Inside.X_mm, 0)} × {numbers.Length(flask.Inside.Y_mm, 0)} inside, the drag {numbers.Length(flask.TakenDrag_mm, 0)} deep; {numbers.ShortLength(flask.Wall_mm.Value)} of sand is wanted to its walls.";
        var things = Things(kit, MouldHalf.Drag);
        return
        [
            sand is null ? null : new($"Make ready {numbers.Weight(sand.Total_kg)} of moulding sand, {numbers.Figure(sand.Loose_litre, "l", 3)} as shovelled: {numbers.Weight(sand.Facing_kg)} of it riddled fine as facing, {numbers.Weight(sand.Backing_kg)} as backing.", "silica-dust"),
            kit.Plate is { } plate ? new((plate.IsBackToBack ? "Set the plate between cope and drag flask on the pins, the drag side up." : "Set a flask on each plate, on the pins.") + inside)
                : kit.FollowBoard is { } board
                    ? new((board.Nested == MouldHalf.Drag ? "With the follow board the cope is rammed first, and the drag on it; the steps below hold for either half, in the order told at “Follow board”." : "Set the cope half of the pattern into the nest of the follow board and the drag half on it, inside the drag flask, as told at “Follow board”.") + inside)
                : kit.Parting.Carved is not null && kit.Bodies.Any(b => b.Half == MouldHalf.Drag)
                    ? new("Bed the drag half in a follow board or false cope that has the shape of the joint, inside the drag flask; or ram both halves together and cut the joint down to the parting line by hand, slicked smooth." + inside)
                : new((things.Length > 0 ? $"Lay {And(things)}, flat face down, on a flat moulding board inside the drag flask, pins down, each at its place of the plan of the mould." : "Set the drag flask, pins down, on a flat moulding board: nothing of the pattern lies in it.") + inside),
            Seat(kit, MouldHalf.Drag),
            new("Dust with silica-free parting powder, from a bag, with a mask on."),
            new($"Riddle facing sand over {(sand is null ? "it" : $"it, {numbers.ShortLength(sand.Facing_mm.Value)} thick")}, and tuck it into corners and pockets by hand."),
            Pull(kit, MouldHalf.Drag),
            new($"Fill with backing sand in layers a hand deep. Peen along the flask and between it and the pattern first, then butt from the outside in, even and firm, without striking the pattern{(sand is null ? "" : $"; the drag takes {numbers.Weight(sand.Drag_kg)}")}. Strike off level with the flask and lay on a bottom board."),
            new("Clamp board and flask and roll them over. Lift the moulding board off, slick the joint round the pattern and blow it clean.", "lifting"),
        ];
    }

    private static Step?[] Cope(Kit kit, SheetNumbers numbers)
    {
        var pouring = kit.Pouring;
        var things = Things(kit, MouldHalf.Cope);
        var both = kit.Plate is null && kit.Bodies.Length > 1;
        var screws = kit.Handling.Any(h => h.Screws.Any());
        var sprue = kit.Gating?.Bars.Any(b => b.Kind == BarKind.Sprue) == true;
        var feeders = (kit.Gating?.Bars ?? []).Where(b => b.Kind == BarKind.Feeder).Select(b => b.Body.Name).ToArray();
        var open = things.Where(t => t == "sprue" || feeders.Contains(t)).ToArray();
        var lying = things.Except(open).ToArray();
        return
        [
            both && kit.Bodies.Any(b => b.Half == MouldHalf.Cope) ? new(kit.Dowels.IsEmpty ? "Set the cope half on the drag half by their outlines." : "Set the cope half on its dowels.")
                : kit.Plate is null && lying.Length > 0 ? new($"Lay {And(lying)}, flat face down, on the joint.{(screws ? " Close the pockets of a flat face that sand is rammed against flush with wax, tape or plugs; open them again to draw." : "")}") : null,
            both && lying.Any(t => !IsHalf(t)) ? new($"Lay {And([.. lying.Where(t => !IsHalf(t))])} at their places of the plan of the mould.") : null,
            new($"Set the cope flask on its pins. Dust joint and pattern with silica-free parting powder, with a mask on.{(open.Length > 0 ? $" Stand {And(open)} upright, wide end up, at the place told in the plan." : "")}"),
            Seat(kit, MouldHalf.Cope),
            Pull(kit, MouldHalf.Cope),
            new(pouring is { Sand: var sand, Flask: var flask }
                ? $"Riddle facing sand over it, {numbers.ShortLength(sand.Facing_mm.Value)} thick, and fill and ram as the drag; the cope takes {numbers.Weight(sand.Cope_kg)}, and stands {numbers.Length(sand.CopeDepth_mm, 0)} deep in {numbers.Length(flask.TakenCope_mm, 0)} of flask. Strike off."
                : "Riddle facing sand over it, fill and ram as the drag, strike off."),
            pouring is { Vents: { Pricked.IsEmpty: false } vents }
                ? new($"Prick {SheetNumbers.Whole(vents.Pricked.Length)} vents with a wire of {numbers.ShortLength(vents.Wire_mm.Value)} at the places of the table, to the depths told there, {numbers.ShortLength(vents.Short_mm.Value)} short of the pattern.")
                : new("Vent towards the pattern without touching it."),
            sprue ? new($"Turn {And(open)} loose and draw {(open.Length > 1 ? "them" : "it")} out upward. Round the edge at the top, and shape and press the basin firm: loose sand there is washed in.") : null,
        ];
    }

    private static Step?[] Close(Kit kit, SheetNumbers numbers)
    {
        var screws = kit.Handling.Any(h => h.Screws.Any());
        var plates = kit.Handling.Any(h => h.Seats.Any());
        var balance = kit.Pouring?.Balance;
        return
        [
            kit.Plate is { } on
                ? new(on.IsBackToBack ? "Rap the plate, lift the cope straight off, draw the plate from the drag." : on.Bodies.Length > 1 ? "Rap each plate and lift the sand straight off it." : "Ram the other half on a flat board. Rap the plate and lift the sand straight off it.")
                : new("Lift the cope straight off and set it on its edge."),
            kit.Plate is not null ? null : new($"Rap lightly to all sides{(plates ? ", on the rapping plate" : screws ? ", on the draw screw" : "")}, draw straight, square to the joint{(screws ? ", by the draw screws, all at once" : "")}. If it sticks, find the place, do not pull harder. Draw runner and ingates too."),
            .. kit.Loose.Select(l => Draw(l, numbers)),
            new("Mend broken edges with a slick, round the edges of the ways of the metal, and blow or lift out all loose sand."),
            kit.Cores.IsEmpty ? null : new($"Set {And([.. kit.Cores.Select(c => c.Count == 1 ? c.Name : $"{c.Count} of {c.Name}")])}, dry and vented, into {(kit.Cores.Sum(c => c.Count) > 1 ? "their" : "its")} prints; see “Cores”.", "cores"),
            new("Close the cope on its pins without a jolt or a shift. Cover sprue, feeders and vents until the pour."),
            balance is null ? new("Clamp or weight the cope.", "weights-and-vents", "weights-off")
                : new(balance.Added_N > 0
                    ? $"Lay {numbers.Weight(balance.Weights_kg)} on the cope across the edges of the flask, or clamp it with {numbers.Figure(balance.Added_N, "N", 0)} in all."
                    : "Clamp the flask on both sides: sand and flask hold the cope by the reckoning, and a clamp costs nothing.", "weights-and-vents", "weights-off"),
        ];
    }

    private static Step?[] Pour(Kit kit, SheetNumbers numbers)
    {
        var melt = kit.Pouring?.Melt;
        var temperature = kit.Filling is { } filling ? $" Pour at {numbers.Figure(Math.Round(filling.Pour.Taken_C.Value, 2), "°C")} by the pyrometer." : "";
        var gating = kit.Gating?.Reckoning;
        return
        [
            new($"Melt {(melt is null ? numbers.Weight(kit.Metal.Pour_kg) : numbers.Weight(melt.Metal.Melt_kg))} of {(kit.AlloyTitle.Length > 0 ? kit.AlloyTitle : kit.Job.Alloy)}{(melt?.Crucible is { } crucible ? $" in the crucible “{crucible.Name}”" : "")}.",
                "radiant-heat", "crucible", "unknown-scrap", "water", "clothing", "zinc-fume", "lead-fume", "magnesium-fire"),
            new($"Skim the dross off with a dry, warm skimmer, and hold back what comes after at the lip.{temperature}"),
            new($"Open sprue and vents. Pour close to the basin, without a stop, and keep it full from the first moment to the last{(gating is null ? "" : $": the mould fills in {SheetNumbers.Short(Math.Round(gating.FillTime_s, 2))}\u00A0s at {numbers.Figure(gating.Rate_kg_s, "kg/s", 2)}")}. Stop when the metal stands in it; run what is left into a dry, warm ingot mould.",
                "sand-bed", "fume", "oil-smoke"),
        ];
    }

    private static Step?[] ShakeOut(Kit kit) =>
    [
        kit.Pouring is { ShakeOut: var wait } ? new($"Leave the casting in the sand for {SheetNumbers.Short(Math.Ceiling(wait.Wait_minutes.Value))}\u00A0min from the pour; thick and uneven ones overnight.")
            : new("Leave the casting in the sand until it is cold."),
        new("Break the mould over the sand heap, under extraction, with a respirator on. Knock out cores, saw off the ways of the metal when the casting is proved cold, and fettle.", "quenching"),
    ];

    /// <summary>Loose pieces of a half are set onto it before sand comes.</summary>
    private static Step? Seat(Kit kit, MouldHalf half) => kit.Loose.Where(l => l.Half == half).ToArray() is not { Length: > 0 } pieces ? null
        : new($"Set {And([.. pieces.Select(l => $"“{l.Part.Name}”" + (l.Tail is not null ? " into its slot from above" : l.Pins is not null ? $" on with {(l.Pins.Count == 1 ? "its pin" : "its pins")}" : ", stuck on with a little wax"))])}. When the sand comes, tuck facing sand under and round {(pieces.Length == 1 ? "it" : "them")} by hand first: the sand between there and the joint has to carry.");

    /// <summary>Pins are pulled while the sand is still low.</summary>
    private static Step? Pull(Kit kit, MouldHalf half) => kit.Loose.Where(l => l.Half == half && l.Pins is not null).ToArray() is not { Length: > 0 } pinned ? null
        : new($"While ramming: when the sand stands halfway and holds {And([.. pinned.Select(l => $"“{l.Part.Name}”")])} in its place, and before it covers the {(pinned.Sum(l => l.Pins!.Count) == 1 ? "pin, pull it" : "pins, pull them")}. Fill the way of the pin, then ram on. A pin left in tears the mould when the pattern is drawn.");

    private static Step Draw(KitLoosePiece piece, SheetNumbers numbers) => new(
        $"{(piece.Order == 1 ? "The loose pieces stay in the sand. " : "")}Draw “{piece.Part.Name}” sideways into the hollow, square to the wall it stood on, {numbers.Length(piece.Travel_mm)} or more, until it is clear of the sand over its path; then take it straight out towards the open joint. Rap it with a fingertip first; a wood screw in its back or a draw spike helps to hold it.");

    /// <summary>What lies in a half of the mould, by name.</summary>
    private static string[] Things(Kit kit, MouldHalf half) =>
    [
        .. kit.Plate is null ? kit.Bodies.Where(b => b.Half == half).Select(b => $"the {b.Name} half of the pattern") : [],
        .. (kit.Gating?.Bars ?? []).Where(b => b.Body.Half == half).Select(b => b.Body.Name),
    ];

    private static bool IsHalf(string thing) => thing.EndsWith("half of the pattern", StringComparison.Ordinal);

    private static string And(string[] names) => names.Length < 2 ? string.Concat(names) : $"{string.Join(", ", names[..^1])} and {names[^1]}";

    private static string Skin(PatternSkin skin) => skin switch
    {
        PatternSkin.Printed => "The draft counts on a skin left as printed. Sealed and sanded along the draw it leaves the sand more easily still.",
        PatternSkin.Sanded => "Fill and seal the layer lines, then sand along the draw, never across it.",
        _ => "The draft counts on a smooth skin: fill, seal and rub down along the draw until no layer is seen or felt, and varnish.",
    };
}
