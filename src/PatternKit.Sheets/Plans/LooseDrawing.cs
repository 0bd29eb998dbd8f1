using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Loose;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Plans;

/// <summary>The drawing of a loose piece as it is printed: overall sizes, and how deep its tongue goes.</summary>
internal static class LooseDrawing
{
    /// <summary>The drawing.</summary>
    public static XElement Draw(Kit kit, KitLoosePiece piece, SheetNumbers numbers) => ViewDrawing.Draw(kit, numbers, new(
        new(piece.Body.Name, $"Loose piece {piece.Part.Name}", $"Loose piece {piece.Part.Name}, as printed"), [EdgedMesh.Of(piece.Body.AsPrinted)], (view, axis) => Sizes(piece, numbers, view, axis), "pattern sizes, as printed"));

    private static IEnumerable<ViewDimension> Sizes(KitLoosePiece piece, SheetNumbers numbers, LineView view, int axis)
    {
        var (low, high) = axis == 0 ? (view.Low.X, view.High.X) : (view.Low.Y, view.High.Y);
        yield return new(low, high, numbers.Length(high - low));
        // What lies in the pattern, from the bed up.
        if (axis == 2 && piece.TongueDepth_mm is { } depth) yield return new(low, low + depth, numbers.Length(depth));
    }
}
