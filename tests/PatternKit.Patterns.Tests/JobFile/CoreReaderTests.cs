using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>The table [cores] of a job, by the README.</summary>
public class CoreReaderTests
{
    private const string Job = "title = \"pump\"\nunit = \"mm\"\nalloy = \"AlSi7Mg\"\nsand = \"green\"\n[[part]]\nshape = { circle = 40 }\nz = [0, 10]\n";

    [Fact]
    public void Print_and_clearance_are_lengths_or_go_by_rule()
    {
        Assert.Null(Read(Job).Cores);
        Assert.Equal(new CoreSettings(12.7, 0.4), Read(Job + "[cores]\nprint = \"1/2 in\"\nclearance = 0.4\n").Cores);
        Assert.Equal(new CoreSettings(), Read(Job + "[cores]\nprint = \"auto\"\n").Cores);
    }

    [Theory]
    [InlineData("[cores]\nprints = 12\n", "print")]
    [InlineData("[cores]\nprint = 0.5\n", "from 1 mm")]
    [InlineData("[cores]\nclearance = 11\n", "to 10 mm")]
    [InlineData("[cores]\nclearance = \"2 deg\"\n", "an angle")]
    public void What_cannot_be_is_refused_with_its_line(string table, string said)
    {
        var message = Assert.Throws<InputException>(() => Read(Job + table)).Message;
        Assert.Contains(said, message, StringComparison.Ordinal);
        Assert.Contains("line 9", message, StringComparison.Ordinal);
    }

    private static Patterns.Job Read(string text)
    {
        using var folder = new JobFolder();
        return JobReader.Read(folder.Put("job.toml", text));
    }
}
