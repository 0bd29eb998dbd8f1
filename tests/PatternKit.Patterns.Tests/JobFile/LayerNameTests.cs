using System.Text;
using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>Which layer a job means whose spelling is not that of the drawing.</summary>
public sealed class LayerNameTests
{
    [Fact]
    public void The_exact_name_goes_first_without_a_word()
    {
        var job = Read("Base", "Base", "BASE");
        Assert.Equal("Base", job.Features[0].Layer);
        Assert.DoesNotContain(job.Notes, n => n.Text.Contains("spells", StringComparison.Ordinal));
    }

    [Fact]
    public void The_only_other_spelling_is_taken_with_a_note()
    {
        var job = Read("base", "BASE", "RIB");
        Assert.Equal("BASE", job.Features[0].Layer);
        var note = Assert.Single(job.Notes, n => n.Text.Contains("spells", StringComparison.Ordinal));
        Assert.Contains("\"base\" as \"BASE\"", note.Text, StringComparison.Ordinal);
        Assert.Equal(6, note.Line);
    }

    [Fact]
    public void Two_other_spellings_are_refused_by_name() =>
        Assert.Contains("\"Base\" and \"BASE\"", Assert.Throws<InputException>(() => Read("base", "Base", "BASE")).Message, StringComparison.Ordinal);

    private static Job Read(string wanted, params string[] layers)
    {
        using var folder = new JobFolder();
        var groups = new StringBuilder("0|SECTION|2|TABLES|0|TABLE|2|LAYER|70|9|");
        foreach (var layer in layers) groups.Append($"0|LAYER|2|{layer}|70|0|62|7|");
        groups.Append("0|ENDTAB|0|ENDSEC|0|SECTION|2|ENTITIES|");
        foreach (var layer in layers) groups.Append($"0|CIRCLE|8|{layer}|10|0|20|0|40|30|");
        groups.Append("0|ENDSEC|0|EOF|");
        folder.Put("plate.dxf", groups.ToString().Replace('|', '\n'));
        return JobReader.Read(folder.Put("job.toml", $"{JobFolder.Head}[[part]]\noutline = \"plate.dxf#{wanted}\"\nz = [0, 12]\n"));
    }
}
