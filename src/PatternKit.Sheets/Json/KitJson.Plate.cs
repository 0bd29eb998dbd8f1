using PatternKit.Patterns.Plates;

namespace PatternKit.Sheets.Json;

/// <summary>The plates; null for loose patterns.</summary>
internal sealed partial class KitJson
{
    private void Plate(KitPlate? plate)
    {
        if (plate is null)
        {
            _json.WriteNull("plate");
            return;
        }

        Object("plate", () =>
        {
            Text("form", plate.IsBackToBack ? "two halves back to back" : plate.Bodies.Length > 1 ? "two boards" : "one board");
            Numbers("low_mm", plate.Low_mm.X, plate.Low_mm.Y);
            Numbers("high_mm", plate.High_mm.X, plate.High_mm.Y);
            Numbers("middle_mm", (plate.Low_mm.X + plate.High_mm.X) / 2, (plate.Low_mm.Y + plate.High_mm.Y) / 2);
            Numbers("size_mm", plate.Size_mm.X, plate.Size_mm.Y);
            Number("thickness_mm", plate.Thickness_mm);
            Number("fillet_mm", plate.Fillet_mm);
            Number("fillets_mm3", plate.FilletVolume_mm3);
            List("pins", plate.Pins, p =>
            {
                Numbers("at_mm", p.At_mm.X, p.At_mm.Y);
                Numbers("from_middle_mm", p.FromMiddle_mm.X, p.FromMiddle_mm.Y);
                Number("diameter_mm", p.Diameter_mm);
                Number("hole_mm", p.Hole_mm);
            });
            List("dowels", plate.Dowels, Dowel);
        });
    }
}
