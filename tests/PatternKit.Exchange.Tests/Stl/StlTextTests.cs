using System.Text;
using CsCheck;
using PatternKit.Exchange.Stl;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange.Tests.Stl;

public class StlTextTests
{
    private const string OneFacet = """
        solid lever
          facet normal 0 0 1
            outer loop
              vertex 0 0 0
              vertex 1.5 0 0
              vertex 0 2.5e1 0
            endloop
          endfacet
        endsolid lever

        """;

    [Fact]
    public void A_text_file_is_read()
    {
        var read = Read(OneFacet);
        Assert.Equal([new Facet(0, 1, 2)], read.Value.Facets);
        Assert.Equal(new(0, 25, 0), read.Value.Vertices[2]);
        Assert.Empty(read.Notes);
    }

    [Theory]
    [InlineData("upper case", "SOLID\nFACET NORMAL 0 0 1\nOUTER LOOP\nVERTEX 0 0 0\nVERTEX 1 0 0\nVERTEX 0 1 0\nENDLOOP\nENDFACET\nENDSOLID\n")]
    [InlineData("one line after the name", "solid a\nfacet normal 0 0 1 outer loop vertex 0 0 0 vertex 1 0 0 vertex 0 1 0 endloop endfacet endsolid")]
    [InlineData("tabs, carriage returns, signs", "\tsolid a b c\r\nfacet normal nan nan nan\r\n\touter loop\r\nvertex +0 -0 .0\r\nvertex 1.E+0 0 0\r\nvertex 0 1e-0 0\r\nendloop endfacet\r\nendsolid a b c\r\n")]
    [InlineData("old line ends", "solid\rfacet normal 0 0 1\router loop\rvertex 0 0 0\rvertex 1 0 0\rvertex 0 1 0\rendloop\rendfacet\rendsolid\r")]
    [InlineData("no normal", "solid\nfacet\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid")]
    public void Liberties_that_programs_take_are_read_without_a_note(string what, string text)
    {
        var read = Read(text);
        Assert.True(read.Value.Facets.Length == 1 && read.Notes.IsEmpty, what);
        Assert.Equal(0.5, read.Value.AreaNormal(read.Value.Facets[0]).Length / 2, 15);
    }

    [Fact]
    public void Several_solids_become_one_body_with_a_note()
    {
        var read = Read(OneFacet + OneFacet.Replace("vertex 0 0 0", "vertex 0 0 7", StringComparison.Ordinal));
        Assert.Equal((2, 4), (read.Value.Facets.Length, read.Value.Vertices.Length));
        Assert.Contains("2 solids", Assert.Single(read.Notes).Text);
    }

    [Fact]
    public void Text_after_the_end_is_skipped_and_noted_with_its_line()
    {
        var note = Assert.Single(Read(OneFacet + "colour red\n").Notes);
        Assert.Equal(10, note.Line);
        Assert.Contains("\"colour\"", note.Text);
    }

    [Fact]
    public void A_missing_end_is_noted() =>
        Assert.Contains("endsolid", Assert.Single(Read(OneFacet[..OneFacet.IndexOf("endsolid", StringComparison.Ordinal)]).Notes).Text);

    [Theory]
    [InlineData("1.5 0 0", "nan 0 0", "part.stl, line 5: \"nan\" is not a finite number")]
    [InlineData("1.5 0 0", "1e999 0 0", "part.stl, line 5: \"1e999\" is not a finite number")]
    [InlineData("1.5 0 0", "1,5 0 0", "part.stl, line 5: expected a number, found \"1,5\". Numbers need a decimal point")]
    [InlineData("1.5 0 0", "2e9 0 0", "part.stl, line 5: the coordinate \"2e9\" is beyond 1e9")]
    [InlineData("1.5 0 0", "1.5 0", "part.stl, line 6: expected a number, found \"vertex\"")]
    [InlineData("endloop", "vertex 0 0 1 endloop", "part.stl, line 7: a facet has more than three corners")]
    [InlineData("outer", "inner", "part.stl, line 3: expected \"outer\", found \"inner\"")]
    [InlineData("facet normal", "facete normal", "part.stl, line 2: expected \"facet\" or \"endsolid\", found \"facete\"")]
    [InlineData("solid lever\n  facet", "part\n facet", "part.stl, line 1: the text does not begin with \"solid\"")]
    public void What_cannot_be_read_is_refused_with_its_line(string good, string bad, string message)
    {
        var at = OneFacet.IndexOf(good, StringComparison.Ordinal);
        var text = OneFacet[..at] + bad + OneFacet[(at + good.Length)..];
        Assert.StartsWith(message, Assert.Throws<InputException>(() => Read(text)).Message);
    }

    [Theory]
    [InlineData("0\nSECTION\n2\nHEADER\n", "DXF")]
    [InlineData("<?xml version=\"1.0\"?>", "XML")]
    [InlineData("ISO-10303-21;\nHEADER;", "STEP")]
    [InlineData("v 0 0 0\nv 1 0 0\nf 1 2 3\n", "does not begin with \"solid\"")]
    [InlineData("1,2,3,4,5\n", "does not begin with \"solid\"")]
    [InlineData("solid nothing\nendsolid\n", "no facet")]
    public void Other_text_is_refused(string text, string says) =>
        Assert.Contains(says, Assert.Throws<InputException>(() => Read(text)).Message);

    [Fact]
    public void A_text_cut_off_anywhere_is_read_with_a_note_or_refused()
    {
        for (var cut = 1; cut < OneFacet.Length - 10; cut++)
        {
            try
            {
                var read = Read(OneFacet[..cut]);
                Assert.True(read.Notes.Length > 0, OneFacet[..cut]);
            }
            catch (InputException e)
            {
                Assert.StartsWith("part.stl", e.Message);
            }
        }
    }

    [Fact]
    public void Shuffled_words_are_read_or_refused_and_nothing_else()
    {
        string[] words = ["solid", "facet", "normal", "outer", "loop", "vertex", "endloop", "endfacet", "endsolid", "0", "1", "-2.5e3", "nan", "\n", "é", "\u00001"];
        Gen.Int[0, words.Length - 1].Array[0, 60].Sample(picks =>
        {
            try
            {
                Read("solid\nfacet outer loop " + string.Join(' ', picks.Select(i => words[i])));
            }
            catch (InputException e)
            {
                Assert.StartsWith("part.stl", e.Message);
            }
        }, iter: 2000);
    }

    private static ReadResult<TriangleMesh> Read(string text) => StlReader.Read(Encoding.UTF8.GetBytes(text), "part.stl");
}
