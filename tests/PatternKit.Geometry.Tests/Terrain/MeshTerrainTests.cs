using CsCheck;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Columns;
using PatternKit.Geometry.Tests.Mesh;
using PatternKit.Geometry.Tests.Reference;
using Half = PatternKit.Geometry.Tests.Reference.Half;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>
/// Drafted meshes against closed forms, against the exact envelope of every face, edge and corner under the cone, and against the Minkowski sum of a
/// mesh-boolean library.
/// </summary>
public class MeshTerrainTests
{
    private const double Tolerance = FreeForms.Tolerance;

    /// <summary>Heights nearer to the joint count as lying in it, mm.</summary>
    private const double InJoint = 0.002;

    public static TheoryData<string, int, string> Halves()
    {
        var data = new TheoryData<string, int, string>();
        foreach (var name in FreeForms.Compared.Keys)
            foreach (var degrees in new[] { 2, 5 })
                foreach (var half in new[] { nameof(Half.Upper), nameof(Half.Lower) }) data.Add(name, degrees, half);
        return data;
    }

    [Theory]
    [MemberData(nameof(Halves))]
    public void The_volume_lies_between_the_Minkowski_sums_with_a_pyramid_inside_and_one_around_the_cone(string name, int degrees, string half)
    {
        ReferenceGate.NeedsManifold();
        var mesh = FreeForms.Compared[name]();
        var lying = half == nameof(Half.Upper) ? mesh : mesh.Overturned();
        var ours = FreeForms.Solid(lying, degrees);
        MeshAssert.Valid(ours);
        AssertHolds(ours, lying);
        Assert.True(TerrainBuild.LeastDraftDegrees(ours) >= degrees - 0.05, $"least draft {TerrainBuild.LeastDraftDegrees(ours)}");

        // npm manifold-3d, on the very same facets.
        var reference = ManifoldReference.Draft(mesh, Enum.Parse<Half>(half), 0, degrees, coneFacets: 32, outer: true);
        Assert.InRange(reference.OuterVolume_mm3!.Value / reference.Volume_mm3, 1, 1.0006);
        Assert.InRange(ours.Volume(), reference.Volume_mm3 * (1 - 2e-4), reference.OuterVolume_mm3.Value * (1 + 2e-4));
    }

    /// <summary>No corner and no middle of a facet of the part above the joint lies outside the half by more than the tolerance, reckoned in space.</summary>
    private static void AssertHolds(TriangleMesh half, TriangleMesh part)
    {
        var skin = new WallThickness(half);
        var top = half.Facets.Select(f => (A: half.Vertices[f.A], B: half.Vertices[f.B], C: half.Vertices[f.C])).Where(t => Vec3.Cross(t.B - t.A, t.C - t.A).Z > 0).ToArray();
        foreach (var p in part.Vertices.Concat(part.Facets.Select(f => 1.0 / 3 * (part.Vertices[f.A] + part.Vertices[f.B] + part.Vertices[f.C]))).Where(v => v.Z > InJoint))
        {
            if (Array.Exists(top, t => TrianglePoint.Crossing(t.A, t.B, t.C, p, new(0, 0, 1)) >= 0)) continue;
            Assert.True(skin.DistanceTo(p) <= Tolerance, $"the part stands out by {skin.DistanceTo(p)} mm at {p}");
        }
    }

    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    public void Half_a_ball_ends_in_the_cone_that_touches_it(double degrees)
    {
        const double r = 20;
        var ball = Shapes.Sphere(r, 240, 120);
        // The cone touches at the height r sin θ, where the radius is r cos θ, and reaches the joint with r / cos θ; above is a cap.
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        var (h, a, b) = (r * sin, r * cos, r / cos);
        var cap = Math.PI * ((2 * r * r * r / 3) - (r * r * h) + (h * h * h / 3));
        var expected = cap + (Math.PI * h / 3 * ((a * a) + (a * b) + (b * b)));
        // The mesh has so much less than the ball itself.
        var inscribed = ball.Volume() / (4 * Math.PI * r * r * r / 3);
        AssertRelative(expected * inscribed, FreeForms.Solid(ball, degrees).Volume(), 2e-4);
        AssertRelative(expected * inscribed, FreeForms.Solid(ball.Overturned(), degrees).Volume(), 2e-4);
    }

    [Fact]
    public void A_lying_cylinder_grows_by_its_drafted_section_for_every_millimetre_of_length()
    {
        const double r = 12, more = 25;
        var (sin, cos) = Math.SinCos(2 * Math.PI / 180);
        var section = (r * r * Math.Acos(sin)) - (r * r * sin * cos) + (r * sin * ((r * cos) + (r / cos)));
        // Chords of the half circle, 180 of them, hold so much less.
        var inscribed = 180 * Math.Sin(Math.PI / 180) / Math.PI;
        double Volume(double length) => FreeForms.Solid(TestBodies.HalfCylinder(r, length, 180), 2, tolerance: 0.005).Volume();
        AssertRelative(section * inscribed * more, Volume(20 + more) - Volume(20), 2e-4);
    }

    [Fact]
    public void A_gentle_cone_stays_as_it_is_and_a_steep_one_becomes_that_of_the_draft()
    {
        var gentle = TestBodies.Turned(96, (15, 0), (0.01, 15));
        // The border stands out by a hair of 12 lattice steps, which is 1 part in 80 000 of this one.
        AssertRelative(gentle.Volume(), FreeForms.Solid(gentle, 2).Volume(), 2e-5);
        const double h = 40;
        var steep = TestBodies.Turned(48, (h * Math.Tan(Math.PI / 180), 0), (1e-3, h));
        // Planes around the tip stand out from the cone by no more than the tolerance.
        var foot = (h * Math.Tan(2 * Math.PI / 180)) + 1e-3;
        Assert.InRange(FreeForms.Solid(steep, 2).Volume(), Math.PI / 3 * h * foot * foot * 0.999, Math.PI / 3 * h * (foot + Tolerance) * (foot + Tolerance));
    }

    [Fact]
    public void A_needle_and_a_blade_steeper_than_the_draft_are_drafted_from_their_tip_and_their_edge()
    {
        const double h = 40, length = 30;
        var t = Math.Tan(2 * Math.PI / 180);
        // Four faces of half a degree that meet in a point, whose edges are steeper than the draft too: a cone is left of it.
        var w = h * Math.Tan(Math.PI / 360);
        var needle = new TriangleMesh(
            [new(-w, -w, 0), new(w, -w, 0), new(w, w, 0), new(-w, w, 0), new(0, 0, h)], [new(0, 1, 4), new(1, 2, 4), new(2, 3, 4), new(3, 0, 4), new(0, 2, 1), new(0, 3, 2)]);
        AssertCone(0, FreeForms.Solid(needle, 2));
        // Two such faces that meet in a level edge: a roof with half a cone at either end.
        AssertCone(length, FreeForms.Solid(TestBodies.Bar(length, (-w, 0), (w, 0), (0, h)), 2));

        // Planes around a point stand out from the cone by no more than the tolerance.
        void AssertCone(double ridge, TriangleMesh body) => Assert.InRange(
            body.Volume(),
            ((ridge * h * h * t) + (Math.PI / 3 * h * h * h * t * t)) * (1 - 1e-4),
            ((ridge * h * h * t) + (Math.PI / 3 * h * ((h * t) + Tolerance) * ((h * t) + Tolerance))) * (1 + 1e-4));
    }

    [Fact]
    public void Level_faces_of_one_height_may_overlap()
    {
        // Two boxes whose tops share a side of one and part of the area.
        var both = Shapes.Box(new(0, 0, 0), new(10, 10, 8)).Plus(Shapes.Box(new(0, 0, 0), new(10, 20, 8))).Plus(Shapes.Box(new(10, 0, 0), new(20, 10, 8))).Plus(Shapes.Box(new(5, 0, 0), new(10, 10, 8)));
        var one = TestBodies.Bar(8, (0, 0), (20, 0), (20, 10), (10, 10), (10, 20), (0, 20)).Mapped(v => new(v.X, v.Z, -v.Y)).Shifted(0, 0, 8);
        // Borders joined from several parts are put out by a hair of 12 lattice steps and straightened by 4.
        AssertRelative(FreeForms.Solid(one, 2).Volume(), FreeForms.Solid(both, 2).Volume(), 2e-5);
    }

    [Fact]
    public void What_hangs_over_is_filled_down_to_the_joint()
    {
        // A cap 20 wide and 4 thick on a stem: the drafted cap goes down to the joint, as if the stem were as wide.
        var mushroom = Shapes.Box(new(-10, -10, 12), new(10, 10, 16)).Plus(Shapes.Box(new(-3, -3, 0), new(3, 3, 12)));
        var block = Shapes.Box(new(-10, -10, 0), new(10, 10, 16));
        AssertRelative(FreeForms.Solid(block, 2).Volume(), FreeForms.Solid(mushroom, 2).Volume(), 1e-9);
        // Steiner's formula for parallel bodies, integrated over the height (memory), within the planes around the corners.
        var t = Math.Tan(2 * Math.PI / 180);
        AssertRelative((400 * 16) + (40 * 256 * t) + (Math.PI / 3 * 4096 * t * t), FreeForms.Solid(block, 2).Volume(), 2e-4);
    }

    [Fact]
    public void A_face_that_lies_in_the_joint_but_for_rounding_makes_no_half()
    {
        var box = Shapes.Box(new(-10, -10, 0), new(10, 10, 16)).Mapped(v => v with { Z = v.Z - (v.Z == 0 ? 1e-5 * v.X : 0) });
        Assert.Empty(FreeForms.Solid(box.Overturned(), 2).Facets);
    }

    [Fact]
    public void A_bored_boss_on_a_plate_whose_taper_is_less_than_the_draft_stands_on_it_without_a_gap()
    {
        // At the foot of the boss the plate has a hole, and what the boss covers lies in it with the bore in its middle.
        const int sides = 96;
        var ring = new (double R, double Z)[] { (5.3, 0), (30, 0), (30, 6), (12, 6), (11.3, 26), (5.3, 26) };
        Vec3[] corners = [.. Enumerable.Range(0, sides).SelectMany(i => ring.Select(p => new Vec3(p.R * Math.Cos(2 * Math.PI * i / sides), p.R * Math.Sin(2 * Math.PI * i / sides), p.Z)))];
        int At(int i, int j) => (i % sides * ring.Length) + (j % ring.Length);
        Facet[] facets = [.. Enumerable.Range(0, sides).SelectMany(i => Enumerable.Range(0, ring.Length).SelectMany(j =>
            new[] { new Facet(At(i, j), At(i + 1, j), At(i, j + 1)), new Facet(At(i + 1, j), At(i + 1, j + 1), At(i, j + 1)) }))];
        var mesh = new TriangleMesh([.. corners], [.. facets]);
        if (mesh.Volume() < 0) mesh = mesh.Reversed();
        var solid = FreeForms.Solid(mesh, 3);
        MeshAssert.Valid(solid);
        // Frusta of plate and boss and the bore, which narrows downward; polygons hold so much less than circles.
        var t = Math.Tan(3 * Math.PI / 180);
        static double Frustum(double r, double s, double h) => Math.PI / 3 * h * ((r * r) + (r * s) + (s * s));
        var expected = sides / (2 * Math.PI) * Math.Sin(2 * Math.PI / sides) * (Frustum(30, 30 + (6 * t), 6) + Frustum(11.3, 11.3 + (20 * t), 20) - Frustum(5.3, 5.3 - (26 * t), 26));
        Assert.InRange(solid.Volume() / expected, 1 - 5e-4, 1 + 5e-4);
    }

    [Fact]
    public void Mirrored_input_gives_the_mirrored_body()
    {
        var mesh = FreeForms.Animal(40, 24);
        var mirrored = mesh.Mapped(v => v with { X = -v.X }).Reversed();
        AssertRelative(FreeForms.Solid(mesh, 2).Volume(), FreeForms.Solid(mirrored, 2).Volume(), 2e-5);
    }

    [Fact]
    public void A_smooth_body_takes_facets_by_the_tolerance_and_not_by_those_of_the_mesh()
    {
        var (coarse, fine) = (FreeForms.Superellipsoid(200, 100), FreeForms.Superellipsoid(400, 200));
        var (few, more) = (FreeForms.Solid(coarse, 2, tolerance: 0.05), FreeForms.Solid(fine, 2, tolerance: 0.05));
        MeshAssert.Valid(more);
        Assert.True(more.Facets.Length < 1.3 * few.Facets.Length, $"{few.Facets.Length} and {more.Facets.Length} facets");
        Assert.True(more.Facets.Length < fine.Facets.Length / 4, $"{more.Facets.Length} facets of {fine.Facets.Length}");
    }

    internal static readonly Gen<TriangleMesh> Shell = Gen.Select(
        Gen.Int[0, 3], Gen.Double[2, 15].Array[3], Gen.Double[-20, 20].Array[3], Gen.Double[0, 6.2].Array[3], Gen.Int[5, 30]).Select((kind, half, at, turn, around) =>
        {
            var (h, p) = (new Vec3(half[0], half[1], half[2]), new Vec3(at[0], at[1], at[2] / 2));
            return kind switch
            {
                // On a coarse grid and upright, so that sides coincide and corners touch.
                0 => Shapes.Box(Rounded(p - h), Rounded(p + h)),
                1 => Shapes.Box(-1 * h, h).Mapped(v => FreeForms.Turned(v, 0, 0, turn[0]) + p),
                2 => Shapes.Box(-1 * h, h).Mapped(v => FreeForms.Turned(v, turn[0], turn[1], turn[2]) + p),
                _ => Shapes.Sphere(1, around, Math.Max(3, around / 2)).Mapped(v => FreeForms.Turned(new(h.X * v.X, h.Y * v.Y, h.Z * v.Z), turn[0], turn[1], turn[2]) + p),
            };
            static Vec3 Rounded(Vec3 v) => new(Math.Round(v.X), Math.Round(v.Y), Math.Round(v.Z));
        });

    [Fact]
    public void A_floor_in_the_joint_stays_open_round_a_lug_in_its_middle()
    {
        // Four walls round a floor that lies in the joint, and a lug where a point inside the hole would be looked for.
        var mesh = Shapes.Box(new(-20, -20, -5), new(20, -15, 10)).Plus(Shapes.Box(new(-20, 15, -5), new(20, 20, 10)))
            .Plus(Shapes.Box(new(-20, -15, -5), new(-15, 15, 10))).Plus(Shapes.Box(new(15, -15, -5), new(20, 15, 10)))
            .Plus(Shapes.Box(new(-15, -15, -5), new(15, 15, 0))).Plus(Shapes.Box(new(-5, -5, -5), new(5, 5, 10)));
        var body = FreeForms.Solid(mesh, 2);
        MeshAssert.Valid(body);
        // Walls move by the run u at a height: outside (40 + 2u)² less its corners, inside (30 − 2u)² with square corners, the lug (10 + 2u)² less
        // corners (Steiner: squares and quarter discs); Simpson's rule is exact for these squares.
        double Section(double u) => 1600 + (160 * u) + (Math.PI * u * u) - ((30 - (2 * u)) * (30 - (2 * u))) + 100 + (40 * u) + (Math.PI * u * u);
        var run = 10 * Math.Tan(2 * Math.PI / 180);
        var expected = 10.0 / 6 * (Section(0) + (4 * Section(run / 2)) + Section(run));
        Assert.Equal(expected, body.Volume(), 2e-4 * expected);
    }

    [Fact]
    public void Overlapping_shells_make_sound_bodies_within_tolerance_of_the_exact_envelope() =>
        // Known limit: where walls of many directions crowd, about one such heap in a thousand keeps a narrow facet with less draft than asked.
        Assert.InRange(Lacking(60), 0, 2);

    // A point that mending had moved down to the rim lay in the face of the underside.
    [Fact]
    public void A_heap_of_shells_whose_points_are_mended_down_to_the_rim_is_sound() => Lacking(1, "3Tv2u80aOQy6");

    /// <summary>How many of random heaps of shells have a facet with less draft than asked; all else is asserted.</summary>
    private static int Lacking(int iterations, string? from = null)
    {
        var lacking = 0;
        Gen.Select(Shell.Array[1, 5], Gen.Int[0, 2].Select(i => new[] { 1.0, 2, 5 }[i]), Gen.Int).Sample(
            (shells, degrees, seed) =>
            {
                var mesh = shells.Aggregate((a, b) => a.Plus(b));
                var terrain = FreeForms.Terrain(mesh, degrees);
                var exact = Exact(mesh, degrees, 0);
                var random = new Random(seed);
                foreach (var p in mesh.Vertices.Select(v => v.Plan).Concat(Enumerable.Range(0, 200).Select(_ => new Vec2((90 * random.NextDouble()) - 45, (90 * random.NextDouble()) - 45))))
                {
                    var (truth, ours) = (exact.At(p), terrain.At(p));
                    var off = (ours.Height - truth.Value) / Math.Sqrt(1 + Math.Max(truth.Gradient.LengthSquared, ours.Gradient.LengthSquared));
                    Assert.True(off >= -InJoint && off <= Tolerance * 1.01, $"at {p} the terrain is {off} mm off the envelope");
                }

                var body = TerrainSolid.Build(terrain, null, [], [], FreeForms.Lattice, new(Tolerance));
                if (mesh.Vertices.Max(v => v.Z) <= InJoint)
                {
                    Assert.Empty(body.Facets);
                    return;
                }

                MeshAssert.Valid(body);
                if (TerrainBuild.LeastDraftDegrees(body) < degrees - 0.05) Interlocked.Increment(ref lacking);
            },
            iter: iterations, seed: from);
        return lacking;
    }

    /// <summary>The supremum over every point of the mesh of its height under the cone (Pasch–Hausdorff envelope), without any choice of candidates.</summary>
    private static UpperEnvelope<Primitive> Exact(TriangleMesh mesh, double degrees, double ground)
    {
        var cone = new RoundedCone(degrees * Math.PI / 180, 0);
        return new(
            [
                .. mesh.Facets.Select(f => Primitive.Face(mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C], cone)),
                .. mesh.Facets.SelectMany(f => new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) }).Where(e => e.Item1 < e.Item2)
                    .Select(e => Primitive.Edge(mesh.Vertices[e.Item1], mesh.Vertices[e.Item2], cone)),
                .. mesh.Vertices.Select(v => Primitive.Vertex(v, cone)),
            ],
            ground);
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
