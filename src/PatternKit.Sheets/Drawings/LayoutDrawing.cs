using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static System.FormattableString;

namespace PatternKit.Sheets.Drawings;

/// <summary>layout.dxf: plan of the pattern with its flat grounds, dowels, draw screws and the box around it, the gating bars beside it, the cores with their prints, the loose pieces, the plate under all, the inside of the flask and the vents, and where bodies are cut to the printer's bed.</summary>
internal static class LayoutDrawing
{
    public static byte[] Write(Kit kit)
    {
        var (low, high) = PartingPlan.Box(kit.Plan.CopeOutline.Union(kit.Plan.DragOutline));
        var box = PlanPath.Polygon(low, new Vec2(high.X, low.Y), high, new Vec2(low.X, high.Y));
        DxfEntity[] entities =
        [
            new DxfPath(DrawingKit.Box, box),
            .. DrawingKit.Region(DrawingKit.OutlineCope, kit.Plan.CopeOutline),
            .. DrawingKit.Region(DrawingKit.OutlineDrag, kit.Plan.DragOutline),
            .. kit.Plan.Flats.SelectMany(f => DrawingKit.Region(DrawingKit.Section, f.Region)),
            .. kit.Dowels.SelectMany(d => DrawingKit.Dowel(d)),
            .. kit.Handling.SelectMany(h => DrawingKit.Handling(h)),
            .. kit.Gating?.Bars.SelectMany(b => DrawingKit.Region(DrawingKit.Bar(b.Kind), b.Plan)) ?? [],
            .. kit.Feeding is { } feeding ? DrawingKit.Region(DrawingKit.Feeder, feeding.CutOnJoint) : [],
            .. kit.Cores.SelectMany(c => c.Plans).SelectMany(p => DrawingKit.Region(DrawingKit.CorePrint, p)),
            .. kit.Loose.SelectMany(l => DrawingKit.Region(DrawingKit.LoosePiece, l.Plan)),
            .. kit.Plate is { } plate ? DrawingKit.Plate(plate) : [],
            .. kit.CutPattern.SelectMany(DrawingKit.Seams),
            .. kit.Pouring is { } pouring ? DrawingKit.Pouring(pouring) : [],
            .. Axis(new(high.X - low.X, 0), (low + high) / 2),
            .. Axis(new(0, high.Y - low.Y), (low + high) / 2),
            .. kit.IsMixed ? CastingLines.Of(kit).SelectMany(c => DrawingKit.Labels(c.Middle_mm, $"{c.Name} {c.Part.Name}")) : [],
            .. DrawingKit.Labels(low - new Vec2(0, 10),
                kit.Job.Title,
                Invariant($"Plan of the pattern, {high.X - low.X:0.##} x {high.Y - low.Y:0.##} mm, pattern millimetres, revision {Revision.Of(kit.Job)}")),
        ];
        DxfLayer[] layers =
        [
            new(DrawingKit.Box), new(DrawingKit.OutlineCope), new(DrawingKit.OutlineDrag, DxfLineType.Dashed), new(DrawingKit.Section), .. DrawingKit.BarLayers(kit), .. kit.Plate is null ? [] : new DxfLayer[] { new(DrawingKit.PlateEdge) },
            .. kit.Feeding is { CutOnJoint.IsEmpty: false } ? [new DxfLayer(DrawingKit.Feeder)] : Array.Empty<DxfLayer>(),
            .. kit.Cores.IsEmpty ? [] : new DxfLayer[] { new(DrawingKit.CorePrint, DxfLineType.Dashed) },
            .. kit.Loose.IsEmpty ? [] : new DxfLayer[] { new(DrawingKit.LoosePiece, DxfLineType.Dashed) },
            .. kit.Pouring is null ? [] : new DxfLayer[] { new(DrawingKit.Flask) }, .. kit.Pouring is { Vents.Vents.IsEmpty: false } ? [new DxfLayer(DrawingKit.Vent)] : Array.Empty<DxfLayer>(),
            .. kit.CutPattern.Select(DrawingKit.Cut).Distinct().Select(l => new DxfLayer(l)),
            new(DrawingKit.Dowels), new(DrawingKit.Centre, DxfLineType.Center), new(DrawingKit.Text),
        ];
        return DrawingKit.Write(layers, entities);
    }

    // The middle line of the box, 5 mm beyond it at both ends.
    private static IEnumerable<DxfEntity> Axis(Vec2 span, Vec2 middle)
    {
        if (!(span.Length > 0)) yield break;
        var arm = (0.5 * span) + (5 * span.Normalized());
        yield return new DxfPath(DrawingKit.Centre, new([new(middle - arm), new(middle + arm)], false));
    }
}
