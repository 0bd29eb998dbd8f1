using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Fillets in hollows that open to a plane: against closed forms and the definition (closing by a ball, Serra 1982). The plane is at 0 and up, hollows lie below it.</summary>
public class HollowFilletTests
{
    private const double Tolerance = 0.01;
    private const double Degrees = 2;
    private const double Radius = 3;
    private const double Deep = 15;

    /// <summary>Of the body over the hollows.</summary>
    private const double High = 20;

    /// <summary>A fillet may take a third of the floor between two walls.</summary>
    private const double Share = 1 / 3.0;

    private static readonly double Tangent = Math.Tan(Degrees * Math.PI / 180);

    [Fact]
    public void Along_the_corner_of_roof_and_wall_it_holds_the_area_between_two_lines_and_the_arc_that_touches_both()
    {
        // Of an angle β through the void, r² (cot(β/2) − (π − β)/2) to the length (memory: two tangents less the sector between them). Ends are alike, so that the difference is that of lengths.
        var beta = (90 + Degrees) * Math.PI / 180;
        var area = Radius * Radius * ((1 / Math.Tan(beta / 2)) - ((Math.PI - beta) / 2));
        var added = new[] { 30.0, 70 }.Select(length =>
        {
            var terrain = Hollows(PlanRegion.Rectangle(new(-15, 0), new(15, length)));
            var fillet = Filled(terrain);
            return (Reckoned: fillet.AddedVolume(0.1), Body: Solid(fillet).Volume() - Solid(terrain).Volume());
        }).ToArray();
        Assert.InRange((added[1].Reckoned - added[0].Reckoned) / (2 * 40 * area), 0.99, 1.01);
        Assert.InRange((added[1].Body - added[0].Body) / (2 * 40 * area), 0.99, 1.01);
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void Round_a_round_hollow_or_a_boss_in_one_it_holds_what_the_rule_of_Pappus_says(bool isBoss)
    {
        const double wide = 24, boss = 8, top = 6;
        // By itself in a hollow so wide that its own fillet can be told apart.
        var terrain = isBoss ? Hollows(TerrainBuild.Circle(2 * wide, default, 96), (TerrainBuild.Circle(2 * boss, default, 96), -top)) : Hollows(TerrainBuild.Circle(2 * wide, default, 96));
        var fillet = Filled(terrain);
        var theta = Degrees * Math.PI / 180;
        // The foot of the wall on the roof; a polygon of 96 sides has the area of a circle a little smaller. From there the arc takes r tan(45° − θ/2) of roof and wall.
        var flat = Math.Sqrt(96 / (2 * Math.PI) * Math.Sin(2 * Math.PI / 96));
        var outer = Ring((flat * wide) - (Deep * Tangent), -1);
        var expected = isBoss ? outer + Ring((flat * boss) + ((Deep - top) * Tangent), 1) : outer;
        Assert.InRange(fillet.AddedVolume(0.1) / expected, 0.99, 1.01);
        Assert.InRange((Solid(fillet).Volume() - Solid(terrain).Volume()) / expected, 0.985, 1.015);

        // Where it is wider away from the axis the sign is 1.
        double Ring(double foot, int sign)
        {
            var tangent = Radius * Math.Tan((Math.PI / 4) - (theta / 2));
            var (sum, parts) = (0.0, 20_000);
            var left = -tangent * Math.Sin(theta);
            for (var i = 0; i < parts; i++)
            {
                var x = left + ((i + 0.5) / parts * (tangent - left));
                var arc = Radius - Math.Sqrt((Radius * Radius) - ((tangent - x) * (tangent - x)));
                sum += 2 * Math.PI * (foot + (sign * x)) * Math.Max(0, arc - Math.Max(0, -x / Math.Tan(theta))) * (tangent - left) / parts;
            }

            return sum;
        }
    }

    [Fact]
    public void The_mouth_stays_and_the_body_is_valid_and_keeps_its_draft()
    {
        var terrain = Hollows(PlanRegion.Rectangle(new(-15, 0), new(15, 40)), (PlanRegion.Rectangle(new(-4, 15), new(4, 25)), -6));
        var fillet = Filled(terrain);
        var mesh = Solid(fillet);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= Degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh.MirroredBy(v => v with { Z = -v.Z })) >= Degrees - 0.05, $"least draft of the hollow {TerrainBuild.LeastDraftDegrees(mesh.MirroredBy(v => v with { Z = -v.Z }))}");
        // What stands on the joint has the area that it had without fillets; the mouth is 30 × 40.
        var (on, was) = (OnJoint(mesh), OnJoint(Solid(terrain)));
        Assert.Equal(was, on, 0.05);
        Assert.Equal((60 * 110) - (30 * 40), on - Draft(60, 110), 1);
        var random = new Random(7);
        var raised = 0;
        for (var i = 0; i < 40_000; i++)
        {
            var p = new Vec2((random.NextDouble() * 34) - 17, (random.NextDouble() * 44) - 2);
            var (sharp, here) = (terrain.At(p).Height, fillet.At(p).Height);
            Assert.True(here >= sharp, $"{here - sharp} at {p}");
            if (here == sharp) continue;
            raised++;
            Assert.True(here <= -MeshFillets.BelowMouth_mm + 1e-6, $"it rises to {here} at {p}");
        }

        Assert.True(raised > 2000);
        // In the corners of the mouth the ball would fill r (1 − 1/√2) from either wall; it does up to just below.
        Assert.InRange(fillet.At(new(-14.4, 0.6)).Height, -MeshFillets.BelowMouth_mm - 1e-3, -MeshFillets.BelowMouth_mm + 1e-3);

        // Outside by its own draft, up to the height of the body: what Steiner's formula for parallel bodies adds at the foot (memory).
        static double Draft(double a, double b) => (2 * (a + b) * High * Tangent) + (Math.PI * High * High * Tangent * Tangent);
    }

    [Fact]
    public void The_surface_is_the_closing_by_the_ball_up_to_where_it_ends()
    {
        var boss = PlanRegion.Polygon([new(-6, 12), new(3, 10), new(6, 22), new(-2, 26)]);
        var mouth = PlanRegion.Rectangle(new(-15, 0), new(15, 40));
        var terrain = Hollows(mouth, (boss, -6));
        var fillet = Filled(terrain);
        // Level ground around at the mouth, roof and boss, as plateaus: the ball of the definition knows no cut.
        var around = PlanRegion.Rectangle(new(-40, -40), new(40, 80));
        var oracle = new ClosingOracle([new(around.Difference(mouth), 0), new(mouth.Difference(boss), -Deep), new(boss, -6)], Degrees, Radius, -1000);
        var random = new Random(3);
        var inside = 0;
        for (var i = 0; i < 20_000 && inside < 60; i++)
        {
            var p = new Vec2((random.NextDouble() * 32) - 16, (random.NextDouble() * 42) - 1);
            if (fillet.Raise(p) == 0 && i % 20 > 0) continue;
            inside++;
            var (height, gradient, _) = fillet.At(p);
            var expected = Math.Max(terrain.At(p).Height, Math.Min(-MeshFillets.BelowMouth_mm, oracle.Height(p)));
            Assert.True(Math.Abs(height - expected) / Math.Sqrt(1 + gradient.LengthSquared) <= 2 * Tolerance, $"{height - expected} mm off the closing at {p}");
        }

        Assert.Equal(60, inside);
    }

    [Fact]
    public void A_hollow_that_is_shallow_gets_a_ball_that_its_walls_can_hold()
    {
        // Walls 2.5 high, of which the last half millimetre does not count: R 3 would climb 2.9 mm of them, R 2 climbs 1.93.
        var terrain = Hollows(PlanRegion.Rectangle(new(-15, 0), new(15, 40)), 2.5);
        var made = MeshFillets.OfHollows(terrain, [3, 2, 1.5, 1], Share, Tolerance);
        Assert.Equal([2.0], made.Radii_mm);
        Assert.All(made.Held, h => Assert.Equal(2, h.Radius_mm));
        Assert.NotEmpty(made.Held);
        var mesh = Solid(made.Terrain!);
        MeshAssert.Valid(mesh);
        Assert.Equal(OnJoint(Solid(terrain)), OnJoint(mesh), 0.05);
    }

    [Fact]
    public void What_lies_beyond_the_mouth_changes_nothing()
    {
        var mouth = PlanRegion.Rectangle(new(-15, 0), new(15, 40));
        // A wall of what the other half has, a millimetre beside the mouth and 10 mm high.
        var beyond = Filled(Hollows(mouth, (PlanRegion.Rectangle(new(17, -5), new(22, 45)), 10)));
        var alone = Filled(Hollows(mouth));
        Assert.InRange(beyond.AddedVolume(0.1) / alone.AddedVolume(0.1), 0.999, 1.001);
        var mesh = Solid(beyond);
        MeshAssert.Valid(mesh);
        Assert.Equal(OnJoint(Solid(alone)), OnJoint(mesh), 0.05);
    }

    [Fact]
    public void Filled_once_more_nothing_is_added()
    {
        var mouth = PlanRegion.Rectangle(new(-15, 0), new(15, 40));
        var first = Filled(Hollows(mouth, (PlanRegion.Rectangle(new(-4, 15), new(4, 25)), -6)));
        var body = Solid(first).MirroredBy(v => v with { Z = -v.Z });
        var again = MeshFillets.OfHollows(MeshTerrain.OfHollows(body, 0, mouth, Degrees * Math.PI / 180, TerrainBuild.Lattice, Tolerance), [Radius * 0.98], Share, Tolerance);
        Assert.InRange((again.Terrain?.AddedVolume(0.1) ?? 0) / first.AddedVolume(0.1), 0, 0.02);
    }

    private static ClosedTerrain Filled(DraftedTerrain hollows) => MeshFillets.OfHollows(hollows, [Radius], Share, Tolerance).Terrain!;

    private static double OnJoint(TriangleMesh mesh) => mesh.Facets
        .Where(f => mesh.Vertices[f.A].Z == 0 && mesh.Vertices[f.B].Z == 0 && mesh.Vertices[f.C].Z == 0).Sum(f => mesh.AreaNormal(f).Length / 2);

    /// <summary>A block 60 × 110 with the hollows beneath.</summary>
    private static TriangleMesh Solid(ITerrain hollows)
    {
        var over = MeshTerrain.Of(Faces([(PlanRegion.Rectangle(new(-30, -30), new(30, 80)), High)]), 0, Degrees * Math.PI / 180, TerrainBuild.Lattice, Tolerance);
        return TerrainSolid.Build(over, hollows, [], [], TerrainBuild.Lattice, new(Tolerance));
    }

    private static DraftedTerrain Hollows(PlanRegion mouth, params (PlanRegion Region, double Height)[] standing) => Hollows(mouth, Deep, standing);

    /// <summary>A hollow of the block, and what stands in it or beyond.</summary>
    private static DraftedTerrain Hollows(PlanRegion mouth, double deep, params (PlanRegion Region, double Height)[] standing)
    {
        var others = PlanRegion.Union(standing.Select(s => s.Region));
        var mesh = Faces([(PlanRegion.Rectangle(new(-30, -30), new(30, 80)).Difference(mouth).Difference(others), 0), (mouth.Difference(others), -deep), .. standing]);
        return MeshTerrain.OfHollows(mesh, 0, mouth, Degrees * Math.PI / 180, TerrainBuild.Lattice, Tolerance);
    }

    /// <summary>Level faces; walls are left out.</summary>
    private static TriangleMesh Faces(IEnumerable<(PlanRegion Region, double Height)> faces)
    {
        Vec3[] corners = [.. faces.SelectMany(p => RegionTriangles.Of([p.Region], TerrainBuild.Lattice).SelectMany(t => new[] { t.A, t.B, t.C }.Select(v => new Vec3(v.X, v.Y, p.Height))))];
        return new TriangleMesh([.. corners], [.. Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2))]).Welded();
    }
}
