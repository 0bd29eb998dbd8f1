using System.IO.Compression;
using System.Xml.Linq;
using CsCheck;
using PatternKit.Exchange.Tests.Stl;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.ThreeMf;

/// <summary>Written packages against the 3MF core specification 1.4.0 (sections in the comments) and the consortium's library.</summary>
public class ThreeMfWriterTests
{
    private static readonly ThreeMfMetadata About = new("Lever bracket", "PatternKit test");

    private static byte[] Kit() => ThreeMfWriter.Write([("cope", Bodies.Ring(40, 9.1, 30, 12)), ("drag", Bodies.Box(60.1, 40, 1.0 / 3))], About);

    [Fact]
    public void The_package_has_its_three_parts_and_their_types()
    {
        using var zip = new ZipArchive(new MemoryStream(Kit()));
        Assert.Equal(["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"], zip.Entries.Select(e => e.FullName));
        var types = Xml(zip, "[Content_Types].xml").Elements().ToDictionary(e => e.Attribute("Extension")!.Value, e => e.Attribute("ContentType")!.Value);
        Assert.Equal("application/vnd.openxmlformats-package.relationships+xml", types["rels"]);
        Assert.Equal("application/vnd.ms-package.3dmanufacturing-3dmodel+xml", types["model"]);
        var relation = Assert.Single(Xml(zip, "_rels/.rels").Elements());
        Assert.Equal("http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel", relation.Attribute("Type")!.Value);
        Assert.Equal("/3D/3dmodel.model", relation.Attribute("Target")!.Value);
    }

    [Fact]
    public void Facets_have_colours_with_names_as_the_library_of_the_consortium_reads_them()
    {
        ReferenceLibrary.Need();
        var box = Bodies.Box(60, 40, 20);
        var colours = new FacetColours([new("the part", 200, 200, 200), new("1 undercut <&>", 213, 94, 0), new("2 wall without taper", 0, 114, 178)], [.. Enumerable.Range(0, box.Facets.Length).Select(f => f % 3)]);
        var package = ThreeMfWriter.Write("lever", box, colours, About);
        var content = ReferenceLibrary.Read(package);
        Assert.Equal(0u, content.Warnings);
        Assert.Equal("lever", Assert.Single(content.Bodies).Name);
        var read = ReferenceLibrary.ReadColours(package);
        Assert.Equal([("the part", 0xC8C8C8), ("1 undercut <&>", 0xD55E00), ("2 wall without taper", 0x0072B2)], read.Materials);
        Assert.Equal(colours.OfFacet, read.OfTriangle);
    }

    [Fact]
    public void Colours_stand_before_the_body_that_refers_to_them_and_a_facet_without_one_is_refused()
    {
        var box = Bodies.Box(60, 40, 20);
        NamedColour[] two = [new("part", 1, 2, 3), new("thin", 4, 5, 6)];
        using var zip = new ZipArchive(new MemoryStream(ThreeMfWriter.Write("lever", box, new([.. two], [.. box.Facets.Select((_, f) => f == 0 ? 1 : 0)]), About)));
        XNamespace core = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";
        var resources = Xml(zip, "3D/3dmodel.model").Element(core + "resources")!;
        // 5: a resource is defined before it is referenced; 4.1.4.2: p1 alone is for the whole triangle.
        Assert.Equal(["basematerials", "object"], resources.Elements().Select(e => e.Name.LocalName));
        Assert.Equal(2, resources.Elements().Select(e => e.Attribute("id")!.Value).Distinct().Count());
        var marked = Assert.Single(resources.Descendants(core + "triangle"), t => t.Attribute("p1") is not null);
        Assert.Equal("1", marked.Attribute("p1")!.Value);
        Assert.Equal("#010203", resources.Descendants(core + "base").First().Attribute("displaycolor")!.Value);
        Assert.Throws<ArgumentException>(() => ThreeMfWriter.Write("lever", box, new([.. two], [.. box.Facets.Select(_ => 2)]), About));
        Assert.Throws<ArgumentException>(() => ThreeMfWriter.Write("lever", box, new([.. two], [0]), About));
    }

    [Fact]
    public void The_model_keeps_the_rules_of_the_core_specification()
    {
        using var zip = new ZipArchive(new MemoryStream(Kit()));
        var model = Xml(zip, "3D/3dmodel.model");
        XNamespace core = "http://schemas.microsoft.com/3dmanufacturing/core/2015/02";
        Assert.Equal(core + "model", model.Name);
        Assert.Equal("millimeter", model.Attribute("unit")!.Value);
        Assert.Equal(["metadata", "metadata", "resources", "build"], model.Elements().Select(e => e.Name.LocalName)); // 3.4: in this order
        Assert.Equal(["Title", "Application"], model.Elements(core + "metadata").Select(e => e.Attribute("name")!.Value)); // 3.4.1: known names
        var objects = model.Descendants(core + "object").ToArray();
        Assert.Equal(["cope", "drag"], objects.Select(o => o.Attribute("name")!.Value));
        Assert.Equal(objects.Select(o => o.Attribute("id")!.Value), model.Descendants(core + "item").Select(i => i.Attribute("objectid")!.Value));
        foreach (var mesh in objects.Select(o => o.Element(core + "mesh")!))
        {
            var vertices = mesh.Element(core + "vertices")!.Elements().Count();
            var directed = new HashSet<(int, int)>();
            foreach (var t in mesh.Element(core + "triangles")!.Elements())
            {
                int[] v = [(int)t.Attribute("v1")!, (int)t.Attribute("v2")!, (int)t.Attribute("v3")!];
                Assert.Equal(3, v.Distinct().Count()); // 4.1.4
                Assert.All(v, i => Assert.InRange(i, 0, vertices - 1));
                for (var k = 0; k < 3; k++) Assert.True(directed.Add((v[k], v[(k + 1) % 3]))); // 4.1: opposite directions
            }

            Assert.All(directed, e => Assert.Contains((e.Item2, e.Item1), directed)); // 4.1: exactly two triangles
        }
    }

    [Fact]
    public void What_is_written_reads_back_the_same_to_the_last_digit()
    {
        var read = ThreeMfReader.Read(Kit(), "kit.3mf");
        Assert.Empty(read.Notes);
        Assert.Equal(["cope", "drag"], read.Value.Select(b => b.Name));
        var (ring, box) = (Bodies.Ring(40, 9.1, 30, 12), Bodies.Box(60.1, 40, 1.0 / 3));
        Assert.Equal(ring.Vertices, read.Value[0].Mesh.Vertices);
        Assert.Equal(box.Vertices, read.Value[1].Mesh.Vertices);
        Assert.Equal(box.Facets, read.Value[1].Mesh.Facets);
        Assert.All(read.Value, b => Assert.True(MeshInspection.Inspect(b.Mesh).IsValid));
        Assert.All(read.Value, b => Assert.True(b.Mesh.Volume() > 0)); // 4.1: positive volume
    }

    [Fact]
    public void The_same_kit_gives_the_same_bytes_and_shows_no_clock()
    {
        var first = Kit();
        Assert.Equal(first, Kit());
        using var zip = new ZipArchive(new MemoryStream(first));
        Assert.All(zip.Entries, e => Assert.Equal(1980, e.LastWriteTime.Year));
    }

    [Fact]
    public void The_library_of_the_consortium_reads_it_strictly_without_a_warning()
    {
        ReferenceLibrary.Need();
        var content = ReferenceLibrary.Read(Kit());
        Assert.Equal(0u, content.Warnings);
        Assert.Equal(2, content.BuildItems);
        Assert.Equal(["cope", "drag"], content.Bodies.Select(b => b.Name));
        Assert.All(content.Bodies, b => Assert.True(b.IsManifoldAndOriented));
        Assert.Equal((360u, 720u), (content.Bodies[0].Vertices, content.Bodies[0].Triangles));
        var expected = Bodies.Ring(40, 9.1, 30, 12).Vertices.SelectMany(v => new[] { (float)v.X, (float)v.Y, (float)v.Z });
        Assert.Equal(expected, content.Bodies[0].Positions); // the ring's coordinates are float32, so they must be equal
    }

    [Fact]
    public void The_library_of_the_consortium_tells_an_open_mesh()
    {
        ReferenceLibrary.Need();
        var box = Bodies.Box(1, 2, 3);
        var content = ReferenceLibrary.Read(ThreeMfWriter.Write([("open", new(box.Vertices, box.Facets.RemoveAt(0)))], About));
        Assert.False(Assert.Single(content.Bodies).IsManifoldAndOriented);
    }

    [Theory]
    [InlineData("a \"quoted\" <name> & 'more'", "a \"quoted\" <name> & 'more'")]
    [InlineData("Größe Ω 𝛑", "Größe Ω 𝛑")]
    public void Names_survive_as_far_as_xml_can_hold_them(string name, string expected)
    {
        var bytes = ThreeMfWriter.Write([(name, Bodies.Box(1, 1, 1))], new(name, name));
        Assert.Equal(expected, ThreeMfReader.Read(bytes, "a.3mf").Value[0].Name);
    }

    [Fact]
    public void Characters_that_xml_cannot_hold_become_spaces()
    {
        var bytes = ThreeMfWriter.Write([("bell\u0007 and half \ud800 pair", Bodies.Box(1, 1, 1))], About);
        Assert.Equal("bell  and half   pair", ThreeMfReader.Read(bytes, "a.3mf").Value[0].Name);
    }

    [Fact]
    public void Any_finite_number_survives()
    {
        var number = Gen.Double[-1e9, 1e9];
        Gen.Select(number, number, number).Array[3, 20].Sample(points =>
        {
            var mesh = new TriangleMesh([.. points.Select(p => new Vec3(p.Item1, p.Item2, p.Item3))], [new(0, 1, 2)]);
            Assert.Equal(mesh.Vertices, ThreeMfReader.Read(ThreeMfWriter.Write([("x", mesh)], About), "x").Value[0].Mesh.Vertices);
        }, iter: 200);
    }

    [Fact]
    public void Misuse_is_an_argument_exception()
    {
        Assert.Throws<ArgumentException>(() => ThreeMfWriter.Write([], About));
        Assert.Throws<ArgumentException>(() => ThreeMfWriter.Write([("x", Bodies.Box(double.NaN, 1, 1))], About));
        Assert.Throws<ArgumentException>(() => ThreeMfWriter.Write([("x", new(Bodies.Box(1, 1, 1).Vertices, [new(0, 0, 1)]))], About));
    }

    private static XElement Xml(ZipArchive zip, string part)
    {
        using var stream = zip.GetEntry(part)!.Open();
        return XElement.Load(stream);
    }
}
