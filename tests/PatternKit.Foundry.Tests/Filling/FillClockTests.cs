using System.Collections.Immutable;
using CsCheck;
using static System.Math;

namespace PatternKit.Foundry.Tests.Filling;

/// <summary>Fill times against worked examples and against integrals in closed form.</summary>
public class FillClockTests
{
    // Groover, Fundamentals of Modern Manufacturing: sprue 20 cm, 2.5 cm² at its foot, cavity 1560 cm³: 198.1 cm/s, 495 cm³/s, 3.15 s.
    [Fact]
    public void A_mould_filled_under_the_whole_head_takes_its_volume_over_the_rate()
    {
        var clock = new FillClock(250, 1, 200);
        Assert.Equal(495.2, clock.Rate_mm3_s(-100, -50) / 1000, 0.06);
        Assert.Equal(3.15, clock.Time_s([new(-100, 0, 15600)]), 0.005);
    }

    // Ghosh and Mallik, Manufacturing Science, worked example p. 46: mould 50 × 25 × 15 cm, gate 5 cm², head 15 cm: 21.86 s from the top, 43.72 s
    // from the bottom; the level is at 5, 10 and 14 cm after 8.02, 18.48 and 32.43 s.
    [Theory]
    [InlineData(50, 8.02)]
    [InlineData(100, 18.48)]
    [InlineData(140, 32.43)]
    [InlineData(150, 43.72)]
    public void A_mould_filled_from_below_slows_down_towards_the_level_of_the_basin(double level_mm, double time_s)
    {
        var clock = new FillClock(500, 1, 150);
        Assert.Equal(time_s, clock.Time_s([new(0, level_mm, 500 * 250)]), 0.01);
        Assert.Equal(21.86, clock.Time_s([new(-150, 0, 500 * 250)]), 0.01);
    }

    // Examination problem: plan 1.0 × 0.5 m, head 300 mm, casting 250 mm high, gate 10 cm² at the bottom: 73.17 s.
    [Fact]
    public void A_lower_casting_than_the_head_is_full_before_it_stops() =>
        Assert.Equal(73.17, new FillClock(1000, 1, 300).Time_s([new(0, 250, 500_000)]), 0.01);

    [Fact]
    public void A_prism_fills_in_the_time_of_the_effective_head() =>
        Gen.Select(Gen.Double[20, 300], Gen.Double[0.05, 1], Gen.Double[0, 1]).Sample((height, above, head) =>
        {
            var over = above * height;
            var clock = new FillClock(80, 0.8, over + 20 + (head * 200));
            var time = clock.Time_s([new(over - height, over, 1000)]);
            var effective = EffectiveHead.Exact(clock.Head_mm, height, over);
            return Abs((time / (1000 * height / (80 * 0.8 * Flow.Speed_mm_s(effective)))) - 1) < 1e-9;
        });

    // For a prism the effective head of the cavity is the closed form of the joint gate, in as many slices as one likes; for a cone and a stepped body it is that head whose
    // steady speed fills the volume in the time of the closed forms below.
    [Fact]
    public void The_effective_head_of_a_cavity_is_the_closed_form_of_a_prism_and_fills_a_stepped_body_in_its_time()
    {
        var exact = EffectiveHead.Exact(190, 150, 110);
        Assert.Equal(exact, EffectiveHead.OfCavity(190, [new(-40, 110, 500)]), 1e-9);
        Assert.Equal(exact, EffectiveHead.OfCavity(190, [.. Enumerable.Range(0, 150).Select(i => new CavitySlice(i - 40, i - 39, 500))]), 1e-9);
        // Wide at the foot and narrow above: t = Σ 2 Aᵢ (√hᵢ − √hᵢ₊₁) / (A √(2g)), by hand.
        ImmutableArray<CavitySlice> steps = [new(0, 20, 6000), new(20, 90, 800)];
        var time = ((6000 * 2 * (Math.Sqrt(130) - Math.Sqrt(110))) + (800 * 2 * (Math.Sqrt(110) - Math.Sqrt(40)))) / (50 * Math.Sqrt(2 * 9810));
        Assert.Equal(((6000 * 20) + (800 * 70)) / (50 * time), Flow.Speed_mm_s(EffectiveHead.OfCavity(130, steps)), 1e-6);
        // The more of it lies low, the more of the head counts.
        Assert.True(EffectiveHead.OfCavity(130, steps) > EffectiveHead.Exact(130, 90, 90));
        Assert.Throws<ArgumentOutOfRangeException>(() => EffectiveHead.OfCavity(80, steps));
        Assert.Throws<ArgumentOutOfRangeException>(() => EffectiveHead.OfCavity(80, []));
    }

    // A cone that stands on its tip over the gate, radius r = k z, head h: t = π k² / (A √(2g)) ∫ z²/√(h − z) dz, and the integral from 0 to c is
    // 2 h² (√h − s) − 4/3 h (h√h − s³) + 2/5 (h²√h − s⁵) with s = √(h − c).
    [Fact]
    public void A_cone_fills_in_the_time_of_its_integral()
    {
        const double K = 0.5, Head = 120, Top = 100, Gate = 60;
        var (h, s) = (Sqrt(Head), Sqrt(Head - Top));
        var integral = (2 * Head * Head * (h - s)) - (4.0 / 3 * Head * ((Head * h) - Pow(s, 3))) + (2.0 / 5 * ((Head * Head * h) - Pow(s, 5)));
        var exact = PI * K * K / (Gate * Sqrt(2 * Flow.Gravity_mm_s2)) * integral;
        double Sliced(int n) => new FillClock(Gate, 1, Head).Time_s(Enumerable.Range(0, n).Select(i =>
        {
            var (low, high) = (Top * i / n, Top * (i + 1) / n);
            return new CavitySlice(low, high, PI * K * K * ((high * high * high) - (low * low * low)) / 3 / (high - low));
        }));
        Assert.Equal(exact, Sliced(50), 1.2e-4 * exact);
        Assert.Equal(exact, Sliced(400), 2e-6 * exact);
    }

    // A stepped body: each step by the closed form of a prism over its own heights.
    [Fact]
    public void A_stepped_body_fills_step_by_step()
    {
        double Step(double area, double low, double high) => area / 50 * 2 / Sqrt(2 * Flow.Gravity_mm_s2) * (Sqrt(100 - low) - Sqrt(100 - high));
        var time = new FillClock(50, 1, 100).Time_s([new(40, 70, 200), new(0, 10, 3000), new(10, 40, 800)]);
        Assert.Equal(Step(3000, 0, 10) + Step(800, 10, 40) + Step(200, 40, 70), time, 1e-9);
    }

    [Fact]
    public void No_mould_fills_above_the_level_in_the_basin() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => new FillClock(50, 1, 100).Time_s([new(90, 110, 10)]));
}
