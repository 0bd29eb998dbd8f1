using System.Buffers.Text;
using System.Collections.Frozen;
using System.Globalization;
using System.Text;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.ObjFormat;

/// <summary>
/// The text of an OBJ file: a statement to a line, "#" begins a comment, "\" at the end of a line continues it.
/// v x y z …, f a b c … with a corner as v, v/vt, v/vt/vn or v//vn, counted from 1, or backward from the last vertex so far if negative.
/// </summary>
internal sealed class ObjParser(byte[] content, string source, List<ReadNote> notes)
{
    // So many kinds of unknown statements are told one by one.
    private const int MostKindsTold = 12;

    private static readonly FrozenSet<string> WithoutShape = FrozenSet.Create(
        "vt", "vn", "vp", "s", "mg", "usemtl", "mtllib", "usemap", "maplib", "lod", "bevel", "c_interp", "d_interp", "shadow_obj", "trace_obj");

    private readonly ObjShape _shape = new([], [], []);
    private readonly Dictionary<string, (int Count, int Line)> _skipped = [];
    private int _at;
    private int _line = 1;
    private int _wordLine = 1;
    private int _objects;
    private int _groups;
    private int _weighted;

    public ObjShape Parse()
    {
        if (content.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF])) _at = 3;
        while (_at < content.Length)
        {
            var word = Word();
            if (!word.IsEmpty) Statement(word);
            EndLine();
        }

        if (_objects > 1) notes.Add(new(source, 0, Say($"{_objects} objects were taken as one body.")));
        if (_groups > 1) notes.Add(new(source, 0, Say($"{_groups} groups were taken as one body.")));
        if (_weighted > 0) notes.Add(new(source, 0, Say($"{_weighted} vertices carry a weight or colour, which was passed over.")));
        foreach (var (kind, (count, line)) in _skipped.OrderBy(s => s.Value.Line))
            notes.Add(new(source, line, Say($"{count} statements {kind} were skipped (first at line {line}).")));
        return _shape;
    }

    private void Statement(ReadOnlySpan<byte> word)
    {
        if (word.SequenceEqual("v"u8)) Vertex();
        else if (word.SequenceEqual("f"u8) || word.SequenceEqual("fo"u8)) Polygon();
        else if (word.SequenceEqual("o"u8)) _objects++;
        else if (word.SequenceEqual("g"u8)) _groups++;
        else if (word.Contains((byte)0)) throw Bad("the file is no text, so it is no OBJ file. Export the part as OBJ or STL.");
        else if (word.Length > 24 || !WithoutShape.Contains(Encoding.Latin1.GetString(word))) Skip(WordText.Show(word));
    }

    private void Skip(string kind)
    {
        if (_skipped.Count >= MostKindsTold && !_skipped.ContainsKey(kind)) kind = "of other kinds";
        _skipped[kind] = _skipped.TryGetValue(kind, out var known) ? (known.Count + 1, known.Line) : (1, _wordLine);
    }

    private void Vertex()
    {
        if (_shape.Vertices.Count >= MeshLimits.MostFacets) throw ObjReader.TooMany(source);
        _shape.Vertices.Add(new(Coordinate(), Coordinate(), Coordinate()));
        var more = 0;
        for (var word = Word(); !word.IsEmpty; word = Word())
        {
            var number = WordText.Coordinate(word, source, _wordLine);
            // A single weight of 1 says nothing.
            if (more++ > 0 || number != 1) more = Math.Max(more, 2);
        }

        if (more > 1) _weighted++;
    }

    private double Coordinate()
    {
        var word = Word();
        return word.IsEmpty ? throw Bad("a vertex has fewer than three numbers.") : WordText.Coordinate(word, source, _wordLine);
    }

    private void Polygon()
    {
        var (line, first) = (_wordLine, _shape.Corners.Count);
        for (var word = Word(); !word.IsEmpty; word = Word())
        {
            if (_shape.Corners.Count - first >= ObjReader.MostCorners) throw Bad(Say($"a polygon has more than {ObjReader.MostCorners} corners. Export the part as triangles."));
            _shape.Corners.Add(Corner(word));
        }

        var count = _shape.Corners.Count - first;
        if (count < 3) throw Bad(Say($"a polygon has {count} corners; it needs three."));
        // A polygon gives two facets fewer than it has corners; so neither sum can outgrow its list.
        if (_shape.Polygons.Count >= MeshLimits.MostFacets || _shape.Corners.Count - (2L * _shape.Polygons.Count) > MeshLimits.MostFacets + 2L) throw ObjReader.TooMany(source);
        _shape.Polygons.Add((first, count, line));
    }

    private int Corner(ReadOnlySpan<byte> word)
    {
        var slash = word.IndexOf((byte)'/');
        var vertex = slash < 0 ? word : word[..slash];
        if (!Utf8Parser.TryParse(vertex, out int number, out var used) || used != vertex.Length)
            throw Bad($"expected the number of a vertex, found {WordText.Show(word)}.");
        // Texture and normal: numbers, or left out.
        var slashes = 0;
        for (var i = vertex.Length; i < word.Length; i++)
        {
            if (word[i] == '/' && ++slashes <= 2) continue;
            if (!char.IsAsciiDigit((char)word[i]) && !(word[i] == '-' && word[i - 1] == '/')) throw Bad($"expected a corner as v, v/vt, v/vt/vn or v//vn, found {WordText.Show(word)}.");
        }

        var count = _shape.Vertices.Count;
        return number switch
        {
            0 => throw Bad("a polygon names the vertex 0; OBJ counts from 1."),
            > 0 => number - 1,
            _ when number >= -count => count + number,
            _ => throw Bad(Say($"a polygon names the vertex {number}, there are {count} so far.")),
        };
    }

    // The next word of the statement; empty at its end.
    private ReadOnlySpan<byte> Word()
    {
        while (_at < content.Length)
        {
            var step = Continuation(_at);
            if (step > 0)
            {
                _line++;
                _at += step;
            }
            else if (IsLineEnd(_at) || !WordText.IsSpace(content[_at]))
            {
                break;
            }
            else
            {
                _at++;
            }
        }

        _wordLine = _line;
        // A comment ends with its line, whatever it ends in: paths may end in a backslash.
        if (_at < content.Length && content[_at] == '#')
            while (_at < content.Length && !IsLineEnd(_at)) _at++;
        var start = _at;
        while (_at < content.Length && !WordText.IsSpace(content[_at]) && Continuation(_at) == 0) _at++;
        return content.AsSpan(start, _at - start);
    }

    // Past what is left of the statement and past its line end.
    private void EndLine()
    {
        while (!Word().IsEmpty)
        {
        }

        if (_at >= content.Length) return;
        _at += content[_at] == '\r' && _at + 1 < content.Length && content[_at + 1] == '\n' ? 2 : 1;
        _line++;
    }

    private bool IsLineEnd(int at) => content[at] is (byte)'\n' or (byte)'\r';

    // The length of a backslash and the line end after it; 0 where there is none.
    private int Continuation(int at)
    {
        if (content[at] != '\\' || at + 1 >= content.Length || !IsLineEnd(at + 1)) return 0;
        return content[at + 1] == '\r' && at + 2 < content.Length && content[at + 2] == '\n' ? 3 : 2;
    }

    private InputException Bad(string problem) => new(source, Say($"line {_wordLine}"), problem);

    private static string Say(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
