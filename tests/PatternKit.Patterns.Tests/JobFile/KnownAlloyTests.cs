using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>What is said to a job that names its alloy in words.</summary>
public sealed class KnownAlloyTests
{
    private static readonly KnownKeys Known = new(["Cu", "gray-iron", "CuSn10Zn2", "silicon-bronze"], ["oil-bonded"])
    {
        AlloyTitles = [("Cu", "Copper"), ("gray-iron", "Gray iron"), ("CuSn10Zn2", "Gun metal, tin bronze 88-10-2"), ("silicon-bronze", "Silicon bronze (C87300)")],
    };

    [Theory]
    [InlineData("bronze", "Did you mean \"CuSn10Zn2\" or \"silicon-bronze\"?")]
    [InlineData("tin-bronze", "Did you mean \"CuSn10Zn2\"?")]
    [InlineData("Iron", "Did you mean \"gray-iron\"?")]
    [InlineData("grey-iron", "Did you mean \"gray-iron\"?")]
    public void It_is_told_the_keys_that_go_by_these_words(string written, string expected)
    {
        using var folder = new JobFolder();
        var path = folder.Put("job.toml", $"alloy = \"{written}\"\n");
        Assert.Contains(expected, Assert.Throws<InputException>(() => JobReader.Read(path, Known)).Message, StringComparison.Ordinal);
    }
}
