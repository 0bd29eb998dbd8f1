using System.Collections.Immutable;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Templates;
using PatternKit.Sheets.Texts;
using static System.FormattableString;

namespace PatternKit.Sheets.Drawings;

/// <summary>
/// templates.dxf: what to cut templates from. For each half, side by side along x: its outline at the joint, then its
/// section at every flat level, all with the dowel holes so that they can be stacked,
/// and with those of draw screws as far as they go. The first stands in its own place.
/// Below them the sections of the gating bars that were reckoned, the joint at the bottom.
/// </summary>
internal static class TemplateDrawing
{
    private const double Gap_mm = 20;

    public static byte[] Write(Kit kit, ImmutableArray<HalfSection> sections)
    {
        var (low, high) = PartingPlan.Box(kit.Plan.CopeOutline.Union(kit.Plan.DragOutline));
        var pitch = high.X - low.X + Gap_mm;
        var entities = new List<DxfEntity>();
        var station = 0;
        foreach (var (half, level, section, text) in sections)
        {
            var region = section ?? PlanRegion.Empty;
            var layer = level == 0 ? DrawingKit.Outline(half) : DrawingKit.Section;
            var shift = new Vec2(station++ * pitch, 0);
            entities.AddRange(DrawingKit.Region(layer, region, shift));
            entities.AddRange(kit.Dowels.Where(d => region.Contains(d.At_mm)).SelectMany(d => DrawingKit.Dowel(d, shift)));
            entities.AddRange(kit.Handling.Where(h => h.Half == half).SelectMany(h => DrawingKit.Handling(h, level, shift)));
            entities.AddRange(DrawingKit.Labels(new Vec2(low.X, low.Y - 10) + shift, text, Invariant($"moved by {shift.X:0.###} mm along x")));
        }

        entities.AddRange(Bars(kit, low - new Vec2(0, 40)));
        entities.AddRange(DrawingKit.Labels(new(low.X, high.Y + 10), kit.Job.Title + ", revision " + Revision.Of(kit.Job)));
        DxfLayer[] layers =
        [
            new(DrawingKit.OutlineCope), new(DrawingKit.OutlineDrag), new(DrawingKit.Section), .. DrawingKit.BarLayers(kit),
            new(DrawingKit.Dowels), new(DrawingKit.Centre, DxfLineType.Center), new(DrawingKit.Text),
        ];
        return DrawingKit.Write(layers, entities);
    }

    private static IEnumerable<DxfEntity> Bars(Kit kit, Vec2 corner)
    {
        foreach (var bar in kit.Gating?.Bars ?? [])
        {
            foreach (var cut in bar.Cuts)
            {
                var (from, to) = PartingPlan.Box(cut.Region);
                var shift = corner - new Vec2(from.X, to.Y);
                foreach (var entity in DrawingKit.Region(DrawingKit.Bar(bar.Kind), cut.Region, shift)) yield return entity;
                foreach (var label in DrawingKit.Labels(new(corner.X + to.X - from.X + 5, corner.Y - DrawingKit.TextHeight_mm), Invariant($"{bar.Body.Name}: {cut.Name}, {cut.Region.Area:0.#} mm2"))) yield return label;
                corner -= new Vec2(0, Math.Max(to.Y - from.Y, DrawingKit.TextHeight_mm) + Gap_mm);
            }
        }
    }
}
