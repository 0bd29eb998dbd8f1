using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using System.Xml;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>
/// Reads the bodies of a 3MF file (core specification 1.4.0): objects with a mesh or of components, placed by their build
/// items, in millimetres. Materials, colours and pictures are passed over.
/// </summary>
public static class ThreeMfReader
{
    /// <summary>A model that unpacks to more is refused.</summary>
    public const long MostUnpackedBytes = 1L << 29;

    /// <summary>A package with more parts is refused.</summary>
    public const int MostParts = 10_000;

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
        var model = Model(content, sourceName);
        return new(model.Bodies, model.Notes);
    }

    /// <summary>Reads a whole package as one mesh: everything the build list places, one body after the other.</summary>
    /// <param name="content">The bytes of the file.</param>
    /// <param name="sourceName">File name as the user gave it, for messages.</param>
    /// <returns>The mesh in millimetres, not welded, and notes on its unit, the bodies it was put together from and what was skipped.</returns>
    /// <exception cref="InputException">As for <see cref="Read"/>.</exception>
    public static ReadResult<TriangleMesh> ReadJoined(byte[] content, string sourceName)
    {
        var model = Model(content, sourceName);
        var notes = ImmutableArray.CreateBuilder<ReadNote>();
        if (model.Unit is { } unit && unit != "millimeter") notes.Add(new(sourceName, 0, $"the file is in the unit {unit}; all lengths were turned into millimetres."));
        if (model.Bodies.Length > 1) notes.Add(new(sourceName, 0, string.Create(CultureInfo.InvariantCulture, $"{model.Bodies.Length} bodies of the build list were taken as one: {Names(model.Bodies)}.")));
        notes.AddRange(model.Notes);
        return new(Joined(model.Bodies), notes.ToImmutable());
    }

    private static TriangleMesh Joined(ImmutableArray<(string Name, TriangleMesh Mesh)> bodies)
    {
        if (bodies.Length == 1) return bodies[0].Mesh;
        var vertices = ImmutableArray.CreateBuilder<Vec3>(bodies.Sum(b => b.Mesh.Vertices.Length));
        var facets = ImmutableArray.CreateBuilder<Facet>(bodies.Sum(b => b.Mesh.Facets.Length));
        foreach (var (_, mesh) in bodies)
        {
            var first = vertices.Count;
            vertices.AddRange(mesh.Vertices);
            foreach (var f in mesh.Facets) facets.Add(new(first + f.A, first + f.B, first + f.C));
        }

        return new(vertices.MoveToImmutable(), facets.MoveToImmutable());
    }

    // A few names are enough to know the file by; they come from it.
    private static string Names(ImmutableArray<(string Name, TriangleMesh Mesh)> bodies)
    {
        const int MostNamed = 5;
        var named = bodies.Take(MostNamed).Select(b => "\"" + new string([.. b.Name.Take(40).Select(c => char.IsControl(c) ? '?' : c)]) + "\"");
        return string.Join(", ", named) + (bodies.Length > MostNamed ? " …" : "");
    }

    private static ThreeMfModel Model(byte[] content, string sourceName)
    {
        var place = "";
        try
        {
            using var zip = new ZipArchive(new MemoryStream(content, writable: false), ZipArchiveMode.Read);
            if (zip.Entries.Count > MostParts) throw new InputException(sourceName, "", string.Create(CultureInfo.InvariantCulture, $"the package has {zip.Entries.Count} parts, more than a model needs. Export the part again."));
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
            if (xml.GetAttribute("Target") is { Length: > 0 } target) return PartName(target, xml.GetAttribute("TargetMode"), source);
        }

        throw new InputException(source, ThreeMfPackage.RelationshipsPart, "the package names no 3D model, so it is no 3MF file. Export the part as 3MF or STL.");
    }

    // The start part lies in the package itself: neither elsewhere nor above its root.
    private static string PartName(string target, string? mode, string source)
    {
        var name = target.StartsWith('/') ? target[1..] : target;
        var inside = (mode is null or "Internal")
            && !name.Split('/').Any(segment => segment is "" or "." or "..") && !name.AsSpan().ContainsAny(['\\', ':']);
        if (inside && name.Length <= 255) return name;
        throw new InputException(source, ThreeMfPackage.RelationshipsPart, "the 3D model is said to lie outside the package. Export the part as one 3MF file.");
    }

    private static LimitedStream Open(ZipArchive zip, string part, string source, long limit)
    {
        // Part names are the same in any case (OPC); nothing is unpacked to disk, so a path can lead nowhere.
        var found = zip.Entries.Where(entry => entry.FullName.Equals(part, StringComparison.OrdinalIgnoreCase)).Take(2).ToArray();
        return found.Length switch
        {
            1 => new(found[0].Open(), limit, source, part),
            0 => throw new InputException(source, "", $"the part {part} is missing, so this is no 3MF file. Export the part as 3MF or STL."),
            _ => throw new InputException(source, "", $"the part {part} is there twice. The file is damaged; export the part again."),
        };
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
