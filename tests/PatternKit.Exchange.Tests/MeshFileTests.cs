using System.Text;
using CsCheck;
using PatternKit.Exchange.Stl;
using PatternKit.Exchange.Tests.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;

namespace PatternKit.Exchange.Tests;

public class MeshFileTests
{
    private const string ObjText = "# pump lever\n\no lever\nv 0 0 0\nv 1 0 0\nv 0 2 0\nf 1 2 3\n";
    private static readonly byte[] Binary = StlWriter.Write(Bodies.Box(1, 2, 3), "box");
    private static readonly byte[] Package = ThreeMfWriter.Write([("box", Bodies.Box(1, 2, 3))], new("t", "a"));
    private static readonly byte[] TextStl = "\r\n  SOLID x\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 2 0\nendloop\nendfacet\nendsolid x\n"u8.ToArray();

    [Theory]
    [InlineData("part.stl")]
    [InlineData("part.OBJ")]
    [InlineData("part.3mf")]
    [InlineData("part")]
    [InlineData("part.txt")]
    public void What_the_file_holds_decides_whatever_it_is_called(string name)
    {
        Assert.Equal(12, MeshFile.Read(Binary, name).Value.Facets.Length);
        Assert.Equal(12, MeshFile.Read(Package, name).Value.Facets.Length);
        Assert.Single(MeshFile.Read(TextStl, name).Value.Facets);
        Assert.Single(MeshFile.Read(Encoding.UTF8.GetBytes(ObjText), name).Value.Facets);
        Assert.Single(MeshFile.Read([0xEF, 0xBB, 0xBF, .. Encoding.UTF8.GetBytes(ObjText)], name).Value.Facets);
    }

    [Fact]
    public void A_name_that_misleads_is_told() =>
        Assert.Equal("the name ends as if it were OBJ, but the file is STL and was read so.", MeshFile.Read(Binary, "a.obj", 1).Notes.Single().Text);

    [Fact]
    public void Where_the_content_does_not_tell_the_ending_does()
    {
        // A binary STL with a wrong count, and an OBJ that begins with an unknown word.
        var miscounted = StlWriter.Write(Bodies.Box(1, 2, 3), "box");
        miscounted[80] = 99;
        Assert.Null(MeshFile.ByContent(miscounted));
        Assert.Equal(12, MeshFile.Read(miscounted, "a.stl").Value.Facets.Length);
        Assert.Single(MeshFile.Read(Encoding.UTF8.GetBytes("hello\n" + ObjText), "a.obj").Value.Facets);
        Assert.Contains("no format that is known", Refused(miscounted, "a.dat"));
    }

    [Fact]
    public void Without_a_unit_millimetres_are_taken_and_told_with_the_size()
    {
        foreach (var (content, size) in new[] { (Binary, "1 × 2 × 3"), (Encoding.UTF8.GetBytes(ObjText), "1 × 2 × 0") })
            Assert.Equal($"the file says no unit; millimetres were taken, so it measures {size} mm.", MeshFile.Read(content, "a").Notes.Single().Text);
        Assert.Empty(MeshFile.Read(Package, "a.3mf").Notes);
    }

    [Fact]
    public void A_unit_given_scales_formats_without_one_and_no_other()
    {
        var inches = MeshFile.Read(Binary, "a.stl", 25.4);
        Assert.Equal(6 * Math.Pow(25.4, 3), inches.Value.Volume(), 8);
        Assert.Empty(inches.Notes);
        var own = MeshFile.Read(Package, "a.3mf", 25.4);
        Assert.Equal(6, own.Value.Volume(), 12);
        Assert.Contains("its own unit", Assert.Single(own.Notes).Text);
    }

    [Theory]
    [InlineData("%PDF-1.7", "a PDF document")]
    [InlineData("ISO-10303-21;", "a STEP file")]
    [InlineData("0\nSECTION\n", "a DXF drawing")]
    [InlineData("", "empty")]
    [InlineData("once upon a time", "no format that is known")]
    public void Other_files_are_refused_by_what_they_are(string text, string says) => Assert.Contains(says, Refused(Encoding.UTF8.GetBytes(text), "part"));

    [Fact]
    public void A_unit_that_cannot_be_is_refused()
    {
        Assert.Contains("beyond 1e9 mm", Assert.Throws<InputException>(() => MeshFile.Read(Binary, "a.stl", 1e9)).Message);
        foreach (var unit in new[] { 0, -1, double.NaN, double.PositiveInfinity })
            Assert.Throws<ArgumentOutOfRangeException>(() => MeshFile.Read(Binary, "a.stl", unit));
    }

    [Fact]
    public void One_body_in_three_formats_is_one_body() =>
        Gen.Select(Gen.Double[20, 60], Gen.Double[1, 15], Gen.Int[3, 20], Gen.Int[3, 12]).Sample((radius, tube, around, section) =>
        {
            var ring = Bodies.Ring(radius, tube, around, section);
            var obj = new StringBuilder();
            // Each triangle with vertices of its own, as some programs write: a mend joins them.
            foreach (var (a, b, c) in ring.Triangles())
            {
                foreach (var v in new[] { a, b, c }) obj.Append(System.Globalization.CultureInfo.InvariantCulture, $"v {v.X:R} {v.Y:R} {v.Z:R}\n");
                obj.Append("f -3 -2 -1\n");
            }

            byte[][] files = [StlWriter.Write(ring, "ring"), ThreeMfWriter.Write([("ring", ring)], new("t", "a")), Encoding.UTF8.GetBytes(obj.ToString())];
            foreach (var file in files)
            {
                var mended = MeshMending.Mend(MeshFile.Read(file, "ring", 1).Value);
                Assert.True(mended.Report.IsMended, mended.Report.ToString());
                Assert.Equal(ring.Triangles(), mended.Mesh.Triangles());
            }
        }, iter: 40);

    [Fact]
    public void Any_bytes_are_read_or_refused_and_nothing_else() =>
        Gen.Select(Gen.OneOf(Gen.Const(Binary), Gen.Const(Package), Gen.Const(TextStl), Gen.Const(Encoding.UTF8.GetBytes(ObjText))), Gen.Int[0, 1 << 20], Gen.Byte, Gen.Byte.Array[0, 60], Gen.Int[0, 3]).Sample((whole, at, value, tail, name) =>
        {
            var bytes = (byte[])whole.Clone();
            bytes[at % bytes.Length] = value;
            foreach (var content in new[] { bytes, bytes[..(at % bytes.Length)], [.. bytes, .. tail], tail })
            {
                try
                {
                    Assert.All(MeshFile.Read(content, new[] { "x", "x.stl", "x.obj", "x.3mf" }[name]).Value.Vertices, v => Assert.True(v.IsFinite));
                }
                catch (InputException e)
                {
                    Assert.StartsWith("x", e.Message);
                }
            }
        }, iter: 1000);

    private static string Refused(byte[] content, string name) => Assert.Throws<InputException>(() => MeshFile.Read(content, name)).Message;
}
