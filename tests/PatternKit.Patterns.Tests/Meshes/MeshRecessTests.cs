using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Meshes;

/// <summary>Hollows of meshes left to the other half's sand, against closed forms and against the same part drawn as outlines.</summary>
public sealed class MeshRecessTests
{
    private const string Part = "[[part]]\nmesh = \"part.obj\"\n";

    /// <summary>A square cup 40 wide and 20 high, mouth down, 30 × 30 × 15 hollow: half widths and heights of a profile that goes round its wall; a hole through its roof where asked.</summary>
    private static readonly (double Half, double Z)[] Closed = [(0, 15), (15, 15), (15, 0), (20, 0), (20, 20), (0, 20)];

    private static readonly (double Half, double Z)[] Pierced = [(4, 15), (15, 15), (15, 0), (20, 0), (20, 20), (4, 20), (4, 15)];

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_hollow_of_a_cup_is_left_to_the_sand_and_drawn_from_the_joint(bool mouthUp)
    {
        var job = Read(ObjBodies.Around(4, mouthUp ? [.. Closed.Select(p => (p.Half, 20 - p.Z))] : Closed), "[parting]\nrecess = \"sand\"\n");
        Assert.True(job.Parting.RecessToSand);
        var kit = KitCheck.Build(job.Bare(2) with { Parting = job.Parting with { At_mm = mouthUp ? 20 : 0 } });
        KitCheck.Sound(kit);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "undercut");
        var told = Assert.Single(kit.Findings, f => f.Code == "recess");
        AssertRelative(30 * 30 * 15, told.Value!.Value, 0.005);
        Assert.Contains(mouthUp ? "of the cope" : "of the drag", told.Message, StringComparison.Ordinal);
        // Outside by Steiner's formula for parallel bodies (memory); the hollow narrows away from the joint and keeps its square corners.
        var t = Math.Tan(2 * KitCheck.Degree);
        var outside = (1600 * 20) + (160 * 400 * t / 2) + (Math.PI / 3 * 8000 * t * t);
        var hollow = (Math.Pow(30, 3) - Math.Pow(30 - (30 * t), 3)) / (6 * t);
        AssertRelative(outside - hollow, kit.Unpocketed_mm3(), 2e-4);
        Assert.InRange(kit.Bridge.Filled_mm3, -60, 60);
        Assert.InRange(kit.Bridge.Gap, -1e-3, 1e-3);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    public void A_dome_is_left_and_ends_in_the_cone_of_the_draft(double degrees)
    {
        const int sides = 96, rings = 48;
        const double r = 14, wide = 20, high = 20;
        var dome = Enumerable.Range(0, rings + 1).Select(i => (r * Math.Sin(Math.PI / 2 * i / rings), r * Math.Cos(Math.PI / 2 * i / rings)));
        var job = Read(ObjBodies.Around(sides, [.. dome, (wide, 0), (wide, high), (0, high)]), "[parting]\nrecess = \"sand\"\n");
        var kit = KitCheck.Build(job.Bare(degrees) with { Parting = job.Parting with { At_mm = 0 } });
        KitCheck.Sound(kit);
        // From the rim at the joint the cone rises until it meets the dome at twice the draft, seen from the middle: tan(φ / 2) = tan θ.
        var t = Math.Tan(degrees * KitCheck.Degree);
        var (sin, cos) = Math.SinCos(2 * degrees * KitCheck.Degree);
        var a = r * cos;
        var hollow = (2 * Math.PI / 3 * r * r * r * (1 - (sin * sin * sin))) + (2 * Math.PI / t * ((r * r * r / 6) - (r * a * a / 2) + (a * a * a / 3)));
        // Polygons of so many sides hold so much less than circles; the height of the dome's chords as well.
        var flat = sides / (2 * Math.PI) * Math.Sin(2 * Math.PI / sides);
        var outside = (flat * Math.PI * wide * wide * high) + (2 * sides * wide * Math.Sin(Math.PI / sides) * high * high * t / 2) + (Math.PI / 3 * high * high * high * t * t);
        Assert.InRange(kit.Unpocketed_mm3(), outside - (flat * hollow) - 1, outside - (flat * hollow) + 6);
        Assert.InRange(kit.Bridge.Gap, -1e-3, 1e-3);
    }

    [Theory]
    [InlineData("plus")]
    [InlineData("split")]
    [InlineData("minus")]
    public void A_cup_comes_out_as_the_same_cup_drawn_as_outlines(string taper)
    {
        var rest = $"[parting]\nat = 0\nRECESS[pattern]\ndraft = 2\ntaper = \"{taper}\"\nfillet = 0\nrapping = 0\n";
        var mesh = KitCheck.Build(Read(ObjBodies.Around(4, Closed), rest.Replace("RECESS", "recess = \"sand\"\n", StringComparison.Ordinal)));
        var outline = KitCheck.Build(JobFolder.Read(JobFolder.Head + "[[part]]\nshape = { rectangle = [40, 40] }\nz = [0, 20]\n[[part]]\nshape = { rectangle = [30, 30] }\nz = [0, 15]\ncut = \"drawn\"\n" + rest.Replace("RECESS", "", StringComparison.Ordinal)));
        KitCheck.Sound(mesh);
        AssertRelative(outline.Unpocketed_mm3(), mesh.Unpocketed_mm3(), 2e-4);
        AssertRelative(outline.Metal.Casting_kg, mesh.Metal.Casting_kg, 2e-4);
        Assert.Equal(outline.Bodies.Select(b => b.Name), mesh.Bodies.Select(b => b.Name));
    }

    [Theory]
    [InlineData("3", 3, false)]
    [InlineData("2", 2, true)]
    [InlineData("\"auto\"", 3, false)]
    public void The_hollow_of_a_cup_gets_its_fillets_and_keeps_its_mouth(string fillet, double radius, bool mouthUp)
    {
        var body = ObjBodies.Around(4, mouthUp ? [.. Closed.Select(p => (p.Half, 20 - p.Z))] : Closed);
        var job = Read(body, $"[parting]\nrecess = \"sand\"\n[pattern]\nfillet = {fillet}\n");
        var bare = job.Bare(2) with { Parting = job.Parting with { At_mm = mouthUp ? 20 : 0 } };
        var (sharp, kit) = (KitCheck.Build(bare), KitCheck.Build(bare with { Pattern = bare.Pattern with { Fillet = job.Pattern.Fillet } }));
        KitCheck.Sound(kit);
        Assert.Equal(0, sharp.Bridge.Fillet_mm3);
        // By rule a third of the walls of 5 mm, 3 mm at the least.
        var decided = Assert.Single(kit.Decisions, d => d.Key.StartsWith("fillet", StringComparison.Ordinal));
        Assert.Equal(radius, decided.Value);
        Assert.Contains(mouthUp ? "recesses of the drag" : "recesses of the cope", decided.Label, StringComparison.Ordinal);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "fillet-capped");
        // Along the roof r² (cot(β/2) − (π − β)/2) for β = 92° between corners, in each of these (1 − π/6) r³, and where walls meet r² (1 − π/4) up to half a millimetre below the mouth: two
        // tangents less the sector, the cube less the eighth of a ball, the square less the quarter of a circle (memory). The roof is 30 mm less the draft wide.
        var (beta, side) = (92 * KitCheck.Degree, 30 - (2 * 15 * Math.Tan(2 * KitCheck.Degree)));
        var area = radius * radius * ((1 / Math.Tan(beta / 2)) - ((Math.PI - beta) / 2));
        var expected = (4 * (side - (2 * radius)) * area) + (4 * (1 - (Math.PI / 6)) * Math.Pow(radius, 3)) + (4 * (14.5 - radius) * radius * radius * (1 - (Math.PI / 4)));
        AssertRelative(expected, kit.Bridge.Fillet_mm3, 0.02);
        AssertRelative(kit.Bridge.Fillet_mm3, kit.Unpocketed_mm3() - sharp.Unpocketed_mm3(), 0.01);
        var (was, mouth) = (OnJoint(sharp, mouthUp), OnJoint(kit, mouthUp));
        Assert.Equal(was, mouth, 0.05);
        Assert.True(kit.Metal.Casting_kg > sharp.Metal.Casting_kg);

        static double OnJoint(Kit made, bool isDrag)
        {
            var (half, z) = (isDrag ? made.Drag().InMould : made.Cope().InMould, isDrag ? 20.0 : 0);
            return half.Facets.Where(f => half.Vertices[f.A].Z == z && half.Vertices[f.B].Z == z && half.Vertices[f.C].Z == z).Sum(f => half.AreaNormal(f).Length / 2);
        }
    }

    [Fact]
    public void Faces_of_a_hollow_may_be_named_and_walls_too_low_for_the_radius_are_told()
    {
        const string faces = "faces = { roof = { plane = [0, 0, 15], facing = \"-z\" } }\n";
        const string rest = "[parting]\nrecess = \"sand\"\nat = 0\n[pattern]\ndraft = 2\nrapping = 0\ncontraction = \"none\"\n";
        var none = KitCheck.Build(Read(ObjBodies.Around(4, Closed), faces + rest + "fillet = { roof = 0 }\n"));
        Assert.InRange(none.Bridge.Fillet_mm3, 0, 0.01);
        var large = KitCheck.Build(Read(ObjBodies.Around(4, Closed), faces + rest + "fillet = { roof = 5 }\n"));
        KitCheck.Sound(large);
        Assert.Contains(large.Decisions, d => d.Key == "fillet_cope_1_mm" && d.Value == 5);

        // A hollow 2.5 mm deep holds R 2: it climbs r (1 − sin 2°) of a wall that counts half a millimetre less.
        var low = KitCheck.Build(Read(ObjBodies.Around(4, [(0, 2.5), (15, 2.5), (15, 0), (20, 0), (20, 20), (0, 20)]), rest + "fillet = 3\n"));
        KitCheck.Sound(low);
        Assert.Equal(2, Assert.Single(low.Decisions, d => d.Key.StartsWith("fillet", StringComparison.Ordinal)).Value);
        var told = Assert.Single(low.Findings, f => f.Code == "fillet-capped");
        Assert.Equal((2, 3), (told.Value!.Value, told.Limit!.Value));
        Assert.Equal(2.5, told.At_mm!.Value.Z, 0.01);
        Assert.Contains("roof", told.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_open_sideways_or_through_is_filled_and_told()
    {
        // A channel, open at both ends, and the cup with a hole in its roof: the sands would have to meet off the joint.
        foreach (var (body, filled_mm3) in new[] { (ObjBodies.Bar(30, (0, 0), (5, 0), (5, 15), (35, 15), (35, 0), (40, 0), (40, 20), (0, 20)), 30.0 * 30 * 15), (ObjBodies.Around(4, Pierced), ((30 * 30) - (8 * 8)) * 15.0) })
        {
            var kit = KitCheck.Build(Read(body, "[parting]\nat = 0\nrecess = \"sand\"\n"));
            KitCheck.Sound(kit);
            Assert.DoesNotContain(kit.Findings, f => f.Code == "recess");
            var told = Assert.Single(kit.Findings, f => f.Code == "undercut" && f.Severity == Severity.Warn);
            AssertRelative(filled_mm3, told.Value!.Value, 0.01);
            Assert.Contains("and sideways", told.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Unless_asked_the_hollow_is_filled()
    {
        var kit = KitCheck.Build(Read(ObjBodies.Around(4, Closed), "").Bare(2, joint_mm: 0));
        Assert.Contains(kit.Findings, f => f.Code == "undercut");
        AssertRelative(30 * 30 * 15, kit.Bridge.Filled_mm3, 0.005);
    }

    [Fact]
    public void Sand_that_stands_too_high_in_a_hollow_and_a_thin_wall_beside_it_are_told()
    {
        // 8 wide and 36 deep, and its wall 2 mm thick.
        var kit = KitCheck.Build(Read(ObjBodies.Around(4, [(0, 36), (4, 36), (4, 0), (6, 0), (6, 42), (0, 42)]), "[parting]\nat = 0\nrecess = \"sand\"\n[pattern]\ndraft = 0.5\ncontraction = \"none\"\n"));
        var deep = Assert.Single(kit.Findings, f => f.Code == "deep-hole");
        Assert.Contains("stands", deep.Message, StringComparison.Ordinal);
        Assert.Equal(36, deep.Value!.Value, 0.5);
        Assert.Equal(0, deep.At_mm!.Value.X, 1);
        Assert.Equal(2, Assert.Single(kit.Findings, f => f.Code == "thin-section").Value!.Value, 0.05);
    }

    private static Job Read(string obj, string rest) => JobFolder.Read(obj, Part + rest);

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
