using System.Globalization;
using System.Text;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Writes small DXF files by hand for the tests: groups as "code value" on one line, in the order of the published DXF reference.</summary>
internal static class DxfSketch
{
    /// <summary>A file with the given header variables, layer records, blocks and entities.</summary>
    public static string File(string entities, string blocks = "", string layers = "", string header = "9 $ACADVER|1 AC1015|9 $INSUNITS|70 4", string newLine = "\n")
    {
        var groups = new List<string>();
        Section("HEADER", header);
        if (layers.Length > 0) Section("TABLES", "0 TABLE|2 LAYER|70 9|" + layers + "|0 ENDTAB");
        if (blocks.Length > 0) Section("BLOCKS", blocks);
        Section("ENTITIES", entities);
        groups.Add("0 EOF");
        return Lines(string.Join('|', groups), newLine);

        void Section(string name, string body) => groups.Add($"0 SECTION|2 {name}" + (body.Length > 0 ? "|" + body : "") + "|0 ENDSEC");
    }

    /// <summary>One line for each code and one for each value.</summary>
    public static string Lines(string groups, string newLine = "\n")
    {
        var b = new StringBuilder();
        foreach (var group in groups.Split('|', StringSplitOptions.TrimEntries))
        {
            var blank = group.IndexOf(' ', StringComparison.Ordinal);
            b.Append(blank < 0 ? group : group[..blank]).Append(newLine).Append(blank < 0 ? "" : group[(blank + 1)..]).Append(newLine);
        }

        return b.ToString();
    }

    public static ReadResult<DxfDrawing> Read(string text, Encoding? encoding = null) =>
        DxfReader.Read((encoding ?? Encoding.ASCII).GetBytes(text), "bracket.dxf");

    /// <summary>The only curve of a file with this entity.</summary>
    public static PlanPath Only(string entities, string blocks = "") => Assert.Single(Read(File(entities, blocks)).Value.Curves).Path;

    public static InputException Refused(string text) =>
        Assert.Throws<InputException>(() => Read(text));

    public static void Same(PlanPath path, bool closed, params (double X, double Y, double Bulge)[] vertices)
    {
        Assert.Equal(closed, path.IsClosed);
        Assert.Equal(vertices.Length, path.Vertices.Length);
        for (var i = 0; i < vertices.Length; i++)
        {
            var v = path.Vertices[i];
            Assert.True(Math.Abs(v.Point.X - vertices[i].X) < 1e-12 && Math.Abs(v.Point.Y - vertices[i].Y) < 1e-12, $"vertex {i} is {v}");
            // The last bulge of an open path belongs to no segment.
            if (closed || i < vertices.Length - 1) Assert.True(Math.Abs(v.Bulge - vertices[i].Bulge) < 1e-12, $"vertex {i} is {v}");
        }
    }

    /// <summary>Largest distance of points along the path from a curve, given by the distance of a point from it.</summary>
    public static double Farthest(PlanPath path, Func<Vec2, double> distance) => path.Flatten(1e-7).Max(distance);

    /// <summary>Distance of a point from a path, by its chords at 1e-7.</summary>
    public static double Distance(PlanPath path, Vec2 p)
    {
        var points = path.Flatten(1e-7);
        if (path.IsClosed) points.Add(points[0]);
        var nearest = double.PositiveInfinity;
        for (var i = 0; i + 1 < points.Count; i++)
        {
            var (a, d) = (points[i], points[i + 1] - points[i]);
            var share = d.LengthSquared == 0 ? 0 : Math.Clamp(Vec2.Dot(p - a, d) / d.LengthSquared, 0, 1);
            nearest = Math.Min(nearest, Vec2.Distance(p, a + (share * d)));
        }

        return nearest;
    }

    public static string Number(double value) => value.ToString("R", CultureInfo.InvariantCulture);
}
