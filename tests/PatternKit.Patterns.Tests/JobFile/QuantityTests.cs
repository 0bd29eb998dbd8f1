using PatternKit.Exchange;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>
/// Quantities as written in jobs. The inch is 25.4 mm exactly (international yard and pound agreement, 1959), so every
/// value here is arithmetic done by hand and has to come out to the last bit.
/// </summary>
public sealed class QuantityTests
{
    [Theory]
    [InlineData("\"1/2 in\"", 12.7)]
    [InlineData("\"1 3/16 in\"", 30.1625)]
    [InlineData("\"1-3/16 in\"", 30.1625)]
    [InlineData("\"0.1 in\"", 2.54)]
    [InlineData("\"1.1 in\"", 27.94)]
    [InlineData("'1.1\"'", 27.94)]
    [InlineData("\"1 ft\"", 304.8)]
    [InlineData("\"10 thou\"", 0.254)]
    [InlineData("\"12 mm\"", 12.0)]
    [InlineData("\"12mm\"", 12.0)]
    [InlineData("\"1.2 cm\"", 12.0)]
    [InlineData("\"0.012 m\"", 12.0)]
    [InlineData("\"12\"", 12.0)]
    [InlineData("12", 12.0)]
    [InlineData("1.2e1", 12.0)]
    [InlineData("\"1.2E1 mm\"", 12.0)]
    [InlineData("\"+12 mm\"", 12.0)]
    public void A_length_is_exact_in_a_job_in_millimetres(string written, double mm) =>
        Assert.Equal(mm, High(JobFolder.Head, written));

    [Theory]
    [InlineData("1", 25.4)]
    [InlineData("1.1", 27.94)]
    [InlineData("\"1/2\"", 12.7)]
    [InlineData("\"1 3/16\"", 30.1625)]
    [InlineData("\"12 mm\"", 12.0)]
    public void Bare_lengths_are_in_the_jobs_unit_and_written_units_in_their_own(string written, double mm) =>
        Assert.Equal(mm, High(JobFolder.Head.Replace("\"mm\"", "\"in\"", StringComparison.Ordinal), written));

    [Fact]
    public void Nested_bare_lengths_are_in_the_jobs_unit_too()
    {
        var job = JobFolder.Read(JobFolder.Head.Replace("\"mm\"", "\"in\"", StringComparison.Ordinal) + "[[part]]\nshape = { circle = 1, at = [[2, 3]] }\nz = [0, 1]\n");
        var loop = Assert.Single(job.Features[0].Loops);
        Assert.Equal(Math.PI * 12.7 * 12.7, loop.SignedArea(), 9);
        Assert.Equal(50.8 + 12.7, loop.Vertices[0].Point.X, 12);
        Assert.Equal(76.2, loop.Vertices[0].Point.Y, 12);
    }

    [Theory]
    [InlineData("2", 2)]
    [InlineData("\"2 deg\"", 2)]
    [InlineData("\"2°\"", 2)]
    [InlineData("\"1 1/2 deg\"", 1.5)]
    [InlineData("\"1.5 degrees\"", 1.5)]
    public void Bare_angles_are_degrees(string written, double degrees)
    {
        var job = JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc}[pattern]\ndraft = {written}\n");
        Assert.Equal(degrees * Math.PI / 180, job.Pattern.DraftOutside!.Value, 15);
        Assert.Equal(job.Pattern.DraftOutside, job.Pattern.DraftInside);
    }

    [Fact]
    public void Radians_are_radians() =>
        Assert.Equal(0.05, JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc}[pattern]\ndraft = \"0.05 rad\"\n").Pattern.DraftOutside!.Value, 15);

    [Theory]
    [InlineData("1/8 in/ft", 1 / 96.0)] // 0.125 / 12
    [InlineData("5/32 in/ft", 5 / 384.0)]
    [InlineData("1.3 %", 0.013)]
    [InlineData("13 mm/m", 0.013)]
    [InlineData("none", 0.0)]
    public void A_contraction_is_a_ratio_to_the_casting(string written, double fraction) =>
        // Twelfths are no finite decimals, so the last bit is not promised as it is for lengths.
        Assert.Equal(fraction, JobFolder.Read($"{JobFolder.Head}{JobFolder.Disc}[pattern]\ncontraction = \"{written}\"\n").Pattern.Contraction!.Value, 15);

    [Theory]
    [InlineData("\"twelve\"")]
    [InlineData("\"\"")]
    [InlineData("\"1/0 in\"")]
    [InlineData("\"1 / in\"")]
    [InlineData("\"12 parsecs\"")]
    [InlineData("\"12 mm mm\"")]
    [InlineData("\"12 kg\"")]
    [InlineData("\"1e999 mm\"")]
    [InlineData("\"0x10\"")]
    [InlineData("\"１２\"")]
    [InlineData("[12]")]
    [InlineData("true")]
    [InlineData("1979-05-27")]
    public void What_is_no_length_is_refused_at_its_line(string written)
    {
        var error = Assert.Throws<InputException>(() => High(JobFolder.Head, written));
        Assert.Contains("job.toml, line 7:", error.Message, StringComparison.Ordinal);
    }

    private static double High(string head, string written) =>
        JobFolder.Read($"{head}[[part]]\nshape = {{ circle = \"5 mm\" }}\nz = [0, {written}]\n").Features[0].High_mm;
}
