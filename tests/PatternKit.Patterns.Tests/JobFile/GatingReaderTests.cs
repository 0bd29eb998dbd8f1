using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>What a job can say of gating. Refusals are files in tests/cases/jobs/refused.</summary>
public sealed class GatingReaderTests
{
    [Theory]
    [InlineData("")]
    [InlineData("gating = \"auto\"\n")]
    public void Left_out_or_auto_gating_goes_by_rule(string line) => Assert.Null(JobFolder.Read(JobFolder.Head + line + JobFolder.Disc).Gating);

    [Fact]
    public void None_switches_it_off() =>
        Assert.Equal(new GatingSettings(Wanted: false), JobFolder.Read(JobFolder.Head + "gating = \"none\"\n" + JobFolder.Disc).Gating);

    [Fact]
    public void Every_key_is_taken_in_its_unit()
    {
        var job = JobFolder.Read(JobFolder.Head.Replace("\"mm\"", "\"in\"", StringComparison.Ordinal) + JobFolder.Disc
            + "[gating]\nratio = [1, 2, 2]\ntime = 4.5\nhead = 4\nat = [1, \"10 mm\"]\ningates = 2\npour_temperature = 720\n");
        Assert.Equal(new GatingSettings(true, new GatingRatio(1, 2, 2), 4.5, 101.6, new Vec2(25.4, 10), 2, 720), job.Gating);
    }

    [Theory]
    [InlineData("pour = \"flat\"", GatedAt.Rule, false, 0, 0)]
    [InlineData("at = \"one end\"", GatedAt.OneEnd, false, 0, 0)]
    [InlineData("at = \"bottom\"", GatedAt.Bottom, false, 0, 0)]
    [InlineData("pour = \"on edge\"", GatedAt.Rule, true, 0, 0)]
    [InlineData("pour = \"on edge\"\nup = \"auto\"", GatedAt.Rule, true, 0, 0)]
    [InlineData("pour = \"on edge\"\nup = \"-y\"\nat = \"both ends\"", GatedAt.BothEnds, true, 0, -1)]
    [InlineData("pour = \"on edge\"\nup = \"+x\"", GatedAt.Rule, true, 1, 0)]
    public void How_the_mould_stands_and_where_it_is_gated_are_words(string lines, GatedAt where, bool onEdge, double x, double y)
    {
        var gating = JobFolder.Read(JobFolder.Head + JobFolder.Disc + "[gating]\n" + lines + "\n").Gating;
        Assert.Equal(new GatingSettings { Where = where, OnEdge = onEdge, Up = x == 0 && y == 0 ? null : new Vec2(x, y) }, gating);
    }

    [Fact]
    public void A_key_left_out_or_auto_goes_by_rule() =>
        Assert.Equal(new GatingSettings(Head_mm: 100), JobFolder.Read(JobFolder.Head + JobFolder.Disc + "[gating]\nhead = 100\nratio = \"auto\"\nat = \"auto\"\n").Gating);
}
