using System.Text;
using CsCheck;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Tests.Dxf;

public sealed class DxfWriterTests
{
    private static readonly Gen<PlanVertex> Vertex = Gen.Select(Gen.Double[-500, 500], Gen.Double[-500, 500],
        Gen.OneOf(Gen.Const(0.0), Gen.Double[-3, 3], Gen.Double[-1e-6, 1e-6])).Select((x, y, b) => new PlanVertex(new(x, y), b));

    private static readonly Gen<PlanPath> Path = Gen.Select(Vertex.Array[2, 12], Gen.Bool).Select((v, closed) => new PlanPath([.. v], closed));

    private static DxfDocument Document(params DxfEntity[] entities) =>
        new(DxfUnit.Millimetre, [new("PARTING"), new("CENTRE", DxfLineType.Center)], entities);

    private static DxfCurve Back(PlanPath path) =>
        Assert.Single(DxfReader.Read(DxfWriter.Write(Document(new DxfPath("PARTING", path))), "out.dxf").Value.Curves);

    [Fact]
    public void Any_path_written_and_read_back_loses_nothing() => Path.Sample(
        path =>
        {
            var back = Back(path).Path;
            // An arc is stored counter-clockwise.
            if (path is { IsClosed: false, SegmentCount: 1 } && path.Vertices[0].Bulge < 0 && back.Vertices[0].Bulge > 0) back = back.Reversed();
            return back.IsClosed == path.IsClosed && back.Vertices.Length == path.Vertices.Length
                && Enumerable.Range(0, path.SegmentCount).All(i => Math.Abs(back.Vertices[i].Bulge - path.Vertices[i].Bulge) <= 1e-9 * Math.Max(1, Math.Abs(path.Vertices[i].Bulge)))
                && Enumerable.Range(0, path.Vertices.Length).All(i => Vec2.Distance(back.Vertices[i].Point, path.Vertices[i].Point) < 1e-9);
        },
        iter: 500);

    [Fact]
    public void Layers_units_and_order_come_back() => Gen.Select(Path.Array[1, 6], Gen.Int[0, 2].Array[6], Gen.Bool).Sample(
        (paths, on, inches) =>
        {
            string[] names = ["PARTING", "Führung Žebro", "鋳型"];
            var unit = inches ? DxfUnit.Inch : DxfUnit.Millimetre;
            var bytes = DxfWriter.Write(new(unit, names.Select(n => new DxfLayer(n)), paths.Select((p, i) => new DxfPath(names[on[i]], p))));
            var result = DxfReader.Read(bytes, "out.dxf");
            return result.Notes.IsEmpty && result.Value.Unit == unit && result.Value.Curves.Select(c => c.Layer).SequenceEqual(paths.Select((_, i) => names[on[i]]));
        },
        iter: 100);

    [Fact]
    public void A_circle_comes_back_as_the_same_circle()
    {
        var back = Back(PlanPath.Circle(new(12.5, -3), 7.25).Transformed(1, 1.1, default)).Path;
        Assert.Equal(2, back.SegmentCount);
        Assert.Equal(3.625, back.Segment(0).Radius, 1e-12);
    }

    [Theory]
    [InlineData("LINE", false, 0)]
    [InlineData("ARC", false, 0.3)]
    [InlineData("ARC", false, -2)]
    [InlineData("LWPOLYLINE", false, 1e-7)]
    [InlineData("LWPOLYLINE", true, 0.5)]
    [InlineData("CIRCLE", true, 1)]
    [InlineData("CIRCLE", true, -1)]
    public void Each_path_becomes_the_entity_that_says_it_best(string type, bool closed, double bulge)
    {
        var text = Encoding.ASCII.GetString(DxfWriter.Write(Document(new DxfPath("PARTING", new([new(new(0, 0), bulge), new(new(10, 0), bulge)], closed)))));
        Assert.Contains($"ENTITIES\r\n  0\r\n{type}\r\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Numbers_have_no_exponent_and_no_culture()
    {
        var path = new PlanPath([new(new(1e-17, 1234567.25)), new(new(-2.5e-7, 1e16)), new(new(0.1, 1e21), 1e-9)], true);
        var text = Encoding.ASCII.GetString(DxfWriter.Write(Document(new DxfPath("PARTING", path))));
        var numbers = text[text.IndexOf("ENTITIES", StringComparison.Ordinal)..text.IndexOf("OBJECTS", StringComparison.Ordinal)];
        Assert.DoesNotMatch(@"[0-9]E[+-]", numbers);
        Assert.Contains("-0.00000025\r\n", numbers, StringComparison.Ordinal);
        Assert.Contains("1234567.25\r\n", numbers, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_drawing_gives_the_same_bytes()
    {
        var entities = new DxfEntity[] { new DxfPath("CENTRE", PlanPath.Circle(default, 4)), new DxfText("PARTING", default, 3, 0, "Führung 鋳型") };
        var (a, b) = (DxfWriter.Write(Document(entities)), DxfWriter.Write(Document(entities)));
        Assert.Equal(a, b);
        Assert.Contains("Führung 鋳型\r\n", Encoding.UTF8.GetString(a), StringComparison.Ordinal);
    }

    [Fact]
    public void Handles_are_given_once_and_stay_below_the_seed()
    {
        var lines = Encoding.ASCII.GetString(DxfWriter.Write(Document(new DxfPath("CENTRE", PlanPath.Circle(default, 4)), new DxfPoint("PARTING", new(1, 2))))).Split("\r\n");
        var groups = Enumerable.Range(0, lines.Length / 2).Select(i => (Code: lines[2 * i].Trim(), Value: lines[(2 * i) + 1])).ToList();
        var seedAt = groups.FindIndex(g => g.Value == "$HANDSEED") + 1;
        var handles = groups.Where((g, i) => (g.Code == "5" || g.Code == "105") && i != seedAt).Select(g => Convert.ToInt32(g.Value, 16)).ToList();
        Assert.Equal(handles.Count, handles.Distinct().Count());
        // The one record whose handle has another group (DXF reference, DIMSTYLE).
        Assert.Equal("105", groups[groups.FindIndex(g => g == ("0", "DIMSTYLE")) + 1].Code);
        Assert.True(handles.Max() < Convert.ToInt32(groups[seedAt].Value, 16));
    }

    [Theory]
    [InlineData("")]
    [InlineData(" PARTING")]
    [InlineData("A/B")]
    [InlineData("A*")]
    [InlineData("A\nB")]
    public void A_layer_name_that_readers_refuse_is_refused(string name) =>
        Assert.Throws<ArgumentException>(() => new DxfDocument(DxfUnit.Millimetre, [new(name)], []));

    [Fact]
    public void A_drawing_that_cannot_be_written_is_refused()
    {
        Assert.Throws<ArgumentException>(() => new DxfDocument(DxfUnit.Metre, [], []));
        Assert.Throws<ArgumentException>(() => new DxfDocument(DxfUnit.Inch, [new("A"), new("a")], []));
        Assert.Throws<ArgumentException>(() => Document(new DxfPoint("GONE", default)));
        Assert.Throws<ArgumentException>(() => Document(new DxfPoint("PARTING", new(double.NaN, 0))));
        Assert.Throws<ArgumentException>(() => Document(new DxfText("PARTING", default, 0, 0, "x")));
        Assert.Throws<ArgumentException>(() => Document(new DxfText("PARTING", default, 3, 0, "two\nlines")));
    }
}
