using System.Collections.Immutable;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Drawings;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Json;
using PatternKit.Sheets.Texts;

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
            .. kit.AllBodies.Select(b => new KitFile(b.FileName, StlWriter.Write(b.AsPrinted, Header(kit, b)))),
            .. !kit.AllBodies.Any() ? ImmutableArray<KitFile>.Empty : [new("kit.3mf", Assembly(kit))],
            new("parting.dxf", PartingDrawing.Write(kit)),
            new("templates.dxf", TemplateDrawing.Write(kit)),
            new("layout.dxf", LayoutDrawing.Write(kit)),
            new("shop-sheet.html", ShopSheet.Write(kit)),
            new("kit.json", KitJson.Write(kit)),
        ];
    }

    private static byte[] Assembly(Kit kit) =>
        ThreeMfWriter.Write([.. kit.AllBodies.Select(b => (b.Name, b.InMould))], new(CleanText.Of(kit.Job.Title), "PatternKit"));

    // What a text editor shows of an STL file; the format itself has no unit.
    private static string Header(Kit kit, KitBody body) => $"{body.Name}, millimetres, as printed, revision {Revision.Of(kit.Job)}";
}
