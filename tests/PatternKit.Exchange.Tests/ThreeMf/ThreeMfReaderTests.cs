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
    public void A_package_of_parts_without_end_is_refused()
    {
        var parts = Enumerable.Range(0, 20_000).Select(i => (string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{i}"), ""));
        Assert.Contains("20000 parts", Refused(Packages.Zip([.. parts])));
    }

    [Theory]
    [InlineData("../3dmodel.model", "")]
    [InlineData("/../../etc/passwd", "")]
    [InlineData("3D/../../3dmodel.model", "")]
    [InlineData("3D\\..\\3dmodel.model", "")]
    [InlineData("//host/3dmodel.model", "")]
    [InlineData("file:///etc/passwd", "")]
    [InlineData("http://host/3dmodel.model", "TargetMode=\"External\"")]
    [InlineData("3D/3dmodel.model", "TargetMode=\"External\"")]
    public void A_model_outside_the_package_is_refused(string target, string mode)
    {
        // The part is there under that very name; and still it is not taken.
        var bytes = Packages.Zip(
            (ThreeMfPackage.RelationshipsPart, $"""<Relationships xmlns="{ThreeMfPackage.RelationshipsNamespace}"><Relationship Id="r" Type="{ThreeMfPackage.ModelRelationship}" Target="{target}" {mode}/></Relationships>"""),
            (target.TrimStart('/'), $"""<model xmlns="{Packages.Core}"><resources><object id="1">{Packages.Tetrahedron}</object></resources><build><item objectid="1"/></build></model>"""));
        Assert.Contains("outside the package", Refused(bytes));
    }

    [Fact]
    public void A_part_that_is_there_twice_is_refused()
    {
        var model = $"""<model xmlns="{Packages.Core}"><resources><object id="1">{Packages.Tetrahedron}</object></resources><build><item objectid="1"/></build></model>""";
        var bytes = Packages.Zip(
            (ThreeMfPackage.RelationshipsPart, $"""<Relationships xmlns="{ThreeMfPackage.RelationshipsNamespace}"><Relationship Id="r" Type="{ThreeMfPackage.ModelRelationship}" Target="/3D/a.model"/></Relationships>"""),
            ("3D/a.model", model),
            ("3D/A.model", model));
        Assert.Contains("twice", Refused(bytes));
    }

    [Fact]
    public void Everything_built_is_joined_in_millimetres_with_notes_on_bodies_and_unit()
    {
        var bytes = Packages.WithModel($"""
            <model xmlns="{Packages.Core}" unit="inch"><resources><object id="7" name="foot">{Packages.Tetrahedron}</object>
            <object id="8" name="pair"><components><component objectid="7"/><component objectid="7" transform="-1 0 0 0 1 0 0 0 1 -10 0 0"/></components></object>
            </resources><build><item objectid="8" transform="1 0 0 0 1 0 0 0 -1 0 0 0"/><item objectid="7" transform="1 0 0 0 1 0 0 0 1 0 0 50"/></build></model>
            """);
        var read = ThreeMfReader.ReadJoined(bytes, "a.3mf");
        var report = PatternKit.Geometry.Mesh.MeshInspection.Inspect(read.Value);
        Assert.True(report.IsValid, report.ToString());
        Assert.Equal(3, report.Shells);
        Assert.Equal(0, report.NegativeShells); // mirrored once, twice and not at all
        Assert.Equal(3 * 25.4 * 25.4 * 25.4 / 6, report.Volume_mm3, 8);
        Assert.Equal(["the file is in the unit inch; all lengths were turned into millimetres.", "2 bodies of the build list were taken as one: \"pair\", \"foot\"."], read.Notes.Select(n => n.Text));
    }

    [Fact]
    public void What_the_writer_wrote_comes_back_joined_vertex_by_vertex()
    {
        var (ring, box) = (Bodies.Ring(30, 7.3, 24, 9), Bodies.Box(1, 0.1, 3e-7));
        var read = ThreeMfReader.ReadJoined(ThreeMfWriter.Write([("ring", ring), ("box", box)], new("t", "a")), "a.3mf");
        Assert.Equal(ring.Vertices.AddRange(box.Vertices), read.Value.Vertices);
        Assert.Equal(ring.Triangles().Concat(box.Triangles()), read.Value.Triangles());
        Assert.StartsWith("2 bodies", Assert.Single(read.Notes).Text);
        Assert.Empty(ThreeMfReader.ReadJoined(ThreeMfWriter.Write([("ring", ring)], new("t", "a")), "a.3mf").Notes);
    }

    [Fact]
    public void Placements_within_placements_multiply_as_matrices_do() =>
        Gen.Select(Gen.Int[-3, 3].Array[12], Gen.Int[-3, 3].Array[12]).Sample((p, q) =>
        {
            static double Determinant(int[] m) => (m[0] * ((m[4] * m[8]) - (m[5] * m[7]))) - (m[1] * ((m[3] * m[8]) - (m[5] * m[6]))) + (m[2] * ((m[3] * m[7]) - (m[4] * m[6])));
            static Vec3 Moved(Vec3 v, int[] m) => new(
                (v.X * m[0]) + (v.Y * m[3]) + (v.Z * m[6]) + m[9],
                (v.X * m[1]) + (v.Y * m[4]) + (v.Z * m[7]) + m[10],
                (v.X * m[2]) + (v.Y * m[5]) + (v.Z * m[8]) + m[11]);
            var factor = Math.Abs(Determinant(p) * Determinant(q));
            if (factor == 0) return;
            var bytes = Packages.WithModel($"""
                <model xmlns="{Packages.Core}"><resources><object id="1">{Packages.Tetrahedron}</object>
                <object id="2"><components><component objectid="1" transform="{string.Join(' ', p)}"/></components></object>
                </resources><build><item objectid="2" transform="{string.Join(' ', q)}"/></build></model>
                """);
            var mesh = ThreeMfReader.ReadJoined(bytes, "a.3mf").Value;
            Assert.Equal(Moved(Moved(new(0, 0, 1), p), q), mesh.Vertices[3]);
            Assert.Equal(factor / 6, mesh.Volume(), 9); // never inside out
        }, iter: 300);

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
