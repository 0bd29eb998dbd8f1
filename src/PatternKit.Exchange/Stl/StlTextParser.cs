using System.Globalization;
using System.Text;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Stl;

/// <summary>
/// The text form of STL: solid … { facet normal n n n, outer loop, three times vertex x y z, endloop, endfacet } … endsolid …,
/// any number of times. Keywords in any case, any white space; the normal is passed over whatever it says.
/// </summary>
internal sealed class StlTextParser(byte[] content, string source, List<ReadNote> notes)
{
    private readonly List<(Vec3, Vec3, Vec3)> _triangles = [];
    private int _at;
    private int _line = 1;
    private int _wordLine = 1;

    public List<(Vec3, Vec3, Vec3)> Parse()
    {
        if (content.AsSpan().StartsWith((ReadOnlySpan<byte>)[0xEF, 0xBB, 0xBF])) _at = 3;
        if (!Is(Word(), "solid"))
            throw Bad("the text does not begin with \"solid\", so it is no text STL. Export the part as STL.");
        var solids = 1;
        SkipLine();
        while (true)
        {
            var word = Word();
            if (Is(word, "facet"))
            {
                Facet();
            }
            else if (Is(word, "endsolid"))
            {
                SkipLine();
                word = Word();
                if (word.IsEmpty) break;
                if (!Is(word, "solid"))
                {
                    notes.Add(new(source, _wordLine, $"what follows the last \"endsolid\" was skipped: {WordText.Show(word)} …"));
                    break;
                }

                solids++;
                SkipLine();
            }
            else if (word.IsEmpty)
            {
                notes.Add(new(source, _wordLine, "the file ends without \"endsolid\"; it may be cut off."));
                break;
            }
            else
            {
                throw Bad($"expected \"facet\" or \"endsolid\", found {WordText.Show(word)}.");
            }
        }

        if (solids > 1) notes.Add(new(source, 0, string.Create(CultureInfo.InvariantCulture, $"{solids} solids were taken as one body.")));
        return _triangles;
    }

    private void Facet()
    {
        if (_triangles.Count >= StlReader.MostFacets) throw StlReader.TooMany(source);
        var word = Word();
        if (Is(word, "normal"))
        {
            for (var i = 0; i < 3; i++)
                if (Word().IsEmpty) throw Bad("the file ends within a facet.");
            word = Word();
        }

        Expect(word, "outer");
        Expect(Word(), "loop");
        var (a, b, c) = (Vertex(), Vertex(), Vertex());
        word = Word();
        if (Is(word, "vertex")) throw Bad("a facet has more than three corners. Export the part as triangles.");
        Expect(word, "endloop");
        Expect(Word(), "endfacet");
        _triangles.Add((a, b, c));
    }

    private Vec3 Vertex()
    {
        Expect(Word(), "vertex");
        return new(Number(), Number(), Number());
    }

    private double Number()
    {
        var word = Word();
        return WordText.Coordinate(word, source, _wordLine);
    }

    private void Expect(ReadOnlySpan<byte> word, string keyword)
    {
        if (word.IsEmpty) throw Bad($"the file ends where \"{keyword}\" is due; it is cut off.");
        if (!Is(word, keyword)) throw Bad($"expected \"{keyword}\", found {WordText.Show(word)}.");
    }

    // The next run of bytes without white space; empty at the end of the file.
    private ReadOnlySpan<byte> Word()
    {
        while (_at < content.Length && WordText.IsSpace(content[_at]))
            if (content[_at++] == '\n' || (content[_at - 1] == '\r' && (_at == content.Length || content[_at] != '\n'))) _line++;
        _wordLine = _line;
        var start = _at;
        while (_at < content.Length && !WordText.IsSpace(content[_at])) _at++;
        return content.AsSpan(start, _at - start);
    }

    private void SkipLine()
    {
        while (_at < content.Length && content[_at] is not ((byte)'\n' or (byte)'\r')) _at++;
    }

    private static bool Is(ReadOnlySpan<byte> word, string keyword) => Ascii.EqualsIgnoreCase(word, keyword);

    private InputException Bad(string problem) =>
        new(source, string.Create(CultureInfo.InvariantCulture, $"line {_wordLine}"), problem);
}
