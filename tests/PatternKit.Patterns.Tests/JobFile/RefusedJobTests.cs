using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>Every job of tests/cases/jobs/refused, held against the message that its first line asks for.</summary>
public sealed class RefusedJobTests
{
    private const string Ask = "# refused: ";
    private static readonly KnownKeys Known = new(["AlSi7Mg", "gray-iron"], ["oil-bonded", "green"]);

    public static TheoryData<string> Jobs() => [.. Directory.GetFiles(JobFolder.Repository("tests", "cases", "jobs", "refused"), "*.toml").Select(f => Path.GetFileName(f)!).Order(StringComparer.Ordinal)];

    [Theory]
    [MemberData(nameof(Jobs))]
    public void A_job_that_cannot_be_used_is_refused_with_place_cause_and_remedy(string file)
    {
        var path = JobFolder.Repository("tests", "cases", "jobs", "refused", file);
        var first = File.ReadLines(path).First();
        Assert.StartsWith(Ask, first, StringComparison.Ordinal);
        var error = Assert.Throws<InputException>(() => JobReader.Read(path, Known));
        Assert.All(first[Ask.Length..].Split('|'), part => Assert.Contains(part, error.Message, StringComparison.Ordinal));
        Assert.DoesNotContain('\n', error.Message);
        Assert.True(error.Message.Length < 1000 + path.Length, $"{error.Message.Length} characters are more than a person reads.");
    }

    [Fact]
    public void The_folder_of_refused_jobs_is_not_empty() => Assert.True(Jobs().Count > 40);
}
