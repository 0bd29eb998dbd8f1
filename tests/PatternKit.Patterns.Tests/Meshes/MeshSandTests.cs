using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Meshes;

/// <summary>The sand checks on patterns of meshes, against those of the same part drawn as outlines, which have closed forms of their own tests.</summary>
public sealed class MeshSandTests
{
    private const string Rest = "[pattern]\ndraft = 1\nfillet = 0\nrapping = 0\ncontraction = \"none\"\n[parting]\nat = 0\n";

    [Fact]
    public void A_tongue_between_two_ribs_is_told()
    {
        // Ribs 5 wide and 24 high on a plate, 4 apart.
        var mesh = Mesh(ObjBodies.Bar(40, (0, 0), (60, 0), (60, 8), (37, 8), (37, 32), (32, 32), (32, 8), (28, 8), (28, 32), (23, 32), (23, 8), (0, 8)));
        var outline = Outline("""
            [[part]]
            shape = { rectangle = [60, 40], at = [30, 20] }
            z = [0, 8]
            [[part]]
            shape = { rectangle = [5, 40], at = [25.5, 20] }
            z = [8, 32]
            [[part]]
            shape = { rectangle = [5, 40], at = [34.5, 20] }
            z = [8, 32]

            """);
        AssertSame(outline, mesh, "sand-tongue");
        // 24 deep from the tops of the ribs; between these 4 wide.
        var told = mesh.Findings.Single(f => f.Code == "sand-tongue");
        Assert.Equal(24, told.Value!.Value, 0.1);
        Assert.Equal(30, told.At_mm!.Value.X, 0.5);
    }

    [Fact]
    public void A_blind_hole_from_above_is_told()
    {
        var mesh = Mesh(ObjBodies.Around(4, [(0, 0), (20, 0), (20, 30), (4, 30), (4, 6), (0, 6)]));
        var outline = Outline("""
            [[part]]
            shape = { rectangle = [40, 40] }
            z = [0, 30]
            [[part]]
            shape = { rectangle = [8, 8] }
            z = [6, 30]
            cut = "drawn"

            """);
        AssertSame(outline, mesh, "deep-hole");
        var told = mesh.Findings.Single(f => f.Code == "deep-hole");
        Assert.Equal(24, told.Value!.Value, 0.1);
        Assert.Contains("8 mm wide", told.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hole_in_curved_ground_is_told_as_deep_as_the_lower_side_of_its_mouth()
    {
        // A cone frustum, 20 wide below and 12 above, 18 high, with a hole 8 wide and 15 deep from above.
        var mesh = Mesh(ObjBodies.Around(48, [(0, 0), (20, 0), (12, 18), (4, 18), (4, 3), (0, 3)]));
        var told = Assert.Single(mesh.Findings, f => f.Code == "deep-hole");
        Assert.Equal(15, told.Value!.Value, 0.2);
        Assert.Equal(0, told.At_mm!.Value.X, 0.5);
        Assert.Equal(0, told.At_mm!.Value.Y, 0.5);
        Assert.NotNull(told.Limit);
        Assert.NotNull(told.Source);
        Assert.NotNull(told.Remedy);
    }

    [Fact]
    public void A_square_inside_corner_is_told()
    {
        // An L seen from above, 20 high: its outline is pulled along y, which points up.
        var mesh = Mesh(ObjBodies.Bar(20, (0, 0), (40, 0), (40, 15), (15, 15), (15, 40), (0, 40)), "lie = \"+y\"\n");
        var outline = Outline("[[part]]\nshape = { polygon = [[0, 0], [40, 0], [40, 15], [15, 15], [15, 40], [0, 40]] }\nz = [0, 20]\n");
        AssertSame(outline, mesh, "square-corner", places: false);
        Assert.Equal(0, mesh.Findings.Single(f => f.Code == "square-corner").Value!.Value, 0.01);
    }

    [Fact]
    public void Ground_that_sand_leaves_easily_is_not_told()
    {
        var mesh = Mesh(ObjBodies.Bar(40, (0, 0), (60, 0), (60, 8), (46, 8), (40, 14), (34, 14), (28, 8), (0, 8)));
        Assert.DoesNotContain(mesh.Findings, f => f.Code is "sand-tongue" or "deep-hole" or "square-corner");
    }

    private static void AssertSame(Kit outline, Kit mesh, string code, bool places = true)
    {
        KitCheck.Sound(mesh);
        var (drawn, found) = (Assert.Single(outline.Findings, f => f.Code == code), Assert.Single(mesh.Findings, f => f.Code == code));
        Assert.Equal(drawn.Severity, found.Severity);
        Assert.Equal(drawn.Value!.Value, found.Value!.Value, 0.05);
        Assert.Equal(drawn.Limit!.Value, found.Limit!.Value, 0.05);
        Assert.Equal(drawn.Source, found.Source);
        Assert.Equal(drawn.Remedy, found.Remedy);
        if (!places) return;
        Assert.Equal(drawn.At_mm!.Value.X, found.At_mm!.Value.X, 1);
        Assert.Equal(drawn.At_mm!.Value.Z, found.At_mm!.Value.Z, 0.5);
    }

    private static Kit Mesh(string obj, string more = "")
    {
        using var folder = new JobFolder();
        folder.Put("part.obj", obj);
        return KitCheck.Build(JobReader.Read(folder.Put("job.toml", JobFolder.Head + "[[part]]\nmesh = \"part.obj\"\n" + more + Rest)));
    }

    private static Kit Outline(string parts) => KitCheck.Build(JobFolder.Read(JobFolder.Head + parts + Rest));
}
