using System.Collections.Immutable;
using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Geometry.Tests.Mesh.Mending;

/// <summary>Shells that run through each other become one body: against volumes in closed form, and against the union of an outside library (npm manifold-3d).</summary>
public class JoinedShellsTests
{
    /// <summary>Bodies, how many, and the volume of what they hold together.</summary>
    public static TheoryData<string, TriangleMesh, int, double> Known => new()
    {
        { "corner in corner", Box(0, 0, 0, 10, 10, 10).Plus(Box(5, 5, 5, 15, 15, 15)), 2, 2000 - 125 },
        { "four sides flush", Box(0, 0, 0, 10, 10, 10).Plus(Box(5, 0, 0, 15, 10, 10)), 2, 1500 },
        { "standing on a face", Box(0, 0, 0, 10, 10, 10).Plus(Box(2, 2, 10, 8, 8, 15)), 2, 1000 + (36 * 5) },
        { "standing over an edge", Box(0, 0, 0, 10, 10, 10).Plus(Box(5, 5, 10, 15, 8, 15)), 2, 1000 + (10 * 3 * 5) },
        { "pierced through", Box(0, 0, 0, 10, 10, 10).Plus(Box(-5, 3, 3, 15, 5, 5)), 2, 1000 + (10 * 4) },
        { "three bars through one place", Box(-20, -3, -3, 20, 3, 3).Plus(Box(-3, -20, -3, 3, 20, 3)).Plus(Box(-3, -3, -20, 3, 3, 20)), 3, (3 * 40 * 36) - (2 * 216) },
        { "post sunk in a plate", Box(0, 0, 0, 80, 40, 10).Plus(Post(40, 20, 15, 5, 40, 48)), 2, (80 * 40 * 10) + (Plan(15, 48) * 30) },
        { "post on a plate", Box(0, 0, 0, 80, 40, 10).Plus(Post(40, 20, 15, 10, 40, 48)), 2, (80 * 40 * 10) + (Plan(15, 48) * 30) },
        { "post down to the plate's foot", Box(0, 0, 0, 80, 40, 10).Plus(Post(40, 20, 15, 0, 40, 48)), 2, (80 * 40 * 10) + (Plan(15, 48) * 30) },
        // A hollow box, its void facing inward, and a bar through its wall into the hollow.
        { "bar into a hollow", Box(0, 0, 0, 20, 20, 20).Plus(Box(5, 5, 5, 15, 15, 15).Reversed()).Plus(Box(9, 9, 10, 11, 11, 30)), 3, 8000 - 1000 + (4 * 5) + (4 * 10) },
    };

    [Theory]
    [MemberData(nameof(Known))]
    public void Bodies_that_run_through_each_other_hold_what_they_hold_together(string what, TriangleMesh bodies, int shells, double volume_mm3)
    {
        var mended = MeshMending.Mend(bodies);
        Assert.True(mended.Report.IsMended, $"{what}: {mended.Report}");
        Assert.Equal(shells, mended.Report.Count(MendingStep.ShellsJoined));
        Assert.Equal(volume_mm3, mended.Mesh.Volume(), 1e-9 * volume_mm3);
        var again = MeshMending.Mend(mended.Mesh);
        Assert.Same(mended.Mesh, again.Mesh);
        Assert.Empty(again.Report.Done);
    }

    [Fact]
    public void Corners_that_were_there_keep_their_places_and_new_ones_lie_on_two_faces_at_least()
    {
        var (first, second) = (Box(0.1, 0.2, 0.3, 10.7, 10.9, 10.4), Box(5.3, 5.1, 5.7, 15.9, 15.8, 15.2));
        var mesh = MeshMending.Mend(first.Plus(second)).Mesh;
        // Each box loses one corner.
        Assert.Equal(14, mesh.Vertices.Count(v => first.Vertices.Contains(v) || second.Vertices.Contains(v)));
        double[] x = [0.1, 10.7, 5.3, 15.9], y = [0.2, 10.9, 5.1, 15.8], z = [0.3, 10.4, 5.7, 15.2];
        // To the last digits: a face's diagonal passes the other body's faces too.
        Assert.All(mesh.Vertices, v => Assert.True(Near(x, v.X) + Near(y, v.Y) + Near(z, v.Z) >= 2, v.ToString()));

        static int Near(double[] faces, double at) => faces.Any(f => Math.Abs(f - at) < 1e-14) ? 1 : 0;
    }

    [Fact]
    public void Turned_bodies_hold_as_much_as_the_reference_says()
    {
        ReferenceGate.NeedsManifold();
        var angle = Gen.Double[0, 2 * Math.PI];
        var place = Gen.Select(Gen.Double[-12, 12], Gen.Double[-12, 12], Gen.Double[-12, 12], (x, y, z) => new Vec3(x, y, z));
        var body = Gen.Select(Gen.Int[0, 2], angle, angle, place, (kind, a, b, at) => Single(Turned(kind switch
        {
            0 => Box(-10, -6, -4, 10, 6, 4),
            1 => Shapes.Sphere(9, 14, 9),
            _ => Shapes.Torus(9, 3, 20, 8),
        }, a, b, at)));
        body.Array[2, 5].Sample(bodies =>
        {
            var (volume_mm3, pieces) = ManifoldReference.Union(bodies);
            var mended = MeshMending.Mend(bodies.Aggregate((all, next) => all.Plus(next)));
            Assert.True(mended.Report.IsMended, mended.Report.ToString());
            Assert.Equal(volume_mm3, mended.Mesh.Volume(), 1e-5 * volume_mm3);
            Assert.Equal(pieces, mended.Report.After.Shells);
        }, iter: 40);
    }

    [Fact]
    public void Many_turned_boxes_always_come_out_sound()
    {
        var angle = Gen.Double[0, 2 * Math.PI];
        var place = Gen.Select(Gen.Double[0, 4], Gen.Double[0, 4], Gen.Double[0, 4], (x, y, z) => new Vec3(x, y, z));
        Gen.Select(angle, angle, place, (a, b, at) => Turned(Box(-3, -2, -1, 3, 2, 1), a, b, at)).Array[3].Sample(boxes =>
        {
            var mended = MeshMending.Mend(boxes.Aggregate((all, next) => all.Plus(next)));
            Assert.True(mended.Report.IsMended, mended.Report.ToString());
            Assert.InRange(mended.Mesh.Volume(), 48 * (1 - 1e-12), 3 * 48 * (1 + 1e-12));
        }, iter: 300);
    }

    [Fact]
    public void An_open_body_is_not_joined_and_its_crossing_is_told()
    {
        var cube = Shapes.Cube(10);
        var ball = Shapes.Sphere(50, 24, 12, new(55, 0, 0));
        var report = MeshMending.Mend(cube.Plus(ball.WithFacets(f => [.. f.Where(t => (ball.Vertices[t.A] + ball.Vertices[t.B] + ball.Vertices[t.C]) is var c && c.X - 165 + (0.3 * c.Z) < 0)]))).Report;
        Assert.False(report.IsMended);
        Assert.Equal(0, report.Count(MendingStep.ShellsJoined));
        Assert.True(report.After.BoundaryEdges > 0 && report.After.CrossingPairs > 0, report.ToString());
    }

    private static TriangleMesh Box(double x0, double y0, double z0, double x1, double y1, double z1) => Shapes.Box(new(x0, y0, z0), new(x1, y1, z1));

    // Area of a regular polygon in a circle.
    private static double Plan(double radius, int corners) => corners * radius * radius / 2 * Math.Sin(2 * Math.PI / corners);

    private static TriangleMesh Post(double x, double y, double radius, double low, double high, int corners)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (var i = 0; i < corners; i++)
        {
            var (sin, cos) = Math.SinCos(2 * Math.PI * i / corners);
            vertices.Add(new(x + (radius * cos), y + (radius * sin), low));
            vertices.Add(new(x + (radius * cos), y + (radius * sin), high));
        }

        var (foot, head) = (2 * corners, (2 * corners) + 1);
        vertices.Add(new(x, y, low));
        vertices.Add(new(x, y, high));
        for (var i = 0; i < corners; i++)
        {
            var (p, q) = (2 * i, 2 * ((i + 1) % corners));
            facets.AddRange(new Facet(p, q, q + 1), new Facet(p, q + 1, p + 1), new Facet(foot, q, p), new Facet(head, p + 1, q + 1));
        }

        return new(vertices.ToImmutable(), facets.ToImmutable());
    }

    private static TriangleMesh Turned(TriangleMesh body, double a, double b, Vec3 at)
    {
        var ((sa, ca), (sb, cb)) = (Math.SinCos(a), Math.SinCos(b));
        return body.Mapped(p =>
        {
            var (x, y) = ((p.X * ca) - (p.Y * sa), (p.X * sa) + (p.Y * ca));
            return new Vec3(x, (y * cb) - (p.Z * sb), (y * sb) + (p.Z * cb)) + at;
        });
    }

    // As the reference takes it.
    private static TriangleMesh Single(TriangleMesh body) => body.Mapped(p => new((float)p.X, (float)p.Y, (float)p.Z));
}
