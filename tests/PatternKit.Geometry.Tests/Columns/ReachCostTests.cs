using CsCheck;
using PatternKit.Geometry.Columns;

namespace PatternKit.Geometry.Tests.Columns;

public class ReachCostTests
{
    private static readonly Gen<(double Area, double Low, double High)[]> Columns =
        Gen.Select(Gen.Int[1, 4], Gen.Int[-6, 6], Gen.Int[0, 5], (a, low, length) => ((double)a, (double)low, (double)low + length)).Array[1, 12];

    // Whole areas and heights tie often, which is where an interval opens.
    private static readonly Gen<(double Area, double Low, double High)[]> Longer =
        Gen.Select(Gen.Int[1, 4], Gen.Int[-9, 9], Gen.Int[1, 9], (a, low, length) => ((double)a, (double)low, (double)low + length)).Array[1, 12];

    [Fact]
    public void The_cost_is_the_sum_over_columns_at_any_height() =>
        Gen.Select(Columns, Gen.Double[-20, 20]).Sample((columns, z) =>
            Assert.Equal(columns.Sum(c => c.Area * (Math.Max(0, z - c.High) + Math.Max(0, c.Low - z))), new ReachCost(columns).At(z), 1e-9), iter: 1000);

    [Fact]
    public void The_least_interval_is_all_heights_of_least_cost() =>
        Columns.Sample(columns =>
        {
            // Breaks are whole numbers, so halves show every stretch between them.
            var cost = new ReachCost(columns);
            var tried = Enumerable.Range(-40, 100).Select(i => i / 2.0).Select(z => (Z: z, F: columns.Sum(c => c.Area * (Math.Max(0, z - c.High) + Math.Max(0, c.Low - z))))).ToList();
            var least = tried.Min(t => t.F);
            Assert.Equal(least, cost.Least_mm3, 1e-9);
            Assert.Equal((tried.First(t => t.F == least).Z, tried.Last(t => t.F == least).Z), (cost.LeastFrom, cost.LeastTo));
        }, iter: 2000);

    [Fact]
    public void The_least_interval_equals_brute_force_over_a_thousand_heights() =>
        Longer.Sample(
            columns =>
            {
                var cost = new ReachCost(columns);
                var (low, high) = (columns.Min(c => c.Low), columns.Max(c => c.High));
                var brute = Enumerable.Range(0, 1001).Select(i => low + ((high - low) * i / 1000)).ToList();
                var least = brute.Min(cost.At);
                var exact = cost.At(cost.LeastFrom);
                Assert.True(exact <= least * (1 + 1e-12) + 1e-9);
                Assert.Equal(exact, cost.At(cost.LeastTo), 1e-6);
                foreach (var z in brute)
                {
                    var isLeast = cost.At(z) <= exact + 1e-9;
                    Assert.True(!isLeast || (cost.LeastFrom - 1e-9 <= z && z <= cost.LeastTo + 1e-9), $"{z}");
                    Assert.True(isLeast || z < cost.LeastFrom || z > cost.LeastTo, $"{z}");
                }
            },
            iter: 300);
}
