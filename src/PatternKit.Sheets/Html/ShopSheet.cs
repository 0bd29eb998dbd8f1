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
        var title = Title(kit);
        // Drawings and pictures are most of the sheet's work. No section needs another, so that they are made side by side; the order is that of the list.
        Task<object?>[] sections =
        [
            Made(() => CautionSection.Make(kit)), Made(() => FindingSection.Make(kit, numbers)), Made(() => CouponSection.Make(kit, numbers)), Made(() => PrintSection.Make(kit, numbers)), Made(() => PieceSection.Make(kit, numbers)),
            Made(() => PartingSection.Make(kit, numbers)), Made(() => PlateSection.Make(kit, numbers)), Made(() => FollowBoardSection.Make(kit, numbers)), Made(() => LooseSection.Make(kit, numbers)), Made(() => CoreSection.Make(kit, numbers)), Made(() => GatingSection.Make(kit, numbers)),
            Made(() => FillingSection.Make(kit, numbers)), Made(() => FeedingSection.Make(kit, numbers)), Made(() => PouringSection.Make(kit, numbers).ToArray()), Made(() => DimensionSection.Make(kit, numbers)),
            Made(() => FigureSection.Allowances(kit, numbers)), Made(() => FigureSection.Volumes(kit, numbers)), Made(() => FigureSection.Weights(kit, numbers)), Made(() => StepSection.Make(kit, numbers)),
            Made(() => InputSection.Make(kit)),
        ];
        var document = Tag("html", Set("lang", "en"),
            Tag("head",
                Tag("meta", Set("charset", "utf-8")),
                Tag("meta", Set("name", "viewport"), Set("content", "width=device-width, initial-scale=1")),
                Tag("title", $"{title} \u2013 shop sheet"),
                Tag("style", Style())),
            Tag("body",
                Head(kit, title),
                Tag("main", sections.Select(s => s.GetAwaiter().GetResult())),
                Tag("footer", Tag("p", $"Shop sheet of “{title}”, revision {Revision.Of(kit.Job)}. Pattern sizes are in pattern millimetres: contraction and all other allowances are in them. Every figure is also in kit.json."))));
        TitleBlock.Number(document);
        return document;
    }

    private static Task<object?> Made(Func<object?> section) => Task.Run(section);

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
