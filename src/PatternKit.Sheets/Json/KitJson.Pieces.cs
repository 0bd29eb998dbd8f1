using PatternKit.Patterns.Pieces;

namespace PatternKit.Sheets.Json;

/// <summary>A body that is printed in pieces.</summary>
internal sealed partial class KitJson
{
    private void CutBody(CutBody cut)
    {
        Text("of", cut.Whole.Name);
        Number("volume_mm3", cut.Whole.AsPrinted.Volume());
        Number("gap_mm", cut.Plan.Gap_mm);
        List("cuts", cut.Plan.Cuts, c =>
        {
            Text("across", c.IsAcrossX ? "x" : "y");
            Number("at_mm", c.At);
            List("dovetails", c.Tails, t =>
            {
                Number("middle_mm", t.Middle);
                Number("neck_mm", t.Neck);
                Number("depth_mm", t.Depth);
                Number("width_mm", t.Width);
            });
        });
        List("pieces", cut.Pieces, p =>
        {
            Text("place", cut.PlaceOf(p));
            Text("body", p.Name);
        });
    }
}
