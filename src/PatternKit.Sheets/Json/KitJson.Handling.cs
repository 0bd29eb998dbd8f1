using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Json;

/// <summary>How each half is taken hold of; a half without pockets says why in its rule.</summary>
internal sealed partial class KitJson
{
    private void HandlingOfHalf(Handling handling)
    {
        Text("body", handling.Name);
        Numbers("centre_mm", handling.Centre_mm.X, handling.Centre_mm.Y);
        List("screws", handling.Screws, s =>
        {
            Numbers("at_mm", s.At_mm.X, s.At_mm.Y);
            Text("thread", s.Thread);
            Number("hole_mm", s.Hole_mm);
            Number("depth_mm", s.Depth_mm);
        });
        List("seats", handling.Seats, s =>
        {
            Numbers("at_mm", s.At_mm.X, s.At_mm.Y);
            Number("turn_deg", s.Turn * Degree);
            Number("length_mm", s.Length_mm);
            Number("width_mm", s.Width_mm);
            Number("depth_mm", s.Depth_mm);
            Text("plate", s.Plate);
        });
        Text("rule", handling.Rule);
        Text("source", handling.Source);
    }
}
