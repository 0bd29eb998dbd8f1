using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Xml;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>
/// Reads the bodies of a 3MF file (core specification 1.4.0): objects with a mesh or of components, placed by their build
/// items, in millimetres. Materials, colours and pictures are passed over.
/// </summary>
public static class ThreeMfReader
{
    /// <summary>A model that unpacks to more is refused.</summary>
    public const long MostUnpackedBytes = 1L << 29;

    // A list of the package's parts is a few hundred bytes.
    private const long MostRelationshipBytes = 1L << 20;

    /// <summary>More facets or vertices than this, all objects and their placed copies together, are refused.</summary>
    public const int MostFacets = MeshLimits.MostFacets;

    /// <summary>Reads a whole package.</summary>
    /// <param name="content">The bytes of the file.</param>
    /// <param name="sourceName">File name as the user gave it, for messages.</param>
    /// <returns>The bodies of the build list with their names, and what was skipped. Meshes come as they are.</returns>
    /// <exception cref="InputException">Not a 3MF package, damaged, beyond a limit, or in need of an extension.</exception>
    public static ReadResult<ImmutableArray<(string Name, TriangleMesh Mesh)>> Read(byte[] content, string sourceName)
    {
        var place = "";
        try
        {
            using var zip = new ZipArchive(new MemoryStream(content, writable: false), ZipArchiveMode.Read);
            place = ThreeMfPackage.RelationshipsPart;
            var modelPart = ModelPart(zip, sourceName);
            place = modelPart;
            using var stream = Open(zip, modelPart, sourceName, MostUnpackedBytes);
            using var xml = Xml(stream);
            return new ThreeMfModelParser(xml, sourceName, modelPart).Parse();
        }
        catch (InvalidDataException)
        {
            throw new InputException(sourceName, place, "this is not a whole 3MF package (a ZIP archive), or it is damaged. Export the part again.");
        }
        catch (XmlException e)
        {
            var line = string.Create(CultureInfo.InvariantCulture, $"{place} line {e.LineNumber}");
            throw new InputException(sourceName, line, "the XML is damaged, or larger or deeper than a model needs. Export the part again.");
        }
    }

    private static string ModelPart(ZipArchive zip, string source)
    {
        using var stream = Open(zip, ThreeMfPackage.RelationshipsPart, source, MostRelationshipBytes);
        using var xml = Xml(stream);
        while (xml.Read())
        {
            if (xml.Depth > 8) break;
            if (xml.NodeType != XmlNodeType.Element || xml.LocalName != "Relationship" || xml.GetAttribute("Type") != ThreeMfPackage.ModelRelationship) continue;
            if (xml.GetAttribute("Target") is { Length: > 0 } target) return target.TrimStart('/');
        }

        throw new InputException(source, ThreeMfPackage.RelationshipsPart, "the package names no 3D model, so it is no 3MF file. Export the part as 3MF or STL.");
    }

    private static LimitedStream Open(ZipArchive zip, string part, string source, long limit)
    {
        // Part names are the same in any case (OPC); nothing is unpacked to disk, so a path can lead nowhere.
        foreach (var entry in zip.Entries)
            if (entry.FullName.Equals(part, StringComparison.OrdinalIgnoreCase)) return new(entry.Open(), limit, source, part);
        throw new InputException(source, "", $"the part {part} is missing, so this is no 3MF file. Export the part as 3MF or STL.");
    }

    private static XmlReader Xml(Stream stream) => XmlReader.Create(stream, new XmlReaderSettings
    {
        DtdProcessing = DtdProcessing.Prohibit,
        XmlResolver = null,
        MaxCharactersInDocument = MostUnpackedBytes,
        IgnoreComments = true,
        IgnoreWhitespace = true,
        IgnoreProcessingInstructions = true,
    });
}
