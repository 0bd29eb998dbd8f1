using System.Collections.Immutable;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Drawings;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Json;

namespace PatternKit.Sheets;

/// <summary>Makes the files of a kit. Pure: nothing touches the disk, and the same kit gives the same bytes.</summary>
public static class KitFiles
{
    /// <summary>
    /// All files of the kit: one STL file a body, the bodies together in kit.3mf, the drawings, the shop sheet and kit.json.
    /// A kit without bodies has no mesh files.
    /// </summary>
    public static ImmutableArray<KitFile> Render(Kit kit)
    {
        ArgumentNullException.ThrowIfNull(kit);
        return
        [
            new("parting.dxf", PartingDrawing.Write(kit)),
            new("templates.dxf", TemplateDrawing.Write(kit)),
            new("layout.dxf", LayoutDrawing.Write(kit)),
            new("shop-sheet.html", ShopSheet.Write(kit)),
            new("kit.json", KitJson.Write(kit)),
        ];
    }
}
