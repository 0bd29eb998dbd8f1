using System.Text;
using System.Xml;
using System.Xml.Linq;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>
/// shop-sheet.html: one file that holds everything it shows, without script, font or link from elsewhere. It is written as
/// well-formed XML that browsers read as HTML.
/// </summary>
internal static class ShopSheet
{
    /// <summary>The bytes of the sheet, UTF-8.</summary>
    public static byte[] Write(Kit kit) => Write(Document(kit));

    /// <summary>The bytes of a document already made.</summary>
    public static byte[] Write(XElement document) => Encoding.UTF8.GetBytes("<!DOCTYPE html>\n" + Text(document) + "\n");

    /// <summary>The title of the job, or its name where it has none.</summary>
    public static string Title(Kit kit) => kit.Job.Title.Length > 0 ? kit.Job.Title : kit.Job.Name;

    /// <summary>The document, which HTML and PDF are written from.</summary>
    public static XElement Document(Kit kit)
    {
        var numbers = new SheetNumbers(kit.Job.Unit);
        // Its pictures are most of the sheet's work.
        var print = Task.Run(() => PrintSection.Make(kit, numbers));
        var general = Task.Run(() => GeneralDrawing.Draw(kit, numbers));
        var title = Title(kit);
        // What needs neither is made while both are drawn.
        object?[] before = [CautionSection.Make(kit), FindingSection.Make(kit, numbers)];
        var pieces = PieceSection.Make(kit, numbers);
        object?[] after =
        [
            PlateSection.Make(kit, numbers), CoreSection.Make(kit, numbers), GatingSection.Make(kit, numbers), FillingSection.Make(kit, numbers), FeedingSection.Make(kit, numbers),
            PouringSection.Make(kit, numbers), DimensionSection.Make(kit, numbers), FigureSection.Allowances(kit, numbers), FigureSection.Volumes(kit, numbers), FigureSection.Weights(kit, numbers),
            StepSection.Make(kit, numbers), InputSection.Make(kit),
        ];
        return Tag("html", Set("lang", "en"),
            Tag("head",
                Tag("meta", Set("charset", "utf-8")),
                Tag("meta", Set("name", "viewport"), Set("content", "width=device-width, initial-scale=1")),
                Tag("title", $"{title} \u2013 shop sheet"),
                Tag("style", Style())),
            Tag("body",
                Head(kit, title),
                Tag("main", before, print.GetAwaiter().GetResult(), pieces, PartingSection.Make(kit, numbers, general.GetAwaiter().GetResult()), after),
                Tag("footer", Tag("p", $"Shop sheet of “{title}”, revision {Revision.Of(kit.Job)}. Pattern sizes are in pattern millimetres: contraction and all other allowances are in them. Every figure is also in kit.json."))));
    }

    private static XElement Head(Kit kit, string title)
    {
        var job = kit.Job;
        return Tag("header",
            Classed("p", "kind", "Shop sheet for a sand-casting pattern"),
            Tag("h1", title),
            Classed("dl", "facts",
                Fact("Metal", kit.AlloyTitle == job.Alloy ? job.Alloy : $"{kit.AlloyTitle} ({job.Alloy})"),
                Fact("Moulding sand", job.Sand),
                Fact("Units", job.Unit == LengthUnit.Inch ? "inch, millimetres beside" : "millimetres"),
                Fact("Bodies to print", SheetNumbers.Whole(kit.AllBodies.Count())),
                Fact("Findings", FindingSection.Count(kit)),
                Fact("Revision (from the input files)", Revision.Of(job))));
    }

    private static XElement Fact(string name, string value) => Tag("div", Tag("dt", name), Tag("dd", value));

    private static string Style()
    {
        using var stream = typeof(ShopSheet).Assembly.GetManifestResourceStream("sheet.css")
            ?? throw new InvalidOperationException("The style of the sheet is not in the program.");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return "\n" + reader.ReadToEnd().ReplaceLineEndings("\n") + DrawingStyle.Css();
    }

    private static string Text(XElement document)
    {
        var text = new StringBuilder();
        var settings = new XmlWriterSettings { OmitXmlDeclaration = true, NewLineChars = "\n", CheckCharacters = true };
        using (var writer = XmlWriter.Create(text, settings)) document.Save(writer);
        return text.ToString();
    }
}
