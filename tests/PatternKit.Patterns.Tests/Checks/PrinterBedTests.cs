using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Checks;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Checks;

/// <summary>What fits onto the shop's printer.</summary>
public class PrinterBedTests
{
    // A bar of length l and width w fits a square of side s turned by 45° when (l + w) / √2 ≤ s: elementary geometry.
    [Theory]
    [InlineData(200, 20, 210, 210, 0.0)]
    [InlineData(20, 200, 210, 30, 90.0)]
    [InlineData(230, 20, 180, 180, 45.0)]
    public void A_bar_fits_as_it_lies_across_or_along_the_diagonal(double l, double w, double bedX, double bedY, double about)
    {
        var turn = PrinterBed.TurnToFit([new(0, 0), new(l, 0), new(l, w), new(0, w)], bedX, bedY);
        Assert.NotNull(turn);
        Assert.Equal(about, turn.Value, 5.0);
    }

    [Fact]
    public void The_longest_bar_that_fits_a_square_is_that_of_the_diagonal()
    {
        const double s = 180, w = 20;
        var longest = (s * Math.Sqrt(2)) - w;
        Assert.Equal(45, PrinterBed.TurnToFit(Bar(longest - 0.001), s, s)!.Value, 0.001);
        Assert.Null(PrinterBed.TurnToFit(Bar(longest + 0.001), s, s));

        static Vec2[] Bar(double l) => [new(0, 0), new(l, 0), new(l, w), new(0, w)];
    }

    // A rectangle just as large as the bed, drawn at an odd angle, fits along its own side.
    [Fact]
    public void A_tight_fit_at_an_odd_angle_is_found()
    {
        var (s, c) = Math.SinCos(0.3123);
        Vec2 Turned(double x, double y) => new((c * x) - (s * y), (s * x) + (c * y));
        Assert.NotNull(PrinterBed.TurnToFit([Turned(0, 0), Turned(100, 0), Turned(100, 60), Turned(0, 60)], 100, 60));
    }

    [Theory]
    [InlineData("bed_mm = [150, 150]\n", 0, 0)]
    [InlineData("bed_mm = [85, 85]\n", 0, 1)]
    [InlineData("bed_mm = [75, 75]\ncut_to_bed = false\n", 1, 0)]
    [InlineData("bed_mm = [75, 75]\n", 0, 0)]
    [InlineData("bed_mm = [150, 150]\nheight_mm = 11\n", 1, 0)]
    public void The_kit_tells_what_does_not_fit(string printer, int warnings, int notes)
    {
        var tables = FoundryTables.Default.With("[printer]\n" + printer, "shop.toml");
        var job = Jobs.Of(Jobs.Block(0, 0, 98, 12, 0, 12)).Bare(1);
        var found = KitBuilder.Build(job, tables).Findings.Where(f => f.Code == "over-bed").ToArray();
        Assert.Equal((warnings, notes), (found.Count(f => f.Severity == Severity.Warn), found.Count(f => f.Severity == Severity.Note)));
        Assert.All(found, f => Assert.Contains("shop.toml", f.Source, StringComparison.Ordinal));
    }

    [Fact]
    public void A_bed_of_one_number_is_refused() =>
        Assert.Contains("length and width", Assert.Throws<TableException>(() => FoundryTables.Default.With("[printer]\nbed_mm = [220]\n", "shop.toml")).Message, StringComparison.Ordinal);
}
