using System.Text.Json;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Drawings of ours, loaded and audited by ezdxf.</summary>
public sealed class EzdxfWriteTests
{
    private static JsonElement Check(DxfDocument document)
    {
        var file = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(file, DxfWriter.Write(document));
            return EzdxfTool.Run("ezdxf_check.py", file);
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static double[] Numbers(JsonElement e) => [.. e.GetProperty("numbers").EnumerateArray().Select(n => n.GetDouble())];

    private static void Sound(JsonElement found)
    {
        Assert.Empty(found.GetProperty("errors").EnumerateArray());
        Assert.Empty(found.GetProperty("fixes").EnumerateArray());
        Assert.Equal("AC1021", found.GetProperty("version").GetString());
    }

    [Fact]
    public void Every_kind_of_entity_is_read_as_it_was_meant_and_nothing_needs_mending()
    {
        var found = Check(new(DxfUnit.Millimetre, [new("PARTING"), new("CENTRE", DxfLineType.Center), new("Führung", DxfLineType.Dashed)],
        [
            new DxfPath("CENTRE", new([new(new(-5, 0)), new(new(45.125, 0))], false)),
            new DxfPath("PARTING", new([new(new(10, 0), Math.Tan(Math.PI / 8)), new(new(0, 10))], false)),
            new DxfPath("PARTING", new([new(new(0, 10), -Math.Tan(Math.PI / 8)), new(new(10, 0))], false)),
            new DxfPath("PARTING", PlanPath.Circle(new(70, 30), 24)),
            new DxfPath("PARTING", new([new(new(0, 0), 0.5), new(new(40, 0)), new(new(40, 20), -0.25)], true)),
            new DxfText("Führung", new(3, 4), 2.5, Math.PI / 2, "Führung Ø 12 – PUMP No 2"),
            new DxfPoint("0", new(1, 2)),
        ]));
        Sound(found);
        Assert.Equal(4, found.GetProperty("units").GetInt32());
        Assert.Equal(1, found.GetProperty("measurement").GetInt32());
        var layers = found.GetProperty("layers");
        Assert.Equal("CENTER", layers.GetProperty("CENTRE").GetString());
        Assert.Equal("DASHED", layers.GetProperty("Führung").GetString());
        Assert.Equal("Continuous", layers.GetProperty("PARTING").GetString());
        var entities = found.GetProperty("entities").EnumerateArray().ToList();
        Assert.Equal(["LINE", "ARC", "ARC", "CIRCLE", "LWPOLYLINE", "TEXT", "POINT"], entities.Select(e => e.GetProperty("type").GetString()));
        double[][] expected =
        [
            [-5, 0, 0, 45.125, 0, 0], [0, 0, 0, 10, 0, 90], [0, 0, 0, 10, 0, 90], [70, 30, 0, 12],
            [0, 0, 0.5, 40, 0, 0, 40, 20, -0.25], [3, 4, 0, 2.5, 90], [1, 2, 0],
        ];
        foreach (var (e, numbers) in entities.Zip(expected))
        {
            var actual = Numbers(e);
            Assert.Equal(numbers.Length, actual.Length);
            for (var i = 0; i < numbers.Length; i++) Assert.Equal(numbers[i], actual[i], 1e-9);
        }

        Assert.True(entities[4].GetProperty("closed").GetBoolean());
        Assert.Equal("Führung Ø 12 – PUMP No 2", entities[5].GetProperty("text").GetString());
        Assert.Equal("Führung", entities[5].GetProperty("layer").GetString());
        // Box: the line from -5, the circle up to 82 and 42, the half-bulged side (chord 40, sagitta 10) down to -10.
        Assert.Equal([-5.0, -10, 0], found.GetProperty("extmin").EnumerateArray().Select(n => Math.Round(n.GetDouble(), 9)));
        Assert.Equal([82.0, 42, 0], found.GetProperty("extmax").EnumerateArray().Select(n => Math.Round(n.GetDouble(), 9)));
    }

    [Fact]
    public void Lines_in_space_are_read_with_their_heights()
    {
        Vec3[] corners = [new(0, 0, -3.25), new(40, 0, 1.5), new(40, 20, 6), new(0, 20, 0.125)];
        var found = Check(new(DxfUnit.Millimetre, [new("LINE")], [new DxfSpaceLine("LINE", [.. corners], true), new DxfSpaceLine("LINE", [.. corners[..2]], false)]));
        Sound(found);
        var entities = found.GetProperty("entities").EnumerateArray().ToList();
        Assert.All(entities, e => Assert.Equal(("POLYLINE", "LINE"), (e.GetProperty("type").GetString(), e.GetProperty("layer").GetString())));
        Assert.Equal(corners.SelectMany(c => new[] { c.X, c.Y, c.Z }), Numbers(entities[0]));
        Assert.Equal(corners[..2].SelectMany(c => new[] { c.X, c.Y, c.Z }), Numbers(entities[1]));
        Assert.Equal([true, false], entities.Select(e => e.GetProperty("closed").GetBoolean()));
        Assert.Equal([0.0, 0, 0], found.GetProperty("extmin").EnumerateArray().Select(n => n.GetDouble()));
        Assert.Equal([40.0, 20, 0], found.GetProperty("extmax").EnumerateArray().Select(n => n.GetDouble()));
    }

    [Fact]
    public void An_empty_drawing_in_inches_is_sound()
    {
        var found = Check(new(DxfUnit.Inch, [], []));
        Sound(found);
        Assert.Equal(1, found.GetProperty("units").GetInt32());
        Assert.Equal(0, found.GetProperty("measurement").GetInt32());
    }

    [Fact]
    public void Many_random_paths_are_sound_and_in_place()
    {
        var random = new Random(7);
        double Next() => (random.NextDouble() * 400) - 200;
        var paths = Enumerable.Range(0, 200).Select(i => new PlanPath(
            [.. Enumerable.Range(0, 3 + (i % 9)).Select(_ => new PlanVertex(new(Next(), Next()), random.Next(3) == 0 ? Next() / 100 : 0))], i % 2 == 0)).ToList();
        var found = Check(new(DxfUnit.Millimetre, [new("OUTLINE_COPE")], paths.Select(p => new DxfPath("OUTLINE_COPE", p))));
        Sound(found);
        foreach (var (e, path) in found.GetProperty("entities").EnumerateArray().Zip(paths))
        {
            var numbers = Numbers(e);
            Assert.Equal(path.IsClosed, e.GetProperty("closed").GetBoolean());
            for (var i = 0; i < path.Vertices.Length; i++)
            {
                var v = path.Vertices[i];
                Assert.True(Vec2.Distance(v.Point, new(numbers[3 * i], numbers[(3 * i) + 1])) < 1e-9);
                Assert.Equal(v.Bulge, numbers[(3 * i) + 2], 1e-12);
            }
        }
    }
}
