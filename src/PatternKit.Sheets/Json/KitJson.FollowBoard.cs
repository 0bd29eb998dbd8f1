using PatternKit.Patterns.Boards;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Json;

/// <summary>The follow board; null where there is none.</summary>
internal sealed partial class KitJson
{
    private void FollowBoard(KitFollowBoard? board)
    {
        if (board is null)
        {
            _json.WriteNull("follow_board");
            return;
        }

        Object("follow_board", () =>
        {
            Text("nested", board.Nested == MouldHalf.Drag ? "drag" : "cope");
            _json.WriteStartArray("files");
            foreach (var body in board.Printed) _json.WriteStringValue(body.FileName);
            _json.WriteEndArray();
            Numbers("low_mm", board.Low_mm.X, board.Low_mm.Y);
            Numbers("high_mm", board.High_mm.X, board.High_mm.Y);
            Numbers("size_mm", board.Size_mm.X, board.Size_mm.Y);
            Number("thickness_mm", board.Thickness_mm);
            Number("clearance_mm", board.Clearance_mm.Value);
        });
    }
}
