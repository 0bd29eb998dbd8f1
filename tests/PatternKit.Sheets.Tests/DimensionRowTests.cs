using System.Globalization;
using System.Xml.Linq;
using PatternKit.Sheets.Plans;

namespace PatternKit.Sheets.Tests;

/// <summary>Values at their dimension lines (ISO 129-1: above the line, or on the line continued, where they have no room). A letter is taken to be 2 mm wide.</summary>
public sealed class DimensionRowTests
{
    private const string Long = "60.34\u00A0mm (56.00\u00A0mm)";

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    // In one line 38 mm, in two lines 20 mm at the most.
    [Theory]
    [InlineData(50, "60.34\u00A0mm (56.00\u00A0mm)")]
    [InlineData(30, "60.34\u00A0mm|(56.00\u00A0mm)")]
    public void A_value_longer_than_its_line_stands_in_two(double length, string wanted)
    {
        var texts = Left(length, false);
        Assert.Equal(wanted, string.Join('|', texts.Select(t => t.Value)));
        // Read from the right: both are turned, the second nearer to the line.
        Assert.All(texts, t => Assert.StartsWith("rotate(-90", (string)t.Attribute("transform")!, StringComparison.Ordinal));
        Assert.Equal(texts.Select(t => (double)t.Attribute("x")!).Order(), texts.Select(t => (double)t.Attribute("x")!));
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void One_that_is_too_long_for_that_stands_level_beside_or_raised_above(bool isRaised)
    {
        var texts = Left(12, isRaised);
        Assert.Equal(["60.34\u00A0mm", "(56.00\u00A0mm)"], texts.Select(t => t.Value));
        Assert.Equal(isRaised, texts.All(t => t.Attribute("transform") is not null));
        // The view begins 100 mm down; a raised value ends above its arrow, 20 mm long about its middle.
        if (isRaised) Assert.All(texts, t => Assert.True((double)t.Attribute("y")! + 10 <= 100 - 3));
        Assert.Equal(isRaised ? DimensionRows.Pitch_mm + 3.9 : DimensionRows.Pitch_mm + 20 + 2, DimensionRows.Depth(1, [new(0, 12, Long)], Measure, isRaised), 0.01);
    }

    [Fact]
    public void Rows_below_make_room_for_a_second_line()
    {
        var sheet = new PlanSheet(new(0, 0), new(60, 30), new(1), 40, 10);
        var rows = DimensionRows.Ordered([new(0, 30, Long), new(0, 60, Long)]);
        Assert.Equal((2 * DimensionRows.Pitch_mm) + 3.9, DimensionRows.Height(1, rows, Measure), 0.01);
        var levels = DimensionRows.Below(sheet, rows, Measure).SelectMany(g => g.Elements(Svg + "text")).Select(t => (double)t.Attribute("y")!).Distinct().Order().ToArray();
        Assert.Equal(3, levels.Length);
        Assert.All(levels.Zip(levels.Skip(1)), p => Assert.True(p.Second - p.First > 3.5, string.Create(CultureInfo.InvariantCulture, $"{p.First} and {p.Second}")));
    }

    private static double Measure(string text) => 2 * text.Length;

    private static XElement[] Left(double length, bool isRaised)
    {
        var sheet = new PlanSheet(new(0, 0), new(100, length), new(1), 90, 100);
        return [.. DimensionRows.Left(sheet, [new(0, length, Long)], Measure, 0, isRaised).SelectMany(g => g.Elements(Svg + "text"))];
    }
}
