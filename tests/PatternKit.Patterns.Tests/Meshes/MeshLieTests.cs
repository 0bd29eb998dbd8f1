using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Meshes;
using Xunit;

namespace PatternKit.Patterns.Tests.Meshes;

/// <summary>How meshes lie: volumes in closed form; which way is best is common practice of moulders.</summary>
public sealed class MeshLieTests
{
    private const int Corners = 96;

    private static readonly Vec3 Up = new(0, 0, 1);

    [Fact]
    public void A_spool_that_stands_catches_the_ring_between_its_flanges()
    {
        var lie = MeshLie.Of(Spool(), Up, null, PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        // The ring between two regular polygons, as long as the barrel.
        var ring = (Polygon(20) - Polygon(8)) * 20;
        Assert.Equal(ring, lie.Caught_mm3, 0.005 * ring);
        Assert.True(lie.Hidden.Regions[0].IsOpenSideways);
        var found = Assert.Single(MeshFindings.Of(lie), f => f.Code == "undercut");
        Assert.Equal(Severity.Stop, found.Severity);
        Assert.Equal(ring, found.Value!.Value, 0.005 * ring);
        Assert.InRange(found.At_mm!.Value.Z, 5, 25);
    }

    [Fact]
    public void A_spool_that_lies_parts_through_its_axis_and_only_its_flanges_lack_draft()
    {
        var lie = MeshLie.Of(Laid(Spool()), Up, null, PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        Assert.InRange(lie.Caught_mm3, 0, 1e-3 * lie.Part_mm3);
        Assert.Equal(0, lie.Joint_mm, 0.5);
        Assert.DoesNotContain(MeshFindings.Of(lie), f => f.Severity == Severity.Stop);
        // Two discs and two rings stand along the draw; of the round skin the strips beside the joint do as well.
        var faces = (4 * Polygon(20)) - (2 * Polygon(8));
        var round = 2 * Math.PI * ((20 * 10) + (8 * 20));
        Assert.InRange(lie.Walls.Area_mm2, faces, faces + (round * 4 * (lie.AskedDraft.Value + (Math.PI / Corners)) / (2 * Math.PI)));
        Assert.Contains(MeshFindings.Of(lie), f => f.Code == "no-draft");
    }

    // Round work is parted through its axis, which lies in the joint (common practice).
    [Fact]
    public void Of_all_ways_the_spool_is_best_laid_down()
    {
        var ways = MeshLies.Rank(Spool(), PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        Assert.InRange(Math.Abs(ways[0].Lie.Up.Z), 0, 0.03);
        Assert.InRange(ways[0].Lie.Caught_mm3, 0, 1e-3 * ways[0].Lie.Part_mm3);
        Assert.True(ways.Zip(ways.Skip(1), (a, b) => a.Cost.Sum <= b.Cost.Sum).All(x => x));
    }

    [Fact]
    public void A_pocket_that_opens_to_the_joint_is_left_to_the_other_halfs_sand()
    {
        var lie = MeshLie.Of(PocketedBlock(), Up, 0, PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        Assert.Equal(0, lie.Caught_mm3, 1e-9);
        Assert.Equal(1100.0, lie.FlatBack_mm2, 1e-6);
        // 10 × 10 × 8, seen on lines a four-hundredth of 40 mm apart.
        Assert.Equal(800, lie.Added_mm3, 40.0);
        var recess = Assert.Single(MeshFindings.Of(lie), f => f.Code == "recess");
        Assert.Equal(Severity.Note, recess.Severity);
        Assert.Contains("drag", recess.Message, StringComparison.Ordinal);
        var pocket = Assert.Single(lie.Hidden.Regions);
        Assert.False(pocket.IsOpenSideways);
        Assert.Equal(pocket.Volume_mm3, pocket.Pieces.Sum(p => p.High - p.Low) * lie.Columns!.Grid.CellArea_mm2, 1e-6);
    }

    [Fact]
    public void The_same_block_parted_at_its_upper_face_has_nothing_in_the_way()
    {
        var lie = MeshLie.Of(PocketedBlock(), Up, null, PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        Assert.Equal(20, lie.Joint_mm, 1e-9);
        Assert.Equal(0, lie.Added_mm3, 1e-9);
        Assert.Equal(1200.0, lie.FlatBack_mm2, 1e-6);
    }

    // What is flat on one side lies in one half on its flat back (common practice).
    [Fact]
    public void The_block_is_best_laid_on_a_flat_face()
    {
        var best = MeshLies.Rank(PocketedBlock(), PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft)[0].Lie;
        Assert.InRange(best.FlatShare, 0.9, 1);
        Assert.Equal(1, Math.Abs(best.Up.Z), 1e-6);
    }

    [Fact]
    public void Turning_the_mesh_turns_what_is_found_with_it()
    {
        var (spool, laid) = (Spool(), Laid(Spool()));
        var standing = MeshLie.Of(spool, Up, 12, PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        var turned = MeshLie.Of(laid, new(1, 0, 0), 12, PatternSkin.Sanded, FoundryTables.Default.Lying, FoundryTables.Default.Draft);
        Assert.Equal(standing.Caught_mm3, turned.Caught_mm3, 0.005 * standing.Caught_mm3);
        Assert.Equal(standing.Walls.Area_mm2, turned.Walls.Area_mm2, 1e-6 * standing.Walls.Area_mm2);
    }

    [Fact]
    public void A_mesh_with_a_large_hole_is_told_as_open_with_its_place()
    {
        var block = PocketedBlock();
        bool All(Facet f, Func<Vec3, bool> holds) => new[] { f.A, f.B, f.C }.All(v => holds(block.Vertices[v]));
        // Without the top and one side, a hole over the edge.
        var open = new TriangleMesh(block.Vertices, [.. block.Facets.Where(f => !All(f, v => v.X == 40) && !All(f, v => v.Z == 20))]);
        var mended = MeshMending.Mend(open, new() { MostHoleEdges = 3 });
        Assert.False(mended.Report.IsMended);
        var found = MeshFindings.Open(mended.Report);
        Assert.Equal("open-mesh", found.Code);
        Assert.InRange(found.At_mm!.Value.X, 20, 40);
        Assert.InRange(found.At_mm!.Value.Z, 10, 20);
    }

    private static double Polygon(double radius) => Corners / 2.0 * radius * radius * Math.Sin(2 * Math.PI / Corners);

    private static TriangleMesh Spool() => TurnedSolid.Build(
        default, [(20, 0), (20, 5), (8, 5.001), (8, 24.999), (20, 25), (20, 30)], Corners, Lattice.For(200));

    private static TriangleMesh Laid(TriangleMesh mesh) => mesh.Mapped(p => new(p.Z, p.X, p.Y));

    /// <summary>A block 40 × 30 × 20 with a pocket 10 × 10, 8 deep, in the middle of its underside.</summary>
    private static TriangleMesh PocketedBlock()
    {
        var facets = new List<(Vec3, Vec3, Vec3)>();
        Vec3[] Ring(double x0, double y0, double x1, double y1, double z) => [new(x0, y0, z), new(x1, y0, z), new(x1, y1, z), new(x0, y1, z)];
        void Quad(Vec3 a, Vec3 b, Vec3 c, Vec3 d) => facets.AddRange([(a, b, c), (a, c, d)]);
        var (low, high, mouth, roof) = (Ring(0, 0, 40, 30, 0), Ring(0, 0, 40, 30, 20), Ring(15, 10, 25, 20, 0), Ring(15, 10, 25, 20, 8));
        Quad(high[0], high[1], high[2], high[3]);
        Quad(roof[3], roof[2], roof[1], roof[0]);
        for (var i = 0; i < 4; i++)
        {
            var j = (i + 1) % 4;
            Quad(low[i], low[j], high[j], high[i]);
            Quad(mouth[j], mouth[i], roof[i], roof[j]);
            Quad(low[j], low[i], mouth[i], mouth[j]);
        }

        return MeshBuilder.Weld(facets);
    }
}
