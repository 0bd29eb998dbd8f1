using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;
using PatternKit.Exchange.Stl;
using PatternKit.Geometry.Mesh;

namespace PatternKit.Exchange.Tests.Stl;

/// <summary>Written files against ADMesh (Debian package admesh), a checker of STL files that repairs and counts.</summary>
public partial class AdmeshTests
{
    [Fact]
    public void Admesh_finds_nothing_to_repair_in_a_written_box()
    {
        var figures = Report(Bodies.Box(60, 40, 20));
        Assert.Equal(12, figures["Number of facets"]);
        AssertClean(figures);
        Assert.Equal(48_000, figures["Volume"], 2);
    }

    [Fact]
    public void Admesh_finds_nothing_to_repair_in_a_written_ring_and_agrees_on_its_volume()
    {
        var ring = Bodies.Ring(45, 12, 96, 40);
        var figures = Report(ring);
        Assert.Equal(ring.Facets.Length, figures["Number of facets"]);
        AssertClean(figures);
        Assert.Equal(ring.Volume(), figures["Volume"], 1e-5 * ring.Volume()); // it sums in float32
    }

    [Fact]
    public void Admesh_and_the_inspection_agree_on_a_hole()
    {
        var box = Bodies.Box(60, 40, 20);
        var open = new TriangleMesh(box.Vertices, box.Facets.RemoveAt(5));
        var report = MeshInspection.Inspect(open);
        var figures = Report(open);
        Assert.Equal(report.BoundaryEdges, figures["Facets with 1 disconnected edge"]);
    }

    [Fact]
    public void Admesh_and_the_inspection_agree_on_a_turned_facet()
    {
        var box = Bodies.Box(60, 40, 20);
        var turned = new TriangleMesh(box.Vertices, box.Facets.SetItem(5, new(box.Facets[5].A, box.Facets[5].C, box.Facets[5].B)));
        Assert.Equal(3, MeshInspection.Inspect(turned).InconsistentEdges);
        Assert.Equal(1, Report(turned)["Facets reversed"]);
    }

    private static void AssertClean(Dictionary<string, double> figures)
    {
        string[] defects =
        [
            "Facets with 1 disconnected edge", "Facets with 2 disconnected edges", "Facets with 3 disconnected edges",
            "Total disconnected facets", "Degenerate facets", "Edges fixed", "Facets removed", "Facets added",
            "Facets reversed", "Backwards edges", "Normals fixed",
        ];
        Assert.All(defects, name => Assert.True(figures[name] == 0, $"{name}: {figures[name]}"));
        Assert.Equal(1, figures["Number of parts"]);
    }

    private static Dictionary<string, double> Report(TriangleMesh mesh)
    {
        var file = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName() + ".stl");
        File.WriteAllBytes(file, StlWriter.Write(mesh, "pump house"));
        try
        {
            return Figures(Run(file));
        }
        finally
        {
            File.Delete(file);
        }
    }

    private static string Run(string file)
    {
        var start = new ProcessStartInfo("admesh") { RedirectStandardOutput = true, RedirectStandardError = true };
        start.ArgumentList.Add(file);
        try
        {
            using var process = Process.Start(start)!;
            var error = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            Assert.True(process.ExitCode == 0, error.Result);
            return output;
        }
        catch (System.ComponentModel.Win32Exception)
        {
            const string Why = "admesh is not installed (Debian package admesh).";
            if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(Why);
            Assert.Skip(Why);
            throw;
        }
    }

    // Where a line has two numbers, the first is the file as it came and the second the file after the repairs.
    private static Dictionary<string, double> Figures(string output)
    {
        var figures = new Dictionary<string, double>();
        foreach (Match match in Line().Matches(output))
            figures[match.Groups["name"].Value.Trim()] = double.Parse(match.Groups["first"].Value, CultureInfo.InvariantCulture);
        return figures;
    }

    [GeneratedRegex(@"(?<name>[A-Z][A-Za-z0-9 ]+?)\s*:\s*(?<first>-?[0-9.]+)")]
    private static partial Regex Line();
}
