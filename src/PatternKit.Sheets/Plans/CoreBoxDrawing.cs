using System.Xml.Linq;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Plans;

/// <summary>The drawing of a half of a core box as it is printed, its cavity up: overall sizes, and where its dowel holes are.</summary>
internal static class CoreBoxDrawing
{
    /// <summary>The drawing.</summary>
    public static XElement Draw(Kit kit, KitCore core, KitBody half, SheetNumbers numbers)
    {
        return ViewDrawing.Draw(kit, numbers, new(
            new(half.Name, $"Core box of {core.Name}", core.Box.IsDumped ? $"Dump box of {core.Name}" : core.Box.IsMirrored ? $"Core box of {core.Name}, one half" : $"Core box of {core.Name}, half {half.Name[^1]}"), [EdgedMesh.Of(half.AsPrinted)], (view, axis) => Sizes(core, half, numbers, view, axis), "sizes of the box as printed"));
    }

    private static IEnumerable<ViewDimension> Sizes(KitCore core, KitBody half, SheetNumbers numbers, LineView view, int axis)
    {
        var (low, high) = axis == 0 ? (view.Low.X, view.High.X) : (view.Low.Y, view.High.Y);
        yield return new(low, high, numbers.Length(high - low));
        if (axis == 2) yield break;
        // From the left or lower edge of the block to each hole: one that has the same place along this axis is told once.
        foreach (var place in core.Box.Dowels.Select(d => core.Box.AsPrinted(d, half)).Select(p => axis == 0 ? p.X : p.Y).Distinct())
            yield return new(low, place, numbers.Length(place - low));
    }
}
