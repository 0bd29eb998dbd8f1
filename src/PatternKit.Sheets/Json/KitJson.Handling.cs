using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Json;

/// <summary>How each half is taken hold of, by its connected pieces; one without pockets says why in its rule.</summary>
internal sealed partial class KitJson
{
    private void HandlingOfHalf(Handling handling)
    {
        Text("body", handling.Name);
        List("pieces", handling.Pieces, Piece);
        Text("source", handling.Source);
    }

    private void Piece(HeldPiece piece)
    {
        Numbers("centre_mm", piece.Centre_mm.X, piece.Centre_mm.Y);
        List("screws", piece.Screws, s =>
        {
            Numbers("at_mm", s.At_mm.X, s.At_mm.Y);
            Text("thread", s.Thread);
            Number("hole_mm", s.Hole_mm);
            Number("depth_mm", s.Depth_mm);
        });
        List("seats", piece.Seats, s =>
        {
            Numbers("at_mm", s.At_mm.X, s.At_mm.Y);
            Number("turn_deg", s.Turn * Degree);
            Number("length_mm", s.Length_mm);
            Number("width_mm", s.Width_mm);
            Number("depth_mm", s.Depth_mm);
            Text("plate", s.Plate);
        });
        Text("rule", piece.Rule);
    }
}
