using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>What can hurt someone, before everything else.</summary>
internal static class CautionSection
{
    public static XElement Make(Kit kit) =>
        Classed("section", "cautions", Set("aria-labelledby", "cautions"),
            Tag("h2", Set("id", "cautions"), "⚠\u00A0Before you melt"),
            Tag("p", Tag("strong", "Molten metal burns and kills. Moisture under it explodes. Its fumes, and those of burnt binder, harm the lungs."),
                " The law, fire code and insurance rules of the place where you work come before anything on this sheet, and so do the safety data sheets of your metal, sand and binder."),
            kit.Cautions.IsEmpty ? null : Tag("ul", kit.Cautions.Select(c => Tag("li", c))));
}
