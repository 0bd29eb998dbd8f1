namespace PatternKit.Patterns.Tests;

/// <summary>Prose of jobs in inches. By definition 1 in = 25.4 mm and 1 lb = 0.45359237 kg (1959); NIST SP 811, appendix B: 1 lbf = 4.448222 N.</summary>
public sealed class CustomaryUnitsTests
{
    // 6 / 25.4 = 0.236, 23.6 / 25.4 = 0.9291, 39 / 4.448222 = 8.77, 1.9 / 0.45359237 = 4.19, 5.4 cm³ / 16.387064 = 0.3295.
    [Theory]
    [InlineData("R 6 mm at its foot", "R 0.24 in (6 mm) at its foot")]
    [InlineData("hangs 23.6 mm deep.", "hangs 0.929 in (23.6 mm) deep.")]
    [InlineData("at z = -16 mm has", "at z = -0.63 in (-16 mm) has")]
    [InlineData("by 39 N, and", "by 8.8 lbf (39 N), and")]
    [InlineData("Lay 1.9 kg on", "Lay 4.2 lb (1.9 kg) on")]
    [InlineData("lacks 5.4 cm³:", "lacks 0.330 in³ (5.4 cm³):")]
    [InlineData("a flask of 169 × 214 mm:", "a flask of 6.65 × 8.43 in (169 × 214 mm):")]
    [InlineData("usually 3 to 4.5 mm", "usually 0.118 to 0.177 in (3 to 4.5 mm)")]
    [InlineData("near (22, -19.8, 11.7) mm hangs", "near (0.866, -0.780, 0.461 in; 22, -19.8, 11.7 mm) hangs")]
    [InlineData("pouring 0.70 kg/s, takes 1.8 s", "pouring 1.54 lb/s (0.70 kg/s), takes 1.8 s")]
    [InlineData("near (41.7, -15.2), (41.7, 15.2) mm: sand", "near (1.642, -0.598), (1.642, 0.598) in ((41.7, -15.2), (41.7, 15.2) mm): sand")]
    [InlineData("near (-0, 2) mm", "near (0.00, 0.08 in; -0, 2 mm)")]
    public void Metric_figures_stand_second(string metric, string wanted) => Assert.Equal(wanted, CustomaryUnits.First(metric));

    [Theory]
    [InlineData("2.51 times its width, 5 mm³/s, M4, z = 16")]
    [InlineData("the cut “slot 3 mm” and \"bore 5 mm\"")]
    [InlineData("0.5 in (12.7 mm) wide")]
    [InlineData("12.7 mm (0.5 in) wide")]
    public void What_is_no_figure_a_name_or_told_in_inches_stays(string text) => Assert.Equal(text, CustomaryUnits.First(text));

    [Fact]
    public void A_finding_of_a_metric_job_stays_as_it_is()
    {
        var finding = new Finding("no-draft", Severity.Warn, "6 mm deep", Remedy: "Leave 3 mm.");
        Assert.Equal(finding, finding.In(LengthUnit.Millimetre));
        Assert.Equal(("0.24 in (6 mm) deep", "Leave 0.12 in (3 mm)."), (finding.In(LengthUnit.Inch).Message, finding.In(LengthUnit.Inch).Remedy));
    }
}
