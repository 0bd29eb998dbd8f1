using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>The [[loose]] tables of a job.</summary>
public sealed class LooseReaderTests
{
    private const string Boss = "[[loose]]\nname = \"oil boss\"\nshape = { circle = 20 }\nfacing = \"+y\"\nat = [0, 20, 6]\nout = 9\n";

    private static Job Read(string rest) => JobFolder.Read(JobFolder.Head + JobFolder.Disc + rest);

    [Fact]
    public void A_piece_is_read_with_units_and_directions()
    {
        var part = Assert.Single(Read(Boss.Replace("out = 9", "out = \"1/2 in\"\nheld = \"pin\"\nstock = 1.5", StringComparison.Ordinal)).Loose);
        Assert.Equal(("oil boss", new Vec2(0, 1), new Vec3(0, 20, 6), 12.7), (part.Name, part.Facing, part.At_mm, part.Out_mm));
        Assert.Equal((LooseHold.Pin, 1.5), (part.Held, part.Stock_mm));
        var turned = Assert.Single(Read(Boss.Replace("\"+y\"", "\"30 deg\"", StringComparison.Ordinal)).Loose);
        Assert.Equal(Math.Sqrt(3) / 2, turned.Facing.X, 1e-12);
        Assert.Null(turned.Held);
        Assert.Null(turned.Stock_mm);
        Assert.Empty(Read("").Loose);
    }

    [Theory]
    [InlineData("shape = { circle = 20 }", "", "neither shape nor outline")]
    [InlineData("facing = \"+y\"\n", "", "has no facing")]
    [InlineData("at = [0, 20, 6]\n", "", "has no at")]
    [InlineData("out = 9", "", "has no out")]
    [InlineData("\"+y\"", "\"+z\"", "along the draw")]
    [InlineData("\"+y\"", "\"up\"", "facing")]
    [InlineData("out = 9", "out = 0", "out of range")]
    [InlineData("out = 9", "out = 9\nheld = \"glue\"", "\"glue\" is unknown")]
    [InlineData("out = 9", "out = 9\nz = [0, 4]", "stands out from a wall")]
    [InlineData("out = 9", "out = 9\ncircle = 4", "inside the shape")]
    [InlineData("out = 9", "out = 9\nouts = 4", "unknown key \"outs\"")]
    [InlineData("[[loose]]", "[loose]", "double brackets")]
    [InlineData("[[loose]]", "[plate]\nkind = \"match\"\n[[loose]]", "plate = \"none\"")]
    public void What_cannot_be_is_refused_with_its_line(string found, string instead, string why)
    {
        var message = Assert.Throws<InputException>(() => Read(Boss.Replace(found, instead, StringComparison.Ordinal))).Message;
        Assert.Contains(why, message, StringComparison.Ordinal);
        Assert.Contains("line ", message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_of_one_name_are_refused_and_so_is_a_mesh()
    {
        Assert.Contains("its own name", Assert.Throws<InputException>(() => Read(Boss + Boss)).Message, StringComparison.Ordinal);
        const string cube = "v 0 0 0\nv 9 0 0\nv 0 9 0\nv 0 0 9\nf 1 3 2\nf 1 2 4\nf 2 3 4\nf 1 4 3\n";
        Assert.Contains("given as outlines", Assert.Throws<InputException>(() => JobFolder.Read(cube, "[[part]]\nmesh = \"part.obj\"\n" + Boss)).Message, StringComparison.Ordinal);
    }
}
