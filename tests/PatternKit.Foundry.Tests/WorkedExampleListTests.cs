using System.Reflection;

namespace PatternKit.Foundry.Tests;

/// <summary>The list of published worked examples: each has author, title and address, and a test that is there and can run.</summary>
public class WorkedExampleListTests
{
    private static readonly string[] Blank = ["", "-", "–", "?", "unknown"];

    [Fact]
    public void At_least_thirty_examples_have_author_title_and_address()
    {
        var rows = Rows("| Author |", 5);
        Assert.True(rows.Length >= 30, $"{rows.Length} examples");
        Assert.All(rows, r =>
        {
            Assert.All(r, cell => Assert.DoesNotContain(cell, Blank));
            Assert.StartsWith("http", r[2], StringComparison.Ordinal);
        });
        // No example twice.
        Assert.Equal(rows.Length, rows.Select(r => (r[0], r[1])).Distinct().Count());
    }

    [Fact]
    public void Every_example_has_a_test_that_is_there() => Assert.All([.. Rows("| Author |", 5), .. Rows("| What |", 3)], r => Assert.True(IsTest(r[^1]), $"{r[^1]} is no test"));

    private static bool IsTest(string name) => name.Split('.') is [var type, var method]
        && typeof(WorkedExampleListTests).Assembly.GetTypes().SingleOrDefault(t => t.Name == type)?.GetMethod(method) is { } found
        && found.GetCustomAttributes().Any(a => a is FactAttribute);

    private static string[][] Rows(string head, int columns)
    {
        using var stream = typeof(WorkedExampleListTests).Assembly.GetManifestResourceStream("worked-examples.md")!;
        using var reader = new StreamReader(stream);
        // Below the head and its rule, as far as the table goes.
        string[][] rows = [.. reader.ReadToEnd().Split('\n').SkipWhile(l => !l.StartsWith(head, StringComparison.Ordinal)).Skip(2).TakeWhile(l => l.StartsWith('|')).Select(l => l.Trim().Trim('|').Split('|', StringSplitOptions.TrimEntries))];
        Assert.All(rows, r => Assert.Equal(columns, r.Length));
        return rows;
    }
}
