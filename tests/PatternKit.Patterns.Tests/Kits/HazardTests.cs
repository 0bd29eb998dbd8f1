using PatternKit.Foundry;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>A metal that can hurt beyond what any melt can, and the job that acknowledges it.</summary>
public sealed class HazardTests
{
    [Fact]
    public void Acknowledging_takes_the_stop_away_and_leaves_the_words()
    {
        var alloy = FoundryTables.Default.Alloys.First(a => a.Hazardous);
        var job = Jobs.Of(Jobs.Block(0, 0, 40, 30, 0, 10)) with { Alloy = alloy.Key };
        var (plain, acknowledged) = (KitCheck.Build(job), KitCheck.Build(job with { Acknowledged = [Finding.HazardousAlloy] }));
        Assert.True(plain.HasStop);
        Assert.False(acknowledged.HasStop);
        var finding = Assert.Single(acknowledged.Findings, f => f.Code == Finding.HazardousAlloy);
        Assert.Equal(Severity.Warn, finding.Severity);
        Assert.Contains(alloy.Hazard!.Text, finding.Message, StringComparison.Ordinal);
        Assert.Equal(plain.Cautions, acknowledged.Cautions);
        Assert.NotEmpty(acknowledged.Cautions);
    }
}
