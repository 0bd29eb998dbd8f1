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
            kit.Cautions.GroupBy(c => c.When).Select(g => new object?[]
            {
                Tag("h3", char.ToUpperInvariant(g.Key[0]) + g.Key[1..]),
                Tag("ul", g.Select(c => Tag("li", c.Text, " ", Classed("span", "source", $"[{c.From.Text}]")))),
            }));

    /// <summary>Those of one stage of work once more, where it comes on the sheet; nothing where there are none.</summary>
    /// <param name="kit">The kit.</param>
    /// <param name="when">The stage, or how it begins.</param>
    public static XElement? At(Kit kit, string when) => kit.Cautions.Where(c => c.When.StartsWith(when, StringComparison.Ordinal)).ToArray() is { Length: > 0 } now
        ? Tag("ul", now.Select(c => Tag("li", Tag("strong", "⚠\u00A0"), c.Text)))
        : null;
}
