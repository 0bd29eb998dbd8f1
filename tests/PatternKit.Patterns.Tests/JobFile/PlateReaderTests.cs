using PatternKit.Exchange;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>[plate] of a job.</summary>
public class PlateReaderTests
{
    [Fact]
    public void Left_out_or_none_the_patterns_are_loose()
    {
        Assert.Null(Read("").Plate);
        Assert.Null(Read("plate = \"none\"\n").Plate);
    }

    [Fact]
    public void Words_and_tables_are_read_in_the_unit_of_the_job()
    {
        Assert.Equal(PlateKind.Boards, Read("plate = \"boards\"\n").Plate!.Kind);
        var plate = Read("unit = \"in\"\n", "[plate]\nsize = [12, \"200 mm\"]\nthickness = \"1/2 in\"\nfillet = \"none\"\npins = [{ at = [-5, 0.5], diameter = 0.375 }]\n", "").Plate!;
        Assert.Equal((PlateKind.Match, (304.8, 200.0), 12.7, 0.0), (plate.Kind, plate.Size_mm!.Value, plate.Thickness_mm!.Value, plate.Fillet_mm!.Value));
        Assert.Equal(new FlaskPin(new(-127, 12.7), 9.525), Assert.Single(plate.Pins));
    }

    [Theory]
    [InlineData("plate = \"macth\"\n", "", "match")]
    [InlineData("", "[plate]\nkind = 3\n", "write one of")]
    [InlineData("", "[plate]\nsiz = [1, 2]\n", "size")]
    [InlineData("", "[plate]\nsize = [300]\n", "along x and along y")]
    [InlineData("", "[plate]\nthickness = 1\n", "out of range")]
    [InlineData("", "[plate]\npins = [3]\n", "from the middle of the plate")]
    [InlineData("", "[plate]\npins = [{ at = [1, 2] }]\n", "a place and a diameter")]
    public void What_cannot_be_read_is_refused_with_its_line(string head, string tail, string words)
    {
        var e = Assert.Throws<InputException>(() => Read(head, tail));
        Assert.Contains("job.toml, line ", e.Message, StringComparison.Ordinal);
        Assert.Contains(words, e.Message, StringComparison.Ordinal);
    }

    private static Job Read(string head, string tail = "", string unit = "unit = \"mm\"\n") =>
        JobFolder.Read($"title = \"Cover plate\"\n{unit}alloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\n{head}{JobFolder.Disc}{tail}");
}
