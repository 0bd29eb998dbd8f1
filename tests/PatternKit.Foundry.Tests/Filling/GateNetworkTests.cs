using System.Collections.Immutable;

namespace PatternKit.Foundry.Tests.Filling;

/// <summary>
/// Splits between four equal ingates 60 mm apart on a square runner, 200 mm of head, sprue 200 mm², discharge 0.8, f = 0.03, bend 0.7: solved apart from the program
/// with the model that reproduces measured cast-iron splits (Imono 54, 1982). Shares in percent from the sprue outward, and the whole rate in cm³/s.
/// </summary>
public class GateNetworkTests
{
    [Theory]
    [InlineData(2, 1, new[] { 24.1, 24.8, 25.4, 25.7 }, 242.6)]
    [InlineData(1, 1, new[] { 21.8, 24.2, 26.3, 27.7 }, 229.6)]
    [InlineData(2, 2, new[] { 21.6, 24.2, 26.4, 27.8 }, 334.6)]
    [InlineData(4, 4, new[] { 21.5, 24.2, 26.4, 27.9 }, 351.6)]
    [InlineData(2, 4, new[] { 13.4, 21.2, 29.5, 35.9 }, 375.1)]
    public void Farther_ingates_get_more_and_the_more_so_the_wider_they_are_for_their_runner(double runner, double ingates, double[] percent, double rate_cm3_s) =>
        Check([1, 1, 1, 1], runner, ingates, percent, rate_cm3_s);

    [Fact]
    public void A_runner_that_is_stepped_down_evens_the_split_out() =>
        Check([1, 0.75, 0.5, 0.25], 2, 2, [26.0, 25.4, 24.8, 23.8], 318.9);

    // √(2gH / 1.7) = 1.519 m/s.
    [Fact]
    public void Out_of_a_huge_runner_all_ingates_run_alike()
    {
        var network = GateNetwork.Solve(200, 1e9, 0.8, [.. Enumerable.Repeat(new GateBranch(1e8, 1e4, 60, 50), 4)], 0.03, 0.7);
        Assert.All(network.Rates_mm3_s, r => Assert.Equal(1519, r / 50, 1.0));
    }

    [Fact]
    public void A_single_ingate_gets_all() =>
        Assert.Equal(1, GateNetwork.Solve(100, 100, 0.8, [new(200, 14, 50, 150)], 0.03, 0.7).Share(0), 1e-12);

    private static void Check(double[] steps, double runner, double ingates, double[] percent, double rate_cm3_s)
    {
        const double Sprue = 200;
        var branches = steps.Select(s => new GateBranch(Sprue * runner * s, Math.Sqrt(Sprue * runner * s), 60, Sprue * ingates / 4)).ToImmutableArray();
        var network = GateNetwork.Solve(200, Sprue, 0.8, branches, 0.03, 0.7);
        for (var i = 0; i < 4; i++) Assert.Equal(percent[i], 100 * network.Share(i), 0.3);
        Assert.Equal(rate_cm3_s, network.Total_mm3_s / 1000, 0.01 * rate_cm3_s);
    }
}
