using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Checks;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Pieces;

/// <summary>
/// Plans the cuts of a body that does not fit the printer's bed: across its longer side first, then each of the slabs that this gives across the other, where a slab is still
/// too wide. There are as few pieces as straight cuts allow; where the cuts lie is chosen by what they would run through.
/// </summary>
internal sealed class BedCutPlanner
{
    /// <summary>Cuts reach so far beyond the body.</summary>
    private const double Beyond_mm = 10;

    private readonly CuttableBody body;
    private readonly BedCutTable table;
    private readonly PlanRegion kept;
    private readonly double reach;
    private readonly List<DovetailCut> cuts = [];
    private readonly List<ImmutableArray<Vec2>> seams = [];
    private PlanRegion tails = PlanRegion.Empty;

    private BedCutPlanner(CuttableBody body, BedCutTable table, PlanRegion kept)
    {
        (this.body, this.table, this.kept) = (body, table, kept);
        var box = body.Plan.Geometry.EnvelopeInternal;
        reach = box.Width + box.Height + (2 * Beyond_mm);
    }

    /// <summary>The cuts of a half, or of a plate with what stands on it; null where the bed takes it whole, or where the shop, its carved joint, or what is kept clear does not let it be cut.</summary>
    /// <param name="mould">The half.</param>
    /// <param name="tables">The shop's printer, and the rules.</param>
    /// <param name="kept">Where no cut may be, such as round holes.</param>
    public static BedCutPlan? Of(HalfMould mould, FoundryTables tables, PlanRegion kept) =>
        mould.IsCarved || mould.IsEmpty || Cutting(mould.Footprint, tables) is not { } printer ? null
            : new BedCutPlanner(CuttableBody.Of(mould, kept, tables.BedCuts.Dovetail), tables.BedCuts, kept).Plan(printer);

    /// <summary>The cuts of any body; null as for a half.</summary>
    /// <param name="body">The body.</param>
    /// <param name="tables">The shop's printer, and the rules.</param>
    /// <param name="kept">Where no cut may be, such as round holes.</param>
    public static BedCutPlan? Of(CuttableBody body, FoundryTables tables, PlanRegion kept) =>
        Cutting(body.Plan, tables) is { } printer ? new BedCutPlanner(body, tables.BedCuts, kept).Plan(printer) : null;

    /// <summary>The printer for which a body is to be cut; null where none is known, its bed takes the body, or the shop wants it whole.</summary>
    private static Printer? Cutting(PlanRegion plan, FoundryTables tables) =>
        tables.Printer is { CutsToBed: true } printer && PrinterBed.TurnToFit(plan.Rings().SelectMany(r => r), printer.Length_mm, printer.Width_mm) is null ? printer : null;

    private BedCutPlan? Plan(Printer printer)
    {
        var box = body.Plan.Geometry.EnvelopeInternal;
        var straight = (X: printer.Length_mm, Y: printer.Width_mm);
        var turned = (X: printer.Width_mm, Y: printer.Length_mm);
        int Pieces((double X, double Y) bed) => Count(box.Width, bed.X) * Count(box.Height, bed.Y);
        var bed = Pieces(turned) < Pieces(straight) ? turned : straight;
        var acrossXFirst = Count(box.Width, bed.X) >= Count(box.Height, bed.Y);
        var pieces = ImmutableArray.CreateBuilder<PlannedPiece>();
        var everywhere = PlanRegion.Rectangle(new(box.MinX - Beyond_mm, box.MinY - Beyond_mm), new(box.MaxX + Beyond_mm, box.MaxY + Beyond_mm));
        if (Split(everywhere, acrossXFirst, acrossXFirst ? bed.X : bed.Y) is not { } slabs) return null;
        foreach (var (slab, i) in slabs.Select((s, i) => (s, i)))
        {
            if (Split(slab, !acrossXFirst, acrossXFirst ? bed.Y : bed.X) is not { } parts) return null;
            foreach (var (part, j) in parts.Select((s, j) => (s, j)))
            {
                var names = new[] { Name(acrossXFirst, i, slabs.Count), Name(!acrossXFirst, j, parts.Count) }.Where(n => n.Length > 0);
                pieces.Add(new(string.Join('-', names), body.OnLattice(part)));
            }
        }

        var taken = PlanRegion.Union(cuts.Select(c => c.Strip(table.Dovetail.Land_mm)).Append(tails));
        return new([.. cuts], pieces.ToImmutable(), body.Plan, [.. seams], taken, table.Gap_mm.Value);
    }

    /// <summary>A part of the plan in as many as the bed asks for along an axis; null where no line is free.</summary>
    private List<PlanRegion>? Split(PlanRegion part, bool acrossX, double bed)
    {
        var box = body.Plan.Intersection(part).Geometry.EnvelopeInternal;
        var (low, high) = acrossX ? (box.MinX, box.MaxX) : (box.MinY, box.MaxY);
        var (from, to) = acrossX ? (box.MinY, box.MaxY) : (box.MinX, box.MaxX);
        var count = Count(high - low, bed);
        var parts = new List<PlanRegion>();
        if (CutPlaces.Choose(body, acrossX, (low, high), (from, to), count, bed - table.Dovetail.Deepest_mm, table, kept.Union(tails)) is not { } places) return null;
        var rest = part;
        foreach (var at in places)
        {
            var line = new DovetailCut(acrossX, at, from - Beyond_mm, to + Beyond_mm, []);
            var cut = line with { Tails = CutTails.Along(line, (from, to), body.Firm.Intersection(rest).Difference(tails), table) };
            cuts.Add(cut);
            seams.AddRange(body.Plan.Intersection(part).Inside([cut.Points]));
            tails = PlanRegion.Union(cut.Tails.Select(t => cut.Around(t, table.Dovetail.Land_mm)).Prepend(tails));
            parts.Add(rest.Intersection(cut.LowSide(table.Gap_mm.Value, reach)));
            rest = rest.Intersection(cut.HighSide(table.Gap_mm.Value, reach));
        }

        return [.. parts, rest];
    }

    /// <summary>How many pieces a length makes; dovetails reach out of all but one of them.</summary>
    private int Count(double length, double bed) => length <= bed ? 1 : (int)Math.Ceiling(length / Math.Max(1, bed - table.Dovetail.Deepest_mm));

    /// <summary>The place of one of several along an axis.</summary>
    private static string Name(bool acrossX, int i, int count) => (i, count) switch
    {
        (_, 1) => "",
        (0, _) => acrossX ? "left" : "front",
        var (k, n) when k == n - 1 => acrossX ? "right" : "back",
        (_, 3) => "middle",
        _ => Invariant($"middle-{i}"),
    };
}
