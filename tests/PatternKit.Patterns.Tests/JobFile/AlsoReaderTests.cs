using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>The tables [[also]]: other parts of the same metal in the mould of a job.</summary>
public sealed class AlsoReaderTests
{
    private const string Head = "unit = \"mm\"\nalloy = \"gray-iron\"\nsand = \"green\"\n";
    private const string Block = "[[part]]\nshape = { rectangle = [40, 20] }\nz = [0, 10]\n";
    private const string Disc = "title = \"Disc\"\n" + Head + "[[part]]\nname = \"disc\"\nshape = { circle = 30 }\nz = [0, 8]\n";

    [Fact]
    public void A_part_is_read_from_its_own_job_with_what_is_said_of_its_castings()
    {
        var job = Read("job = \"../disc/job.toml\"\nat = [[60, 0], [60, \"2 in\"]]\nturn = 90\n");
        var other = Assert.Single(job.Others);
        Assert.Equal(("disc", 2, "job.toml, line 7"), (other.Job.Name, other.Count, other.Where));
        Assert.Equal([new Vec2(60, 0), new(60, 50.8)], other.At_mm);
        Assert.Equal(Math.PI / 2, other.Turn, 1e-12);
        Assert.Equal("disc", Assert.Single(other.Job.Features).Name);
        Assert.Equal(["job.toml", "disc/job.toml"], job.Inputs.Select(i => i.Name));
        Assert.Empty(job.Notes);
    }

    [Fact]
    public void Left_out_it_is_in_the_mould_once_where_the_rule_puts_it_and_one_place_may_be_written_as_such()
    {
        var other = Assert.Single(Read("job = \"../disc/job.toml\"\n").Others);
        Assert.Equal((1, 0.0), (other.Count, other.Turn));
        Assert.Empty(other.At_mm);
        Assert.Equal(new Vec2(60, 0), Assert.Single(Assert.Single(Read("job = \"../disc/job.toml\"\nat = [60, 0]\n").Others).At_mm));
        Assert.Equal(3, Assert.Single(Read("job = \"../disc/job.toml\"\ntimes = 3\n").Others).Count);
    }

    [Fact]
    public void Its_unit_is_its_own_and_a_job_in_the_same_folder_will_do()
    {
        using var folder = new JobFolder();
        folder.Put("disc.toml", Disc.Replace("\"mm\"", "\"in\"", StringComparison.Ordinal).Replace("= 30", "= 2", StringComparison.Ordinal).Replace("[0, 8]", "[0, 1]", StringComparison.Ordinal));
        var other = Assert.Single(JobReader.Read(folder.Put("job.toml", Head + Block + "[[also]]\njob = \"disc.toml\"\n")).Others);
        Assert.Equal(25.4, Assert.Single(other.Job.Features).High_mm, 1e-9);
    }

    [Fact]
    public void What_is_not_taken_of_it_is_told()
    {
        var note = Assert.Single(Read("job = \"../disc/job.toml\"\n", Disc.Replace("green", "oil-bonded", StringComparison.Ordinal) + "[pattern]\ndraft = 3\nrapping = 0.4\nstock = 2\n[gating]\nhead = 120\n").Notes);
        Assert.Equal(7, note.Line);
        Assert.Contains("sand, draft, rapping, gating of its own are not", note.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("times = 2\n", 7, "no job")]
    [InlineData("job = \"../disc/job.toml\"\ntimes = 0\n", 9, "times")]
    [InlineData("job = \"../disc/job.toml\"\ntimes = 24\n", 7, "25 castings")]
    [InlineData("job = \"../disc/job.toml\"\ntimes = 2\nat = [60, 0]\n", 9, "1 places")]
    [InlineData("job = \"../disc/job.toml\"\nat = [[60, 0], [60, 0]]\n", 9, "one place twice")]
    [InlineData("job = \"../disc/job.toml\"\nat = [60]\n", 9, "at")]
    [InlineData("job = \"../disc/job.toml\"\nwhere = [60, 0]\n", 9, "unknown key \"where\"")]
    [InlineData("job = \"../none/job.toml\"\n", 8, "no file")]
    [InlineData("job = \"../disc/outline.dxf\"\n", 8, ".toml")]
    [InlineData("job = \"../../disc/job.toml\"\n", 8, "right beside")]
    [InlineData("job = \"../job.toml\"\n", 8, "right beside")]
    [InlineData("job = \"../disc/../disc/job.toml\"\n", 8, "right beside")]
    [InlineData("job = \"../../job.toml\"\n", 8, "not a plain name")]
    [InlineData("job = \"/disc/job.toml\"\n", 8, "not a plain name")]
    [InlineData("job = \"job.toml\"\n[[also]]\njob = \"../disc/job.toml\"\n", 7, "itself listed")]
    [InlineData("job = \"../disc/job.toml\"\n[[also]]\njob = \"../disc/job.toml\"\n", 9, "two parts of the mould are named \"disc\"")]
    [InlineData("job = \"../disc/job.toml\"\nat = [60, 0]\n[[also]]\njob = \"../ring/job.toml\"\n", 7, "some castings of this mould have places")]
    public void What_cannot_be_is_refused_at_its_line(string table, int line, string told)
    {
        var refused = Assert.Throws<InputException>(() => Read(table));
        Assert.Contains($"line {line}", refused.Message, StringComparison.Ordinal);
        Assert.Contains(told, refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("gray-iron", "CuSn10Zn2", "one mould is poured with one metal")]
    [InlineData("[[part]]", "[[also]]\njob = \"../main/job.toml\"\n[[part]]", "lists further parts")]
    public void A_job_that_does_not_go_with_it_is_refused(string from, string to, string told) =>
        Assert.Contains(told, Assert.Throws<InputException>(() => Read("job = \"../disc/job.toml\"\n", Disc.Replace(from, to, StringComparison.Ordinal))).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData("[pattern]\ncamber = 1\n", "camber")]
    [InlineData("[gating]\npour = \"on edge\"\n", "poured flat")]
    public void Ways_that_are_made_for_one_casting_do_not_go_with_several(string tail, string told) =>
        Assert.Contains(told, Assert.Throws<InputException>(() => Read("job = \"../disc/job.toml\"\n" + tail)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_plate_takes_no_part_with_loose_pieces() =>
        Assert.Contains("loose pieces", Assert.Throws<InputException>(() => Read(
            "job = \"../disc/job.toml\"\n[plate]\nkind = \"match\"\n",
            Disc + "[[part]]\nshape = { rectangle = [20, 20] }\nz = [0, 30]\n[[loose]]\nshape = { circle = 8 }\nfacing = \"+y\"\nat = [0, 10, 20]\nout = 5\n")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_mesh_is_moulded_by_itself()
    {
        using var folder = new JobFolder();
        folder.Put("disc/job.toml", Disc);
        folder.Put("main/part.obj", "v 0 0 0\nv 40 0 0\nv 0 40 0\nv 0 0 40\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 3 1 4\n");
        var refused = Assert.Throws<InputException>(() => JobReader.Read(folder.Put("main/job.toml", Head + "[[part]]\nmesh = \"part.obj\"\nunit = \"mm\"\n[[also]]\njob = \"../disc/job.toml\"\n")));
        Assert.Contains("mesh", refused.Message, StringComparison.Ordinal);
        Assert.Contains("line 7", refused.Message, StringComparison.Ordinal);
    }

    // A link may lead anywhere.
    [Fact]
    public void A_linked_folder_is_not_followed()
    {
        using var folder = new JobFolder();
        folder.Put("disc/job.toml", Disc);
        Directory.CreateSymbolicLink(Path.Combine(folder.Folder, "linked"), Path.Combine(folder.Folder, "disc"));
        var main = folder.Put("main/job.toml", Head + Block + "[[also]]\njob = \"../linked/job.toml\"\n");
        Assert.Contains("symbolic link", Assert.Throws<InputException>(() => JobReader.Read(main)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_lies_along_an_axis_is_turned_by_quarters_only()
    {
        var rod = Disc + "[[part]]\nname = \"rod\"\naxis = \"x\"\nturned = { polygon = [[0, 0], [40, 0], [40, 5], [0, 5]] }\n";
        Assert.Contains("quarter", Assert.Throws<InputException>(() => Read("job = \"../disc/job.toml\"\nturn = 30\n", rod)).Message, StringComparison.Ordinal);
        Assert.Equal(TurnedAxis.X, Assert.Single(Read("job = \"../disc/job.toml\"\nturn = 270\n", rod).Others).Job.Features[1].Turned!.Axis);
    }

    private static Job Read(string table, string other = Disc)
    {
        using var folder = new JobFolder();
        folder.Put("disc/job.toml", other);
        folder.Put("ring/job.toml", Disc);
        return JobReader.Read(folder.Put("main/job.toml", $"{Head}{Block}[[also]]\n{table}"));
    }
}
