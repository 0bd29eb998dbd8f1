using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Xml;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>What a 3MF file says about itself. No date: the same kit gives the same bytes.</summary>
/// <param name="Title">What the file shows.</param>
/// <param name="Application">The program that wrote it, with its version.</param>
public sealed record ThreeMfMetadata(string Title, string Application);

/// <summary>
/// Writes 3MF (core specification 1.4.0): one named object and one build item for each body, in millimetres, in place.
/// Coordinates are written with all their digits.
/// </summary>
public static class ThreeMfWriter
{
    /// <summary>The bytes of the package; the same bodies and metadata give the same bytes on one runtime.</summary>
    /// <param name="bodies">
    /// Bodies with their names. The format asks for closed meshes facing outward (section 4.1): that is the caller's
    /// to inspect. Characters of a name that XML cannot hold become spaces.
    /// </param>
    /// <param name="metadata">Title and program.</param>
    /// <exception cref="ArgumentException">No body; a coordinate that is not finite; a facet that names a vertex twice.</exception>
    public static byte[] Write(IReadOnlyList<(string Name, TriangleMesh Mesh)> bodies, ThreeMfMetadata metadata) =>
        Package(bodies, null, metadata);

    /// <summary>The bytes of the package of one body whose facets have colours with names.</summary>
    /// <param name="name">Name of the body.</param>
    /// <param name="mesh">The body; as above.</param>
    /// <param name="colours">Colours of its facets.</param>
    /// <param name="metadata">Title and program.</param>
    /// <exception cref="ArgumentException">As above; no colour, or a facet without one that is there.</exception>
    public static byte[] Write(string name, TriangleMesh mesh, FacetColours colours, ThreeMfMetadata metadata)
    {
        if (colours.OfFacet.Length != mesh.Facets.Length || colours.OfFacet.Any(c => (uint)c >= (uint)colours.Colours.Length))
            throw new ArgumentException("Every facet needs a colour that is there.", nameof(colours));
        return Package([(name, mesh)], colours, metadata);
    }

    private static byte[] Package(IReadOnlyList<(string Name, TriangleMesh Mesh)> bodies, FacetColours? colours, ThreeMfMetadata metadata)
    {
        if (bodies.Count == 0) throw new ArgumentException("A 3MF file needs a body.", nameof(bodies));
        foreach (var (name, mesh) in bodies)
        {
            if (mesh.Vertices.Any(v => !v.IsFinite)) throw new ArgumentException($"A coordinate of {name} is not finite.", nameof(bodies));
            if (mesh.Facets.Any(f => f.A == f.B || f.B == f.C || f.C == f.A))
                throw new ArgumentException($"A facet of {name} names a vertex twice.", nameof(bodies));
        }

        using var bytes = new MemoryStream();
        using (var zip = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            Part(zip, ThreeMfPackage.ContentTypesPart, ContentTypes);
            Part(zip, ThreeMfPackage.RelationshipsPart, Relationships);
            Part(zip, ThreeMfPackage.ModelPart, xml => Model(xml, bodies, colours, metadata));
        }

        return bytes.ToArray();
    }

    private static void Part(ZipArchive zip, string name, Action<XmlWriter> write)
    {
        var entry = zip.CreateEntry(name, CompressionLevel.Optimal);
        // The first day that ZIP can tell, and no file permissions: neither clock nor system shows in the bytes.
        entry.LastWriteTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);
        entry.ExternalAttributes = 0;
        using var stream = entry.Open();
        using var xml = XmlWriter.Create(stream, new XmlWriterSettings { Encoding = new UTF8Encoding(false), Indent = true, IndentChars = " ", NewLineChars = "\n" });
        write(xml);
    }

    private static void ContentTypes(XmlWriter xml)
    {
        xml.WriteStartElement("Types", ThreeMfPackage.ContentTypesNamespace);
        foreach (var (extension, type) in (ReadOnlySpan<(string, string)>)[("rels", ThreeMfPackage.RelationshipsType), ("model", ThreeMfPackage.ModelType)])
        {
            xml.WriteStartElement("Default", ThreeMfPackage.ContentTypesNamespace);
            xml.WriteAttributeString("Extension", extension);
            xml.WriteAttributeString("ContentType", type);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void Relationships(XmlWriter xml)
    {
        xml.WriteStartElement("Relationships", ThreeMfPackage.RelationshipsNamespace);
        xml.WriteStartElement("Relationship", ThreeMfPackage.RelationshipsNamespace);
        xml.WriteAttributeString("Id", "rel0");
        xml.WriteAttributeString("Type", ThreeMfPackage.ModelRelationship);
        xml.WriteAttributeString("Target", "/" + ThreeMfPackage.ModelPart);
        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static void Model(XmlWriter xml, IReadOnlyList<(string Name, TriangleMesh Mesh)> bodies, FacetColours? colours, ThreeMfMetadata metadata)
    {
        const string Core = ThreeMfPackage.CoreNamespace;
        xml.WriteStartElement("model", Core);
        xml.WriteAttributeString("unit", "millimeter");
        xml.WriteAttributeString("xml", "lang", null, "en");
        Metadata("Title", metadata.Title);
        Metadata("Application", metadata.Application);
        xml.WriteStartElement("resources", Core);
        // Resources share their numbers; what is referred to comes first.
        var coloursId = bodies.Count + 1;
        if (colours is not null) Materials(xml, colours, coloursId);
        for (var i = 0; i < bodies.Count; i++)
        {
            xml.WriteStartElement("object", Core);
            xml.WriteAttributeString("id", Text(i + 1));
            xml.WriteAttributeString("type", "model");
            xml.WriteAttributeString("name", XmlText(bodies[i].Name));
            if (colours is not null)
            {
                xml.WriteAttributeString("pid", Text(coloursId));
                xml.WriteAttributeString("pindex", "0");
            }

            Mesh(xml, bodies[i].Mesh, colours, coloursId);
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteStartElement("build", Core);
        for (var i = 0; i < bodies.Count; i++)
        {
            xml.WriteStartElement("item", Core);
            xml.WriteAttributeString("objectid", Text(i + 1));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();

        void Metadata(string name, string value)
        {
            xml.WriteStartElement("metadata", Core);
            xml.WriteAttributeString("name", name);
            xml.WriteString(XmlText(value));
            xml.WriteEndElement();
        }
    }

    private static void Materials(XmlWriter xml, FacetColours colours, int id)
    {
        const string Core = ThreeMfPackage.CoreNamespace;
        xml.WriteStartElement("basematerials", Core);
        xml.WriteAttributeString("id", Text(id));
        foreach (var c in colours.Colours)
        {
            xml.WriteStartElement("base", Core);
            xml.WriteAttributeString("name", XmlText(c.Name));
            xml.WriteAttributeString("displaycolor", string.Create(CultureInfo.InvariantCulture, $"#{c.Red:X2}{c.Green:X2}{c.Blue:X2}"));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
    }

    private static void Mesh(XmlWriter xml, TriangleMesh mesh, FacetColours? colours, int coloursId)
    {
        const string Core = ThreeMfPackage.CoreNamespace;
        xml.WriteStartElement("mesh", Core);
        xml.WriteStartElement("vertices", Core);
        foreach (var v in mesh.Vertices)
        {
            xml.WriteStartElement("vertex", Core);
            xml.WriteAttributeString("x", Text(v.X));
            xml.WriteAttributeString("y", Text(v.Y));
            xml.WriteAttributeString("z", Text(v.Z));
            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteStartElement("triangles", Core);
        for (var i = 0; i < mesh.Facets.Length; i++)
        {
            var f = mesh.Facets[i];
            xml.WriteStartElement("triangle", Core);
            xml.WriteAttributeString("v1", Text(f.A));
            xml.WriteAttributeString("v2", Text(f.B));
            xml.WriteAttributeString("v3", Text(f.C));
            // Facets without these take those of the body.
            if (colours is not null && colours.OfFacet[i] != 0)
            {
                xml.WriteAttributeString("pid", Text(coloursId));
                xml.WriteAttributeString("p1", Text(colours.OfFacet[i]));
            }

            xml.WriteEndElement();
        }

        xml.WriteEndElement();
        xml.WriteEndElement();
    }

    private static string Text(int i) => i.ToString(CultureInfo.InvariantCulture);

    // The shortest text that reads back as the same number; 0 for −0.
    private static string Text(double x) => (x + 0.0).ToString("R", CultureInfo.InvariantCulture);

    private static string XmlText(string text)
    {
        var clean = new StringBuilder(text.Length);
        for (var i = 0; i < text.Length; i++)
        {
            if (i + 1 < text.Length && XmlConvert.IsXmlSurrogatePair(text[i + 1], text[i])) clean.Append(text[i]).Append(text[++i]);
            else clean.Append(XmlConvert.IsXmlChar(text[i]) ? text[i] : ' ');
        }

        return clean.ToString();
    }
}
