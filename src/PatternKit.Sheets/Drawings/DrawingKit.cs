using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;
using PatternKit.Patterns.Plates;
using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Curves;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Drawings;

/// <summary>What the drawings of a kit are put together from: layers, outlines with true arcs, dowels, texts; pattern millimetres.</summary>
internal static class DrawingKit
{
    public const string Parting = "PARTING";
    public const string PartingLine = "PARTING_LINE";
    public const string PartingLineInSpace = "PARTING_LINE_3D";
    public const string Section = "SECTION";
    public const string OutlineCope = "OUTLINE_COPE";
    public const string OutlineDrag = "OUTLINE_DRAG";
    public const string Sprue = "SPRUE";
    public const string Runner = "RUNNER";
    public const string Ingate = "INGATE";
    public const string Dowels = "DOWEL";
    public const string Centre = "CENTRE";
    public const string Text = "TEXT";
    public const string Box = "BOX";
    public const string PlateEdge = "PLATE";
    public const string Feeder = "FEEDER";
    public const string CorePrint = "CORE_PRINT";

    public const string LoosePiece = "LOOSE_PIECE";
    public const string CutCope = "CUT_COPE";
    public const string CutDrag = "CUT_DRAG";
    public const string Flask = "FLASK";
    public const string Vent = "VENT";

    /// <summary>Height of capitals in the drawings, mm (ISO 3098).</summary>
    public const double TextHeight_mm = 3.5;

    // Vertices of an outline lie on its arcs but for rounding to the lattice of the body and the mean of crossing planes.
    private const double ArcTolerance_mm = 0.005;

    private const int LongestText = 200;

    /// <summary>The layer of the outline of a half.</summary>
    public static string Outline(MouldHalf half) => half == MouldHalf.Cope ? OutlineCope : OutlineDrag;

    /// <summary>The layer of a gating bar; the well is drawn with the runner.</summary>
    public static string Bar(BarKind kind) => kind switch
    {
        BarKind.Sprue => Sprue,
        BarKind.Ingate => Ingate,
        BarKind.Feeder => Feeder,
        _ => Runner,
    };

    /// <summary>The layers of gating bars; none where there are none, so that a drawing has no empty layer.</summary>
    public static IEnumerable<DxfLayer> BarLayers(Kit kit) =>
        kit.Gating is { Bars.IsEmpty: false } gating
            ? [new(Sprue), new(Runner), new(Ingate), .. gating.Bars.Any(b => b.Kind == BarKind.Feeder) ? [new DxfLayer(Feeder)] : Array.Empty<DxfLayer>()] : [];

    /// <summary>A drawing in millimetres.</summary>
    public static byte[] Write(IEnumerable<DxfLayer> layers, IEnumerable<DxfEntity> entities) =>
        DxfWriter.Write(new DxfDocument(DxfUnit.Millimetre, layers, entities));

    /// <summary>The rings of a region with arcs where it has them.</summary>
    public static IEnumerable<DxfEntity> Region(string layer, PlanRegion region, Vec2 shift = default) =>
        region.Rings().Select(ring => new DxfPath(layer, ArcFitting.Fit(ring, ArcTolerance_mm).Transformed(1, 0, shift)));

    /// <summary>A dowel hole as a circle with its centre mark.</summary>
    public static IEnumerable<DxfEntity> Dowel(Dowel dowel, Vec2 shift = default) => Hole(dowel.At_mm + shift, dowel.Hole_mm);

    /// <summary>
    /// The holes and seats by which a half is drawn, down to a depth below its joint face; on the layer of the dowel holes, which holds all
    /// that is sunk into that face.
    /// </summary>
    public static IEnumerable<DxfEntity> Handling(Handling handling, double deeperThan_mm = 0, Vec2 shift = default) =>
    [
        .. handling.Screws.Where(s => s.Depth_mm > deeperThan_mm).SelectMany(s => Hole(s.At_mm + shift, s.Hole_mm)),
        .. handling.Seats.Where(s => s.Depth_mm > deeperThan_mm).SelectMany(s => Region(Dowels, s.Region, shift)),
    ];

    /// <summary>The inside of the flask, and the vents as circles of the wire with their centre marks.</summary>
    public static IEnumerable<DxfEntity> Pouring(PourPlan plan) =>
        [.. Region(Flask, plan.Flask.Plan), .. plan.Vents.Vents.Select(v => new DxfPath(Vent, PlanPath.Circle(v.At_mm, plan.Vents.Wire_mm.Value)))];

    /// <summary>The edge of a plate, the holes for the flask's pins and the dowel holes in its back.</summary>
    public static IEnumerable<DxfEntity> Plate(KitPlate plate) =>
    [
        new DxfPath(PlateEdge, PlanPath.Polygon(plate.Low_mm, new Vec2(plate.High_mm.X, plate.Low_mm.Y), plate.High_mm, new Vec2(plate.Low_mm.X, plate.High_mm.Y))),
        .. plate.Pins.SelectMany(p => Hole(p.At_mm, p.Hole_mm)), .. plate.Dowels.SelectMany(d => Dowel(d)),
    ];

    /// <summary>The layer of the cuts of a body.</summary>
    public static string Cut(CutBody cut) => cut.Whole.Half == MouldHalf.Cope ? CutCope : CutDrag;

    /// <summary>The seams of a body that is printed in pieces.</summary>
    public static IEnumerable<DxfEntity> Seams(CutBody cut) => cut.Plan.Seams.Select(s => new DxfPath(Cut(cut), new([.. s.Select(p => new PlanVertex(p))], false)));

    private static IEnumerable<DxfEntity> Hole(Vec2 at, double diameter)
    {
        yield return new DxfPath(Dowels, PlanPath.Circle(at, diameter));
        var arm = (diameter / 2) + 2;
        foreach (var direction in new Vec2[] { new(arm, 0), new(0, arm) })
            yield return new DxfPath(Centre, new([new(at - direction), new(at + direction)], false));
    }

    /// <summary>A line of text; nothing where there is none.</summary>
    public static IEnumerable<DxfEntity> Label(Vec2 at, string content)
    {
        var clean = Plain(content);
        if (!string.IsNullOrWhiteSpace(clean)) yield return new DxfText(Text, at, TextHeight_mm, 0, clean);
    }

    /// <summary>Text without line breaks and without the codes of the format, not longer than readers take.</summary>
    public static string Plain(string content)
    {
        var clean = CleanText.Of(content).Replace('\n', ' ').Replace('\t', ' ').Replace("%%", "% %", StringComparison.Ordinal);
        return clean.Length > LongestText ? clean[..LongestText] + "..." : clean;
    }

    /// <summary>A label per line, downward.</summary>
    public static IEnumerable<DxfEntity> Labels(Vec2 at, params IEnumerable<string> lines) =>
        lines.SelectMany((line, i) => Label(at - new Vec2(0, 1.7 * i * TextHeight_mm), line));
}
