using System.Xml.Linq;
using PatternKit.Exchange;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>What was read, and what had to be mended while reading.</summary>
internal static class InputSection
{
    public static XElement Make(Kit kit) =>
        Tag("section", Set("aria-labelledby", "inputs"),
            Tag("h2", Set("id", "inputs"), "Inputs and repairs"),
            kit.Job.Inputs.IsEmpty ? null : Table("Files that this kit was made from", ["File", "#Bytes", "SHA-256"],
                kit.Job.Inputs.Select(i => new object?[]
                {
                    CleanText.FileName(i.Name), SheetNumbers.Whole(i.Bytes), Tag("code", i.Sha256),
                })),
            kit.Job.Notes.IsEmpty
                ? Tag("p", "Nothing had to be mended or left out while reading.")
                : Tag("ul", kit.Job.Notes.Select(n => Tag("li", Tag("strong", Place(n)), " ", n.Text))));

    private static string Place(ReadNote note)
    {
        var name = CleanText.FileName(note.Source);
        return note.Line > 0 ? $"{name}, line {SheetNumbers.Whole(note.Line)}:" : $"{name}:";
    }
}
