using System.Collections.Immutable;
using System.Text;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>Sheets of kits that are out of the common, read back by pdf.js.</summary>
public sealed class SheetStressTests
{
    public static TheoryData<string> Names() => ["forty findings", "small", "long", "title", "letters", "inches", "nothing"];

    [Theory]
    [MemberData(nameof(Names))]
    public void No_text_overlaps_another_or_leaves_the_page(string name)
    {
        var pages = Sheet(Of(name));
        Assert.NotEmpty(pages);
        Assert.All(pages, p => Assert.Empty(p.Clashes()));
    }

    [Fact]
    public void Forty_findings_are_all_told_and_numbered()
    {
        var text = Text(Sheet(Of("forty findings")));
        Assert.All(Enumerable.Range(1, 40), i => Assert.Contains($"Wall number {i} of forty", text, StringComparison.Ordinal));
    }

    [Fact]
    public void A_long_title_stands_whole_at_the_head()
    {
        var letters = Text(Sheet(Of("title"))).Count(c => c == 'W');
        Assert.True(letters >= 200, $"{letters} of 200");
    }

    // U+6CF5 is the character for a pump and U+623F that for a house (Unicode Standard, block CJK Unified Ideographs, script Han).
    [Fact]
    public void A_script_that_the_typeface_lacks_is_named()
    {
        var kit = SampleKits.Frusta(title: "Pump house \u6CF5\u623F No 2");
        var text = Text(Sheet(kit));
        Assert.Contains("Pump house [Han U+6CF5 U+623F] No 2", text, StringComparison.Ordinal);
        Assert.Contains("[Han U+6CF5 U+623F]", Text(PageReader.Pdf(KitFiles.Render(kit).Single(f => f.Name == "templates-a4.pdf").Content)), StringComparison.Ordinal);
    }

    [Fact]
    public void Sheets_are_the_same_bytes_every_time()
    {
        var kit = SampleKits.Bracket();
        byte[] Once() => KitFiles.Render(kit).Single(f => f.Name == "shop-sheet.pdf").Content;
        Assert.Equal(Once(), Once());
    }

    private static Kit Of(string name)
    {
        var kit = SampleKits.Frusta();
        return name switch
        {
            "forty findings" => kit with
            {
                Findings = [.. Enumerable.Range(1, 40).Select(i => new Finding("no-draft", (Severity)(i % 2), $"Wall number {i} of forty leans by less than is asked.", new Vec3((i % 7) - 3, 10 * Math.Sin(i), 3), i, 40, "common practice", "Give it more.", "mm"))],
            },
            "small" => TemplatePageTests.Large(2.5),
            "long" => TemplatePageTests.Large(450),
            "title" => SampleKits.Frusta(title: new string('W', 200)),
            "letters" => SampleKits.Frusta(title: "Στυπιοθλίπτης – Втулка № 2 & Ø30"),
            "inches" => SampleKits.Frusta(LengthUnit.Inch),
            _ => kit with { Bodies = [], Dowels = [], Measures = [], Findings = [], Decisions = [], Cautions = [], Plan = new(Geometry.Plan.PlanRegion.Empty, Geometry.Plan.PlanRegion.Empty, [], []) },
        };
    }

    private static PdfPage[] Sheet(Kit kit) => PageReader.Pdf(KitFiles.Render(kit).Single(f => f.Name == "shop-sheet.pdf").Content);

    private static string Text(PdfPage[] pages) => string.Join('\n', pages.SelectMany(p => p.Texts).Select(t => t.Text)).Replace('\u00A0', ' ');
}
