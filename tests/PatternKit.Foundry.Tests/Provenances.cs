namespace PatternKit.Foundry.Tests;

internal static class Provenances
{
    /// <summary>A row names its source; where other sources disagree, it says why it was preferred.</summary>
    public static void AssertComplete(Provenance from)
    {
        Assert.False(string.IsNullOrWhiteSpace(from.Source));
        Assert.NotEqual(Basis.Shop, from.Basis);
        Assert.DoesNotContain("www.", from.Source, StringComparison.Ordinal);
        Assert.All(from.Others, o => Assert.False(string.IsNullOrWhiteSpace(o.Says)));
        if (from.Basis == Basis.Memory)
            Assert.EndsWith("(from memory)", from.Text, StringComparison.Ordinal);
        if (from.Basis == Basis.CommonPractice)
            Assert.Contains("common practice", from.Text, StringComparison.Ordinal);
    }
}
