using PatternKit.Foundry;
using PatternKit.Geometry.Inset;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Printing;

/// <summary>What is told about bodies that are smaller in their files.</summary>
internal static class InsetFindings
{
    /// <summary>At no more levels than this.</summary>
    private const int Levels = 24;

    /// <summary>Bodies of which nothing was taken off, and what is too narrow to be printed once it has been.</summary>
    public static IEnumerable<Finding> Of(KitInset inset, IEnumerable<KitBody> bodies)
    {
        var growth = inset.Growth;
        foreach (var same in inset.AsDrawn.GroupBy(b => b.Why))
        {
            yield return new("as-drawn", Severity.Warn,
                Invariant($"Nothing is taken off {string.Join(", ", same.Select(b => b.Name))} for print, filler and paint: {same.Key}. The {(same.Count() == 1 ? "file has the finished body" : "files have the finished bodies")}, which will come out {growth.Skin_mm:0.###} mm larger on every face."),
                null, growth.Skin_mm, 0, growth.From.Text, "Sand it down to size, or give it less filler and paint; check fits by hand.", "mm");
        }

        if (!inset.Untrimmed.IsEmpty)
        {
            yield return new("first-layer", Severity.Note,
                $"The edge at the joint is not cut back for the first layer on {string.Join(", ", inset.Untrimmed)}: {(inset.Untrimmed.Length == 1 ? "it" : "each")} has upright walls or holes that go through, a pocket too near to the edge, or is as drawn.",
                null, growth.Flare_mm, null, growth.From.Text, "Trim the flare with a knife, or the halves will not close.", "mm");
        }

        var least = (2 * growth.Skin_mm) + growth.Nozzle_mm;
        if (growth.Skin_mm == 0) yield break;
        foreach (var body in bodies.Where(b => inset.Files.ContainsKey(b.Name)))
        {
            if (Narrowest(body, least) is not { } place) continue;
            var left = place.Width - (2 * growth.Skin_mm);
            yield return new("print-thin", Severity.Warn,
                Invariant($"{body.Name} is {place.Width:0.##} mm wide near ({place.At.X:0.#}, {place.At.Y:0.#}) mm, as it lies on the bed, {place.Height:0.#} mm above it; ")
                + (left > 0 ? Invariant($"less print, filler and paint {left:0.##} mm are left to print{(growth.Nozzle_mm > 0 ? Invariant($", and the nozzle is {growth.Nozzle_mm:0.##} mm") : "")}.") : "print, filler and paint are more than that, so that nothing of it is left in the file."),
                null, place.Width, least, growth.From.Text, "Make it thicker, or take less filler and paint and print with a finer nozzle.", "mm");
        }
    }

    /// <summary>How much is taken off, and of what.</summary>
    public static IEnumerable<Decision> Decisions(KitInset inset, bool finishGiven)
    {
        var growth = inset.Growth;
        var source = growth.From.Text;
        var of = inset.Files.IsEmpty ? "no body" : string.Join(", ", inset.Files.Keys);
        if (growth.Oversize_mm > 0) yield return new("print_oversize_mm", "Taken off every face in the files, for what prints come out proud", growth.Oversize_mm, "mm", $"measured on the shop's prints, upright walls, dowel holes and pockets included, the face on the bed left out; of {of}", source);
        if (growth.Finish_mm > 0) yield return new("finish_mm", "Taken off faces that sand touches in the files, for filler and paint", growth.Finish_mm, "mm", finishGiven ? $"{Allowances.Given}; of {of}" : $"as the shop finishes; of {of}", finishGiven ? "" : source);
        if (growth.Flare_mm > 0) yield return new("first_layer_flare_mm", "Cut off the edge on the bed, for the spread of the first layer", growth.Flare_mm, "mm", Invariant($"measured on the shop's prints, up to {growth.FirstLayer_mm:0.###} mm above the bed; of {(inset.Files.Values.Any(f => f.IsTrimmed) ? string.Join(", ", inset.Files.Where(f => f.Value.IsTrimmed).Select(f => f.Key)) : "no body")}"), source);
    }

    /// <summary>The narrowest place of level sections of a body as it is printed, on the bed and below level faces.</summary>
    private static (double Width, Vec2 At, double Height)? Narrowest(KitBody body, double least)
    {
        var mesh = body.AsPrinted;
        // Half of the least below a face: right under the crest of a round one every section is narrow.
        var flats = mesh.Facets.Where(f => mesh.AreaNormal(f) is { Z: > 0 } n && n.Plan == default).Select(f => mesh.Vertices[f.A].Z - (least / 2)).Where(z => z > 0).Distinct().OrderDescending().Take(Levels);
        (double Width, Vec2 At, double Height)? narrowest = null;
        foreach (var (z, section) in InsetBody.Sections(mesh, flats.Prepend(0)))
        {
            foreach (var place in NarrowPlaces.Within(section, least))
                if (narrowest is null || place.Width < narrowest.Value.Width) narrowest = (place.Width, place.At, z);
        }

        return narrowest;
    }
}
