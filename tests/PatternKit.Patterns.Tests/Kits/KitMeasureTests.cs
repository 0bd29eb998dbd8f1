using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Dimensions followed onto the pattern, against plane geometry.</summary>
public sealed class KitMeasureTests
{
    private const double Contraction = 0.013;
    private const double Rapping_mm = 0.2;
    private const double Near_mm = 0.001;

    private static readonly double T = Math.Tan(2 * KitCheck.Degree);
    private static readonly double Ti = Math.Tan(3 * KitCheck.Degree);

    [Theory]
    [InlineData(0)]
    [InlineData(8)]
    [InlineData(19)]
    public void An_outer_size_grows_by_contraction_and_by_the_draft_below_the_tip(double z)
    {
        var m = Of(0, new("length", 80, new(-40, 0, z), new(40, 0, z)));
        var expected = (80 * (1 + Contraction)) + (2 * (20 - z) * (1 + Contraction) * T);
        Assert.Equal(expected, m.Pattern_mm!.Value, Near_mm);
        Assert.Equal(expected / (1 + Contraction), m.AsCast_mm!.Value, Near_mm);
    }

    [Fact]
    public void A_hole_shrinks_by_the_draft_of_its_walls()
    {
        var m = Of(0, new("window", 24, new(-12, 0, 12), new(12, 0, 12)));
        Assert.Equal((1 + Contraction) * (24 - (2 * 8 * Ti)), m.Pattern_mm!.Value, Near_mm);
    }

    [Fact]
    public void Rapping_is_taken_off_the_pattern_and_comes_back_on_the_casting()
    {
        var (without, with) = (Of(0, new("length", 80, new(-40, 0, 8), new(40, 0, 8))), Of(Rapping_mm, new("length", 80, new(-40, 0, 8), new(40, 0, 8))));
        Assert.Equal(without.Pattern_mm!.Value - (2 * Rapping_mm), with.Pattern_mm!.Value, Near_mm);
        Assert.Equal(without.AsCast_mm!.Value, with.AsCast_mm!.Value, Near_mm);
    }

    [Fact]
    public void A_height_grows_by_contraction_alone()
    {
        var m = Of(Rapping_mm, new("height", 20, new(25, 0, 0), new(25, 0, 20)));
        Assert.Equal(20 * (1 + Contraction), m.Pattern_mm!.Value, Near_mm);
        Assert.Equal(20, m.AsCast_mm!.Value, Near_mm);
    }

    // ISO 8062-3 gives the width of the field; ± is half of it. The figures themselves are tested where the table is.
    [Fact]
    public void The_tolerance_is_positive_and_tells_its_source()
    {
        var m = Of(0, new("length", 80, new(-40, 0, 8), new(40, 0, 8)));
        Assert.InRange(m.Tolerance_mm, 0.1, 5);
        Assert.Contains("ISO 8062", m.Source, StringComparison.Ordinal);
    }

    private static MeasureResult Of(double rapping_mm, Measure measure)
    {
        var job = Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 20), Jobs.Block(-12, -8, 12, 8, 0, 20, CutKind.Drawn, "window")).Bare(2, 3, 0);
        job = job with { Pattern = job.Pattern with { Contraction = Contraction, Rapping_mm = rapping_mm }, Measures = [measure] };
        return Assert.Single(KitCheck.Build(job).Measures);
    }
}
