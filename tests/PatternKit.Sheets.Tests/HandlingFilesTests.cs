using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>Where the files of a kit tell how its halves are drawn.</summary>
public sealed class HandlingFilesTests
{
    private static readonly Kit Held = SampleKits.Bracket() with
    {
        Handling =
        [
            new(MouldHalf.Cope,
                [new(new(61, 31), [new(new(46, 30), "M5", 6.4, 13.7), new(new(76, 30), "M5", 6.4, 13.7)], [new(new(61, 30), 0, 50.5, 20.5, 3.2, 2, "50 × 20 × 3 mm")], "M5 inserts, by length")],
                "common practice"),
            new(MouldHalf.Drag, [new(new(85, 30), [], [], "none: nowhere thick enough")], "common practice"),
        ],
    };

    [Fact]
    public void Kit_json_has_the_pockets_of_each_half_and_why_there_are_none()
    {
        var handling = JsonDocument.Parse(Content("kit.json")).RootElement.GetProperty("handling");
        Assert.Equal(["cope", "drag"], handling.EnumerateArray().Select(h => h.GetProperty("body").GetString()));
        Assert.Equal(["body", "pieces", "source"], handling[0].EnumerateObject().Select(p => p.Name));
        var piece = Assert.Single(handling[0].GetProperty("pieces").EnumerateArray());
        Assert.Equal(["centre_mm", "screws", "seats", "rule"], piece.EnumerateObject().Select(p => p.Name));
        var screw = piece.GetProperty("screws")[1];
        Assert.Equal([76, 30], screw.GetProperty("at_mm").EnumerateArray().Select(v => v.GetDouble()));
        Assert.Equal(("M5", 6.4, 13.7), (screw.GetProperty("thread").GetString(), screw.GetProperty("hole_mm").GetDouble(), screw.GetProperty("depth_mm").GetDouble()));
        var seat = piece.GetProperty("seats")[0];
        Assert.Equal((50.5, 20.5, 3.2), (seat.GetProperty("length_mm").GetDouble(), seat.GetProperty("width_mm").GetDouble(), seat.GetProperty("depth_mm").GetDouble()));
        var none = Assert.Single(handling[1].GetProperty("pieces").EnumerateArray());
        Assert.Equal(0, none.GetProperty("screws").GetArrayLength());
        Assert.Equal("none: nowhere thick enough", none.GetProperty("rule").GetString());
    }

    [Fact]
    public void The_parting_drawing_has_holes_and_seats_on_the_layer_of_the_dowels_and_names_their_half()
    {
        var sunk = Read("parting.dxf").Curves.Where(c => c.Layer == "DOWEL").Select(c => Math.Abs(c.Path.SignedArea())).Order().ToList();
        double[] areas = [Math.PI * 3.15 * 3.15, Math.PI * 3.15 * 3.15, Math.PI * 3.2 * 3.2, Math.PI * 3.2 * 3.2, (50.5 * 20.5) - ((4 - Math.PI) * 4)];
        Assert.Equal(areas, sunk, (a, b) => Math.Abs(a - b) < 0.1);
        var text = Encoding.UTF8.GetString(Content("parting.dxf"));
        Assert.Contains("S2: cope half only, M5 insert", text, StringComparison.Ordinal);
        Assert.Contains("P1: cope half only, seat 50.5 x 20.5", text, StringComparison.Ordinal);
        Assert.Contains("Draw screws of the drag half: none: nowhere thick enough", text, StringComparison.Ordinal);
    }

    // The sample's cope has flats 12 and 30 mm above the joint: the holes go 13.7 mm deep, the seat 3.2 mm.
    [Fact]
    public void Templates_have_the_holes_in_their_half_as_far_up_as_they_go()
    {
        var circles = Read("templates.dxf").Curves.Where(c => c.Layer == "DOWEL" && Math.Abs(Math.Abs(c.Path.SignedArea()) - (Math.PI * 3.2 * 3.2)) < 1e-6).ToList();
        Assert.Equal(4, circles.Count);
        Assert.Single(Read("templates.dxf").Curves, c => c.Layer == "DOWEL" && Math.Abs(c.Path.SignedArea()) > 1000);
    }

    [Fact]
    public void The_sheet_lists_holes_seats_and_the_half_without()
    {
        var text = XDocument.Parse(Encoding.UTF8.GetString(Content("shop-sheet.html"))).Root!.Value;
        Assert.All((string[])["S1", "S2", "P1", "13.70\u00A0mm", "50 × 20 × 3 mm", "Draw screws of the drag half: none: nowhere thick enough."], t => Assert.Contains(t, text, StringComparison.Ordinal));
        Assert.Contains("on the rapping plate", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Draw screws of the", XDocument.Parse(Encoding.UTF8.GetString(Content("shop-sheet.html", SampleKits.Bracket()))).Root!.Value, StringComparison.Ordinal);
    }

    // A flat back is rammed over: sand pressed into its pockets would stand in the mould.
    [Fact]
    public void The_sheet_of_a_flat_back_says_to_close_its_pockets()
    {
        var one = Held with { Bodies = [Held.Bodies[0]], Handling = [Held.Handling[0]] };
        Assert.Contains("Close the pockets", Text(one), StringComparison.Ordinal);
        Assert.DoesNotContain("Close the pockets", Text(one with { Handling = [] }), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null, "sand along the draw, never across it")]
    [InlineData(PatternSkin.Printed, "skin left as printed")]
    [InlineData(PatternSkin.Smoothed, "until no layer is seen or felt")]
    public void The_sheet_asks_for_the_skin_that_the_draft_counts_on(PatternSkin? skin, string words) =>
        Assert.Contains(words, Text(Held with { Job = Held.Job with { Pattern = Held.Job.Pattern with { Skin = skin } } }), StringComparison.Ordinal);

    private static string Text(Kit kit) => XDocument.Parse(Encoding.UTF8.GetString(Content("shop-sheet.html", kit))).Root!.Value;

    private static DxfDrawing Read(string name) => DxfReader.Read(Content(name), name).Value;

    private static byte[] Content(string name, Kit? kit = null) => KitFiles.Render(kit ?? Held).Single(f => f.Name == name).Content;
}
