using PatternKit.Exchange;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Kits whose joint stands at the levels that the job gives, against closed forms of a bracket in the shape of a Z and against flat joints.</summary>
public sealed class SteppedKitTests
{
    private const string Plain = "[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\ncontraction = \"none\"\n";

    /// <summary>The offset bracket of the pump's rod: flanges 5 thick, the lower from −45 to 6 and the upper from 0 to 45, 25 apart in height, a web 6 thick; 20 wide. It holds 12 000 mm³.</summary>
    private static string Bracket => ObjBodies.Bar(20, (-45, 0), (6, 0), (6, 25), (45, 25), (45, 30), (0, 30), (0, 5), (-45, 5));

    private const double Bracket_mm3 = 20 * ((51 * 5) + (6 * 20) + (45 * 5));

    [Fact]
    public void A_bracket_that_any_flat_joint_fills_under_needs_no_filling_on_two_levels()
    {
        // Flat at z, 5 ≤ z ≤ 25, fills 45 × 20 × (z − 5) above the lower flange and 39 × 20 × (25 − z) below the upper one: least, 15 600 mm³, at 5.
        foreach (var (z, fill) in new[] { (5.0, 15_600), (15, (45 * 20 * 10) + (39 * 20 * 10)), (25, 18_000) })
            AssertRelative(fill, KitCheck.Build(Read(FormattableString.Invariant($"at = {z}\n"))).Bridge.Filled_mm3, 0.01);
        var kit = KitCheck.Build(Read(Levels(2.5, 27.5)));
        AssertSound(kit, 2.5, 27.5, 10);
        Assert.Equal(0, kit.Bridge.Filled_mm3, 1e-6);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "undercut");
        Assert.Equal(Bracket_mm3, kit.Bridge.Part_mm3, 1e-6);
        Assert.InRange(kit.Bridge.Gap, -5e-4, 5e-4);
        // All metal beside the bracket is draft: more than nothing, and less than a wall's full run of 30 tan 2° everywhere.
        Assert.InRange(kit.Bridge.Draft_mm3, 100, 30 * Math.Tan(2 * KitCheck.Degree) * 2 * ((90 * 30) + (20 * 30)));
    }

    [Fact]
    public void Flush_with_the_flanges_the_lower_half_is_the_wedge_of_the_web_alone()
    {
        var kit = KitCheck.Build(Read(Levels(0, 25)));
        AssertSound(kit, 0, 25, 10);
        var box = kit.Drag().InMould.Bounds();
        // From the foot of the step, 25 tan 10° before its head at 5.5, to the end of the web's own draft.
        Assert.Equal(5.5 - (25 * Math.Tan(10 * KitCheck.Degree)), box.Low.X, 0.01);
        Assert.Equal(6 + (25 * Math.Tan(2 * KitCheck.Degree)), box.High.X, 0.01);
        Assert.Equal((0, 25), (Math.Round(box.Low.Z, 3), Math.Round(box.High.Z, 3)));
        // No ledge is seen where the lower half has no metal to have a wall: at the foot of the wedge the upper one stands out by the run of its 30.
        Assert.InRange(kit.Parting.Ledge_mm, 0.9, 30 * Math.Tan(2 * KitCheck.Degree));
    }

    [Fact]
    public void A_joint_too_high_over_a_flange_fills_up_to_it()
    {
        // At 10 over the lower flange, 5 mm of sand hang over all of its top, less what the step has there already: none.
        var kit = KitCheck.Build(Read(Levels(10, 25)));
        AssertSound(kit, 10, 25, 10);
        AssertRelative(45 * 20 * 5, kit.Bridge.Filled_mm3, 0.01);
        // What it lies on is the top of the lower flange, which is shown.
        var told = Assert.Single(kit.Findings, f => f.Code == "undercut");
        var mesh = kit.Job.Mesh!.Body;
        Assert.Contains(told.Facets, f => mesh.AreaNormal(mesh.Facets[f]) is { X: 0, Y: 0, Z: > 0 } && mesh.Vertices[mesh.Facets[f].A].Z == 5);
        Assert.DoesNotContain(told.Facets, f => mesh.AreaNormal(mesh.Facets[f]).Z < 0);
    }

    [Fact]
    public void Levels_steps_and_what_they_ask_for_are_told()
    {
        var kit = KitCheck.Build(Read(Levels(2.5, 27.5)));
        var told = Assert.Single(kit.Findings, f => f.Code == "stepped-joint");
        Assert.Equal(Severity.Note, told.Severity);
        Assert.Contains("z 2.5, 27.5 mm", told.Message, StringComparison.Ordinal);
        Assert.Contains("follow board", told.Remedy, StringComparison.Ordinal);
        Assert.Equal(25, told.Value!.Value, 0.01);
        Assert.DoesNotContain(kit.Findings, f => f.Code is "steep-joint" or "carved-joint" or "no-register");
        Assert.Contains(KitCheck.Build(Read(Levels(2.5, 27.5, "step_draft = 3\n"))).Findings, f => f.Code == "steep-joint" && f.Value is > 2.99 and < 3.01);
        var decided = Assert.Single(kit.Decisions, d => d.Key == "step_draft_deg");
        Assert.Equal(10, decided.Value, 1e-9);
        Assert.Contains("common practice", decided.Source, StringComparison.Ordinal);
        Assert.Contains("stepped as the job asks", kit.Parting.Reason, StringComparison.Ordinal);
        Assert.Equal([2.5, 27.5], kit.Parting.Carved!.Steps!.Levels_mm);
    }

    [Fact]
    public void The_parting_line_runs_along_the_shadow_at_the_levels_and_straight_down_the_steps()
    {
        var line = Assert.Single(KitCheck.Build(Read(Levels(2.5, 27.5))).Parting.Carved!.Line);
        var foot = 5.5 - (25 * Math.Tan(10 * KitCheck.Degree));
        // Four corners of the plan, and head and foot of the step on both long sides.
        foreach (var y in new[] { 0, 20 })
            foreach (var (x, z) in new[] { (-45, 2.5), (foot, 2.5), (5.5, 27.5), (45, 27.5) })
                Assert.Contains(line, v => (v - new Vec3(x, y, z)).Length < 0.01);
        // What else there is are corners by rounding, on the same lines.
        Assert.All(line, v => Assert.Equal(v.X <= foot ? 2.5 : v.X >= 5.5 ? 27.5 : 2.5 + ((v.X - foot) / Math.Tan(10 * KitCheck.Degree)), v.Z, 0.05));
    }

    [Fact]
    public void Inside_corners_of_both_halves_get_their_fillet_on_a_joint_at_levels()
    {
        var kit = KitCheck.Build(Read(Levels(2.5, 27.5), Plain.Replace("fillet = 0", "fillet = 3", StringComparison.Ordinal)));
        AssertSound(kit, 2.5, 27.5, 10);
        // The web stands on the lower flange in the cope and hangs from the upper one in the drag, 20 mm wide at the top and wider by the draft: r² (cot(α/2) − (π − α)/2) for α = 92° (memory).
        var alpha = 92 * KitCheck.Degree;
        var area = 9 * ((1 / Math.Tan(alpha / 2)) - ((Math.PI - alpha) / 2));
        Assert.InRange(kit.Bridge.Fillet_mm3, 2 * 20 * area * 0.98, 2 * (20 + (2 * 25 * Math.Tan(2 * KitCheck.Degree))) * area * 1.02);
        Assert.InRange(kit.Bridge.Gap, -5e-4, 5e-4);
        Assert.Equal(2, kit.Decisions.Count(d => d.Key.StartsWith("fillet", StringComparison.Ordinal) && d.Value == 3));
    }

    [Fact]
    public void Edges_of_both_halves_are_rounded_and_the_joint_stays_as_it_was()
    {
        var (sharp, kit) = (KitCheck.Build(Read(Levels(2.5, 27.5))), KitCheck.Build(Read(Levels(2.5, 27.5), Plain + "round = 1.5\n")));
        AssertSound(kit, 2.5, 27.5, 10);
        Assert.InRange(kit.Bridge.Gap, -5e-4, 5e-4);
        // Of the cope the top's border on three sides, of its 45 mm the web's edge and the flange's; of the drag as much: some 2 (2 · 39 + 20 + 20 + 2 · 2.5 …) mm, each losing r² (1 − π/4) and a little.
        var area = 1.5 * 1.5 * (1 - (Math.PI / 4));
        Assert.InRange(-kit.Bridge.Round_mm3, 2 * 150 * area, 2 * 330 * area);
        Assert.Equal(sharp.Parting.Carved!.Line[0].Length, kit.Parting.Carved!.Line[0].Length);
        Assert.Equal(sharp.Cope().InMould.Bounds().High.Z, kit.Cope().InMould.Bounds().High.Z, 1e-3);
    }

    [Fact]
    public void Contraction_scales_levels_and_regions_with_the_part()
    {
        var (bare, grown) = (KitCheck.Build(Read(Levels(0, 25))), KitCheck.Build(Read(Levels(0, 25), Plain.Replace("\"none\"", "\"5 %\"", StringComparison.Ordinal))));
        AssertSound(grown, 0, 26.25, 10);
        AssertRelative(1.05, grown.Drag().InMould.Bounds().High.X / bare.Drag().InMould.Bounds().High.X, 1e-3);
        AssertRelative(Math.Pow(1.05, 3), grown.Bridge.Pattern_mm3 / bare.Bridge.Pattern_mm3, 2e-3);
        Assert.Equal([0, 25], grown.Parting.Carved!.Steps!.Levels_mm);
    }

    [Fact]
    public void Three_levels_of_which_one_is_sunken_part_a_crank_with_two_bends()
    {
        // Arms at 0, at 20 and at −15, 6 thick, joined by webs of 8: pulled along y by 24.
        var crank = ObjBodies.Bar(24, (-60, 0), (-16, 0), (-16, 20), (12, 20), (12, -15), (60, -15), (60, -9), (20, -9), (20, 26), (-24, 26), (-24, 6), (-60, 6));
        // The lower arm's region begins so much before the end of its web that the joint is down before the arm: 35 tan 8° = 4.92.
        var job = JobFolder.Read(crank, "[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"stepped\"\nat = 3\nstep_draft = \"8 deg\"\n"
            + "[[parting.levels]]\nshape = { polygon = [[-18, -20], [14, -20], [14, 44], [-18, 44]] }\nz = 23\n[[parting.levels]]\nshape = { rectangle = [70, 64], at = [49, 12] }\nz = -12\n" + Plain);
        Assert.Equal(8 * KitCheck.Degree, job.Parting.StepDraft!.Value, 1e-12);
        var kit = KitCheck.Build(job);
        AssertSound(kit, -12, 23, 8);
        Assert.Equal(0, kit.Bridge.Filled_mm3, 1e-6);
        Assert.Equal([-12, 3, 23], kit.Parting.Carved!.Steps!.Levels_mm);
    }

    [Fact]
    public void Two_dowels_stand_on_level_places_of_the_joint_as_deep_as_told_and_no_nearer_to_a_step()
    {
        // Flanges 24 thick and 40 wide, parted in their middles, 12 below and above; a web of 12 between.
        var thick = ObjBodies.Bar(40, (-60, 0), (12, 0), (12, 40), (60, 40), (60, 64), (0, 64), (0, 24), (-60, 24));
        var rest = "[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"stepped\"\nat = 12\nlevels = [{ shape = { rectangle = [70, 80], at = [45.5, 20] }, z = 52 }]\n" + Plain;
        var kit = KitCheck.Build(JobFolder.Read(thick, rest));
        AssertSound(kit, 12, 52, 10, pockets: true);
        Assert.Equal(2, kit.Dowels.Length);
        Assert.NotEqual(kit.Dowels[0].Diameter_mm, kit.Dowels[1].Diameter_mm);
        var foot = 10.5 - (40 * Math.Tan(10 * KitCheck.Degree));
        Assert.Equal([12, 52], kit.Dowels.Select(d => kit.Parting.Carved!.Surface.At(d.At_mm).Height).Order());
        foreach (var d in kit.Dowels)
        {
            var (reach, joint) = (d.Hole_mm / 2, kit.Parting.Carved!.Surface.At(d.At_mm).Height);
            Assert.True(d.At_mm.X + reach < foot || d.At_mm.X - reach > 10.5, $"{d}");
            Assert.InRange(d.Depth_mm, 1, 11);
            // The hole is open at the joint and as deep as told in either half: beside its middle there is a ceiling, and nothing before it.
            Assert.Equal((joint + d.Depth_mm, joint - d.Depth_mm), (Math.Round(First(kit.Cope(), d.At_mm, 1), 3), Math.Round(First(kit.Drag(), d.At_mm, -1), 3)));
        }

        // A polygon of the hole's circle, by its chords at most a hundredth less.
        AssertRelative(-2 * kit.Dowels.Sum(d => Math.PI * d.Hole_mm * d.Hole_mm / 4 * d.Depth_mm), kit.Bridge.Pockets_mm3, 0.01);
        Assert.InRange(kit.Bridge.Gap, -5e-4, 5e-4);
        Assert.Empty(KitCheck.Build(JobFolder.Read(thick, rest + "dowels = \"none\"\n")).Dowels);

        static double First(KitBody body, Vec2 p, int up)
        {
            var mesh = body.InMould;
            p += new Vec2(0.013, 0.007);
            return up * mesh.Facets.Select(f => (A: mesh.Vertices[f.A], B: mesh.Vertices[f.B], C: mesh.Vertices[f.C])).Where(t => Vec2.Cross(t.B.Plan - t.A.Plan, p - t.A.Plan) is var u
                && Vec2.Cross(t.C.Plan - t.B.Plan, p - t.B.Plan) is var v && Vec2.Cross(t.A.Plan - t.C.Plan, p - t.C.Plan) is var w && ((u > 0 && v > 0 && w > 0) || (u < 0 && v < 0 && w < 0))).Min(t => up * (t.A.Z + t.B.Z + t.C.Z) / 3);
        }
    }

    [Theory]
    [InlineData("joint = \"stepped\"\nat = 0\n", "levels")]
    [InlineData("joint = \"stepped\"\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25 }]\n", "needs at")]
    [InlineData("joint = \"stepped\"\nat = \"auto\"\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25 }]\n", "needs at")]
    [InlineData("at = 0\nlevels = [{ shape = { circle = 40 }, z = 25 }]\n", "goes with joint = \"stepped\"")]
    [InlineData("joint = \"carved\"\nstep_draft = 10\n", "goes with joint = \"stepped\"")]
    [InlineData("joint = \"stepped\"\nat = 0\nlevels = 25\n", "no list of regions")]
    [InlineData("joint = \"stepped\"\nat = 0\nlevels = [{ z = 25 }]\n", "neither shape nor outline")]
    [InlineData("joint = \"stepped\"\nat = 0\nlevels = [{ shape = { circle = 40, at = [25, 10] } }]\n", "no z")]
    [InlineData("joint = \"stepped\"\nat = 25\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25 }]\n", "no step")]
    [InlineData("joint = \"stepped\"\nat = 0\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25 }, { shape = { circle = 10, at = [40, 10] }, z = 12 }]\n", "region 2 of levels overlaps region 1 near (40")]
    [InlineData("joint = \"stepped\"\nat = 0\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25, height = 3 }]\n", "unknown key \"height\"")]
    [InlineData("joint = \"stepped\"\nat = 0\nrecess = \"sand\"\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25 }]\n", "recess")]
    [InlineData("joint = \"stepped\"\nat = 0\nstep_draft = 61\nlevels = [{ shape = { circle = 40, at = [25, 10] }, z = 25 }]\n", "step_draft")]
    public void What_cannot_be_read_is_refused_with_its_line(string parting, string told)
    {
        var message = Assert.Throws<InputException>(() => Read(parting)).Message;
        Assert.Contains(told, message, StringComparison.Ordinal);
        Assert.Matches("line [0-9]+", message);
    }

    [Theory]
    [InlineData("{ shape = { circle = 20, at = [25, 60] }, z = 25 }", "", "region 1 lies beside the part")]
    [InlineData("{ shape = { circle = 20, at = [25, 10] }, z = 25 }, { shape = { rectangle = [500, 10], at = [220, 30] }, z = 20 }", "", "region 2 reaches to (470, ")]
    [InlineData("{ shape = { circle = 20, at = [25, 10] }, z = 31 }", "", "outside the part, which reaches from 0 to 30 mm")]
    [InlineData("{ shape = { circle = 20, at = [25, 10] }, z = 25 }", "step_draft = 2.2\n", "Write 2.5 or more")]
    [InlineData("{ shape = { rectangle = [7, 60], at = [-20, 10] }, z = 0 }", "", "region 1 is too narrow for its steps", 25)]
    public void What_does_not_suit_the_part_is_refused_with_its_region(string levels, string more, string told, double at = 0)
    {
        var job = Read(FormattableString.Invariant($"joint = \"stepped\"\nat = {at}\n{more}levels = [{levels}]\n"));
        Assert.Contains(told, Assert.Throws<InputException>(() => KitCheck.Build(job)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_narrow_region_is_taken_once_its_steps_leave_room()
    {
        // Twice 25 tan 10° is 8.8: of 10 mm, 1.2 are left at the bottom.
        var kit = KitCheck.Build(Read("joint = \"stepped\"\nat = 25\nlevels = [{ shape = { rectangle = [10, 60], at = [-20, 10] }, z = 0 }]\n"));
        Assert.Equal(0, kit.Parting.Carved!.Surface.At(new(-20, 10)).Height);
        Assert.Equal(25, kit.Parting.Carved!.Surface.At(new(-26, 10)).Height);
    }

    [Fact]
    public void Regions_may_be_drawn()
    {
        using var folder = new JobFolder();
        folder.Put("part.obj", Bracket);
        File.Copy(JobFolder.Repository("templates", "lever-bracket", "bracket.dxf"), Path.Combine(folder.Folder, "levels.dxf"));
        var message = Assert.Throws<InputException>(() => JobReader.Read(folder.Put("job.toml", JobFolder.Head + "[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"stepped\"\nat = 0\nlevels = [{ outline = \"levels.dxf#HIGH\", z = 25 }]\n"))).Message;
        Assert.Contains("has no layer \"HIGH\"", message, StringComparison.Ordinal);
        var read = JobReader.Read(folder.Put("job.toml", JobFolder.Head + "[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"stepped\"\nat = 0\nlevels = [{ outline = \"levels.dxf#BASE\", z = 25 }]\n"));
        Assert.NotEmpty(Assert.Single(read.Parting.Levels).Loops);
        Assert.Contains(read.Inputs, i => i.Name == "levels.dxf");
    }

    [Fact]
    public void Outlines_and_parts_that_are_their_own_pattern_refuse_it()
    {
        Assert.Contains("joint", Assert.Throws<InputException>(() => JobFolder.Read(JobFolder.Head + JobFolder.Disc + "[parting]\nlevels = []\n")).Message, StringComparison.Ordinal);
        Assert.Contains("flat joint", Assert.Throws<InputException>(() => JobFolder.Read(Bracket, "original = true\n[[part]]\nmesh = \"part.obj\"\n[parting]\n" + Levels(0, 25))).Message, StringComparison.Ordinal);
    }

    /// <summary>[parting] with a level on the left, and another from 5.5 on to the right.</summary>
    private static string Levels(double left, double right, string more = "") => FormattableString.Invariant(
        $"joint = \"stepped\"\nat = {left}\n{more}levels = [{{ shape = {{ rectangle = [50, 60], at = [30.5, 10] }}, z = {right} }}]\n");

    private static Job Read(string parting, string pattern = Plain) => JobFolder.Read(Bracket, "[[part]]\nmesh = \"part.obj\"\n[parting]\n" + parting + pattern);

    /// <summary>Both halves are sound and drafted, their joint faces are one, and its levels and steps are those asked for.</summary>
    private static void AssertSound(Kit kit, double low, double high, double step_deg, bool pockets = false)
    {
        var joint = kit.Parting.Carved!;
        Assert.Equal((low, high), (Math.Round(joint.Surface.Range.Low, 3), Math.Round(joint.Surface.Range.High, 3)));
        Assert.Equal(90 - step_deg, Math.Atan(joint.Surface.Steepest().Slope) / KitCheck.Degree, 0.05);
        Assert.Equal(2, kit.Bodies.Length);
        Assert.DoesNotContain(kit.Findings, f => f.Severity == Severity.Stop || (f.Code == "no-draft" && f.Severity == Severity.Warn));
        foreach (var body in kit.Bodies)
        {
            var report = MeshInspection.Inspect(body.AsPrinted);
            Assert.True(report.IsValid, report.ToString());
            Assert.True(body.LeastDraft >= (2 * KitCheck.Degree) - KitCheck.DraftSlack, $"{body.Name}: {body.LeastDraft / KitCheck.Degree}°");
            Assert.Equal(0, body.AsPrinted.Bounds().Low.Z, 1e-6);
            if (pockets) continue;
            var away = body.Half == MouldHalf.Cope ? -1 : 1;
            foreach (var v in body.InMould.Facets.Where(f => away * body.InMould.AreaNormal(f).Z > 0).SelectMany(f => new[] { f.A, f.B, f.C }).Select(i => body.InMould.Vertices[i]))
                Assert.Equal(joint.Surface.At(v.Plan).Height, v.Z, 1e-3);
        }
    }

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
