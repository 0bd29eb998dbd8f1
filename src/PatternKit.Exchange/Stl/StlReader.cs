using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Stl;

/// <summary>
/// Reads STL, binary and text (the stereolithography format of 1989; it has no unit, so numbers come as they are).
/// Corners at equal positions become one vertex. Normals are not used: the order of the corners tells the outside.
/// </summary>
public static class StlReader
{
    /// <summary>More facets than this are refused.</summary>
    public const int MostFacets = MeshLimits.MostFacets;

    /// <summary>A coordinate beyond this is refused: no casting is a thousand kilometres long.</summary>
    public const double LargestCoordinate = MeshLimits.LargestCoordinate;

    private const int HeaderLength = 80;
    private const int RecordLength = 50;

    /// <summary>Reads a whole file.</summary>
    /// <param name="content">The bytes of the file.</param>
    /// <param name="sourceName">File name as the user gave it, for messages.</param>
    /// <returns>The welded mesh, which may still be open or crossed, and what was repaired or skipped.</returns>
    /// <exception cref="InputException">Not an STL file, cut off within a facet, not a number, too large, or no facet.</exception>
    public static ReadResult<TriangleMesh> Read(byte[] content, string sourceName)
    {
        if (content.Length == 0) throw new InputException(sourceName, "", "the file is empty. Export the part again.");
        if (FileKind.Other(content) is { } kind)
            throw new InputException(sourceName, "", $"this is {kind}, not STL. Give the file its own ending, or export the part as STL.");
        var notes = new List<ReadNote>();
        var welded = IsText(content)
            ? MeshBuilder.Weld(new StlTextParser(content, sourceName, notes).Parse())
            : Binary(content, sourceName, notes);
        if (welded.Facets.IsEmpty) throw new InputException(sourceName, "", "the file holds no facet. Export the part again.");
        return new(WithoutDegenerate(welded, sourceName, notes), [.. notes]);
    }

    // A length that fits the count is binary whatever the header says; else text has no control characters.
    private static bool IsText(byte[] content)
    {
        if (HasBinaryLength(content)) return false;
        foreach (var b in content.AsSpan(0, Math.Min(content.Length, 2048)))
            if (b < 32 && b is not ((byte)'\t' or (byte)'\n' or (byte)'\r' or 12)) return false;
        return true;
    }

    /// <summary>Whether the length is that of a binary STL with as many facets as its header says.</summary>
    internal static bool HasBinaryLength(byte[] content) =>
        content.Length >= HeaderLength + 4 && content.Length == HeaderLength + 4 + ((long)RecordLength * Count(content));

    private static uint Count(byte[] content) => BinaryPrimitives.ReadUInt32LittleEndian(content.AsSpan(HeaderLength));

    private static TriangleMesh Binary(byte[] content, string source, List<ReadNote> notes)
    {
        const int Start = HeaderLength + 4;
        if (content.Length < Start)
            throw new InputException(source, $"byte {content.Length}", $"the file ends within its header: {content.Length} bytes, a binary STL has at least {Start}.");
        var said = Count(content);
        var room = (content.Length - Start) / RecordLength;
        var rest = (content.Length - Start) % RecordLength;
        var count = room;
        if (said < room && said > 0 && rest != 0)
        {
            count = (int)said;
            notes.Add(new(source, 0, Say($"{content.Length - Start - ((long)count * RecordLength)} bytes after the last facet were skipped.")));
        }
        else if (said != room)
        {
            notes.Add(new(source, 0, Say($"the header says {said} facets, the length of the file holds {room}: {room} were read.")));
            if (rest != 0) notes.Add(new(source, 0, Say($"the last {rest} bytes are no whole facet and were skipped; the file may be cut off.")));
        }
        else if (rest != 0)
        {
            notes.Add(new(source, 0, Say($"{rest} bytes after the last facet were skipped.")));
        }

        if (count > MostFacets) throw TooMany(source);
        return MeshBuilder.Weld(3 * count, i => Corner(Start + (i / 3 * RecordLength) + (12 * ((i % 3) + 1))));

        Vec3 Corner(int at) => new(Number(at), Number(at + 4), Number(at + 8));

        double Number(int at)
        {
            var x = BinaryPrimitives.ReadSingleLittleEndian(content.AsSpan(at));
            if (Math.Abs(x) <= LargestCoordinate) return x;
            var what = float.IsFinite(x) ? Say($"the coordinate {x} is beyond {LargestCoordinate}") : "a coordinate is not a finite number";
            throw new InputException(source, $"byte {at}", $"{what}. The file is damaged or is not STL; export the part again.");
        }
    }

    private static TriangleMesh WithoutDegenerate(TriangleMesh mesh, string source, List<ReadNote> notes)
    {
        var facets = mesh.Facets.RemoveAll(f => f.A == f.B || f.B == f.C || f.C == f.A);
        var dropped = mesh.Facets.Length - facets.Length;
        if (dropped == 0) return mesh;
        notes.Add(new(source, 0, Say($"{dropped} facets with two corners at one position were dropped.")));
        if (facets.IsEmpty) throw new InputException(source, "", "no facet has three different corners. Export the part again, in millimetres.");
        // Positions that only dropped facets had go with them.
        return MeshBuilder.Weld(facets.Select(f => (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C])));
    }

    internal static InputException TooMany(string source) =>
        new(source, "", Say($"more than {MostFacets} facets. Export the part with a coarser tolerance."));

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
