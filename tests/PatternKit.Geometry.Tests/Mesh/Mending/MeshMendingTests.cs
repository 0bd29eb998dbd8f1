using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh.Mending;

public class MeshMendingTests
{
    private static readonly double[] Odd = [double.NaN, double.PositiveInfinity, -1e300, 1e300, 1e-300];

    private static readonly Gen<TriangleMesh> Bodies = Gen.OneOf(
        Gen.Select(Gen.Double[5, 100], Gen.Int[5, 24], Gen.Int[4, 16]).Select((r, around, rings) => Shapes.Sphere(r, around, rings)),
        Gen.Select(Gen.Double[30, 60], Gen.Double[5, 15], Gen.Int[6, 24], Gen.Int[5, 12]).Select(Shapes.Torus),
        Gen.Double[5, 50].Select(Shapes.Cube),
        Gen.Select(Gen.Double[30, 100], Gen.Int[8, 20], Gen.Int[6, 12]).Select((r, around, rings) =>
            Shapes.Sphere(r, around, rings).Plus(Shapes.Sphere(r / 3, around, rings).Reversed()).Plus(Shapes.Cube(7).Shifted(2 * r, 0, 0))));

    [Fact]
    public void A_valid_body_comes_back_as_it_is() =>
        Bodies.Sample(body =>
        {
            var mended = MeshMending.Mend(body);
            Assert.Same(body, mended.Mesh);
            Assert.Empty(mended.Report.Done);
            Assert.True(mended.Report.IsMended, mended.Report.ToString());
        }, iter: 60);

    [Fact]
    public void A_damaged_body_gets_back_its_volume() =>
        Gen.Select(Bodies, Gen.Int[0, 1 << 30]).Sample((body, seed) =>
        {
            var damage = new Damage(seed);
            var broken = damage.WithHoles(body, 1 + (body.Facets.Length / 20));
            broken = damage.WithDoubled(broken, 3);
            broken = damage.WithTurned(broken, 0.3);
            broken = damage.WithSplitVertices(broken, 0.3, 0);
            broken = damage.Shuffled(broken);
            Assert.False(MeshInspection.Inspect(broken).IsValid);
            var mended = MeshMending.Mend(broken);
            Assert.True(mended.Report.IsMended, mended.Report.ToString());
            Assert.Equal(1, mended.Mesh.Volume() / body.Volume(), 12);
            Assert.Equal(body.Facets.Length, mended.Mesh.Facets.Length);
            Assert.Equal(body.Vertices.Length, mended.Mesh.Vertices.Length);
            AssertMendedForGood(mended.Mesh);
        }, iter: 120);

    [Fact]
    public void Corners_that_drifted_apart_are_joined() =>
        Gen.Select(Bodies, Gen.Int[0, 1 << 30]).Sample((body, seed) =>
        {
            var damage = new Damage(seed);
            var diagonal = body.Bounds().Size.Length;
            var mended = MeshMending.Mend(damage.Shuffled(damage.WithSplitVertices(body, 0.4, 2e-7 * diagonal)));
            Assert.True(mended.Report.IsMended, mended.Report.ToString());
            // No corner moved by more than the drift, so the volume by no more than that times the area.
            var area = body.Facets.Sum(f => body.AreaNormal(f).Length / 2);
            Assert.InRange(Math.Abs(mended.Mesh.Volume() - body.Volume()), 0, 2e-7 * diagonal * area);
            Assert.Equal(body.Facets.Length, mended.Mesh.Facets.Length);
            AssertMendedForGood(mended.Mesh);
        }, iter: 80);

    [Fact]
    public void Each_step_is_counted()
    {
        var cube = Shapes.Cube(8);
        var (a, b) = (cube.Facets[0], cube.Facets[5]);
        var broken = new TriangleMesh(
            cube.Vertices.Add(cube.Vertices[3]).Add(new(double.NaN, 0, 0)).Add(new(99, 99, 99)),
            [.. cube.Facets.RemoveAt(7).SetItem(0, new(a.A, a.C, a.B)), b, new(0, 0, 1), new(8, 3, 4), new(9, 1, 2)]);
        var report = MeshMending.Mend(broken).Report;
        Assert.True(report.IsMended, report.ToString());
        Assert.Equal(
            [
                (MendingStep.NonFiniteFacetsDropped, 1), (MendingStep.IdleVerticesDropped, 2), (MendingStep.VerticesJoined, 1), (MendingStep.DegenerateFacetsDropped, 2),
                (MendingStep.DuplicateFacetsDropped, 1), (MendingStep.FacetsTurned, 1), (MendingStep.HolesFilled, 1), (MendingStep.FacetsAdded, 1),
            ],
            report.Done);
        Assert.Equal(512, report.After.Volume_mm3, 9);
        Assert.StartsWith("Mending: NonFiniteFacetsDropped 1, IdleVerticesDropped 2", report.ToString());
    }

    [Fact]
    public void A_needle_of_three_corners_on_one_line_is_dropped_and_the_long_side_split()
    {
        // On the edge from 0 to 1 of the cube a corner in its middle, known to the bottom facets only; the needle closes the gap.
        var cube = Shapes.Cube(8);
        var vertices = cube.Vertices.Add(new(4, 0, 0));
        var facets = cube.Facets.SetItem(0, new(0, 2, 8)).Add(new(8, 2, 1)).Add(new(0, 8, 1));
        var mesh = new TriangleMesh(vertices, facets);
        Assert.Equal(1, MeshInspection.Inspect(mesh).DegenerateFacets);
        var mended = MeshMending.Mend(mesh);
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal((1, 1), (mended.Report.Count(MendingStep.DegenerateFacetsDropped), mended.Report.Count(MendingStep.FacetsSplit)));
        Assert.Equal(512, mended.Mesh.Volume(), 9);
        AssertMendedForGood(mended.Mesh);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    [InlineData(7)]
    public void Surfaces_of_different_fineness_are_joined_along_their_edge(int finer)
    {
        // A cube whose lid's four edges have more corners than the walls know of.
        var cube = Shapes.Cube(8);
        var rim = new List<Vec3>();
        Vec3[] corners = [cube.Vertices[4], cube.Vertices[5], cube.Vertices[6], cube.Vertices[7]];
        for (var i = 0; i < 4; i++)
            for (var j = 0; j <= finer; j++) rim.Add(corners[i] + ((double)j / (finer + 1) * (corners[(i + 1) % 4] - corners[i])));
        var n = rim.Count;
        var lid = new TriangleMesh([.. rim, new(4, 4, 8)], [.. Enumerable.Range(0, n).Select(i => new Facet(i, (i + 1) % n, n))]);
        var mended = MeshMending.Mend(cube.WithFacets(f => f.RemoveRange(2, 2)).Plus(lid));
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal(4, mended.Report.Count(MendingStep.FacetsSplit));
        Assert.Equal(512, mended.Mesh.Volume(), 9);
        AssertMendedForGood(mended.Mesh);
    }

    [Fact]
    public void A_missing_plane_face_of_any_shape_is_filled()
    {
        // A star upright, without its lid: the hole is concave.
        var mesh = Prism([.. Enumerable.Range(0, 40).Select(i => Star(i, 40))], 10);
        var whole = MeshMending.Mend(mesh);
        Assert.True(whole.Report.IsMended, whole.Report.ToString());
        var open = MeshMending.Mend(new(mesh.Vertices, mesh.Facets));
        Assert.Equal(whole.Mesh.Volume(), open.Mesh.Volume());
        Assert.Equal(2, whole.Report.Count(MendingStep.HolesFilled));
        Assert.Equal(76, whole.Report.Count(MendingStep.FacetsAdded));
        double area = 0;
        for (var i = 0; i < 40; i++) area += Vec2.Cross(Star(i, 40), Star(i + 1, 40)) / 2;
        Assert.Equal(10 * area, whole.Mesh.Volume(), 8);

        static Vec2 Star(int i, int n)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * i / n);
            return i % 2 == 0 ? new(30 * c, 30 * s) : new(11 * c, 11 * s);
        }
    }

    [Fact]
    public void A_bent_hole_is_filled_with_the_gentlest_folds()
    {
        // Two facets that share an edge are missing on a round body: of the two diagonals the mesh had the one that folds outward.
        var sphere = Shapes.Sphere(50, 24, 12);
        var at = 2 + 8; // a pair of one quadrangle near the equator
        var pair = Enumerable.Range(0, sphere.Facets.Length - 1).First(i => i >= at * 11 && Shared(sphere.Facets[i], sphere.Facets[i + 1]) == 2);
        var mended = MeshMending.Mend(sphere.WithFacets(f => f.RemoveRange(pair, 2)));
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal(sphere.Volume(), mended.Mesh.Volume(), 1e-4 * sphere.Volume());

        static int Shared(Facet a, Facet b) => new[] { a.A, a.B, a.C }.Intersect([b.A, b.B, b.C]).Count();
    }

    [Fact]
    public void A_large_bent_hole_is_left_open_and_told_with_its_place()
    {
        var sphere = Shapes.Sphere(50, 24, 12);
        // Half of the ball is missing, and its edge is bent.
        var half = sphere.WithFacets(f => [.. f.Where(t => (sphere.Vertices[t.A] + sphere.Vertices[t.B] + sphere.Vertices[t.C]) is var c && c.X + (0.3 * c.Z) > 0)]);
        var report = MeshMending.Mend(half).Report;
        Assert.False(report.IsMended);
        var hole = Assert.Single(report.Holes);
        Assert.Equal(HoleLeft.TooLarge, hole.Why);
        Assert.Equal(report.After.BoundaryEdges, hole.Edges);
        Assert.InRange(hole.Length_mm, 2 * Math.PI * 50 * 0.95, 2 * Math.PI * 50 * 1.5);
        Assert.InRange(hole.At.X, -5, 5);
    }

    [Fact]
    public void Bent_holes_of_any_shape_are_filled_without_crossing_or_told() =>
        Gen.Select(Gen.Int[8, 24], Gen.Int[6, 16], Gen.Int[0, 1 << 30]).Sample((around, rings, seed) =>
        {
            // Up to six whole stars of facets missing from a ball, next to each other or apart.
            var ball = Shapes.Sphere(50, around, rings);
            var random = new Random(seed);
            var centres = Enumerable.Range(0, 1 + random.Next(6)).Select(_ => random.Next(ball.Vertices.Length)).ToHashSet();
            var broken = ball.WithFacets(f => [.. f.Where(t => !centres.Contains(t.A) && !centres.Contains(t.B) && !centres.Contains(t.C))]);
            var mended = MeshMending.Mend(broken, new() { HoleShareOfDiagonal = 10 });
            Assert.Equal(0, mended.Report.After.CrossingPairs);
            Assert.Equal(mended.Report.IsMended, mended.Report.Holes.IsEmpty);
            Assert.Equal(mended.Report.After.BoundaryEdges, mended.Report.Holes.Sum(h => h.Edges));
            // What is filled is flatter than the ball, never outside it.
            if (mended.Report.IsMended) Assert.InRange(mended.Mesh.Volume(), 0.1 * ball.Volume(), ball.Volume() * (1 + 1e-12));
            AssertSettled(mended.Mesh, new() { HoleShareOfDiagonal = 10 });
        }, iter: 100);

    [Fact]
    public void A_filling_that_would_cross_the_body_is_not_made()
    {
        // The lid is missing, and a spike from the bottom stands through where it would be.
        var cube = Shapes.Cube(10);
        var spike = Shapes.Box(new(4, 4, 2), new(6, 6, 15));
        var report = MeshMending.Mend(cube.WithFacets(f => f.RemoveRange(2, 2)).Plus(spike)).Report;
        Assert.False(report.IsMended);
        Assert.Equal(0, report.Count(MendingStep.HolesFilled));
        Assert.Equal(HoleLeft.NoCleanFilling, Assert.Single(report.Holes).Why);
        Assert.Equal(new Vec3(5, 5, 10), report.Holes[0].At);
        Assert.Equal(0, report.After.CrossingPairs);
    }

    [Fact]
    public void Shells_within_shells_face_outward_and_inward_by_turns()
    {
        var nested = Shapes.Sphere(50, 12, 8).Reversed().Plus(Shapes.Sphere(30, 12, 8)).Plus(Shapes.Sphere(15, 12, 8).Reversed()).Plus(Shapes.Cube(4).Reversed().Shifted(80, 0, 0));
        var mended = MeshMending.Mend(nested);
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal(1, mended.Report.After.NegativeShells);
        Assert.Equal(nested.Facets.Length, mended.Report.Count(MendingStep.FacetsTurned));
        Assert.Equal(Volume(50) - Volume(30) + Volume(15) + 64, mended.Mesh.Volume(), 6);
        AssertMendedForGood(mended.Mesh);

        static double Volume(double radius) => Shapes.Sphere(radius, 12, 8).Volume();
    }

    [Fact]
    public void Crumbs_are_dropped_and_small_parts_are_not()
    {
        var body = Shapes.Cube(100).Plus(Shapes.Cube(1).Shifted(200, 0, 0));
        var crumbs = body.Plus(Shapes.Cube(0.01).Shifted(150, 0, 0)).Plus(new([new(0, 0, 150), new(0.01, 0, 150), new(0, 0.01, 150)], [new(0, 1, 2)]));
        var mended = MeshMending.Mend(crumbs);
        Assert.Equal(2, mended.Report.Count(MendingStep.StrayShellsDropped));
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal(1e6 + 1, mended.Mesh.Volume(), 6);
        AssertMendedForGood(mended.Mesh);
    }

    [Fact]
    public void Two_bodies_back_to_back_on_one_face_become_one()
    {
        var mended = MeshMending.Mend(Shapes.Cube(10).Plus(Shapes.Cube(10).Mapped(v => new(20 - v.X, v.Y, v.Z)).Reversed()));
        Assert.Equal(4, mended.Report.Count(MendingStep.InnerWallFacetsDropped));
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal(2000, mended.Mesh.Volume(), 9);
    }

    [Fact]
    public void Bodies_that_touch_in_a_corner_keep_a_vertex_each()
    {
        var mended = MeshMending.Mend(Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(10, 10, 10)).Welded());
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal([(MendingStep.PinchesParted, 1)], mended.Report.Done);
        AssertMendedForGood(mended.Mesh);
    }

    [Fact]
    public void A_vertex_joined_here_and_one_parted_there_are_both_told()
    {
        // Two cubes welded in a corner, and elsewhere one facet with a corner of its own: as many vertices before as after.
        var pinched = Shapes.Cube(10).Plus(Shapes.Cube(10).Shifted(10, 10, 10)).Welded();
        var f = pinched.Facets[0];
        var mesh = new TriangleMesh(pinched.Vertices.Add(pinched.Vertices[f.B]), pinched.Facets.SetItem(0, f with { B = pinched.Vertices.Length }));
        var mended = MeshMending.Mend(mesh);
        Assert.True(mended.Report.IsMended, mended.Report.ToString());
        Assert.Equal([(MendingStep.VerticesJoined, 1), (MendingStep.PinchesParted, 1)], mended.Report.Done);
    }

    [Fact]
    public void Any_soup_is_mended_or_told_and_mending_twice_is_mending_once()
    {
        var number = Gen.OneOf(Gen.Int[0, 4].Select(i => (double)i), Gen.Double[0, 4], Gen.Int[0, 4].Select(i => Odd[i]));
        var vertex = Gen.Select(number, number, number, (x, y, z) => new Vec3(x, y, z));
        Gen.Select(vertex.Array[1, 12], Gen.Int[0, 11].Array[0, 90]).Sample((vertices, corners) =>
        {
            var facets = Enumerable.Range(0, corners.Length / 3).Select(i => new Facet(corners[3 * i] % vertices.Length, corners[(3 * i) + 1] % vertices.Length, corners[(3 * i) + 2] % vertices.Length));
            var mended = MeshMending.Mend(new([.. vertices], [.. facets]));
            Assert.Equal(0, mended.Report.After.NonFiniteVertices + mended.Report.After.DegenerateFacets + mended.Report.After.UnusedVertices);
            Assert.Equal(mended.Report.After.BoundaryEdges, mended.Report.Holes.Sum(h => h.Edges));
            AssertMendedForGood(mended.Mesh);
        }, iter: 2000);
    }

    [Fact]
    public void Nothing_is_mended_to_nothing() => Assert.Empty(MeshMending.Mend(new([], [])).Mesh.Facets);

    private static void AssertMendedForGood(TriangleMesh mesh) => AssertSettled(mesh, new());

    private static void AssertSettled(TriangleMesh mesh, MendingLimits limits)
    {
        var again = MeshMending.Mend(mesh, limits);
        Assert.Same(mesh, again.Mesh);
        Assert.Empty(again.Report.Done);
    }

    // Walls only.
    private static TriangleMesh Prism(ImmutableArray<Vec2> outline, double height)
    {
        var n = outline.Length;
        return new(
            [.. outline.Select(p => new Vec3(p.X, p.Y, 0)), .. outline.Select(p => new Vec3(p.X, p.Y, height))],
            [.. Enumerable.Range(0, n).SelectMany(i => new[] { new Facet(i, (i + 1) % n, n + ((i + 1) % n)), new Facet(i, n + ((i + 1) % n), n + i) })]);
    }
}
