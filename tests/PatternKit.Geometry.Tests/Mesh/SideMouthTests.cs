using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Tests.Columns;

namespace PatternKit.Geometry.Tests.Mesh;

/// <summary>Where hollows that lie on a plane open sideways: places and sections by construction.</summary>
public sealed class SideMouthTests
{
    private const int Around = 48;

    [Theory]
    [InlineData(0)]
    [InlineData(0.4)]
    [InlineData(2.1)]
    public void A_tube_has_two_mouths_with_the_section_of_its_bore(double turn)
    {
        const double inner = 6, outer = 10, half = 25;
        var (s, c) = Math.SinCos(turn);
        var tube = Tube(inner, outer, half).Mapped(p => new((p.X * c) - (p.Y * s), (p.X * s) + (p.Y * c), p.Z));
        var (openings, cell) = Openings(tube, 0);
        Assert.Equal(2, openings.Length);
        foreach (var o in openings)
        {
            Assert.False(o.IsAllRound);
            var mouth = SideMouth.Between(tube, 0, o.From, o.To, cell, above: true, below: true)!;
            Assert.NotNull(mouth);
            Assert.Equal(half, mouth.Middle.Length, 1e-3);
            Assert.Equal(1, Math.Abs((mouth.Outward.X * c) + (mouth.Outward.Y * s)), 1e-6);
            Assert.Equal(half, Vec2.Dot(mouth.Middle, mouth.Outward), 1e-3);
            // Half of a regular polygon.
            var area = Around / 4.0 * inner * inner * Math.Sin(2 * Math.PI / Around);
            foreach (var section in new[] { mouth.Above, mouth.Below })
            {
                Assert.Equal(area, section.Area, 1e-3 * area);
                Assert.Equal((-inner, inner, 0.0, inner), Box(section));
            }
        }
    }

    [Fact]
    public void A_groove_round_a_spool_is_open_all_round_and_a_slot_along_a_bar_in_one_piece()
    {
        var spool = TestBodies.Turned(32, (20, -10), (20, -4), (12, -3.9), (12, 3.9), (20, 4), (20, 10));
        Assert.True(Assert.Single(Openings(spool, 0).Openings).IsAllRound);
        // Open at both ends and along its side: from the root at one end to that at the other.
        var bar = TestBodies.Bar(50, (0, 0), (30, 0), (30, 10), (10, 10), (10, 20), (30, 20), (30, 30), (0, 30));
        var (openings, cell) = Openings(bar, 15);
        var opening = Assert.Single(openings);
        Assert.Equal([0.0, 50.0], new[] { opening.From.Y, opening.To.Y }.Order());
        Assert.All([opening.From, opening.To], p => Assert.Equal(10, p.X, 1.01 * cell));
        Assert.Null(SideMouth.Between(bar, 15, opening.From, opening.To, cell, above: true, below: true));
    }

    [Fact]
    public void Roof_facets_of_a_tube_are_the_upper_half_of_its_bore()
    {
        var tube = Tube(6, 10, 25);
        var seed = Enumerable.Range(0, tube.Facets.Length).First(f => tube.AreaNormal(tube.Facets[f]) is { Z: < 0 } && Corners(tube, f).All(p => p.Z > 1 && new Vec2(p.Y, p.Z).Length < 7));
        var roof = RoofFacets.Of(tube, [seed], 0, above: true);
        Assert.Equal(2 * Around / 2, roof.Length);
        var ground = RoofFacets.Ground(tube, roof, 0, above: true);
        Assert.All(ground.Facets, f => Assert.True(ground.AreaNormal(f).Z > 0));
        // The plan of the bore.
        Assert.Equal(12 * 50, ground.Facets.Sum(f => ground.AreaNormal(f).Z / 2), 1e-9);
        // Nothing of it lies below; and the lower half, as depths, looks up as well.
        Assert.Empty(RoofFacets.Of(tube, roof, 0, above: false));
        var floor = RoofFacets.Of(tube, Enumerable.Range(0, tube.Facets.Length).Where(f => tube.AreaNormal(tube.Facets[f]).Z > 0 && Corners(tube, f).All(p => p.Z <= 0)), 0, above: false);
        Assert.All(RoofFacets.Ground(tube, floor, 0, above: false) is var low ? low.Facets : [], f => Assert.True(low.AreaNormal(f).Z > 0));
    }

    private static (double, double, double, double) Box(PlanRegion region)
    {
        var e = region.Geometry.EnvelopeInternal;
        return (Math.Round(e.MinX, 3), Math.Round(e.MaxX, 3), Math.Round(e.MinY, 3) + 0.0, Math.Round(e.MaxY, 3));
    }

    private static (ImmutableArray<SideOpening> Openings, double Cell) Openings(TriangleMesh mesh, double z)
    {
        var columns = MeshColumns.Cast(mesh, new(0, 0, 1), 0.5);
        return (SideOpenings.Of(columns, HiddenSpace.Of(columns).RegionsAt(z, 1).Regions, z), 0.5);
    }

    private static IEnumerable<Vec3> Corners(TriangleMesh mesh, int f) => new[] { mesh.Facets[f].A, mesh.Facets[f].B, mesh.Facets[f].C }.Select(v => mesh.Vertices[v]);

    /// <summary>Along x, about the origin, corners at the plane.</summary>
    private static TriangleMesh Tube(double inner, double outer, double half)
    {
        var vertices = new List<Vec3>();
        foreach (var (x, r) in new[] { (-half, outer), (half, outer), (half, inner), (-half, inner) })
            for (var j = 0; j < Around; j++)
            {
                var (s, c) = Math.SinCos(2 * Math.PI * j / Around);
                vertices.Add(new(x, r * c, j % (Around / 2) == 0 ? 0 : r * s));
            }

        var facets = new List<Facet>();
        for (var i = 0; i < 4; i++)
            for (var j = 0; j < Around; j++)
            {
                var (a, b, c, d) = ((i * Around) + j, (i * Around) + ((j + 1) % Around), (((i + 1) % 4) * Around) + ((j + 1) % Around), (((i + 1) % 4) * Around) + j);
                facets.Add(new(a, d, c));
                facets.Add(new(a, c, b));
            }

        var mesh = new TriangleMesh([.. vertices], [.. facets]);
        return mesh.Volume() > 0 ? mesh : mesh.MirroredBy(v => v);
    }
}
