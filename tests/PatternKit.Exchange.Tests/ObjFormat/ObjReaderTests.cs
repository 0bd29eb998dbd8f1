using System.Globalization;
using System.Text;
using CsCheck;
using PatternKit.Exchange.ObjFormat;
using PatternKit.Exchange.Tests.Stl;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange.Tests.ObjFormat;

/// <summary>Against the format's description of 1990 ("Object files (.obj)", appendix B1 of the manual it came with).</summary>
public class ObjReaderTests
{
    private const string Corners = "v 0 0 0\nv 2 0 0\nv 2 3 0\nv 0 3 0\nv 0 0 4\nv 2 0 4\nv 2 3 4\nv 0 3 4\n";
    private const string Box = Corners + "f 1 4 3 2\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";

    [Fact]
    public void A_box_of_quadrangles_is_a_valid_body()
    {
        var read = Read(Box);
        var report = MeshInspection.Inspect(read.Value);
        Assert.True(report.IsValid, report.ToString());
        Assert.Equal(24, report.Volume_mm3, 12);
        Assert.Equal("6 polygons of more than three corners were cut into 12 triangles.", Assert.Single(read.Notes).Text);
    }

    [Theory]
    [InlineData("textures", "vt 0 0\nf 1/1 2/1 3/1\n")]
    [InlineData("textures and normals", "vt 0 0\nvn 0 0 1\nf 1/1/1 2/1/1 3/1/1\n")]
    [InlineData("normals", "vn 0 0 1\nf 1//1 2//1 3//-1\n")]
    [InlineData("counted backward", "f -8 -7 -6\n")]
    [InlineData("continued lines", "f 1 \\\n 2\\\r\n 3\n")]
    [InlineData("comments", "# f 1 2\nf 1 2 3 # 4 5\n# C:\\parts\\\n")]
    [InlineData("the old name", "fo 1 2 3\n")]
    [InlineData("line ends", "\r\n\rf 1 2 3\r\r")]
    [InlineData("names and looks", "mtllib a.mtl\no lever\ng arm boss\ns off\nusemtl iron\nf\t1 2 3 ")]
    public void The_ways_to_write_a_triangle_are_read_without_a_note_but_for_idle_vertices(string what, string text)
    {
        var read = Read(Corners + text);
        Assert.True(read.Value.Facets.SequenceEqual([new Facet(0, 1, 2)]), what);
        Assert.Equal([new(0, 0, 0), new(2, 0, 0), new(2, 3, 0)], read.Value.Vertices);
        Assert.Equal("5 vertices that no polygon names were dropped.", Assert.Single(read.Notes).Text);
    }

    [Fact]
    public void A_continued_number_does_not_run_into_the_next_and_lines_are_counted() =>
        Assert.Contains("part.obj, line 11:", Refused(Corners + "f 1\\\n2 \\\n x\n"));

    [Fact]
    public void Vertices_may_come_after_the_polygons_that_name_them() =>
        Assert.Equal(12, Read(Box[Corners.Length..] + Corners).Value.Facets.Length);

    [Fact]
    public void A_concave_polygon_keeps_its_area()
    {
        // An L of 3 × 3 less 2 × 2, upright in the plane x = 7.
        var read = Read("v 7 0 0\nv 7 3 0\nv 7 3 1\nv 7 1 1\nv 7 1 3\nv 7 0 3\nf 1 2 3 4 5 6\n");
        Assert.Equal(4, read.Value.Facets.Length);
        Assert.Equal(5, read.Value.Facets.Sum(f => read.Value.AreaNormal(f).X / 2), 12);
        Assert.All(read.Value.Facets, f => Assert.True(read.Value.AreaNormal(f).X > 0));
    }

    [Fact]
    public void What_is_no_polygon_is_told_with_its_count_and_first_line()
    {
        var notes = Read(Corners + "l 1 2\nl 2 3\np 1\nf 1 2 3\ncsh -rm\n").Notes.Select(n => (n.Line, n.Text)).ToArray();
        Assert.Equal((9, "2 statements \"l\" were skipped (first at line 9)."), notes[0]);
        Assert.Equal((11, "1 statements \"p\" were skipped (first at line 11)."), notes[1]);
        Assert.Equal((13, "1 statements \"csh\" were skipped (first at line 13)."), notes[2]);
    }

    [Fact]
    public void Kinds_of_statements_without_end_give_a_few_notes()
    {
        var text = new StringBuilder(Box);
        for (var i = 0; i < 1000; i++) text.Append(CultureInfo.InvariantCulture, $"word{i} 1\n");
        var notes = Read(text.ToString()).Notes;
        Assert.InRange(notes.Length, 2, 20);
        Assert.Contains(notes, n => n.Text.StartsWith("988 statements of other kinds", StringComparison.Ordinal));
    }

    [Fact]
    public void Groups_objects_weights_and_colours_are_counted()
    {
        var notes = Read("o a\ng b c\ng d\no e\nv 0 0 0 1\nv 1 0 0 0.5\nv 0 1 0 1 0 0\nf 1 2 3\n").Notes.Select(n => n.Text);
        Assert.Equal(["2 objects were taken as one body.", "2 groups were taken as one body.", "2 vertices carry a weight or colour, which was passed over."], notes);
    }

    [Fact]
    public void Corners_named_twice_are_taken_once_and_too_few_are_dropped()
    {
        var read = Read("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 1 2 3 1\nf 1 2 1\nf 2 2 3\n");
        Assert.Equal([new Facet(0, 1, 2)], read.Value.Facets);
        Assert.Equal(["1 polygons name a corner twice in a row; it was taken once.", "2 polygons with fewer than three different corners were dropped."], read.Notes.Select(n => n.Text));
    }

    [Fact]
    public void A_polygon_that_crosses_itself_is_told_with_its_line()
    {
        var note = Read("v 0 0 0\nv 2 1 0\nv 2 0 0\nv 0 1 0\nv -1 3 0\nf 1 2 3 4 5\n").Notes[1];
        Assert.Equal(6, note.Line);
        Assert.StartsWith("1 of them cross themselves", note.Text);
    }

    [Theory]
    [InlineData("v 0 0 nan\n", "line 9: \"nan\" is not a finite number")]
    [InlineData("v 0 0 1e999\n", "line 9: \"1e999\" is not a finite number")]
    [InlineData("v 0 0 2e9\n", "line 9: the coordinate \"2e9\" is beyond 1e9")]
    [InlineData("v 0,5 0 0\n", "line 9: expected a number, found \"0,5\". Numbers need a decimal point")]
    [InlineData("v 0 0\n", "line 9: a vertex has fewer than three numbers")]
    [InlineData("f 1 2\n", "line 9: a polygon has 2 corners")]
    [InlineData("f 1 2 9\n", "line 9: a polygon names the vertex 9, there are 8")]
    [InlineData("f 1 2 2147483647\n", "line 9: a polygon names the vertex 2147483647")]
    [InlineData("f 1 2 99999999999\n", "line 9: expected the number of a vertex")]
    [InlineData("f 1 2 0\n", "line 9: a polygon names the vertex 0")]
    [InlineData("f 1 2 -9\n", "line 9: a polygon names the vertex -9, there are 8 so far")]
    [InlineData("f 1 2 -2147483648\n", "line 9: a polygon names the vertex -2147483648")]
    [InlineData("f 1/a 2 3\n", "line 9: expected a corner as v")]
    [InlineData("f 1/1/1/1 2 3\n", "line 9: expected a corner as v")]
    [InlineData("f 1 2 3.0\n", "line 9: expected the number of a vertex")]
    [InlineData("f a b c\n", "line 9: expected the number of a vertex, found \"a\"")]
    [InlineData("f 1 \u0000 c\n", "line 9: expected the number of a vertex, found \"?\"")]
    [InlineData("\u0000\u0001\n", "line 9: the file is no text")]
    public void What_cannot_be_read_is_refused_with_its_line(string line, string says) =>
        Assert.StartsWith("part.obj, " + says, Refused(Corners + line));

    [Theory]
    [InlineData("", "empty")]
    [InlineData("PK\u0003\u0004", "ZIP")]
    [InlineData("solid a\nendsolid\n", "no polygon")]
    [InlineData("v 0 0 0\nv 1 0 0\nl 1 2\n", "no polygon")]
    [InlineData("v 0 0 0\nv 1 0 0\nf 1 2 1\n", "no polygon has three different corners")]
    public void Other_files_are_refused(string text, string says) => Assert.Contains(says, Refused(text));

    [Fact]
    public void A_polygon_with_corners_without_end_is_refused() =>
        Assert.Contains("more than 4096 corners", Refused("v 0 0 0\nf" + string.Concat(Enumerable.Repeat(" 1", 5000))));

    [Fact]
    public void The_worst_polygon_allowed_is_cut_within_seconds()
    {
        // A comb: every second corner turns inward, so that each look at an ear passes many.
        var text = new StringBuilder();
        var n = ObjReader.MostCorners;
        for (var i = 0; i < n; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * i / n);
            var r = i % 2 == 0 ? 100 : 1;
            text.Append(CultureInfo.InvariantCulture, $"v {r * c:R} {r * s:R} 0\n");
        }

        text.Append('f');
        for (var i = 1; i <= n; i++) text.Append(CultureInfo.InvariantCulture, $" {i}");
        var watch = System.Diagnostics.Stopwatch.StartNew();
        Assert.Equal(n - 2, Read(text.ToString()).Value.Facets.Length);
        Assert.InRange(watch.Elapsed.TotalSeconds, 0, 20);
    }

    [Fact]
    public void Random_bodies_come_back_vertex_by_vertex() =>
        Gen.Select(Gen.Double[20, 60], Gen.Double[1, 15], Gen.Int[3, 20], Gen.Int[3, 12]).Sample((radius, tube, around, section) =>
        {
            var mesh = Bodies.Ring(radius, tube, around, section);
            var text = new StringBuilder();
            foreach (var v in mesh.Vertices) text.Append(CultureInfo.InvariantCulture, $"v {v.X:R} {v.Y:R} {v.Z:R}\n");
            foreach (var f in mesh.Facets) text.Append(CultureInfo.InvariantCulture, $"f {f.A + 1} {f.B + 1 - mesh.Vertices.Length - 1}/1 {f.C + 1}\n");
            var read = Read(text.ToString());
            Assert.Equal(mesh.Vertices, read.Value.Vertices);
            Assert.Equal(mesh.Facets, read.Value.Facets);
            Assert.Empty(read.Notes);
        }, iter: 50);

    [Fact]
    public void Shuffled_words_are_read_or_refused_and_nothing_else()
    {
        string[] words = ["v", "f", "f", "\n", "\n", "\\\n", "0", "1", "2", "3", "-1", "1/2", "3//-2", "-2.5e3", "nan", "#", "g", "é", "\u00001", "\r", "/"];
        Gen.Int[0, words.Length - 1].Array[0, 80].Sample(picks =>
        {
            try
            {
                Read(Corners + "f 1 2 3\n" + string.Join(' ', picks.Select(i => words[i])));
            }
            catch (InputException e)
            {
                Assert.StartsWith("part.obj", e.Message);
            }
        }, iter: 3000);
    }

    [Fact]
    public void Damaged_bytes_are_read_or_refused_and_nothing_else()
    {
        var whole = Encoding.UTF8.GetBytes(Box);
        Gen.Select(Gen.Int[0, whole.Length - 1], Gen.Byte, Gen.Int[0, whole.Length], Gen.Byte.Array[0, 100]).Sample((at, value, cut, tail) =>
        {
            var bytes = (byte[])whole.Clone();
            bytes[at] = value;
            foreach (var variant in new[] { bytes, bytes[..cut], [.. bytes[..cut], .. tail], tail })
            {
                try
                {
                    Assert.All(ObjReader.Read(variant, "part.obj").Value.Vertices, v => Assert.True(v.IsFinite));
                }
                catch (InputException e)
                {
                    Assert.StartsWith("part.obj", e.Message);
                }
            }
        }, iter: 2000);
    }

    private static ReadResult<TriangleMesh> Read(string text) => ObjReader.Read(Encoding.UTF8.GetBytes(text), "part.obj");

    private static string Refused(string text) => Assert.Throws<InputException>(() => Read(text)).Message;
}
