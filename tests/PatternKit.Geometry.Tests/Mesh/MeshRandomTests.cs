using CsCheck;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Mesh;

public class MeshRandomTests
{
    private static readonly Gen<Vec3> Shift = Gen.Select(Gen.Double[-200, 200], Gen.Double[-200, 200], Gen.Double[-200, 200], (x, y, z) => new Vec3(x, y, z));

    [Fact]
    public void Spheres_are_valid_and_their_volume_nears_the_ball_from_below() =>
        Gen.Select(Gen.Double[0.5, 100], Gen.Int[3, 40], Gen.Int[2, 30], Shift).Sample((radius, around, rings, at) =>
        {
            var report = MeshInspection.Inspect(Shapes.Sphere(radius, around, rings, at));
            Assert.True(report.IsValid, report.ToString());
            Assert.InRange(report.Volume_mm3, 0, 4 * Math.PI / 3 * Math.Pow(radius, 3));
            Assert.Equal(2, report.Vertices - (report.Facets * 3 / 2) + report.Facets); // Euler: genus 0
        }, iter: 100);

    [Fact]
    public void Torus_volume_is_that_of_Pappus_within_its_chords() =>
        Gen.Select(Gen.Double[20, 60], Gen.Double[1, 15], Gen.Int[24, 60], Gen.Int[24, 40]).Sample((ring, tube, n, m) =>
        {
            var mesh = Shapes.Torus(ring, tube, n, m);
            var report = MeshInspection.Inspect(mesh);
            Assert.True(report.IsValid, report.ToString());
            Assert.Equal(0, report.Vertices - (report.Facets * 3 / 2) + report.Facets); // Euler: genus 1
            var pappus = 2 * Math.PI * Math.PI * ring * tube * tube;
            Assert.InRange(report.Volume_mm3, pappus * 0.97, pappus);
        }, iter: 40);

    [Fact]
    public void A_ring_thinner_than_its_tube_crosses_itself() =>
        Assert.True(MeshInspection.Inspect(Shapes.Torus(5, 8, 24, 24)).CrossingPairs > 0);

    [Fact]
    public void Two_boxes_cross_when_and_only_when_their_skins_meet() =>
        Gen.Select(Shift, Gen.Double[1, 200], Gen.Double[1, 200]).Sample((at, p, q) =>
        {
            var (a, b) = (Shapes.Cube(p), Shapes.Cube(q).Shifted(at.X / 2, at.Y / 2, at.Z / 2));
            var (s, t) = (a.Bounds(), b.Bounds());
            var meet = s.Low.X <= t.High.X && t.Low.X <= s.High.X && s.Low.Y <= t.High.Y && t.Low.Y <= s.High.Y && s.Low.Z <= t.High.Z && t.Low.Z <= s.High.Z;
            var nested = Within(s, t) || Within(t, s);
            Assert.Equal(meet && !nested, MeshInspection.Inspect(a.Plus(b)).CrossingPairs > 0);
        }, iter: 500);

    [Fact]
    public void All_crossings_that_pair_by_pair_search_finds_are_found() =>
        Gen.Select(Shift, Gen.Int[3, 12], Gen.Int[2, 8]).Sample((at, around, rings) =>
        {
            var mesh = Shapes.Sphere(60, around, rings).Plus(Shapes.Torus(60, 20, 9, 7).Mapped(v => v + (0.3 * at)));
            var corners = mesh.Facets.Select(f => new Corners(mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C], f.A, f.B, f.C)).ToArray();
            var expected = 0;
            for (var i = 0; i < corners.Length; i++)
                for (var j = i + 1; j < corners.Length; j++)
                    if (FacetCrossing.Cross(corners[i], corners[j])) expected++;
            Assert.Equal(expected, MeshInspection.Inspect(mesh).CrossingPairs);
        }, iter: 30);

    [Fact]
    public void A_weld_of_loose_facets_gives_the_mesh_back() =>
        Gen.Select(Gen.Int[3, 20], Gen.Int[2, 20]).Sample((around, rings) =>
        {
            var mesh = Shapes.Sphere(7, around, rings);
            var welded = mesh.Welded();
            Assert.Equal(mesh.Vertices.Length, welded.Vertices.Length);
            Assert.Equal(mesh.Facets.Select(f => (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C])),
                welded.Facets.Select(f => (welded.Vertices[f.A], welded.Vertices[f.B], welded.Vertices[f.C])));
        }, iter: 50);

    private static bool Within(Box3 a, Box3 b) =>
        a.Low.X > b.Low.X && a.Low.Y > b.Low.Y && a.Low.Z > b.Low.Z && a.High.X < b.High.X && a.High.Y < b.High.Y && a.High.Z < b.High.Z;
}
