using PatternKit.Geometry.Tests.Reference;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>The program that is started, in a release build compiled ahead of time, beside the code that all other tests run as managed.</summary>
public sealed class StartedProgramTests(MadeKits kits)
{
    public static TheoryData<string> Names() => MadeKits.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void It_writes_every_template_to_the_byte_as_the_code_under_test(string template)
    {
        var made = kits.Of(template);
        var folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;
        try
        {
            var run = Start("make", made.Job, "--out", folder);
            Assert.True(run.Code == made.First.Code, run.Error);
            var kit = Path.Combine(folder, template);
            Assert.Equal(made.Files("*").Select(Path.GetFileName), Directory.GetFiles(kit).Select(Path.GetFileName).Order(StringComparer.Ordinal));
            Assert.All(made.Files("*"), f => Assert.True(File.ReadAllBytes(f).AsSpan().SequenceEqual(File.ReadAllBytes(Path.Combine(kit, Path.GetFileName(f)))), $"{Path.GetFileName(f)} differs"));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void It_says_the_same_to_people_and_to_scripts()
    {
        var (drawing, job) = (RepositoryFiles.Path("templates/lever-bracket/bracket.dxf"), RepositoryFiles.Path("templates/gland-flange"));
        string[][] asked =
        [
            ["alloys"], ["alloys", "--json"], ["sands", "--json"], ["check", drawing, "--json"], ["check", job], ["check", job, "--json"],
            ["gate", job], ["gate", job, "--json"], ["melt"], ["make", "nowhere"],
        ];
        Assert.All(asked, args => Assert.Equal(MadeKits.Do(args), Start(args)));
        // Here usage begins with the program's own name.
        Assert.Contains("patternkit make <JOB>...", Start("make", "--help").Out, StringComparison.Ordinal);
    }

    [Fact]
    public void It_judges_a_mesh_alike_whose_report_is_for_scripts()
    {
        var folder = Directory.CreateTempSubdirectory("patternkit-test-").FullName;
        try
        {
            var part = Path.Combine(folder, "cap.obj");
            File.WriteAllText(part, ObjBodies.Block);
            var job = Path.Combine(folder, "job.toml");
            File.WriteAllText(job, "title = \"Cap\"\nunit = \"mm\"\nalloy = \"gray-iron\"\nsand = \"green\"\noriginal = true\n[[part]]\nmesh = \"cap.obj\"\n");
            string[][] asked = [["check", part, "--unit", "mm", "--json"], ["parting", part, "--unit", "mm", "--json"], ["check", job, "--json"]];
            Assert.All(asked, args => Assert.Equal(MadeKits.Do(args), Start(args)));
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static Run Start(params string[] args)
    {
        // Of the same configuration as the tests.
        var output = Path.GetRelativePath(RepositoryFiles.Path("tests/PatternKit.Cli.Tests"), AppContext.BaseDirectory);
        var program = Path.Combine(RepositoryFiles.Path("src/PatternKit.Cli"), output, OperatingSystem.IsWindows() ? "patternkit.exe" : "patternkit");
        return ExternalTool.Start(program, args) ?? throw new FileNotFoundException("The program is not built.", program);
    }
}
