using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.InteropServices;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Exchange.ObjFormat;

/// <summary>
/// Reads the polygons of an OBJ file (the text format of 1990; it has no unit, so numbers come as they are). Vertices stay as the file numbers them,
/// less those that no polygon names. Normals, textures, materials and the names of groups are passed over; curves are skipped.
/// </summary>
public static class ObjReader
{
    /// <summary>More facets or vertices than this are refused.</summary>
    public const int MostFacets = MeshLimits.MostFacets;

    /// <summary>A polygon with more corners is refused: cutting it takes the square of their number.</summary>
    public const int MostCorners = 4096;

    /// <summary>Reads a whole file.</summary>
    /// <param name="content">The bytes of the file.</param>
    /// <param name="sourceName">File name as the user gave it, for messages.</param>
    /// <returns>The mesh, which may still be open or crossed, and what was cut, dropped or skipped.</returns>
    /// <exception cref="InputException">Not an OBJ file, a vertex that is not there, not a number, too large, or no facet.</exception>
    public static ReadResult<TriangleMesh> Read(byte[] content, string sourceName)
    {
        if (content.Length == 0) throw new InputException(sourceName, "", "the file is empty. Export the part again.");
        if (FileKind.Other(content) is { } kind)
            throw new InputException(sourceName, "", $"this is {kind}, not OBJ. Give the file its own ending, or export the part as OBJ or STL.");
        var notes = new List<ReadNote>();
        var shape = new ObjParser(content, sourceName, notes).Parse();
        if (shape.Polygons.Count == 0)
            throw new InputException(sourceName, "", "the file holds no polygon (no line \"f …\"), so it is no mesh in OBJ. Export the part as a mesh.");
        var facets = Triangles(shape, sourceName, notes);
        if (facets.Count == 0) throw new InputException(sourceName, "", "no polygon has three different corners. Export the part again.");
        return new(Used(shape.Vertices, facets, sourceName, notes), [.. notes]);
    }

    private static List<Facet> Triangles(ObjShape shape, string source, List<ReadNote> notes)
    {
        var facets = new List<Facet>(shape.Polygons.Count);
        var corners = new List<int>();
        Span<Vec3> places = new Vec3[MostCorners];
        var (cut, pieces, dropped, doubled) = (0, 0, 0, 0);
        var (crossed, crossedLine) = (0, 0);
        foreach (var (first, count, line) in shape.Polygons)
        {
            corners.Clear();
            foreach (var vertex in CollectionsMarshal.AsSpan(shape.Corners).Slice(first, count))
            {
                if (vertex >= shape.Vertices.Count)
                    throw new InputException(source, Say($"line {line}"), Say($"a polygon names the vertex {vertex + 1L}, there are {shape.Vertices.Count}. The file is damaged or cut off; export the part again."));
                if (corners.Count == 0 || corners[^1] != vertex) corners.Add(vertex);
            }

            while (corners.Count > 1 && corners[^1] == corners[0]) corners.RemoveAt(corners.Count - 1);
            if (corners.Count < 3)
            {
                dropped++;
                continue;
            }

            if (corners.Count < count) doubled++;
            if (facets.Count + corners.Count - 2 > MostFacets) throw TooMany(source);
            for (var i = 0; i < corners.Count; i++) places[i] = shape.Vertices[corners[i]];
            var triangles = SpacePolygon.Triangulate(places[..corners.Count]);
            foreach (var f in triangles.Facets)
            {
                var facet = new Facet(corners[f.A], corners[f.B], corners[f.C]);
                if (facet.A != facet.B && facet.B != facet.C && facet.C != facet.A) facets.Add(facet);
            }

            if (corners.Count == 3) continue;
            cut++;
            pieces += triangles.Facets.Length;
            if (!triangles.IsClean && crossed++ == 0) crossedLine = line;
        }

        if (cut > 0) notes.Add(new(source, 0, Say($"{cut} polygons of more than three corners were cut into {pieces} triangles.")));
        if (crossed > 0) notes.Add(new(source, crossedLine, Say($"{crossed} of them cross themselves or have no area (first at line {crossedLine}); they were cut as they are.")));
        if (doubled > 0) notes.Add(new(source, 0, Say($"{doubled} polygons name a corner twice in a row; it was taken once.")));
        if (dropped > 0) notes.Add(new(source, 0, Say($"{dropped} polygons with fewer than three different corners were dropped.")));
        return facets;
    }

    private static TriangleMesh Used(List<Vec3> vertices, List<Facet> facets, string source, List<ReadNote> notes)
    {
        var number = new int[vertices.Count];
        foreach (var f in facets) (number[f.A], number[f.B], number[f.C]) = (1, 1, 1);
        var used = ImmutableArray.CreateBuilder<Vec3>(vertices.Count);
        for (var v = 0; v < number.Length; v++)
        {
            if (number[v] == 0) continue;
            number[v] = used.Count;
            used.Add(vertices[v]);
        }

        if (used.Count < vertices.Count) notes.Add(new(source, 0, Say($"{vertices.Count - used.Count} vertices that no polygon names were dropped.")));
        return new(used.ToImmutable(), [.. facets.Select(f => new Facet(number[f.A], number[f.B], number[f.C]))]);
    }

    internal static InputException TooMany(string source) =>
        new(source, "", Say($"more than {MostFacets} facets or vertices. Export the part with a coarser tolerance."));

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
