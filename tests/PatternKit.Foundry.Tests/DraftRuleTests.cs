using CsCheck;

namespace PatternKit.Foundry.Tests;

public class DraftRuleTests
{
    private static double Degrees(double height_mm, bool inside, PatternSkin skin) =>
        double.RadiansToDegrees(DraftRule.For(FoundryTables.Default.Draft, height_mm, inside, skin).Value);

    // DIN 1511:1978, wood and metal patterns, from memory: up to 10 mm 3 deg, 18: 2, 30: 1 deg 30', 50: 1, 80: 45', 180: 30'.
    [Theory]
    [InlineData(10, 3)]
    [InlineData(18, 2)]
    [InlineData(30, 1.5)]
    [InlineData(50, 1)]
    [InlineData(80, 0.75)]
    [InlineData(180, 0.5)]
    public void Smooth_outside_walls_follow_the_din_rows(double height_mm, double degrees)
    {
        Assert.Equal(degrees, Degrees(height_mm, inside: false, PatternSkin.Smoothed), 1e-12);
        Assert.True(Degrees(height_mm + 0.1, inside: false, PatternSkin.Smoothed) <= degrees);
    }

    // AFS Patternmaker's Manual type table, wood, internal, from memory: 1 in 3 deg, 2 in 2.5, 4 in 1.5, 8 and 32 in 1.
    [Theory]
    [InlineData(1, 3)]
    [InlineData(2, 2.5)]
    [InlineData(4, 1.5)]
    [InlineData(8, 1)]
    [InlineData(32, 1)]
    public void Smooth_inside_walls_follow_the_afs_rows(double height_in, double degrees) =>
        Assert.Equal(degrees, Degrees(height_in * 25.4, inside: true, PatternSkin.Smoothed), 1e-12);

    // Read: "small parts 2 deg usual" (DIN 1511 / EN 12890 summary) and "faces 1 - 4 in high 1 deg adequate" (aluminium
    // foundry). Layer lines add 0.5 to 1 deg by common practice.
    [Fact]
    public void Printed_patterns_of_small_parts_get_about_the_usual_two_degrees()
    {
        Assert.Equal(2, Degrees(25, inside: false, PatternSkin.Sanded), 1e-12);
        for (var height_mm = 25.4; height_mm <= 101.6; height_mm += 5)
            Assert.InRange(Degrees(height_mm, inside: false, PatternSkin.Sanded), 1, 2.5);
    }

    // Common practice: +0.5 to +1 deg for a printed pattern; sealed and sanded along the draw it takes the less.
    [Fact]
    public void A_rougher_skin_asks_for_more_draft_within_the_range_of_the_trade()
    {
        double[] added = [.. new[] { PatternSkin.Smoothed, PatternSkin.Sanded, PatternSkin.Printed }.Select(s => double.RadiansToDegrees(DraftRule.ForSkin(FoundryTables.Default.Draft, s).Value))];
        Assert.Equal([0, 0.5, 1], added, (a, b) => Math.Abs(a - b) < 1e-12);
        Assert.Equal(Degrees(25, false, PatternSkin.Smoothed) + 1, Degrees(25, false, PatternSkin.Printed), 1e-12);
        Assert.Contains("layers left as printed", DraftRule.For(FoundryTables.Default.Draft, 25, false, PatternSkin.Printed).Rule, StringComparison.Ordinal);
        Assert.DoesNotContain("layers", DraftRule.For(FoundryTables.Default.Draft, 25, false, PatternSkin.Smoothed).Rule, StringComparison.Ordinal);
    }

    [Fact]
    public void The_rule_text_tells_angle_height_and_skin()
    {
        var draft = DraftRule.For(FoundryTables.Default.Draft, 25, inside: false, PatternSkin.Sanded);
        Assert.Equal("2 deg: outside wall over 18 to 30 mm high, 1.5 deg + 0.5 deg for printed layers sealed and sanded along the draw, table draft", draft.Rule);
        Assert.Contains("DIN 1511:1978", draft.Source, StringComparison.Ordinal);
        Assert.Contains("from memory", draft.Source, StringComparison.Ordinal);
    }

    // Computed in trade tables: 2 deg is 3.492 mm on 100 mm.
    [Fact]
    public void Angles_come_in_radians() =>
        Assert.Equal(3.492, 100 * Math.Tan(DraftRule.For(FoundryTables.Default.Draft, 25, inside: false, PatternSkin.Sanded).Value), 0.0005);

    [Fact]
    public void Draft_never_grows_with_height_and_inside_is_never_less_than_outside() =>
        Gen.Select(Gen.Double[0.01, 5000], Gen.Double[0.01, 5000], Gen.Enum<PatternSkin>()).Sample((a, b, skin) =>
        {
            var (low, high) = (Math.Min(a, b), Math.Max(a, b));
            return Degrees(low, false, skin) >= Degrees(high, false, skin)
                && Degrees(low, true, skin) >= Degrees(high, true, skin)
                && Degrees(a, true, skin) >= Degrees(a, false, skin)
                && Degrees(a, false, skin) >= 0.25 - 1e-12;
        });

    [Fact]
    public void The_floor_is_a_quarter_degree() =>
        Assert.Equal(0.25, double.RadiansToDegrees(DraftRule.Floor(FoundryTables.Default.Draft).Value), 1e-12);

    [Theory]
    [InlineData(0)]
    [InlineData(double.NaN)]
    public void A_wall_without_height_is_refused(double height_mm) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => DraftRule.For(FoundryTables.Default.Draft, height_mm, false, PatternSkin.Sanded));
}
