using PatternKit.Exchange;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Meshes;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Kits of parts that are meshes, against closed forms and against the kit of the same part drawn as an outline.</summary>
public sealed class MeshKitTests
{
    private const string Part = "[[part]]\nmesh = \"part.obj\"\n";

    [Fact]
    public void A_block_has_a_flat_back_and_the_volume_of_the_Steiner_formula()
    {
        var kit = KitCheck.Build(Read(ObjBodies.Block, Part).Bare(2));
        KitCheck.Sound(kit);
        Assert.Single(kit.Bodies);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "undercut");
        // Parallel bodies (Steiner), integrated over the height: A h + L h² t / 2 + π h³ t² / 3 (memory).
        var t = Math.Tan(2 * KitCheck.Degree);
        AssertRelative(6000 + (50 * 100 * t) + (Math.PI / 3 * 1000 * t * t), kit.Unpocketed_mm3(), 2e-4);
        Assert.InRange(kit.Bridge.Gap, -3e-4, 3e-4);
    }

    [Fact]
    public void A_mesh_comes_out_as_the_same_part_drawn_as_an_outline_with_dowels_gating_and_all()
    {
        const string rest = "[parting]\nat = 4\n[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\n";
        var mesh = KitCheck.Build(Read(ObjBodies.Block, Part + rest));
        var outline = KitCheck.Build(JobFolder.Read(JobFolder.Head + "[[part]]\nshape = { rectangle = [30, 20], at = [15, 10] }\nz = [0, 10]\n" + rest));
        KitCheck.Sound(mesh);
        Assert.Equal(outline.Bodies.Select(b => b.Name), mesh.Bodies.Select(b => b.Name));
        Assert.Equal(outline.Dowels.Length, mesh.Dowels.Length);
        Assert.Equal(outline.Gating!.Bars.Length, mesh.Gating!.Bars.Length);
        AssertRelative(outline.Unpocketed_mm3(), mesh.Unpocketed_mm3(), 2e-4);
        AssertRelative(outline.Metal.Casting_kg, mesh.Metal.Casting_kg, 2e-4);
        Assert.Equal(4, mesh.Parting.Height_mm, 1e-3);
        Assert.Equal(6, outline.Cope().InMould.Bounds().Size.Z / outline.Scale, 0.01);
        Assert.Equal(outline.Cope().InMould.Bounds().Size.Z, mesh.Cope().InMould.Bounds().Size.Z, 0.001);
        Assert.Equal(outline.Drag().InMould.Bounds().Low.Z, mesh.Drag().InMould.Bounds().Low.Z, 0.001);
    }

    [Theory]
    [InlineData("2", 2)]
    [InlineData("\"auto\"", 5)]
    public void Fillets_on_a_mesh_are_those_of_the_same_part_drawn_as_outlines(string fillet, double radius)
    {
        // A block on a plate; by rule a third of the block's 16 mm, taken down.
        var rest = $"[parting]\nat = 0\n[pattern]\ndraft = 2\nfillet = {fillet}\nrapping = 0\n";
        var mesh = KitCheck.Build(Read(ObjBodies.Stack((0, 6, 20), (6, 20, 8)), Part + rest));
        var outline = KitCheck.Build(JobFolder.Read(
            JobFolder.Head + "[[part]]\nshape = { rectangle = [40, 40] }\nz = [0, 6]\n[[part]]\nname = \"block\"\nshape = { rectangle = [16, 16] }\nz = [6, 20]\n" + rest));
        KitCheck.Sound(mesh);
        var decided = Assert.Single(mesh.Decisions, d => d.Key.StartsWith("fillet", StringComparison.Ordinal));
        Assert.Equal(radius, decided.Value);
        Assert.Equal(radius, Assert.Single(outline.Decisions, d => d.Key.StartsWith("fillet_cope", StringComparison.Ordinal)).Value);
        // Those of floors are closings by a ball too, on a way of their own.
        AssertRelative(outline.Bridge.Fillet_mm3, mesh.Bridge.Fillet_mm3, 0.01);
        AssertRelative(outline.Unpocketed_mm3(), mesh.Unpocketed_mm3(), 2e-4);

        Assert.InRange(mesh.Bridge.Gap, -3e-4, 3e-4);
        // Along the foot, less what the corners add: r² (cot(α/2) − (π − α)/2) for the angle α = 90° + 2° (memory).
        var alpha = 92 * KitCheck.Degree;
        var area = radius * radius * ((1 / Math.Tan(alpha / 2)) - ((Math.PI - alpha) / 2));
        Assert.InRange(mesh.Bridge.Fillet_mm3, 64 * area, 64 * area * 1.35);
    }

    [Fact]
    public void Named_faces_have_a_fillet_of_their_own()
    {
        const string faces = "faces = { left = { plane = [-8, 0, 8], facing = \"-x\" } }\n";
        const string rest = "[parting]\nat = 0\n[pattern]\ndraft = 2\nrapping = 0\n";
        var all = KitCheck.Build(Read(ObjBodies.Stack((0, 6, 20), (6, 20, 8)), Part + rest));
        var some = KitCheck.Build(Read(ObjBodies.Stack((0, 6, 20), (6, 20, 8)), Part + faces + rest + "fillet = { left = 0 }\n"));
        // One of four sides of 16 mm, of two others what lies within the radius of 5 mm of it, and where fillets run out half as much again: (64 − 16 − 10) / 64 is 0.59.
        Assert.InRange(some.Bridge.Fillet_mm3 / all.Bridge.Fillet_mm3, 0.48, 0.6);
    }

    [Fact]
    public void Edges_of_a_mesh_are_rounded_and_the_bridge_says_by_how_much()
    {
        const string rest = "[parting]\nat = 0\n[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\n";
        var kit = KitCheck.Build(Read(ObjBodies.Stack((0, 6, 20), (6, 20, 8)), Part + rest + "round = 2\n"));
        KitCheck.Sound(kit);
        Assert.InRange(kit.Bridge.Gap, -3e-4, 3e-4);
        Assert.Equal(2, Assert.Single(kit.Decisions, d => d.Key.StartsWith("round", StringComparison.Ordinal)).Value);
        // Along both tops r² (cot(β/2) − (π − β)/2) for β = 92°, and at corners in plan of walls 6 and 14 high r² (1 − π/4), a little less each where they meet and where draft has rounded them (memory).
        var beta = 92 * KitCheck.Degree;
        var (edge, corner) = (4 * ((1 / Math.Tan(beta / 2)) - ((Math.PI - beta) / 2)), 4 * (1 - (Math.PI / 4)));
        var all = ((160 + 64) * edge) + (4 * (6 + 14) * corner);
        Assert.InRange(-kit.Bridge.Round_mm3, 0.88 * all, all);
        Assert.Empty(kit.Findings.Where(f => f.Code == "round-capped"));
        Assert.DoesNotContain(kit.Findings, f => f.Code == "draft-change" && f.Value > 0.8);
    }

    [Fact]
    public void Edges_beside_named_faces_have_a_radius_of_their_own_and_narrow_ones_are_told()
    {
        const string rest = "[parting]\nat = 0\n[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\n";
        const string faces = "faces = { crown = { plane = [0, 0, 20], facing = \"+z\" } }\n";
        var some = KitCheck.Build(Read(ObjBodies.Stack((0, 6, 20), (6, 20, 8)), Part + faces + rest + "round = { crown = 2 }\n"));
        KitCheck.Sound(some);
        var edge = 4 * ((1 / Math.Tan(46 * KitCheck.Degree)) - ((Math.PI - (92 * KitCheck.Degree)) / 2));
        // The border of the top alone, and what of the corners is beside it.
        Assert.InRange(-some.Bridge.Round_mm3, 0.9 * 64 * edge, 1.5 * 64 * edge);
        var rib = KitCheck.Build(Read(ObjBodies.Bar(30, (0, 0), (40, 0), (40, 6), (21.45, 6), (21.45, 16), (18.55, 16), (18.55, 6), (0, 6)), Part + rest + "round = 3\n"));
        KitCheck.Sound(rib);
        var told = Assert.Single(rib.Findings, f => f.Code == "round-capped");
        // A rib 2.9 mm wide: R 1 takes 0.97 mm of it on either side and leaves a third; of R 1.5 the two arcs would meet.
        Assert.Equal(1, told.Value);
        Assert.Equal(16, told.At_mm!.Value.Z, 0.5);
    }

    [Fact]
    public void Sand_caught_under_a_cap_is_filled_and_told()
    {
        // A bobbin of square prisms: (20² − 8²) × 10 mm³ between its flanges are caught, wherever the joint is.
        var kit = KitCheck.Build(Read(ObjBodies.Stack((0, 5, 10), (5, 15, 4), (15, 20, 10)), Part).Bare(2, joint_mm: 10));
        KitCheck.Sound(kit);
        AssertRelative(3360, kit.Findings.Where(f => f.Code == "undercut").Sum(f => f.Value!.Value), 0.01);
        Assert.All(kit.Findings.Where(f => f.Code == "undercut"), f => Assert.NotEqual(Severity.Stop, f.Severity));
        AssertRelative(3360, kit.Bridge.Filled_mm3, 0.01);
        // Filled, it is a block 20 × 20 × 20 parted in the middle: both halves by Steiner's formula.
        var t = Math.Tan(2 * KitCheck.Degree);
        AssertRelative(2 * (4000 + (40 * 100 * t) + (Math.PI / 3 * 1000 * t * t)), kit.Unpocketed_mm3(), 2e-4);
    }

    [Fact]
    public void A_thin_rib_is_told_with_the_least_section_of_the_alloy()
    {
        // On a block, 25 high, 2 wide at its top and wider by 3° on either side.
        var foot = 1 + (25 * Math.Tan(3 * KitCheck.Degree));
        var kit = KitCheck.Build(Read(ObjBodies.Bar(30, (0, 0), (60, 0), (60, 12), (30 + foot, 12), (31, 37), (29, 37), (30 - foot, 12), (0, 12)), Part));
        var thin = Assert.Single(kit.Findings, f => f.Code == "thin-section");
        Assert.Equal(Severity.Warn, thin.Severity);
        // Read within a millimetre or two of its top.
        Assert.InRange(thin.Value!.Value, 2, 2 + (4 * Math.Tan(3 * KitCheck.Degree)));
        // AlSi7Mg in the alloy table.
        Assert.Equal(3, thin.Limit);
        Assert.InRange(thin.At_mm!.Value.Z, 34, 37);
        var mesh = kit.Job.Mesh!.Body;
        Assert.All(thin.Facets, f => Assert.InRange(mesh.Vertices[mesh.Facets[f].A].X, 27, 33));
    }

    [Fact]
    public void A_thin_floor_beside_a_hollow_that_the_pattern_fills_is_not_told()
    {
        // A channel on its side, walls 2 mm: the gap between them is caught whichever way, and filled.
        var outline = new[] { (0.0, 0.0), (40, 0), (40, 2), (10, 2), (10, 18), (40, 18), (40, 20), (0, 20) };
        var kit = KitCheck.Build(Read(ObjBodies.Bar(30, outline), Part + "[parting]\nat = 0\n"));
        Assert.Contains(kit.Findings, f => f.Code == "undercut");
        Assert.DoesNotContain(kit.Findings, f => f.Code == "thin-section");
    }

    [Fact]
    public void A_mesh_is_turned_moved_and_read_in_inches_as_the_job_says()
    {
        var job = Read(ObjBodies.Block, "[[part]]\nmesh = \"part.obj\"\nunit = \"in\"\nlie = \"+x\"\nat = [1, 2, 3]\n");
        var box = job.Mesh!.Body.Bounds();
        // 30 in along x point up now, from the file's origin, which lies at (1, 2, 3) mm.
        Assert.Equal(3, box.Low.Z, 1e-9);
        Assert.Equal(3 + (30 * 25.4), box.High.Z, 1e-9);
        Assert.Equal(6000 * Math.Pow(25.4, 3), job.Mesh.Body.Volume(), 1e-3);
        Assert.Empty(job.Features);
    }

    [Theory]
    [InlineData("draft = { outside = 2, inside = 3 }", "draft")]
    [InlineData("rapping = 0.2", "rapping")]
    [InlineData("camber = 1", "camber")]
    public void What_a_mesh_cannot_have_yet_is_refused_by_name(string line, string key)
    {
        var error = Assert.Throws<InputException>(() => Read(ObjBodies.Block, $"{Part}[pattern]\n{line}\n"));
        Assert.Contains($"\"{key}\"", error.Message, StringComparison.Ordinal);
        Assert.Contains("in this release", error.Message, StringComparison.Ordinal);
        Assert.Contains("line 8", error.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("taper = \"plus\"", 0)]
    [InlineData("taper = \"split\"", 0.5)]
    [InlineData("hold = \"middle\"", 0.5)]
    [InlineData("taper = \"minus\"", 1)]
    [InlineData("hold = \"parting\"", 1)]
    public void Sizes_hold_where_the_job_says_and_the_largest_change_is_told(string line, double inset)
    {
        var job = Read(ObjBodies.Block, $"{Part}[parting]\nat = 4\n[pattern]\n{line}\ndraft = 2\ncontraction = \"none\"\nrapping = 0\nfillet = 0\ndowels = \"none\"\ndraw_screws = \"none\"\n"
            + "[[measure]]\nname = \"joint\"\nnominal = 30\nfrom = [0, 10, 4.001]\nto = [30, 10, 4.001]\n[[measure]]\nname = \"top\"\nnominal = 30\nfrom = [0, 10, 9.999]\nto = [30, 10, 9.999]\n");
        var kit = KitCheck.Build(job);
        KitCheck.Sound(kit);
        var t = Math.Tan(2 * KitCheck.Degree);
        Assert.Equal(30 + (2 * 6 * t * (1 - inset)), kit.Measures[0].Pattern_mm!.Value, 0.002);
        Assert.Equal(30 - (2 * 6 * t * inset), kit.Measures[1].Pattern_mm!.Value, 0.002);
        AssertRelative(Half(6, t, inset) + Half(4, t, inset), kit.Unpocketed_mm3(), 1e-4);
        Assert.InRange(kit.Bridge.Gap, -3e-4, 3e-4);
        var told = Assert.Single(kit.Findings, f => f.Code == "draft-change");
        // Plane faces lie where arithmetic says within 0.001 mm.
        Assert.Equal(6 * t * Math.Max(inset, 1 - inset), Math.Abs(told.Value!.Value), 1e-3);
        if (inset == 1) Assert.Equal(10, told.At_mm!.Value.Z, 1e-6);
        if (inset == 0) Assert.Equal(4, told.At_mm!.Value.Z, 1e-6);

        // A frustum with the sections (30 − 2 t z)(20 − 2 t z) for minus, else parallel bodies of the top (Steiner; memory), over the height.
        static double Half(double h, double t, double inset)
        {
            if (inset == 1) return (600 * h) - (50 * t * h * h) + (4.0 / 3 * t * t * h * h * h);
            var (a, b) = (30 - (2 * inset * h * t), 20 - (2 * inset * h * t));
            return (a * b * h) + ((a + b) * h * h * t) + (Math.PI / 3 * h * h * h * t * t);
        }
    }

    [Theory]
    [InlineData("minus")]
    [InlineData("split")]
    public void Tapered_otherwise_a_stepped_block_with_a_pocket_comes_out_as_drawn_by_outlines(string taper)
    {
        // 40 × 40 × 12 with a square well from above, and a collar of 24 on it, 20 high in all.
        var rest = $"[parting]\nat = 0\n[pattern]\ndraft = 2\ntaper = \"{taper}\"\nfillet = 0\nrapping = 0\n";
        var mesh = KitCheck.Build(Read(ObjBodies.Around(4, [(0, 0), (20, 0), (20, 12), (12, 12), (12, 20), (7, 20), (7, 5), (0, 5)]), Part + rest));
        var outline = KitCheck.Build(JobFolder.Read(JobFolder.Head + "[[part]]\nshape = { rectangle = [40, 40] }\nz = [0, 12]\n[[part]]\nshape = { rectangle = [24, 24] }\nz = [0, 20]\n[[part]]\nshape = { rectangle = [14, 14] }\nz = [5, 20]\ncut = \"drawn\"\n" + rest));
        KitCheck.Sound(mesh);
        AssertRelative(outline.Unpocketed_mm3(), mesh.Unpocketed_mm3(), 2e-4);
        AssertRelative(outline.Metal.Casting_kg, mesh.Metal.Casting_kg, 2e-4);
        Assert.Equal(outline.Bodies.Select(b => b.Name), mesh.Bodies.Select(b => b.Name));
    }

    [Fact]
    public void A_rib_narrower_than_the_taper_takes_off_is_told_with_how_much_lower_it_comes_out()
    {
        // 1.2 wide and 30 high on a plate: taper leaves 0.6 / tan 2° of it.
        var body = ObjBodies.Bar(40, (0, 0), (50, 0), (50, 8), (25.6, 8), (25.6, 38), (24.4, 38), (24.4, 8), (0, 8));
        var kit = KitCheck.Build(Read(body, Part).Bare(2, joint_mm: 0, holds: SizeHolds.Parting));
        KitCheck.Sound(kit);
        var lost = Assert.Single(kit.Findings, f => f.Code == "narrow-top");
        Assert.Equal(30 - (0.6 / Math.Tan(2 * KitCheck.Degree)), lost.Value!.Value, 0.05);
        Assert.Equal(38, lost.At_mm!.Value.Z, 1e-6);
        Assert.DoesNotContain(KitCheck.Build(Read(body, Part).Bare(2, joint_mm: 0)).Findings, f => f.Code == "narrow-top");
    }

    [Theory]
    [InlineData("carved", "taper = \"minus\"")]
    [InlineData("carved", "taper = \"split\"")]
    [InlineData("carved", "hold = \"parting\"")]
    public void On_a_carved_joint_sizes_hold_at_the_tip_and_what_to_do_is_told(string joint, string line)
    {
        var error = Assert.Throws<InputException>(() => Read(ObjBodies.Block, $"{Part}[parting]\njoint = \"{joint}\"\n[pattern]\n{line}\n"));
        Assert.Contains("give the walls their taper", error.Message, StringComparison.Ordinal);
        Assert.Contains("line 10", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Walls_drawn_with_the_draft_stay_as_they_are()
    {
        // A frustum that is 30 × 20 at the joint: heights of similar sections, by the prismoid's formula.
        var run = 10 * Math.Tan(2 * KitCheck.Degree);
        var tapered = string.Join('\n', ObjBodies.Block.Split('\n').Select(l => l.EndsWith(" 10", StringComparison.Ordinal) && l[0] == 'v'
            ? FormattableString.Invariant($"v {(l.StartsWith("v 30", StringComparison.Ordinal) ? 30 - run : run)} {(l.Contains(" 20 ", StringComparison.Ordinal) ? 20 - run : run)} 10") : l));
        var (top, middle) = ((30 - (2 * run)) * (20 - (2 * run)), (30 - run) * (20 - run));
        foreach (var holds in new[] { SizeHolds.Tip, SizeHolds.Middle, SizeHolds.Parting })
        {
            var kit = KitCheck.Build(Read(tapered, Part).Bare(2, joint_mm: 0, holds: holds));
            AssertRelative(10.0 / 6 * (600 + (4 * middle) + top), kit.Unpocketed_mm3(), 1e-4);
            Assert.DoesNotContain(kit.Findings, f => f.Code == "draft-change");
        }
    }

    [Theory]
    [InlineData(Part + "[parting]\nrecess = \"sand\"\njoint = \"carved\"\n", "recess")]
    [InlineData(Part + "[parting]\nmatch = true\n", "match")]
    [InlineData(Part + JobFolder.Disc, "stands alone")]
    [InlineData(Part + "z = [0, 3]\n", "\"z\"")]
    [InlineData(Part + "text = \"A\"\n", "\"text\"")]
    [InlineData(Part + "lie = [0, 0, 0]\n", "no direction")]
    [InlineData("[[part]]\nmesh = \"part.dxf\"\n", "no mesh")]
    [InlineData("[[part]]\nmesh = \"other.stl\"\n", "there is no file")]
    [InlineData(Part + "[parting]\nat = 40\n", "outside the part")]
    public void What_is_wrong_about_a_mesh_is_told(string rest, string told) =>
        Assert.Contains(told, Assert.Throws<InputException>(() => KitCheck.Build(Read(ObjBodies.Block, rest))).Message, StringComparison.Ordinal);

    [Fact]
    public void A_mesh_with_a_hole_that_cannot_be_filled_is_refused() =>
        Assert.Contains("bounds no body", Assert.Throws<InputException>(() => Read(string.Join('\n', ObjBodies.Block.Split('\n')[..^4]), Part)).Message, StringComparison.Ordinal);

    private static Job Read(string obj, string rest) => JobFolder.Read(obj, rest);

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
