using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>The key <c>impressions</c>: a count, or places.</summary>
public sealed class ImpressionReaderTests
{
    private const string Tail = "\n[[part]]\nshape = { rectangle = [40, 20] }\nz = [0, 10]\n";

    [Fact]
    public void A_count_is_put_in_a_row_by_rule_and_places_are_kept()
    {
        var counted = Read("impressions = 3").Impressions!;
        Assert.Equal(3, counted.Count);
        Assert.Empty(counted.At_mm);
        Assert.Equal("job.toml, line 4", counted.Where);
        var placed = Read("impressions = [[0, 0], [0, \"1.5 in\"]]").Impressions!;
        Assert.Equal(2, placed.Count);
        Assert.Equal([new Vec2(0, 0), new(0, 38.1)], placed.At_mm);
    }

    [Theory]
    [InlineData("")]
    [InlineData("impressions = 1")]
    public void Once_is_what_a_job_without_the_key_has(string line) => Assert.Null(Read(line).Impressions);

    [Theory]
    [InlineData("impressions = 0", "impressions")]
    [InlineData("impressions = 25", "24")]
    [InlineData("impressions = 2.5", "impressions")]
    [InlineData("impressions = \"many\"", "impressions")]
    [InlineData("impressions = []", "[[0, 0], [0, 90]]")]
    [InlineData("impressions = [[0, 0], [0, 0]]", "one place twice")]
    [InlineData("impressions = [[0, 0], [0]]", "place of impressions")]
    public void What_is_no_count_and_no_list_of_places_is_refused_at_its_line(string line, string told)
    {
        var refused = Assert.Throws<InputException>(() => Read(line));
        Assert.Contains("line 4", refused.Message, StringComparison.Ordinal);
        Assert.Contains(told, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_camber_does_not_go_with_several() =>
        Assert.Contains("camber", Assert.Throws<InputException>(() => Read("impressions = 2", "[pattern]\ncamber = 1\n")).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("pour = \"on edge\"")]
    [InlineData("at = \"both ends\"")]
    public void Ways_to_pour_that_are_made_for_one_casting_do_not_go_with_several(string key) =>
        Assert.Contains("poured flat", Assert.Throws<InputException>(() => Read("impressions = 2", $"[gating]\n{key}\n")).Message, StringComparison.Ordinal);

    private static Job Read(string line, string tail = "") => JobFolder.Read($"unit = \"mm\"\nalloy = \"gray-iron\"\nsand = \"green\"\n{line}{Tail}{tail}");
}
