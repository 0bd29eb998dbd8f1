using PatternKit.Foundry;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Pieces;

/// <summary>What is told about bodies that are cut to the printer's bed.</summary>
internal static class CutFindings
{
    /// <summary>A note for each cut body.</summary>
    public static IEnumerable<Finding> Of(IEnumerable<CutBody> cut, Printer printer) =>
        from c in cut
        let size = c.Whole.AsPrinted.Bounds().Size
        let tails = c.Plan.Cuts.Sum(l => l.Tails.Length)
        select new Finding(
            "cut-to-bed", Severity.Note,
            Invariant($"{c.Whole.Name} is {size.X:0.#} × {size.Y:0.#} mm and the bed takes {printer.Length_mm:0.#} × {printer.Width_mm:0.#} mm: it is cut into {c.Pieces.Length} pieces ")
                + (tails == 0 ? "with plain faces, since dovetails have no room." : Invariant($"that {tails} {(tails == 1 ? "dovetail joins" : "dovetails join")}.")),
            null, Math.Max(size.X, size.Y), Math.Max(printer.Length_mm, printer.Width_mm), printer.From.Text,
            "Join the pieces as the sheet says; for a whole body write cut_to_bed = false under [printer] of shop.toml and print it elsewhere.", "mm");

    /// <summary>How each body is cut.</summary>
    public static IEnumerable<Decision> Decisions(IEnumerable<CutBody> cut, BedCutTable table)
    {
        foreach (var c in cut)
        {
            var lines = string.Join(", ", c.Plan.Cuts.Select(l => Invariant($"{(l.IsAcrossX ? "x" : "y")} = {l.At:0.#} mm")));
            yield return new(
                $"pieces_{c.Whole.Name}", $"Pieces of {c.Whole.Name}", c.Pieces.Length, "",
                Invariant($"as few as the bed takes, cut at {lines}, where length and rise and fall of the cut are least within {table.Place.Margin_mm:0.#} mm on both sides"), table.Place.From.Text);
            yield return new($"piece_gap_{c.Whole.Name}_mm", $"Gap between the pieces of {c.Whole.Name}", c.Plan.Gap_mm, "mm", "all along the cuts, dovetails included", table.Gap_mm.From.Text);
        }
    }
}
