using PatternKit.Exchange;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>[sheet] of a job.</summary>
public class SheetReaderTests
{
    [Theory]
    [InlineData("", ViewAngle.First)]
    [InlineData("[sheet]\n", ViewAngle.First)]
    [InlineData("[sheet]\nprojection = \"first\"\n", ViewAngle.First)]
    [InlineData("[sheet]\nprojection = \"third\"\n", ViewAngle.Third)]
    public void The_projection_is_first_angle_unless_third_is_asked(string table, ViewAngle expected) => Assert.Equal(expected, Read(table).Projection);

    [Theory]
    [InlineData("[sheet]\nprojection = \"thrid\"\n", "third")]
    [InlineData("[sheet]\nprojektion = \"third\"\n", "projection")]
    [InlineData("sheet = 3\n", "[sheet]")]
    public void What_cannot_be_used_is_refused_with_what_to_write(string table, string told) =>
        Assert.Contains(told, Assert.Throws<InputException>(() => Read(table)).Message, StringComparison.Ordinal);

    private static Job Read(string table) =>
        JobFolder.Read(table.StartsWith('[') ? $"alloy = \"AlSi7Mg\"\n{JobFolder.Disc}{table}" : $"alloy = \"AlSi7Mg\"\n{table}{JobFolder.Disc}");
}
