using System.Diagnostics;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>Loops of one part lie apart or inside one another, and are not more than can be checked.</summary>
public sealed class LoopRuleTests
{
    [Theory]
    [InlineData("circle = 20, at = [[0, 0], [15, 0]]", "two loops cross near")]
    [InlineData("circle = 20, at = [[0, 0], [0, 0]]", "lie on each other")]
    [InlineData("circle = 0.05", "encloses no area")]
    [InlineData("polygon = [[0, 0], [10, 0], [20, 0]]", "encloses no area")]
    [InlineData("polygon = [[0, 0], [10, 10], [20, 20]]", "crosses or touches itself")]
    [InlineData("polygon = [[0, 0], [20, 20], [20, 0], [0, 20]]", "crosses or touches itself at (10 mm, 10 mm)")]
    [InlineData("path = [[0, 0, 1], [20, 0, -1]]", "crosses or touches itself")]
    [InlineData("circle = 20, at = [9995, 0]", "farther than 10000 mm")]
    [InlineData("path = [[0, 0, 100], [9000, 0]]", "farther than 10000 mm")]
    public void Loops_that_bound_no_region_are_refused_with_the_place(string shape, string told)
    {
        var error = Assert.Throws<InputException>(() => JobFolder.Read($"{JobFolder.Head}[[part]]\nshape = {{ {shape} }}\nz = [0, 12]\n"));
        Assert.Contains("line 6", error.Message, StringComparison.Ordinal);
        Assert.Contains(told, error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("circle = 20, at = [[0, 0], [20, 0]]")]
    [InlineData("rectangle = [20, 20], at = [[0, 0], [20, 0]]")]
    public void Copies_may_touch(string shape) =>
        Assert.Equal(2, JobFolder.Read($"{JobFolder.Head}[[part]]\nshape = {{ {shape} }}\nz = [0, 12]\n").Features[0].Loops.Length);

    [Fact]
    public void A_layer_of_many_rings_about_one_centre_is_refused_soon()
    {
        using var folder = new JobFolder();
        var rings = Enumerable.Range(1, 1000).Select(i => new DxfPath("RINGS", PlanPath.Circle(default, 0.2 + (i * 0.04))));
        File.WriteAllBytes(Path.Combine(folder.Folder, "rings.dxf"), DxfWriter.Write(new(DxfUnit.Millimetre, [new("RINGS")], rings)));
        RefusedSoon("too many", () => JobReader.Read(folder.Put("job.toml", $"{JobFolder.Head}[[part]]\noutline = \"rings.dxf#RINGS\"\nz = [0, 12]\n")));
    }

    [Fact]
    public void A_path_of_many_large_arcs_is_refused_soon()
    {
        var points = string.Join(", ", Enumerable.Range(0, 10_000).Select(i => string.Create(CultureInfo.InvariantCulture, $"[{i % 100}, {i / 100}, 50]")));
        RefusedSoon("points", () => JobFolder.Read($"{JobFolder.Head}[[part]]\nshape = {{ path = [{points}] }}\nz = [0, 12]\n"));
    }

    private static void RefusedSoon(string told, Func<Job> read)
    {
        var clock = Stopwatch.StartNew();
        Assert.Contains(told, Assert.Throws<InputException>(read).Message, StringComparison.Ordinal);
        Assert.True(clock.Elapsed < TimeSpan.FromSeconds(10), $"It took {clock.Elapsed}.");
    }
}
