using PatternKit.Cli.Files;
using PatternKit.Sheets;

namespace PatternKit.Cli.Tests;

public sealed class KitFolderTests
{
    private static readonly KitFile Json = new("kit.json", [1]);

    [Fact]
    public void A_newer_kit_replaces_the_older_whole()
    {
        using var run = new CliRun();
        KitFolder.Write(run.Folder, "cover", [Json, new("cope.stl", [1])]);
        KitFolder.Write(run.Folder, "cover", [Json, new("drag.stl", [2])]);
        Assert.Equal(["drag.stl", "kit.json"], Directory.GetFiles(run.Path("cover")).Select(Path.GetFileName).Order());
        Assert.Equal(["cover"], Directory.GetFileSystemEntries(run.Folder).Select(Path.GetFileName));
    }

    [Fact]
    public void Folders_above_are_made_and_taken_away_again_when_it_fails()
    {
        using var run = new CliRun();
        KitFolder.Write(run.Path("a", "b"), "cover", [Json]);
        Assert.True(File.Exists(run.Path("a", "b", "cover", "kit.json")));
        // Names longer than 255 bytes are refused by the file system.
        Assert.Throws<CannotWriteException>(() => KitFolder.Write(run.Path("c", new string('x', 300)), "cover", [Json]));
        Assert.False(Directory.Exists(run.Path("c")));
    }

    [Fact]
    public void A_failure_half_way_leaves_the_older_kit_and_nothing_else()
    {
        using var run = new CliRun();
        KitFolder.Write(run.Folder, "cover", [Json, new("cope.stl", [1])]);
        // A content that is not there fails in the middle of writing.
        Assert.ThrowsAny<Exception>(() => KitFolder.Write(run.Folder, "cover", [Json, new("drag.stl", null!)]));
        Assert.Equal(["cope.stl", "kit.json"], Directory.GetFiles(run.Path("cover")).Select(Path.GetFileName).Order());
        Assert.Equal(["cover"], Directory.GetFileSystemEntries(run.Folder).Select(Path.GetFileName));
    }

    [Fact]
    public void What_is_no_kit_is_left_as_it_is()
    {
        using var run = new CliRun();
        run.Put("cover/letter.txt", "mine");
        Assert.Throws<CannotWriteException>(() => KitFolder.Write(run.Folder, "cover", [Json]));
        Assert.Equal("mine", File.ReadAllText(run.Path("cover", "letter.txt")));
        run.Put("plate", "a file");
        Assert.Throws<CannotWriteException>(() => KitFolder.Write(run.Folder, "plate", [Json]));
        KitFolder.Write(run.Path("real"), "kit", [Json]);
        Directory.CreateSymbolicLink(run.Path("linked"), run.Path("real", "kit"));
        Assert.Throws<CannotWriteException>(() => KitFolder.Write(run.Folder, "linked", [Json]));
        Assert.True(File.Exists(run.Path("real", "kit", "kit.json")));
    }

    [Fact]
    public void An_empty_folder_may_become_a_kit()
    {
        using var run = new CliRun();
        Directory.CreateDirectory(run.Path("cover"));
        KitFolder.Write(run.Folder, "cover", [Json]);
        Assert.True(File.Exists(run.Path("cover", "kit.json")));
    }

    [Theory]
    [InlineData("cover", "../kit.json")]
    [InlineData("cover", "a/kit.json")]
    [InlineData("cover", "")]
    [InlineData("cover", "..")]
    [InlineData("cover", "nul.stl")]
    [InlineData("cover", "KIT.json")]
    [InlineData("../cover", "cope.stl")]
    [InlineData("", "cope.stl")]
    public void Unsafe_or_doubled_names_are_a_defect_and_nothing_is_written(string name, string file)
    {
        using var run = new CliRun();
        Assert.Throws<InvalidOperationException>(() => KitFolder.Write(run.Folder, name, [Json, new(file, [1])]));
        Assert.Empty(Directory.GetFileSystemEntries(run.Folder));
    }
}
