using PatternKit.Exchange;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Kits whose joint is carved along the parting line of a mesh, against closed forms and against flat joints.</summary>
public sealed class CarvedKitTests
{
    private const string Part = "[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"carved\"\n", Plain = "[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\ncontraction = \"none\"\n";

    /// <summary>A round bar of radius 8 and length 80 that leans by 10°, its ends upright.</summary>
    private static string Leaning => ObjBodies.RoundBar(8, 80, 48, 1, x => x * Math.Tan(10 * KitCheck.Degree));

    [Fact]
    public void A_leaning_bar_parts_along_its_sides_in_two_halves_of_one_volume()
    {
        var kit = KitCheck.Build(Read(Leaning, Part + Plain));
        AssertSound(kit);
        var joint = kit.Parting.Carved!;
        // Along both sides, z = x tan 10°; a wall of the mesh is 8 sin (2° + 7.5°) high above and below, and the taut line is so much flatter.
        var wall = 8 * Math.Sin(9.5 * KitCheck.Degree);
        Assert.All(joint.Line.Single().Where(v => Math.Abs(v.Y) > 7.9), v => Assert.Equal(v.X * Math.Tan(10 * KitCheck.Degree), v.Z, wall));
        Assert.InRange(Math.Atan(joint.Slope) / KitCheck.Degree, 8, 10.1);
        Assert.Equal(0, kit.Parting.Height_mm, 0.1);
        Assert.InRange(joint.Off.Above_mm, (40 * Math.Tan(10 * KitCheck.Degree)) - wall - 0.3, 40 * Math.Tan(10 * KitCheck.Degree));
        // Turned by half a turn about y it is itself: both halves are alike.
        AssertRelative(kit.Cope().InMould.Volume(), kit.Drag().InMould.Volume(), 1e-3);
        // Beside what the mesh holds, draft adds a sliver along the sides and wedges at both ends: half a circle high at most, 8 tan 2° thick at the joint.
        Assert.InRange(kit.Bridge.Draft_mm3, 0, (2 * Math.PI * 64 * 8 * Math.Tan(2 * KitCheck.Degree)) + (2 * 80 * 0.15));
        Assert.InRange(kit.Bridge.Gap, -5e-4, 5e-4);
        Assert.InRange(kit.Bridge.Filled_mm3, 0, 2);
    }

    [Fact]
    public void A_flat_joint_fills_under_the_leaning_bar_what_a_carved_one_does_not()
    {
        var (flat, carved) = (KitCheck.Build(Read(Leaning, "[[part]]\nmesh = \"part.obj\"\n" + Plain)), KitCheck.Build(Read(Leaning, Part + Plain)));
        // What lies between the level through its middle and the bar, at either end: the integral of x tan 10° less √(64 − y²), where that is more than nothing.
        var (fill, t) = (0.0, Math.Tan(10 * KitCheck.Degree));
        for (var x = 0.05; x < 40; x += 0.1)
            for (var y = -7.99; y < 8; y += 0.02) fill += 2 * 0.1 * 0.02 * Math.Max(0, (x * t) - Math.Sqrt(64 - (y * y)));
        AssertRelative(fill, flat.Bridge.Filled_mm3, 0.03);
        Assert.InRange(carved.Bridge.Filled_mm3, 0, 2);
        // Seen from its own half nothing of the bar leans over, but what lies between the line and the middle of its sides, and one end by 10°.
        Assert.All(carved.Findings.Where(f => f.Code == "no-draft"), f => Assert.True(f.Value > -10.5, $"{f.Value}°"));
        Assert.Contains(flat.Findings, f => f.Code == "undercut");
        Assert.DoesNotContain(carved.Findings, f => f.Code == "undercut" && f.Severity != Severity.Note);
    }

    [Fact]
    public void The_joint_of_a_bent_bar_is_told_with_what_it_asks_for_and_nothing_is_sunk_into_it()
    {
        // An arc of radius 90 in the upright plane, 90 long.
        var kit = KitCheck.Build(Read(ObjBodies.RoundBar(7, 90, 32, 40, x => 90 - Math.Sqrt(8100 - (x * x))), Part + "[pattern]\ndraft = 2\nfillet = 0\n"));
        AssertSound(kit);
        var told = Assert.Single(kit.Findings, f => f.Code == "carved-joint");
        Assert.Equal(Severity.Note, told.Severity);
        Assert.Contains("follow board", told.Remedy, StringComparison.Ordinal);
        // The arc rises by 90 − √(90² − 45²) = 12.06 mm to either end; half of that is above the level at the flask and half below.
        Assert.Equal(6.03 * kit.Scale, told.Value!.Value, 0.8);
        Assert.Empty(kit.Dowels);
        Assert.Empty(kit.Handling.SelectMany(h => h.Screws));
        Assert.Empty(kit.Plan.Marks);
        Assert.Equal(0, kit.Bridge.Pockets_mm3);
        Assert.Contains(kit.Decisions, d => d.Key == "dowels" && d.Rule.Contains("the joint is level", StringComparison.Ordinal));
        Assert.Contains(kit.Decisions, d => d.Key == "draw_screws" && d.Rule.Contains("carved", StringComparison.Ordinal));
        Assert.Contains(kit.Findings, f => f.Code == "no-bars");
        Assert.DoesNotContain(kit.Findings, f => f.Code is "no-register" or "no-draw-screw" or "no-ingate-room");
        Assert.Empty(kit.Gating!.Bars);
        foreach (var body in kit.Bodies) Assert.Equal(0, body.AsPrinted.Bounds().Low.Z, 1e-6);
    }

    [Fact]
    public void A_block_on_a_stepped_base_parts_level_and_gives_the_kit_of_a_flat_joint()
    {
        // Sides from 0 to 12 on the left and from 8 to 20 on the right: any height from 8 to 12.
        var block = ObjBodies.Bar(20, (-30, 0), (0, 0), (10, 8), (30, 8), (30, 20), (5, 20), (-5, 12), (-30, 12));
        var carved = KitCheck.Build(Read(block, Part + "at = 9\n" + Plain));
        var flat = KitCheck.Build(Read(block, "[[part]]\nmesh = \"part.obj\"\n[parting]\nat = 9\n" + Plain));
        Assert.Null(carved.Parting.Carved);
        Assert.Equal(flat.Parting.Height_mm, carved.Parting.Height_mm);
        Assert.Equal(flat.Bodies.Select(b => b.AsPrinted.Facets.Length), carved.Bodies.Select(b => b.AsPrinted.Facets.Length));
        Assert.Equal(flat.Bridge, carved.Bridge);
        Assert.Equal(flat.Dowels.Length, carved.Dowels.Length);
        // Asked for elsewhere, it is level as near as the walls let it be.
        Assert.InRange(KitCheck.Build(Read(block, Part + "at = 2\n" + Plain)).Parting.Height_mm, 7.97, 8.03);
    }

    [Theory]
    [InlineData("joint = \"curved\"", "carved")]
    [InlineData("joint = 3", "joint")]
    public void An_unknown_joint_is_refused_with_those_there_are(string line, string told) =>
        Assert.Contains(told, Assert.Throws<InputException>(() => Read(Leaning, $"[[part]]\nmesh = \"part.obj\"\n[parting]\n{line}\n")).Message, StringComparison.Ordinal);

    [Fact]
    public void Outlines_refuse_the_key_by_name() =>
        Assert.Contains("joint", Assert.Throws<InputException>(() => JobFolder.Read(JobFolder.Head + JobFolder.Disc + "[parting]\njoint = \"carved\"\n")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_line_that_climbs_like_a_wall_is_refused_with_its_place()
    {
        // Blocks of 0 to 6 and of 14 to 20 that are joined by a web 1 thick.
        var step = ObjBodies.Bar(20, (-30, 0), (0.5, 0), (0.5, 14), (30, 14), (30, 20), (-0.5, 20), (-0.5, 6), (-30, 6));
        var thin = Assert.Throws<InputException>(() => KitCheck.Build(Read(step, Part + Plain)));
        Assert.Contains("climbs at", thin.Message, StringComparison.Ordinal);
        Assert.Contains("joint = \"flat\"", thin.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Contraction_scales_the_joint_with_the_part()
    {
        var (bare, grown) = (KitCheck.Build(Read(Leaning, Part + Plain)), KitCheck.Build(Read(Leaning, Part + Plain.Replace("\"none\"", "\"5 %\"", StringComparison.Ordinal))));
        Assert.Equal(1.05, grown.Scale, 1e-9);
        Assert.Equal(1.05 * bare.Parting.Carved!.Off.Above_mm, grown.Parting.Carved!.Off.Above_mm, 0.15);
        AssertRelative(Math.Pow(1.05, 3) * bare.Bridge.Pattern_mm3, grown.Bridge.Pattern_mm3, 2e-3);
    }

    /// <summary>Both halves are sound and drafted, and their joint faces are one.</summary>
    private static void AssertSound(Kit kit)
    {
        Assert.NotNull(kit.Parting.Carved);
        Assert.Equal(2, kit.Bodies.Length);
        Assert.DoesNotContain(kit.Findings, f => f.Severity == Severity.Stop || f.Code == "no-draft" && f.Severity == Severity.Warn);
        foreach (var body in kit.Bodies)
        {
            var report = MeshInspection.Inspect(body.AsPrinted);
            Assert.True(report.IsValid, report.ToString());
            Assert.True(body.LeastDraft >= (2 * KitCheck.Degree) - KitCheck.DraftSlack, $"{body.Name}: {body.LeastDraft / KitCheck.Degree}°");
            // Seen along its draw, what looks the other way is the joint face: each corner of it lies on the joint.
            var away = body.Half == MouldHalf.Cope ? -1 : 1;
            foreach (var v in body.InMould.Facets.Where(f => away * body.InMould.AreaNormal(f).Z > 0).SelectMany(f => new[] { f.A, f.B, f.C }).Select(i => body.InMould.Vertices[i]))
                Assert.Equal(kit.Parting.Carved!.Surface.At(v.Plan).Height, v.Z, 5e-4);
        }
    }

    private static Job Read(string obj, string rest) => JobFolder.Read(obj, rest);

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
