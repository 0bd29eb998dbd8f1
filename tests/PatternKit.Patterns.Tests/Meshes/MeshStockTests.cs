using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Meshes;

/// <summary>Machining stock on meshes, against closed forms and against the same part drawn as an outline, whose stock goes another way.</summary>
public sealed class MeshStockTests
{
    private const string Part = "[[part]]\nmesh = \"part.obj\"\n";

    [Theory]
    [InlineData("{ top = 2, sides = 1 }", 32 * 22 * 12)]
    [InlineData("{ bottom = 1.5 }", 30 * 20 * 11.5)]
    [InlineData("1", 32 * 22 * 12)]
    public void Stock_by_facing_is_that_of_the_same_part_drawn_as_an_outline(string stock, double raw_mm3)
    {
        var rest = $"[pattern]\nstock = {stock}\ndraft = 2\nfillet = 0\nrapping = 0\n";
        var mesh = KitCheck.Build(Read(ObjBodies.Block, Part + rest));
        var outline = KitCheck.Build(JobFolder.Read(JobFolder.Head + "[[part]]\nshape = { rectangle = [30, 20], at = [15, 10] }\nz = [0, 10]\n" + rest));
        KitCheck.Sound(mesh);
        Assert.Equal(raw_mm3 - 6000, mesh.Bridge.Stock_mm3, 1e-3);
        Assert.Equal(outline.Bridge.Stock_mm3, mesh.Bridge.Stock_mm3, 1e-3);
        AssertRelative(outline.Unpocketed_mm3(), mesh.Unpocketed_mm3(), 2e-4);
        Assert.InRange(mesh.Bridge.Gap, -3e-4, 3e-4);
        Assert.Equal(outline.Parting.Height_mm, mesh.Parting.Height_mm, 1e-3);
    }

    [Theory]
    [InlineData("faces = { end = { plane = [30, 0, 0], facing = \"+x\" } }")]
    [InlineData("faces = { end = { box = [[29, -1, -1], [31, 21, 11]] } }")]
    [InlineData("faces = { end = { box = [[0, 0, 0], [30, 20, 10]], facing = [1, 0, 0.2] } }")]
    public void Stock_on_named_faces_is_told_with_its_place_and_metal(string faces)
    {
        var kit = KitCheck.Build(Read(ObjBodies.Block, $"{Part}{faces}\n[pattern]\nstock = {{ end = 3 }}\n"));
        KitCheck.Sound(kit);
        Assert.Equal(3 * 20 * 10, kit.Bridge.Stock_mm3, 1e-6);
        var told = Assert.Single(kit.Findings, f => f.Code == "stock");
        Assert.Equal(Severity.Note, told.Severity);
        Assert.Equal(30, told.At_mm!.Value.X, 1e-9);
        Assert.Equal(3, told.Value);
        Assert.Contains("2 cm²", told.Message, StringComparison.Ordinal);
        Assert.Contains("0.6 cm³", told.Message, StringComparison.Ordinal);
        Assert.Equal(2, told.Facets.Length);
        Assert.Contains(kit.Decisions, d => d.Key == "stock_end_mm" && d.Value == 3);
    }

    // Closed form: of a size between two faces it is the sum of their stock, of one that ends at a face without, that of the other.
    [Theory]
    [InlineData("[0, 10, 5]", "[30, 10, 5]", 30, 1 + 1)]
    [InlineData("[15, 10, 0]", "[15, 10, 10]", 10, 2)]
    public void A_size_tells_the_stock_in_it(string from, string to, double nominal_mm, double stock_mm)
    {
        var kit = KitCheck.Build(Read(ObjBodies.Block, $"{Part}[pattern]\nstock = {{ top = 2, sides = 1 }}\ndraft = 2\n[[measure]]\nname = \"size\"\nnominal = {nominal_mm}\nfrom = {from}\nto = {to}\n"));
        Assert.Equal(stock_mm, Assert.Single(kit.Measures).Stock_mm, 0.002);
    }

    [Fact]
    public void Named_faces_go_before_the_way_that_faces_look()
    {
        var kit = KitCheck.Build(Read(ObjBodies.Block, $"{Part}faces = {{ end = {{ plane = [30, 0, 0], facing = \"+x\" }} }}\n[pattern]\nstock = {{ sides = 2, end = 0 }}\n"));
        // 2 mm on three of the four sides.
        Assert.Equal((32 * 24 * 10) - 6000, kit.Bridge.Stock_mm3, 1e-3);
    }

    [Fact]
    public void Stock_by_rule_is_the_figure_of_the_table_for_the_part()
    {
        var kit = KitCheck.Build(Read(ObjBodies.Block, $"{Part}[pattern]\nstock = {{ top = \"auto\" }}\n"));
        var outline = KitCheck.Build(JobFolder.Read(JobFolder.Head + "[[part]]\nshape = { rectangle = [30, 20], at = [15, 10] }\nz = [0, 10]\n[pattern]\nstock = { top = \"auto\" }\n"));
        Assert.True(kit.Bridge.Stock_mm3 > 0);
        Assert.Equal(outline.Bridge.Stock_mm3, kit.Bridge.Stock_mm3, 1e-3);
        Assert.Equal(outline.Decisions.Single(d => d.Key == "stock_top_mm").Source, kit.Decisions.Single(d => d.Key == "stock_top_mm").Source);
    }

    [Theory]
    [InlineData("stock = { holes = 2 }", "", "\"stock\"", "under faces")]
    [InlineData("stock = { seat = 2 }", "", "seat", "nor faces of its mesh")]
    [InlineData("stock = { seat = 2 }", "faces = { seat = { box = [[0, 0, 20], [1, 1, 30]] } }\n", "seat", "catches no facet")]
    [InlineData("stock = 1", "faces = { top = { box = [[0, 0, 20], [1, 1, 30]] } }\n", "top", "another name")]
    [InlineData("stock = 1", "faces = { seat = { plane = [0, 0, 10] } }\n", "seat", "facing")]
    [InlineData("stock = 1", "faces = { seat = { facing = \"+z\" } }\n", "seat", "one of box and plane")]
    [InlineData("stock = 1", "faces = 3\n", "faces", "write such as")]
    public void What_is_wrong_about_stock_or_faces_is_told(string stock, string faces, string what, string told)
    {
        var error = Assert.Throws<InputException>(() => KitCheck.Build(Read(ObjBodies.Block, $"{Part}{faces}[pattern]\n{stock}\n")));
        Assert.Contains(what, error.Message, StringComparison.Ordinal);
        Assert.Contains(told, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Stock_that_closes_a_slot_is_refused_with_the_place()
    {
        // A channel 4 wide: 3 mm on either wall would meet.
        var channel = ObjBodies.Bar(30, (0, 0), (24, 0), (24, 20), (14, 20), (14, 5), (10, 5), (10, 20), (0, 20));
        var error = Assert.Throws<InputException>(() => KitCheck.Build(Read(channel, $"{Part}[pattern]\nstock = {{ sides = 3 }}\n")));
        Assert.Contains("stock cannot be put on near", error.Message, StringComparison.Ordinal);
        // Of 1 mm the slot keeps 2.
        var kit = KitCheck.Build(Read(channel, $"{Part}[pattern]\nstock = {{ sides = 1 }}\n"));
        Assert.Equal((((26 * 20) - (2 * 15)) * 32) - (((24 * 20) - (4 * 15)) * 30), kit.Bridge.Stock_mm3, 1e-3);
    }

    private static Job Read(string obj, string rest) => JobFolder.Read(obj, rest);

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
