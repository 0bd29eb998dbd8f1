namespace PatternKit.Cli.Tests;

public sealed class NewTests
{
    [Theory]
    [InlineData("lever-bracket", 2)]
    [InlineData("gland-flange", 1)]
    [InlineData("strainer-cover", 1)]
    [InlineData("vee-pulley", 1)]
    [InlineData("bearing-pedestal", 1)]
    [InlineData("handwheel", 1)]
    [InlineData("pump-body", 1)]
    public void A_new_job_holds_the_templates_files_and_can_be_made_at_once(string template, int files)
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("new", run.Path("pump"), "--from", template));
        Assert.Equal(files, Directory.GetFiles(run.Path("pump")).Length);
        Assert.Equal(0, run.Do("make", run.Path("pump"), "--out", run.Path("kits")));
        Assert.True(Directory.Exists(run.Path("kits", "pump")));
    }

    [Fact]
    public void The_lever_bracket_is_taken_when_no_template_is_named()
    {
        using var run = new CliRun();
        Assert.Equal(0, run.Do("new", run.Path("pump")));
        Assert.True(File.Exists(run.Path("pump", "bracket.dxf")));
    }

    [Fact]
    public void What_is_there_is_never_overwritten()
    {
        using var run = new CliRun();
        run.Put("pump/job.toml", "mine");
        Assert.Equal(3, run.Do("new", run.Path("pump")));
        run.ErrorIsOneLineWith("is there already");
        Assert.Equal("mine", File.ReadAllText(run.Path("pump", "job.toml")));
        Assert.Single(Directory.GetFileSystemEntries(run.Folder));
    }

    [Fact]
    public void An_unknown_template_lists_those_there_are()
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("new", run.Path("pump"), "--from", "sprocket"));
        run.ErrorIsOneLineWith("bearing-pedestal, gland-flange, handwheel, lever-bracket, pump-body, rod-guide, strainer-cover, vee-pulley");
        Assert.Empty(Directory.GetFileSystemEntries(run.Folder));
    }

    [Theory]
    [InlineData("a b")]
    [InlineData("con")]
    [InlineData("-pump")]
    [InlineData("a\0b")]
    [InlineData("a\u001b[2J")]
    public void A_name_that_is_not_safe_as_a_folder_is_refused(string name)
    {
        using var run = new CliRun();
        Assert.Equal(2, run.Do("new", $"{run.Folder}/{name}"));
        Assert.Empty(Directory.GetFileSystemEntries(run.Folder));
    }
}
