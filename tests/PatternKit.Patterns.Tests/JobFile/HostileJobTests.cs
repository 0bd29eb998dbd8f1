using System.Diagnostics;
using System.Text;
using CsCheck;
using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>Jobs made to do harm: each ends in one message, soon.</summary>
public sealed class HostileJobTests
{
    public static TheoryData<string, string> Harm() => new()
    {
        { "lists nested ten thousand deep", $"a = {new string('[', 10_000)}{new string(']', 10_000)}\n" },
        { "tables nested ten thousand deep", $"a = {string.Concat(Enumerable.Repeat("{a=", 10_000))}1{new string('}', 10_000)}\n" },
        { "a key of ten thousand dots", $"{string.Join('.', Enumerable.Repeat("a", 10_000))} = 1\n" },
        { "a header of ten thousand dots", $"[{string.Join('.', Enumerable.Repeat("a", 10_000))}]\n" },
        { "ten megabytes", new string('#', 10 << 20) },
        { "a title of half a megabyte", $"title = \"{new string('x', 500_000)}\"\n{JobFolder.Disc}" },
        { "ten thousand parts", JobFolder.Head + string.Concat(Enumerable.Repeat(JobFolder.Disc, 10_000)) },
        { "a million copies", JobFolder.Head + "[[part]]\nshape = { circle = 1, at = { circle = 9, count = 1000000 } }\nz = [0, 1]\n" },
        { "a string that never ends", "title = \"\"\"" + new string('x', 1000) },
        { "a null character", "title = \"a\0b\"\n" },
        { "an escape for the terminal", "title = \"\\u001b[2J\"\n" + JobFolder.Head },
        { "a number of ten thousand digits", JobFolder.Head + $"[[part]]\nshape = {{ circle = {new string('9', 10_000)} }}\nz = [0, 1]\n" },
        { "a slow pattern for quantities", JobFolder.Head + $"[[part]]\nshape = {{ circle = \"{new string('1', 50_000)} in/ft/in\" }}\nz = [0, 1]\n" },
    };

    [Theory]
    [MemberData(nameof(Harm))]
    public void Harm_ends_in_one_message_soon(string what, string text)
    {
        var clock = Stopwatch.StartNew();
        var error = Assert.Throws<InputException>(() => JobFolder.Read(text));
        Assert.True(clock.Elapsed < TimeSpan.FromSeconds(10), $"{what} took {clock.Elapsed}.");
        Assert.True(error.Message.Length < 1000, $"{what}: {error.Message.Length} characters.");
        Assert.DoesNotContain(error.Message, char.IsControl);
    }

    [Fact]
    public void A_job_that_is_no_text_is_refused_at_its_byte()
    {
        using var folder = new JobFolder();
        var path = Path.Combine(folder.Folder, "job.toml");
        File.WriteAllBytes(path, [.. "title = \"a"u8, 0xFF, 0xFE]);
        Assert.Contains("byte 10", Assert.Throws<InputException>(() => JobReader.Read(path)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_or_nothing_in_place_of_the_job_is_refused()
    {
        using var folder = new JobFolder();
        Assert.Throws<InputException>(() => JobReader.Read(folder.Folder));
        Assert.Throws<InputException>(() => JobReader.Read(Path.Combine(folder.Folder, "none.toml")));
    }

    [Theory]
    [InlineData("../outside.dxf")]
    [InlineData("sub/../../outside.dxf")]
    [InlineData("./outside.dxf")]
    [InlineData("sub//outside.dxf")]
    [InlineData("linked.dxf")]
    [InlineData("linked/outside.dxf")]
    public void A_drawing_outside_the_jobs_folder_is_out_of_reach(string name)
    {
        using var outside = new JobFolder();
        File.Copy(JobFolder.Repository("tests", "cases", "jobs", "read", "inches.dxf"), Path.Combine(outside.Folder, "outside.dxf"));
        var inside = Directory.CreateDirectory(Path.Combine(outside.Folder, "job")).FullName;
        Directory.CreateDirectory(Path.Combine(inside, "sub"));
        File.CreateSymbolicLink(Path.Combine(inside, "linked.dxf"), Path.Combine(outside.Folder, "outside.dxf"));
        Directory.CreateSymbolicLink(Path.Combine(inside, "linked"), outside.Folder);
        var path = outside.Put("job/job.toml", $"{JobFolder.Head}[[part]]\noutline = \"{name}#PLATE\"\nz = [0, 12]\n");
        Assert.Contains("job's folder", Assert.Throws<InputException>(() => JobReader.Read(path)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Whatever_befalls_a_template_only_an_input_error_escapes()
    {
        var templates = Directory.GetDirectories(JobFolder.Repository("templates")).Order(StringComparer.Ordinal).ToArray();
        var drawing = File.ReadAllBytes(JobFolder.Repository("templates", "lever-bracket", "bracket.dxf"));
        var words = "nan inf -0 1e308 [ ] { } [[part]] [pattern] = , . # \" ' \"\"\" \n -1 0x7f at z cut stock {circle=1} 1979-05-27 \u0000 \u202e true \"1/0 in\"".Split(' ').Select(Encoding.UTF8.GetBytes).ToArray();
        var edit = Gen.Select(Gen.Int[0, 2], Gen.Double[0, 1], Gen.Int[0, 12], Gen.Int[0, words.Length - 1].Select(i => words[i]));
        Gen.Select(Gen.Int[0, templates.Length - 1].Select(i => templates[i]), edit.List[1, 6], edit.List[0, 3]).Sample(
            (template, onJob, onDrawing) =>
            {
                using var folder = new JobFolder();
                var path = Path.Combine(folder.Folder, "job.toml");
                File.WriteAllBytes(path, Edited(File.ReadAllBytes(Path.Combine(template, "job.toml")), onJob));
                File.WriteAllBytes(Path.Combine(folder.Folder, "bracket.dxf"), Edited(drawing, onDrawing));
                try
                {
                    JobReader.Read(path);
                }
                catch (InputException)
                {
                    // What every unusable input is allowed to end in.
                }
            },
            iter: 600,
            threads: 1);
    }

    // Each edit cuts some bytes out and may put a word in their place, at a fraction of the length.
    private static byte[] Edited(byte[] content, IEnumerable<(int Kind, double At, int Cut, byte[] Word)> edits)
    {
        foreach (var (kind, at, cut, word) in edits)
        {
            var start = (int)(at * content.Length);
            var end = Math.Min(content.Length, start + (kind == 1 ? 0 : cut));
            content = [.. content[..start], .. kind == 0 ? [] : word, .. content[end..]];
        }

        return content;
    }
}
