using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Inset;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Geometry.Tests.Inset;

/// <summary>Bodies with their faces moved inward: against closed forms, and against the distance of what is left from what was, sampled.</summary>
public class InsetBodyTests
{
    private const double Degree = Math.PI / 180;
    private const double Tolerance = 0.01;

    [Theory]
    [InlineData(0.5, 0.2)]
    [InlineData(2, 0.2)]
    [InlineData(5, 0.6)]
    public void The_walls_of_a_frustum_move_by_c_over_cos_and_its_top_by_c(double degrees, double c)
    {
        const double a = 40, b = 30, h = 12;
        var t = Math.Tan(degrees * Degree);
        var body = Drafted([new(PlanRegion.Rectangle(new(0, 0), new(a, b)), 0, h)], degrees);
        var left = Inset(body, c);
        // At height z a wall stands t (h − z) outside of the top; moved by c square to itself it is c / cos θ further in.
        var volume = Frustum(a + (2 * t * h), b + (2 * t * h), t, c / Math.Cos(degrees * Degree), h - c);
        Assert.Equal(volume, left.Volume(), volume * 5e-5);
        Assert.Equal(h - c, left.Bounds().High.Z, 1e-5);
        Assert.Equal((t * h) - (c / Math.Cos(degrees * Degree)), left.Bounds().High.X - a, 1e-3);
    }

    // Sections (a − 2 i − 2 t z)(b − 2 i − 2 t z), integrated up to the top.
    private static double Frustum(double a, double b, double t, double inset, double top)
    {
        var (p, q) = (a - (2 * inset), b - (2 * inset));
        return (p * q * top) - ((p + q) * t * top * top) + (4.0 / 3 * t * t * top * top * top);
    }

    private static TriangleMesh Drafted(IReadOnlyList<Prism> prisms, double degrees, params ImmutableArray<UprightPocket> pockets) =>
        TerrainSolid.Build(TerrainBuild.Terrain(prisms, degrees, Tolerance), null, [], pockets, TerrainBuild.Lattice, new(Tolerance));

    private static TriangleMesh Inset(TriangleMesh body, double skin, double upright = 0)
    {
        var left = InsetBody.Of(body, new(skin, upright), null, null, TerrainBuild.Lattice, new(Tolerance))?.Mesh;
        Assert.NotNull(left);
        if (!left.Facets.IsEmpty) MeshAssert.Valid(left);
        return left;
    }

    [Fact]
    public void A_drafted_hole_grows_by_c_over_cos()
    {
        const double h = 10, degrees = 2, c = 0.3;
        var t = Math.Tan(degrees * Degree);
        var body = Drafted([new(PlanRegion.Rectangle(new(-20, -20), new(20, 20)), 0, h), new(PlanRegion.Rectangle(new(-6, -5), new(6, 5)), 0, h, true)], degrees);
        var left = Inset(body, c);
        // What draft leaves of the hole at the foot is longer and wider by twice c / cos θ, its corners now arcs about the old ones: area less (4 − π) r².
        var (wide, deep, r) = (12 - (2 * t * h), 10 - (2 * t * h), c / Math.Cos(degrees * Degree));
        var hole = PlanRegion.EvenOdd(Geometry.Mesh.MeshSection.AtHeight(left, 1e-4).Where(l => l.Max(p => p.X) < 10).Select(l => PlanPath.Polygon(l.AsSpan())), 1);
        Assert.Equal(((wide + (2 * r)) * (deep + (2 * r))) - ((4 - Math.PI) * r * r), hole.Area, 0.02);
    }

    [Fact]
    public void Pockets_of_the_foot_and_upright_walls_move_by_their_own_distance_and_the_foot_stays()
    {
        const double h = 10, c = 0.3, o = 0.1;
        var pocket = new UprightPocket(PlanRegion.Rectangle(new(10, 10), new(14, 13)), 6);
        var seat = new UprightPocket(PlanRegion.Rectangle(new(20, 10), new(26, 16)).Difference(PlanRegion.Rectangle(new(22, 12), new(24, 14))), 1);
        var inner = new UprightPocket(PlanRegion.Rectangle(new(22, 12), new(24, 14)), 5);
        var body = Drafted([new(PlanRegion.Rectangle(new(0, 0), new(40, 30)), 0, h)], 2, pocket, seat, inner);
        var left = Inset(body, c, o);
        var without = Inset(Drafted([new(PlanRegion.Rectangle(new(0, 0), new(40, 30)), 0, h)], 2), c, o);
        double Rounded(double a, double b) => (a * b) + (2 * o * (a + b)) + (Math.PI * o * o);
        var sunk = (Rounded(4, 3) * (6 + o)) + ((Rounded(6, 6) - Rounded(2, 2)) * (1 + o)) + (Rounded(2, 2) * (5 + o));
        Assert.Equal(sunk, without.Volume() - left.Volume(), 0.02);
        Assert.Equal(0, left.Bounds().Low.Z);
    }

    [Fact]
    public void A_block_with_a_hollow_has_less_height_upright_sides_less_by_their_own_distance_and_a_wider_hollow()
    {
        const double c = 0.3, o = 0.1, deep = 8, degrees = 3;
        var t = Math.Tan(degrees * Degree);
        var terrain = TerrainBuild.Terrain([new(PlanRegion.Rectangle(new(-6, -5), new(6, 5)), 0, deep)], degrees, Tolerance);
        var block = HollowBlock.Build(PlanRegion.Rectangle(new(-20, -15), new(20, 15)), 12, terrain, [], TerrainBuild.Lattice, new(Tolerance));
        // On its back, the hollow up, as it is printed.
        var left = Inset(block.Mapped(v => new(v.X, -v.Y, 12 - v.Z)), c, o);
        Assert.InRange((left.Bounds().Size - new Vec3(40 - (2 * o), 30 - (2 * o), 12 - c)).Length, 0, 2 * TerrainBuild.Lattice.Step);
        // The hollow grown by a ball: sections are parallel bodies of its floor (Steiner), round the edge of the floor first, then along the wall moved by c; integrated by the midpoint rule.
        const int steps = 100_000;
        var hollow = 0.0;
        for (var i = 0; i < steps; i++)
        {
            var s = deep * (i + 0.5) / steps;
            var run = s < c * (1 - Math.Sin(degrees * Degree)) ? Math.Sqrt((c * c) - ((c - s) * (c - s))) : ((s - c) * t) + (c / Math.Cos(degrees * Degree));
            hollow += deep / steps * (120 + (44 * run) + (Math.PI * run * run));
        }

        Assert.Equal(((40 - (2 * o)) * (30 - (2 * o)) * (12 - c)) - hollow, left.Volume(), 1.5);
    }

    [Fact]
    public void A_piece_is_cut_from_the_smaller_whole_with_its_seam_moved_by_the_distance_of_upright_walls()
    {
        const double c = 0.3, o = 0.1, h = 10;
        var body = Drafted([new(PlanRegion.Rectangle(new(0, 0), new(40, 30)), 0, h)], 2);
        var whole = Inset(body, c, o);
        var low = InsetBody.Of(body, new(c, o), null, PlanRegion.Rectangle(new(-10, -10), new(20, 40)), TerrainBuild.Lattice, new(Tolerance))!.Mesh;
        MeshAssert.Valid(low);
        Assert.Equal(20 - o, low.Bounds().High.X, 1e-5);
        // Half of the whole, less a slice as thick as o of its middle section.
        var middle = Geometry.Mesh.MeshSection.AtPlane(whole, new(20, 0, 0), new(1, 0, 0)).Sum(l => PlanPath.Polygon([.. l.Select(p => new Vec2(p.Y, p.Z))]).SignedArea());
        Assert.Equal((whole.Volume() / 2) - (o * middle), low.Volume(), whole.Volume() * 2e-5);
        Assert.Null(InsetBody.Of(low, new(c, o), null, null, TerrainBuild.Lattice, new(Tolerance)));
    }

    [Fact]
    public void A_body_with_a_face_that_hangs_over_is_refused_and_one_thinner_than_twice_the_distance_vanishes()
    {
        Assert.Null(InsetBody.Of(TestBodies.Spool(24), new(0.2, 0), null, null, TerrainBuild.Lattice, new(Tolerance)));
        Assert.Empty(Inset(Drafted([new(PlanRegion.Rectangle(new(0, 0), new(40, 0.3)), 0, 3)], 2), 0.4).Facets);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(0.2)]
    public void The_edge_of_the_foot_is_cut_back_for_the_first_layer(double c)
    {
        const double a = 40, b = 30, h = 12, degrees = 2, wide = 0.4, high = 0.3;
        var t = Math.Tan(degrees * Degree);
        var pocket = new UprightPocket(PlanRegion.Rectangle(new(10, 10), new(14, 13)), 6);
        var body = Drafted([new(PlanRegion.Rectangle(new(0, 0), new(a, b)), 0, h)], degrees, pocket);
        var left = InsetBody.Of(body, new(c, 0), new(wide, high), null, TerrainBuild.Lattice, new(Tolerance))!;
        Assert.True(left.IsTrimmed);
        MeshAssert.Valid(left.Mesh);
        Assert.Equal(0, left.Mesh.Bounds().Low.Z);
        // Below the height of the layer a frustum of slopes, from (p, q) there to (p − 2 wide, q − 2 wide) on the foot.
        var inset = (c / Math.Cos(degrees * Degree)) - (t * (h - high));
        var (p, q) = (a - (2 * inset), b - (2 * inset));
        var above = Frustum(p, q, t, 0, h - c - high);
        var below = high * ((p * q) - (wide * (p + q)) + (4.0 / 3 * wide * wide));
        Assert.Equal(above + below - (12 * 6), left.Mesh.Volume(), above * 5e-5);
        // One whose pocket is too near to the edge keeps it, and says so.
        var near = Drafted([new(PlanRegion.Rectangle(new(0, 0), new(a, b)), 0, h)], degrees, new UprightPocket(PlanRegion.Rectangle(new(0.3, 10), new(4, 13)), 6));
        Assert.False(InsetBody.Of(near, new(c, 0), new(3 * wide, high), null, TerrainBuild.Lattice, new(Tolerance))!.IsTrimmed);
    }

    [Fact]
    public void Random_heaps_of_prisms_are_left_c_inside_of_what_they_were()
    {
        var lacking = 0;
        Gen.Select(RandomTerrainTests.Parts, Gen.Double[0.05, 0.5], Gen.Double[1, 4]).Sample(
            (prisms, c, degrees) =>
            {
                var body = Drafted(prisms, degrees);
                if (body.Facets.IsEmpty) return;
                var left = Inset(body, c);
                if (left.Facets.IsEmpty) return;
                if (TerrainBuild.LeastDraftDegrees(left) < degrees - 0.05) Interlocked.Increment(ref lacking);
                var from = new Distances(body, n => n.Z >= 0);
                var (told, off) = (0, 0);
                foreach (var f in left.Facets.Where(f => left.AreaNormal(f).Z > 0).Where((_, i) => i % (1 + (left.Facets.Length / 200)) == 0))
                {
                    var (p, q, r) = (left.Vertices[f.A], left.Vertices[f.B], left.Vertices[f.C]);
                    foreach (var at in new[] { 1 / 3.0 * (p + q + r), 0.5 * (p + q), p })
                    {
                        // Nearer to the foot the body that was goes on below it.
                        if (at.Z < c) continue;
                        var error = from.Of(at) - c;
                        // Of a wall of which next to nothing is left the crest may be lower.
                        if (error > 1.5 * Tolerance && IsBlade(at)) continue;
                        Assert.True(Math.Abs(error) <= 5 * Tolerance, $"{error} mm off at {at}, c {c}: {TerrainBuild.Describe(prisms)}");
                        told++;
                        if (Math.Abs(error) > 1.5 * Tolerance) off++;
                    }
                }

                // A few facets in corners of hollows are coarser than asked, since points would crowd there.
                Assert.True(off <= 0.02 * told, $"{off} of {told}, c {c}: {TerrainBuild.Describe(prisms)}");

                bool IsBlade(Vec3 at) => Enumerable.Range(0, 12).Select(i => Blade_mm / 2 * new Vec3(Math.Cos(i * Math.PI / 12), Math.Sin(i * Math.PI / 12), 0)).Any(side => from.Of(at + side) < c && from.Of(at - side) < c);
            },
            iter: 16);
        Assert.Equal(0, lacking);
    }

    /// <summary>Of a wall of which less than this is left the crest is not held to the tolerance.</summary>
    private const double Blade_mm = 0.1;
}
