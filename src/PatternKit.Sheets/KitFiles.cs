using System.Collections.Immutable;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Drawings;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Json;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Templates;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets;

/// <summary>Makes the files of a kit. Pure: nothing touches the disk, and the same kit gives the same bytes.</summary>
public static class KitFiles
{
    /// <summary>
    /// All files of the kit: one STL file a body, the bodies together in kit.3mf, the drawings, the templates, the shop sheet and kit.json,
    /// then every drawing and picture of the sheet by itself.
    /// A kit without bodies has no mesh files.
    /// </summary>
    public static ImmutableArray<KitFile> Render(Kit kit)
    {
        ArgumentNullException.ThrowIfNull(kit);
        // None needs another, so that they are made side by side, the longest work first; the order is that of the list.
        var document = Task.Run(() => ShopSheet.Document(kit));
        var drawings = Task.Run(() => DrawingFiles.Of(document.GetAwaiter().GetResult()).ToArray());
        var format = kit.Job.Unit == LengthUnit.Inch ? PaperFormat.Letter : PaperFormat.A4;
        Task<KitFile>[] sheets =
        [
            Made("shop-sheet.html", () => ShopSheet.Write(document.GetAwaiter().GetResult())),
            Made("shop-sheet.pdf", () => SheetPdf.Write(document.GetAwaiter().GetResult(), ShopSheet.Title(kit), Revision.Of(kit.Job), format)),
        ];
        var sections = new Lazy<ImmutableArray<HalfSection>>(() => [.. HalfSections.Of(kit)]);
        var templates = new Lazy<ImmutableArray<Template>>(() => FullSizeTemplates.Of(kit, sections.Value));
        Task<KitFile>[] files =
        [
            .. kit.AllBodies.Select(b => Made(b.FileName, () => StlWriter.Write(kit.InFile(b).AsPrinted, Header(kit, b)))),
            .. kit.AllBodies.Any() ? [Made("kit.3mf", () => Assembly(kit))] : Array.Empty<Task<KitFile>>(),
            Made("parting.dxf", () => PartingDrawing.Write(kit)),
            Made("templates.dxf", () => TemplateDrawing.Write(kit, sections.Value)),
            Made("layout.dxf", () => LayoutDrawing.Write(kit)),
            Made("templates-a4.pdf", () => TemplatePages.Write(kit, templates.Value, PaperFormat.A4)),
            Made("templates-letter.pdf", () => TemplatePages.Write(kit, templates.Value, PaperFormat.Letter)),
            Made("cutting.dxf", () => CuttingFiles.Dxf(kit, templates.Value)),
            Made("cutting.svg", () => CuttingFiles.Svg(kit, templates.Value)),
            .. sheets,
            Made("kit.json", () => KitJson.Write(kit)),
        ];
        return [.. files.Select(f => f.GetAwaiter().GetResult()), .. drawings.GetAwaiter().GetResult()];
    }

    private static Task<KitFile> Made(string name, Func<byte[]> content) => Task.Run(() => new KitFile(name, content()));

    private static byte[] Assembly(Kit kit) =>
        ThreeMfWriter.Write([.. kit.AllBodies.Select(b => (b.Name, kit.InFile(b).InMould))], new(CleanText.Of(kit.Job.Title), "PatternKit"));

    // What a text editor shows of an STL file; the format itself has no unit.
    private static string Header(Kit kit, KitBody body) => $"{body.Name}, millimetres, as printed, revision {Revision.Of(kit.Job)}";
}
