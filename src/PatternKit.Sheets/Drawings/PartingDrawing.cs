using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static System.FormattableString;

namespace PatternKit.Sheets.Drawings;

/// <summary>parting.dxf: the joint with the outlines of both halves, the dowel holes, those of draw screws, and what they are.</summary>
internal static class PartingDrawing
{
    public static byte[] Write(Kit kit)
    {
        var (cope, drag) = (kit.Plan.CopeOutline, kit.Plan.DragOutline);
        var footprint = cope.Union(drag);
        var (low, _) = PartingPlan.Box(footprint);
        DxfEntity[] entities =
        [
            .. DrawingKit.Region(DrawingKit.Parting, footprint),
            .. DrawingKit.Region(DrawingKit.OutlineCope, cope),
            .. DrawingKit.Region(DrawingKit.OutlineDrag, drag),
            .. (kit.Parting.Carved?.Line ?? []).Select(l => new DxfPath(DrawingKit.PartingLine, PlanPath.Polygon([.. l.Select(p => p.Plan)]))),
            .. (kit.Parting.Carved?.Line ?? []).Select(l => new DxfSpaceLine(DrawingKit.PartingLineInSpace, l, true)),
            .. kit.Dowels.SelectMany(d => DrawingKit.Dowel(d)),
            .. kit.Dowels.SelectMany((d, i) => DrawingKit.Label(d.At_mm + new Vec2((d.Hole_mm / 2) + 1, (d.Hole_mm / 2) + 1), PartingPlan.DowelName(i))),
            .. kit.Handling.SelectMany(h => DrawingKit.Handling(h)),
            .. ScrewNames.Screws(kit).SelectMany(s => DrawingKit.Label(s.Screw.At_mm + new Vec2((s.Screw.Hole_mm / 2) + 1, Below(s.Half)), s.Name)),
            .. ScrewNames.Seats(kit).SelectMany(s => DrawingKit.Label(s.Seat.At_mm, s.Name)),
            .. DrawingKit.Labels(low - new Vec2(0, 10),
            [
                kit.Job.Title,
                Invariant($"Parting plan seen from above, pattern millimetres, joint {(kit.Parting.Carved is { } joint ? $"{joint.Word}, level at the flask " : "")}at z {kit.Parting.PatternHeight_mm:0.###} mm, revision {Revision.Of(kit.Job)}"),
                .. kit.Dowels.Select((d, i) => Invariant($"{PartingPlan.DowelName(i)}: dowel %%c{d.Diameter_mm:0.###}, hole %%c{d.Hole_mm:0.###}, {d.Depth_mm:0.###} mm deep in each half")),
                .. ScrewNames.Screws(kit).Select(s => Invariant($"{s.Name}: {s.Half.Name} half only, {s.Screw.Thread} insert, hole %%c{s.Screw.Hole_mm:0.###}, {s.Screw.Depth_mm:0.###} mm deep from the joint face")),
                .. ScrewNames.Seats(kit).Select(s => Invariant($"{s.Name}: {s.Half.Name} half only, seat {s.Seat.Length_mm:0.###} x {s.Seat.Width_mm:0.###}, {s.Seat.Depth_mm:0.###} mm deep, for a plate of {s.Seat.Plate}").Replace('×', 'x')),
                .. kit.Handling.Where(h => h.Without.Length > 0).Select(h => $"Draw screws of the {h.Name} half: {h.Without}"),
            ]),
        ];
        DxfLayer[] layers =
        [
            new(DrawingKit.Parting), new(DrawingKit.OutlineCope), new(DrawingKit.OutlineDrag, DxfLineType.Dashed),
            .. kit.Parting.Carved is null ? Array.Empty<DxfLayer>() : [new(DrawingKit.PartingLine), new(DrawingKit.PartingLineInSpace)],
            new(DrawingKit.Dowels), new(DrawingKit.Centre, DxfLineType.Center), new(DrawingKit.Text),
        ];
        return DrawingKit.Write(layers, entities);
    }

    // The pockets of both halves may lie at one place: the drag's names stand below them.
    private static double Below(Handling half) => half.Half == MouldHalf.Cope ? 1 : -1 - DrawingKit.TextHeight_mm;
}
