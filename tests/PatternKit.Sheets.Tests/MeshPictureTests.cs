using System.IO.Compression;
using System.Xml.Linq;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Sheets.Findings;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;
using SkiaSharp;

namespace PatternKit.Sheets.Tests;

/// <summary>What was found on a mesh, drawn: which view shows it, how it is marked, and what the coloured mesh says.</summary>
public sealed class MeshPictureTests
{
    private static readonly TriangleMesh Block = SampleBodies.Frustum(40, 40, 30, 4);

    [Fact]
    public void What_is_below_is_seen_from_below_and_what_is_above_from_above()
    {
        var (bottom, top) = (Facing(-1), Facing(1));
        (int, IReadOnlySet<int>, Vec3?)[] places = [(1, bottom.ToHashSet(), new Vec3(0, 0, 0)), (2, top.ToHashSet(), new Vec3(0, 0, 30)), (3, new HashSet<int>(), new Vec3(0, 0, 15))];
        var none = new Hatch[Block.Facets.Length];
        var above = PicturePanel.Of("", Block, Camera.Above, 300, none, null, places, 0).Marks;
        var below = PicturePanel.Of("", Block, Camera.Below, 300, none, null, places, 0).Marks;
        Assert.Equal([(1, false), (2, true), (3, false)], above.Select(m => (m.Number, m.IsSeen)));
        Assert.Equal([(1, true), (2, false), (3, false)], below.Select(m => (m.Number, m.IsSeen)));
    }

    [Fact]
    public void Every_side_of_a_block_is_seen_in_one_of_the_views()
    {
        var none = new Hatch[Block.Facets.Length];
        var places = Enumerable.Range(0, Block.Facets.Length).Select(f => (f + 1, (IReadOnlySet<int>)new HashSet<int> { f }, (Vec3?)null)).ToArray();
        var seen = new[] { Camera.Above, Camera.Below }.SelectMany(c => PicturePanel.Of("", Block, c, 300, none, null, places, 0).Marks).Where(m => m.IsSeen).Select(m => m.Number);
        Assert.Equal(Enumerable.Range(1, Block.Facets.Length), seen.Distinct().Order());
    }

    [Theory]
    [InlineData("undercut")]
    [InlineData("recess")]
    [InlineData("no-draft")]
    [InlineData("thin-section")]
    public void Facets_of_a_finding_are_hatched(string code)
    {
        int Dark(params int[] facets) => Pixels(MeshPictures.Findings("Block", Block, null, [new(code, Severity.Warn, "found") { Facets = [.. facets] }])).Count(p => p.Red < 60);
        Assert.True(Dark([.. Facing(1)]) > Dark() + 5000);
    }

    [Fact]
    public void Each_hatching_has_its_share_of_ink()
    {
        int Ink(Hatch hatch) => Enumerable.Range(0, 81).Count(i => Hatches.IsInk(hatch, i % 9, i / 9));
        // Of nine lines two; both ways less what they share; squares of three.
        Assert.Equal([0, 18, 36 - 4, 18, 9], new[] { Hatch.None, Hatch.Rising, Hatch.Crossed, Hatch.Upright, Hatch.Dotted }.Select(Ink));
    }

    [Theory]
    [InlineData(15)]
    [InlineData(0)]
    [InlineData(30)]
    public void The_joint_goes_once_around_the_body(double z) =>
        Assert.Equal(4 * 40 * Math.Sqrt(2), JointLine.Of(Block, z).Sum(l => (l.To - l.From).Length), 1e-9);

    [Fact]
    public void Numbers_keep_their_distance_and_stay_on_the_page()
    {
        var rows = LeaderRows.Spread([5, 6, 7, 95, 96], 10, 90, 15);
        Assert.Equal([10, 25, 40, 75, 90], rows);
    }

    [Fact]
    public void The_coloured_mesh_has_a_name_for_each_finding_and_the_first_wins_a_facet()
    {
        Finding[] findings =
        [
            new("undercut", Severity.Stop, "caught") { Facets = [0, 1] }, new("deep-hole", Severity.Warn, "deep"), new("no-draft", Severity.Warn, "upright") { Facets = [1, 2] },
        ];
        var files = FindingFiles.Render("block", "Block", Block, 0, [.. findings]);
        Assert.Equal(["block-findings.png", "block-findings.3mf"], files.Select(f => f.Name));
        using var zip = new ZipArchive(new MemoryStream(files[1].Content));
        using var stream = zip.GetEntry("3D/3dmodel.model")!.Open();
        var model = XDocument.Load(stream).Root!;
        var bases = model.Descendants().Where(e => e.Name.LocalName == "base").ToArray();
        Assert.Equal(["the part", "1 undercut", "3 no-draft"], bases.Select(b => b.Attribute("name")!.Value));
        Assert.Equal(3, bases.Select(b => b.Attribute("displaycolor")!.Value).Distinct().Count());
        Assert.Equal(["1", "1", "2", null], model.Descendants().Where(e => e.Name.LocalName == "triangle").Take(4).Select(t => t.Attribute("p1")?.Value));
        // Of a mesh that bounds no body only the picture.
        Assert.Equal(["block-findings.png"], FindingFiles.Render("block", "Block", Block, null, [.. findings]).Select(f => f.Name));
    }

    private static SKColor[] Pixels(byte[] png)
    {
        using var bitmap = SKBitmap.Decode(png);
        return bitmap.Pixels;
    }

    /// <summary>Facets that look along z, up or down.</summary>
    private static IEnumerable<int> Facing(int sign) =>
        Enumerable.Range(0, Block.Facets.Length).Where(f => sign * Block.AreaNormal(Block.Facets[f]).Z > 1e-6 && Math.Abs(Block.AreaNormal(Block.Facets[f]).X) < 1e-6);
}
