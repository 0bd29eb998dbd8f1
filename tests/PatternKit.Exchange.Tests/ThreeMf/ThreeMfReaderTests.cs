using System.Text;
using CsCheck;
using PatternKit.Exchange.Tests.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.ThreeMf;

public class ThreeMfReaderTests
{
    [Theory]
    [InlineData("", 1)] // millimetre is the default, core specification 3.4
    [InlineData("unit=\"micron\"", 0.001)]
    [InlineData("unit=\"centimeter\"", 10)]
    [InlineData("unit=\"inch\"", 25.4)]
    [InlineData("unit=\"foot\"", 304.8)]
    [InlineData("unit=\"meter\"", 1000)]
    public void Units_become_millimetres(string unit, double millimetres)
    {
        var body = Assert.Single(ThreeMfReader.Read(Packages.WithBody(unit), "a.3mf").Value);
        Assert.Equal(new(millimetres, 0, 0), body.Mesh.Vertices[1]);
        Assert.Equal("object 1", body.Name);
    }

    [Fact]
    public void A_transform_is_row_major_with_the_shift_last_and_in_the_unit_of_the_model()
    {
        // Quarter turn about z (x to y), then shifted.
        var bytes = Packages.WithBody("unit=\"centimeter\"", item: "transform=\"0 1 0 -1 0 0 0 0 1 5 6 7\"");
        var mesh = ThreeMfReader.Read(bytes, "a.3mf").Value[0].Mesh;
        Assert.Equal(new(50, 60, 70), mesh.Vertices[0]);
        Assert.Equal(new(50, 70, 70), mesh.Vertices[1]);
        Assert.Equal(new(40, 60, 70), mesh.Vertices[2]);
        Assert.Equal(1000.0 / 6, mesh.Volume(), 9);
    }

    [Fact]
    public void A_mirroring_transform_keeps_the_body_facing_outward()
    {
        var mesh = ThreeMfReader.Read(Packages.WithBody(item: "transform=\"-1 0 0 0 1 0 0 0 1 0 0 0\""), "a.3mf").Value[0].Mesh;
        Assert.Equal(1.0 / 6, mesh.Volume(), 12);
    }

    [Fact]
    public void Components_are_put_together_in_place()
    {
        var bytes = Packages.WithModel($"""
            <model xmlns="{Packages.Core}"><resources><object id="7" name="foot">{Packages.Tetrahedron}</object>
            <object id="8" name="pair"><components><component objectid="7"/><component objectid="7" transform="2 0 0 0 2 0 0 0 2 10 0 0"/></components></object>
            </resources><build><item objectid="8"/><item objectid="7"/></build></model>
            """);
        var read = ThreeMfReader.Read(bytes, "a.3mf").Value;
        Assert.Equal(["pair", "foot"], read.Select(b => b.Name));
        Assert.Equal(9.0 / 6, read[0].Mesh.Volume(), 12);
        Assert.Equal(new Vec3(12, 0, 0), read[0].Mesh.Vertices[5]);
    }

    [Fact]
    public void Bodies_that_only_support_are_skipped_with_a_note()
    {
        var more = $"""<object id="2" type="support" name="prop">{Packages.Tetrahedron}</object>""";
        var bytes = Packages.WithModel($"""<model xmlns="{Packages.Core}"><resources><object id="1">{Packages.Tetrahedron}</object>{more}</resources><build><item objectid="1"/><item objectid="2"/></build></model>""");
        var read = ThreeMfReader.Read(bytes, "a.3mf");
        Assert.Single(read.Value);
        Assert.Contains("\"prop\"", Assert.Single(read.Notes).Text);
    }

    [Fact]
    public void Facets_that_name_a_vertex_twice_are_dropped_with_a_note()
    {
        var read = ThreeMfReader.Read(Packages.WithBody(mesh: Packages.Tetrahedron.Replace("</triangles>", "<triangle v1=\"0\" v2=\"0\" v3=\"1\"/></triangles>", StringComparison.Ordinal)), "a.3mf");
        Assert.Equal(4, read.Value[0].Mesh.Facets.Length);
        Assert.Contains("1 facets", Assert.Single(read.Notes).Text);
    }

    [Theory]
    [InlineData("unit=\"yard\"", "yard")]
    [InlineData("requiredextensions=\"p\"", "extension \"p\"")]
    public void A_model_that_asks_for_what_is_not_known_is_refused(string attributes, string says) =>
        Assert.Contains(says, Refused(Packages.WithBody(attributes)));

    [Theory]
    [InlineData("x=\"1\"", "x=\"NaN\"", "expected a number")]
    [InlineData("x=\"1\"", "x=\"1e300\"", "beyond 1e9")]
    [InlineData("x=\"1\"", "", "lacks its x")]
    [InlineData("v3=\"3\"", "v3=\"4\"", "names the vertex \"4\", there are 4")]
    [InlineData("v3=\"3\"", "v3=\"-1\"", "names the vertex \"-1\"")]
    [InlineData("v3=\"3\"", "v3=\"99999999999\"", "names the vertex")]
    public void A_damaged_mesh_is_refused_with_its_line(string good, string bad, string says)
    {
        var message = Refused(Packages.WithBody(mesh: Packages.Tetrahedron.Replace(good, bad, StringComparison.Ordinal)));
        Assert.Contains(says, message);
        Assert.Matches("^a.3mf, 3D/3dmodel.model line [12]: ", message);
    }

    [Theory]
    [InlineData("transform=\"1 0 0\"", "twelve")]
    [InlineData("transform=\"1 0 0 0 1 0 0 0 0 0 0 0\"", "flattens")]
    [InlineData("transform=\"1e9 0 0 0 1e9 0 0 0 1e9 1e9 1e9 1e9\"", "beyond")]
    public void A_transform_that_cannot_be_is_refused(string item, string says) =>
        Assert.Contains(says, Refused(Packages.WithBody(item: item)));

    [Fact]
    public void An_object_that_contains_itself_is_refused() =>
        Assert.Contains("before it is given", Refused(Packages.WithBody(mesh: "<components><component objectid=\"1\"/></components>")));

    [Fact]
    public void Objects_that_double_each_other_are_refused_before_they_fill_the_memory()
    {
        var more = new StringBuilder();
        for (var i = 2; i < 60; i++) more.Append(System.Globalization.CultureInfo.InvariantCulture, $"<object id=\"{i}\"><components><component objectid=\"{i - 1}\"/><component objectid=\"{i - 1}\"/></components></object>");
        Assert.Contains("more than", Refused(Packages.WithBody(more: more.ToString())));
    }

    [Fact]
    public void A_part_that_unpacks_without_end_is_refused()
    {
        using var bytes = new MemoryStream();
        using (var zip = new System.IO.Compression.ZipArchive(bytes, System.IO.Compression.ZipArchiveMode.Create, true))
        {
            using var stream = zip.CreateEntry(ThreeMfPackage.RelationshipsPart, System.IO.Compression.CompressionLevel.Optimal).Open();
            var blanks = new byte[1 << 20];
            Array.Fill(blanks, (byte)' ');
            stream.Write("<a>"u8);
            for (var i = 0; i < 40; i++) stream.Write(blanks);
        }

        Assert.True(bytes.Length < 100_000);
        Assert.StartsWith("a.3mf, _rels/.rels: unpacks to more than 1 MB", Refused(bytes.ToArray()));
    }

    [Fact]
    public void Deep_nesting_and_document_types_are_refused()
    {
        Assert.Contains("nested", Refused(Packages.WithBody(mesh: string.Concat(Enumerable.Repeat("<a>", 5000)))));
        Assert.Contains("XML", Refused(Packages.WithModel("<!DOCTYPE a [<!ENTITY b \"bbbb\">]><a>&b;</a>")));
    }

    [Fact]
    public void Other_files_are_refused()
    {
        Assert.Contains("ZIP", Refused([]));
        Assert.Contains("ZIP", Refused("solid"u8.ToArray()));
        Assert.Contains("missing", Refused(Packages.Zip(("word/document.xml", "<a/>"))));
        Assert.Contains("names no 3D model", Refused(Packages.Zip((ThreeMfPackage.RelationshipsPart, "<Relationships/>"))));
        Assert.Contains("does not begin", Refused(Packages.WithModel("<svg/>")));
        Assert.Contains("names no body", Refused(Packages.WithModel($"<model xmlns=\"{Packages.Core}\"><resources/><build/></model>")));
    }

    [Fact]
    public void Damaged_packages_are_read_or_refused_and_nothing_else()
    {
        var whole = ThreeMfWriter.Write([("box", Bodies.Box(1, 2, 3))], new("t", "a"));
        Gen.Select(Gen.Int[0, whole.Length - 1], Gen.Byte, Gen.Int[0, whole.Length]).Sample((at, value, cut) =>
        {
            var bytes = (byte[])whole.Clone();
            bytes[at] = value;
            Tolerate(bytes);
            Tolerate(bytes[..cut]);
        }, iter: 1500);
    }

    private static void Tolerate(byte[] bytes)
    {
        try
        {
            ThreeMfReader.Read(bytes, "a.3mf");
        }
        catch (InputException e)
        {
            Assert.StartsWith("a.3mf", e.Message);
        }
    }

    private static string Refused(byte[] bytes) => Assert.Throws<InputException>(() => ThreeMfReader.Read(bytes, "a.3mf")).Message;
}
