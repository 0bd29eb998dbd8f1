using System.Collections.Immutable;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parting;
using static System.FormattableString;

namespace PatternKit.Patterns.Kits;

/// <summary>Lists what was decided, with rule and source, in the order of the sheet.</summary>
internal static class KitDecisions
{
    /// <summary>All decisions of a kit.</summary>
    public static ImmutableArray<Decision> Of(
        Job job, Allowances allowances, PartingChoice choice, CarvedJoint? uneven, ImmutableArray<Decision> fillets, ImmutableArray<Decision> rounds, JointPockets pockets, ImmutableArray<Decision> plate,
        MeshingTolerance tolerance)
    {
        const double degrees = 180 / Math.PI;
        var list = ImmutableArray.CreateBuilder<Decision>();
        if (job.Mesh is { } mesh)
        {
            var up = mesh.Lie is { } l ? Invariant($"[{l.X:0.####}, {l.Y:0.####}, {l.Z:0.####}] of {mesh.File} points up") : $"as {mesh.File} has it, z up";
            list.Add(new("lie", "How the mesh lies", 0, "", mesh.Lie is null ? up : $"{Allowances.Given}: {up}", ""));
        }

        list.Add(new("contraction_percent", "Contraction", allowances.Contraction.Value * 100, "%",
            $"{allowances.Contraction.Rule}; percent of the casting: pattern = casting × (1 + s)", allowances.Contraction.Source));
        list.Add(new("rapping_mm", "Rapping, taken off every wall along the draw", allowances.Rapping_mm.Value, "mm", allowances.Rapping_mm.Rule, allowances.Rapping_mm.Source));
        list.Add(new("draft_outside_deg", "Draft of outside walls", allowances.DraftOutside.Value * degrees, "deg", allowances.DraftOutside.Rule, allowances.DraftOutside.Source));
        list.Add(new("draft_inside_deg", "Draft of walls around holes and recesses", allowances.DraftInside.Value * degrees, "deg", allowances.DraftInside.Rule, allowances.DraftInside.Source));
        if (allowances.SkinDraft is { } skin)
            list.Add(new("skin_draft_deg", "Of that, for the printed skin", skin.Value * degrees, "deg", skin.Rule, skin.Source));
        var (fraction, taper) = job.Pattern.Holds switch
        {
            SizeHolds.Tip => (1.0, "taper plus: metal is added, sizes hold at the tip of the draw"),
            SizeHolds.Middle => (0.5, "taper split: sizes hold at the middle of a wall"),
            _ => (0.0, "taper minus: metal is taken off, sizes hold at the parting"),
        };
        list.Add(new("size_holds_fraction", "Height of a wall at which its size holds (0 parting, 1 tip)", fraction, "", taper, ""));
        if (job.Pattern.Stock is null) list.Add(new("stock_mm", "Machining stock", 0, "mm", StockRule.NoneAsked, "common practice"));
        list.AddRange(Stock(allowances, ""));
        if (allowances.Camber.Value is { } camber)
            list.Add(new("camber_mm", "Bow at mid length, in the parting plane", camber.Rise_mm, "mm", allowances.Camber.Rule, allowances.Camber.Source));
        list.Add(new("parting_mm", "Height of the joint (job z)", choice.Height_mm, "mm", choice.Reason, job.Parting.At_mm is null ? "rule of least metal added" : ""));
        if (uneven?.Steps is { } steps) list.Add(new("step_draft_deg", "Draft of the joint's steps", steps.Draft.Value * degrees, "deg", steps.Draft.Rule, steps.Draft.Source));
        list.AddRange(fillets);
        if (fillets.IsEmpty)
            list.Add(new(
                "fillet_mm", "Fillets", 0, "mm",
                job.Pattern.Fillet is { All_mm: 0 } ? Allowances.Given : uneven is not null ? "none are made on a mesh whose joint is not flat" : job.Mesh is not null ? "the mesh has no inside corner that a ball of the radius would fill" : "no wall rises from a flat", ""));
        list.AddRange(rounds);
        if (rounds.IsEmpty)
            list.Add(new("round_mm", "Rounding of edges", 0, "mm", job.Pattern.Round is null ? "it takes metal off: none unless the job asks" : Allowances.Given, job.Pattern.Round is null ? "common practice" : ""));
        foreach (var (d, i) in pockets.Dowels.Select((d, i) => (d, i)))
            list.Add(new(Invariant($"dowel_{i + 1}_mm"), Invariant($"Dowel {i + 1}, diameter"), d.Diameter_mm, "mm", pockets.DowelRule, pockets.DowelSource));
        if (pockets.Dowels.IsEmpty) list.Add(new("dowels", "Dowels", 0, "", pockets.DowelRule, pockets.DowelSource));
        if (uneven is not null) list.Add(new("draw_screws", "Draw-screw pockets and marks", 0, "", $"none: they are sunk into a joint face that is level all over, and this one is {uneven.Word}", "common practice"));
        foreach (var h in pockets.Handling)
            list.Add(new($"draw_screws_{h.Name}", $"Draw-screw pockets of the {h.Name} half", h.Screws.Count(), "", h.Rule, h.Source));
        list.AddRange(plate);
        list.Add(new("surface_tolerance_mm", "Largest distance of curved surfaces from the true ones", tolerance.Error_mm, "mm", "default; plane faces are exact", ""));
        return list.ToImmutable();
    }

    /// <summary>The stock of one part.</summary>
    /// <param name="allowances">By its own size.</param>
    /// <param name="part">Its name where it is not the job's own; names of its features begin with it.</param>
    public static IEnumerable<Decision> Stock(Allowances allowances, string part)
    {
        var stock = allowances.Stock.Value;
        var (key, label) = part.Length == 0 ? ("", "") : ($"{part}_", $"{part}: ");
        (string Place, string Key, string Label, double Value_mm)[] all =
        [
            ("top", key + "top", label + "top faces", stock.Top_mm), ("bottom", key + "bottom", label + "bottom faces", stock.Bottom_mm),
            ("sides", key + "sides", label + "sides", stock.Sides_mm), ("holes", key + "holes", label + "holes, per wall", stock.Holes_mm),
            .. (stock.Names_mm ?? ImmutableDictionary<string, double>.Empty).OrderBy(n => n.Key, StringComparer.Ordinal).Select(n => (n.Key, n.Key, n.Key, n.Value)),
        ];
        foreach (var (place, named, told, value) in all.Where(a => a.Value_mm != 0))
        {
            var rule = allowances.StockByRule?.GetValueOrDefault(place) ?? new(value, allowances.Stock.Source, allowances.Stock.Rule);
            yield return new($"stock_{named}_mm", $"Stock on {told}", value, "mm", rule.Rule, rule.Source);
        }
    }
}
