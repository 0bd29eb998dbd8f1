using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Loose;

namespace PatternKit.Sheets.Json;

/// <summary>Loose pieces, in the order in which they are drawn.</summary>
internal sealed partial class KitJson
{
    private void Loose(KitLoosePiece piece)
    {
        Text("name", piece.Part.Name);
        Text("file", piece.Body.FileName);
        Text("half", piece.Half == MouldHalf.Cope ? "cope" : "drag");
        _json.WriteNumber("order", piece.Order);
        Numbers("facing", piece.Facing.X, piece.Facing.Y);
        Numbers("at_mm", piece.Part.At_mm.X, piece.Part.At_mm.Y, piece.Part.At_mm.Z);
        var size = piece.Body.AsPrinted.Bounds().Size;
        Numbers("size_mm", size.X, size.Y, size.Z);
        Number("out_mm", piece.Out_mm);
        Number("draft_deg", piece.Draft.Value * Degree);
        Number("travel_mm", piece.Travel_mm);
        Number("free_mm", piece.HasEndlessRoom ? null : piece.Free_mm);
        Number("metal_mm3", piece.Metal.AsPrinted.Volume());
        Number("gap_mm3", piece.Gap_mm3);
        Number("tongue_depth_mm", piece.TongueDepth_mm);
        if (piece.Tail is not { } tail) _json.WriteNull("dovetail");
        else
            Object("dovetail", () =>
            {
                Number("neck_mm", tail.Neck_mm);
                Number("depth_mm", tail.Depth_mm);
                Number("length_mm", tail.Length_mm);
                Number("clearance_mm", tail.Clearance_mm);
                Number("taper_deg", tail.Taper_deg);
            });
        if (piece.Pins is not { } pins) _json.WriteNull("pins");
        else
            Object("pins", () =>
            {
                _json.WriteNumber("count", pins.Count);
                Number("diameter_mm", pins.Diameter_mm);
                Number("hole_mm", pins.Hole_mm);
                Number("depth_mm", pins.Depth_mm);
                Number("length_mm", pins.Length_mm);
            });
    }
}
