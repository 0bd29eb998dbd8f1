using System.Collections.Immutable;
using System.Globalization;
using System.Xml;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.ThreeMf;

/// <summary>The model part: unit, objects, build list. Streams through the XML once; objects name only earlier ones.</summary>
internal sealed class ThreeMfModelParser(XmlReader xml, string source, string part)
{
    private const int DeepestElement = 32;

    private readonly Dictionary<string, Body> _objects = [];
    private readonly ImmutableArray<(string Name, TriangleMesh Mesh)>.Builder _bodies = ImmutableArray.CreateBuilder<(string, TriangleMesh)>();
    private readonly ImmutableArray<ReadNote>.Builder _notes = ImmutableArray.CreateBuilder<ReadNote>();
    private string? _unit;
    private double _unit_mm = 1;
    private long _keptFacets;
    private long _keptVertices;

    private sealed record Body(string Name, string Type, TriangleMesh Mesh);

    public ThreeMfModel Parse()
    {
        if (!Next() || !Is("model")) throw Bad("the model part does not begin with a 3MF model.");
        Model();
        while (Next())
        {
            if (Is("object")) Object();
            else if (Is("item")) Item();
        }

        if (_bodies.Count == 0) throw Bad("the build list names no body. Put the part on the plate and export again.");
        return new(_bodies.ToImmutable(), _unit, _notes.ToImmutable());
    }

    private void Model()
    {
        _unit = xml.GetAttribute("unit");
        _unit_mm = _unit switch
        {
            null or "millimeter" => 1,
            "micron" => 0.001,
            "centimeter" => 10,
            "inch" => 25.4,
            "foot" => 304.8,
            "meter" => 1000,
            var other => throw Bad($"the unit \"{Short(other)}\" is none of micron, millimeter, centimeter, inch, foot, meter."),
        };
        if (xml.GetAttribute("requiredextensions")?.Trim() is { Length: > 0 } needed)
            throw Bad($"the file needs the extension \"{Short(needed)}\", which is not read. Export plain 3MF, or STL.");
    }

    private void Object()
    {
        var id = Required("id");
        var type = xml.GetAttribute("type") ?? "model";
        var name = xml.GetAttribute("name") is { Length: > 0 } given ? given : "object " + Short(id);
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        if (!xml.IsEmptyElement)
        {
            var depth = xml.Depth;
            while (Next(depth))
            {
                if (Is("vertex")) vertices.Add(new(Coordinate("x"), Coordinate("y"), Coordinate("z")));
                else if (Is("triangle")) Add(facets, new(Index("v1", vertices.Count), Index("v2", vertices.Count), Index("v3", vertices.Count)));
                else if (Is("component")) Append(vertices, facets, Named("objectid").Mesh, Transform());
            }
        }

        var all = facets.Count;
        facets.RemoveAll(f => f.A == f.B || f.B == f.C || f.C == f.A);
        if (facets.Count < all)
            _notes.Add(new(source, Line, string.Create(CultureInfo.InvariantCulture, $"{all - facets.Count} facets of \"{Short(name)}\" that name a vertex twice were dropped.")));
        Keep(vertices.Count, facets.Count);
        if (!_objects.TryAdd(id, new(name, type, new(vertices.ToImmutable(), facets.ToImmutable()))))
            throw Bad($"the object number \"{Short(id)}\" is given twice.");
    }

    private void Item()
    {
        var body = Named("objectid");
        if (body.Type != "model")
        {
            _notes.Add(new(source, Line, $"the body \"{Short(body.Name)}\" of type \"{Short(body.Type)}\" was skipped."));
            return;
        }

        if (body.Mesh.Facets.IsEmpty)
        {
            _notes.Add(new(source, Line, $"the body \"{Short(body.Name)}\" has no facet and was skipped."));
            return;
        }

        var vertices = ImmutableArray.CreateBuilder<Vec3>(body.Mesh.Vertices.Length);
        var facets = ImmutableArray.CreateBuilder<Facet>(body.Mesh.Facets.Length);
        Append(vertices, facets, body.Mesh, Transform());
        Keep(vertices.Count, facets.Count);
        _bodies.Add((body.Name, new(vertices.ToImmutable(), facets.ToImmutable())));
    }

    // Everything held so far counts, so that small objects that repeat each other cannot grow without end.
    private void Keep(int vertices, int facets)
    {
        _keptVertices += vertices;
        _keptFacets += facets;
        if (_keptFacets > ThreeMfReader.MostFacets || _keptVertices > ThreeMfReader.MostFacets) throw TooMany();
    }

    private void Add(ImmutableArray<Facet>.Builder facets, Facet facet)
    {
        if (facets.Count >= ThreeMfReader.MostFacets) throw TooMany();
        facets.Add(facet);
    }

    // Row vector times a matrix of three rows and a shift (section 3.3). A mirror turns the facets over.
    private void Append(ImmutableArray<Vec3>.Builder vertices, ImmutableArray<Facet>.Builder facets, TriangleMesh mesh, double[]? m)
    {
        if (_keptFacets + facets.Count + mesh.Facets.Length > ThreeMfReader.MostFacets
            || _keptVertices + vertices.Count + mesh.Vertices.Length > ThreeMfReader.MostFacets) throw TooMany();
        var first = vertices.Count;
        var mirrored = false;
        if (m is null)
        {
            vertices.AddRange(mesh.Vertices);
        }
        else
        {
            Vec3 x = new(m[0], m[1], m[2]), y = new(m[3], m[4], m[5]), z = new(m[6], m[7], m[8]);
            Vec3 shift = new(m[9] * _unit_mm, m[10] * _unit_mm, m[11] * _unit_mm);
            var determinant = Vec3.Dot(x, Vec3.Cross(y, z));
            if (determinant == 0) throw Bad("a transform flattens its body.");
            mirrored = determinant < 0;
            foreach (var v in mesh.Vertices)
            {
                var placed = (v.X * x) + (v.Y * y) + (v.Z * z) + shift;
                if (!(placed.Length <= MeshLimits.LargestCoordinate * 2)) throw Bad("a transform moves its body beyond 1e9 mm.");
                vertices.Add(placed);
            }
        }

        foreach (var f in mesh.Facets)
            facets.Add(mirrored ? new(first + f.A, first + f.C, first + f.B) : new(first + f.A, first + f.B, first + f.C));
    }

    private double[]? Transform()
    {
        if (xml.GetAttribute("transform") is not { } text) return null;
        var words = text.Split((char[]?)null, 13, StringSplitOptions.RemoveEmptyEntries);
        if (words.Length != 12) throw Bad("a transform does not have twelve numbers.");
        return Array.ConvertAll(words, Number);
    }

    private Body Named(string attribute)
    {
        var id = Required(attribute);
        return _objects.TryGetValue(id, out var body)
            ? body
            : throw Bad($"the object \"{Short(id)}\" is used before it is given, or never is.");
    }

    private double Coordinate(string attribute)
    {
        var x = Number(Required(attribute));
        return _unit_mm == 1 ? x : x * _unit_mm;
    }

    private double Number(string text)
    {
        if (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var x) || !double.IsFinite(x))
            throw Bad($"expected a number, found \"{Short(text)}\".");
        return Math.Abs(x) <= MeshLimits.LargestCoordinate ? x : throw Bad($"the number {Short(text)} is beyond 1e9.");
    }

    private int Index(string attribute, int count)
    {
        var text = Required(attribute);
        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var i) && i < count
            ? i
            : throw Bad(string.Create(CultureInfo.InvariantCulture, $"a triangle names the vertex \"{Short(text)}\", there are {count}."));
    }

    private string Required(string attribute) =>
        xml.GetAttribute(attribute) ?? throw Bad($"the element {Short(xml.LocalName)} lacks its {attribute}.");

    private bool Is(string element) => xml.LocalName == element && xml.NamespaceURI == ThreeMfPackage.CoreNamespace;

    // The next element, at any depth; within one element when its depth is given.
    private bool Next(int within = -1)
    {
        while (xml.Read())
        {
            if (xml.Depth > DeepestElement) throw Bad("the elements are nested deeper than a model needs.");
            if (xml.NodeType == XmlNodeType.EndElement && xml.Depth == within) return false;
            if (xml.NodeType == XmlNodeType.Element) return true;
        }

        return false;
    }

    private int Line => ((IXmlLineInfo)xml).LineNumber;

    private static string Short(string text) => text.Length <= 40 ? text : text[..40] + "…";

    private InputException TooMany() =>
        Bad(string.Create(CultureInfo.InvariantCulture, $"more than {ThreeMfReader.MostFacets} facets or vertices. Export the part with a coarser tolerance."));

    private InputException Bad(string problem) =>
        new(source, string.Create(CultureInfo.InvariantCulture, $"{part} line {Line}"), problem);
}
