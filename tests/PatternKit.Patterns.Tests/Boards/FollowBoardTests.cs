using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Boards;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Cores;
using PatternKit.Patterns.Tests.JobFile;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Meshes;
using PatternKit.Patterns.Tests.Pieces;

namespace PatternKit.Patterns.Tests.Boards;

/// <summary>Follow boards, against the pattern that lies in them: distances between meshes, and volumes of what both leave of a block.</summary>
public sealed class FollowBoardTests
{
    private const string Plain = "[pattern]\ndraft = 2\nfillet = 0\nrapping = 0\ncontraction = \"none\"\n";

    /// <summary>Of plates.toml: clearance of the nest and least thickness (common practice), sand round a small pattern (handbook table, memory).</summary>
    private const double Clearance = 0.3, Floor = 4, Margin = 30;

    /// <summary>The offset bracket of the pump's rod, flanges at two heights, on a stepped joint; or a round bar that leans by 10°, on a carved one.</summary>
    private static Job Read(bool stepped, string board) => stepped
        ? JobFolder.Read(
            ObjBodies.Bar(20, (-45, 0), (6, 0), (6, 25), (45, 25), (45, 30), (0, 30), (0, 5), (-45, 5)),
            $"[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"stepped\"\nat = 2.5\nlevels = [{{ shape = {{ rectangle = [50, 60], at = [30.5, 10] }}, z = 27.5 }}]\n{board}{Plain}")
        : JobFolder.Read(ObjBodies.RoundBar(8, 80, 48, 1, x => x * Math.Tan(10 * KitCheck.Degree)), $"[[part]]\nmesh = \"part.obj\"\n[parting]\njoint = \"carved\"\n{board}{Plain}");

    [Theory]
    [InlineData(true, "drag")]
    [InlineData(true, "cope")]
    [InlineData(false, "drag")]
    [InlineData(false, "cope")]
    public void A_half_lies_in_its_nest_with_the_clearance_all_round_and_the_rest_of_the_face_is_the_joint(bool stepped, string nested)
    {
        var kit = KitCheck.Build(Read(stepped, $"follow_board = \"{nested}\"\n"));
        var board = kit.FollowBoard!;
        Assert.Equal(("follow-board.stl", Clearance), (Assert.Single(board.Printed).FileName, board.Clearance_mm.Value));
        KitCheck.Valid(board.Body.AsPrinted, "board");
        Assert.DoesNotContain(kit.Findings, f => f.Severity == Severity.Stop || (f.Code == "no-draft" && f.Severity == Severity.Warn));
        Assert.True(board.Body.LeastDraft >= (2 * KitCheck.Degree) - KitCheck.DraftSlack, $"{board.Body.LeastDraft / KitCheck.Degree}°");
        var half = nested == "drag" ? kit.Drag() : kit.Cope();
        var (into, ground) = (nested == "drag" ? 1 : -1, kit.Parting.Carved!.Surface);
        var mesh = board.Body.InMould;

        // The skin that lies in the nest: no nearer than the clearance, and in its middle not much farther; sizes hold to the tolerance of both meshes.
        var face = mesh.Facets.Where(f => into * mesh.AreaNormal(f).Z > 0).Select(f => (A: mesh.Vertices[f.A], B: mesh.Vertices[f.B], C: mesh.Vertices[f.C])).ToArray();
        var inside = new WindingNumber(mesh);
        var (near, all) = (double.PositiveInfinity, 0);
        foreach (var p in CoreCheck.Samples(half.InMould).Where(p => into * (ground.At(p.Plan).Height - p.Z) > 0.5))
        {
            all++;
            Assert.InRange(inside.Exact(p), -1e-3, 1e-3);
            var distance = face.Min(t => CoreCheck.Distance(p, t.A, t.B, t.C));
            near = Math.Min(near, distance);
            Assert.InRange(distance, Clearance - 0.045, (1.5 * Clearance) + 0.045);
        }

        Assert.True(all > 20 && near < Clearance + 0.05, $"{all} samples, {near} mm at the nearest");

        // Beside the pattern the face is the joint; the back is level, at the least thickness under the deepest place.
        var footprint = kit.Cope().Shadow().Union(kit.Drag().Shadow()).Offset(1, 0.1);
        Assert.All(mesh.Vertices.Where(v => !footprint.Contains(v.Plan) && Math.Abs(v.Z - Back(board)) > 1e-6), v => Assert.Equal(ground.At(v.Plan).Height, v.Z, 1e-3));
        Assert.Equal(Floor, board.Body.AsPrinted.Vertices.Where((v, i) => Math.Abs(mesh.Vertices[i].Z - Back(board)) > 1e-6).Min(v => v.Z), 0.02);
        Assert.Equal(0, board.Body.AsPrinted.Bounds().Low.Z);
        // Whole millimetres, and sand round the pattern as on a plate.
        Assert.All(new[] { board.Low_mm.X, board.Low_mm.Y, board.High_mm.X, board.High_mm.Y }, v => Assert.Equal(Math.Round(v), v));
        var box = half.InMould.Bounds();
        Assert.True(box.Low.X - board.Low_mm.X >= Margin && board.High_mm.X - box.High.X >= Margin && box.Low.Y - board.Low_mm.Y >= Margin && board.High_mm.Y - box.High.Y >= Margin);

        // Board and nested half fill the block up to the joint but for the clearance: its shell, no thinner than 0.3 mm over the skin and no thicker than 1.5 times that.
        var skin = half.InMould.Facets.Where(f => into * half.InMould.AreaNormal(f).Z < 0).Sum(f => half.InMould.AreaNormal(f).Length / 2);
        var under = ground.Facets.Sum(t => Vec2.Cross(t.B.Plan - t.A.Plan, t.C.Plan - t.A.Plan) / 2 * (((t.A.Z + t.B.Z + t.C.Z) / 3) - ground.Level));
        var block = (board.Size_mm.X * board.Size_mm.Y * Math.Abs(ground.Level - Back(board))) + (into * under);
        Assert.InRange(block - board.Body.AsPrinted.Volume() - half.InMould.Volume(), 0.9 * Clearance * skin, 1.5 * Clearance * skin);

        // The rows lead from the mould to the print.
        for (var v = 0; v < mesh.Vertices.Length; v += 7) Assert.True((board.Body.Printed(mesh.Vertices[v]) - board.Body.AsPrinted.Vertices[v]).Length < 1e-6);
    }

    [Theory]
    [InlineData("drag")]
    [InlineData("cope")]
    public void Fillets_of_the_half_in_the_nest_have_their_clearance_too(string nested)
    {
        var job = Read(true, $"follow_board = \"{nested}\"\n");
        job = job with { Pattern = job.Pattern with { Fillet = new(3, ImmutableDictionary<string, double>.Empty) } };
        var kit = KitCheck.Build(job);
        var board = kit.FollowBoard!;
        KitCheck.Valid(board.Body.AsPrinted, "board");
        var half = nested == "drag" ? kit.Drag() : kit.Cope();
        Assert.True(kit.Bridge.Fillet_mm3 > 50);
        var (into, ground, mesh) = (nested == "drag" ? 1 : -1, kit.Parting.Carved!.Surface, board.Body.InMould);
        var face = mesh.Facets.Where(f => into * mesh.AreaNormal(f).Z > 0).Select(f => (A: mesh.Vertices[f.A], B: mesh.Vertices[f.B], C: mesh.Vertices[f.C])).ToArray();
        var inside = new WindingNumber(mesh);
        foreach (var p in CoreCheck.Samples(half.InMould).Concat(half.InMould.Vertices).Where(p => into * (ground.At(p.Plan).Height - p.Z) > 0.5))
        {
            Assert.InRange(inside.Exact(p), -1e-3, 1e-3);
            Assert.True(face.Min(t => CoreCheck.Distance(p, t.A, t.B, t.C)) >= Clearance - 0.045, $"{p}");
        }
    }

    [Fact]
    public void A_board_that_the_bed_does_not_take_is_printed_in_pieces()
    {
        var job = Read(true, "follow_board = \"drag\"\n");
        var kit = KitBuilder.Build(job, CutCheck.Bed(100, 100));
        var board = kit.FollowBoard!;
        Assert.True(board.Printed.Count() >= 2);
        Assert.All(board.Printed, p =>
        {
            KitCheck.Valid(p.AsPrinted, p.Name);
            Assert.InRange(Math.Max(p.AsPrinted.Bounds().Size.X, p.AsPrinted.Bounds().Size.Y), 10, 100);
        });
        // What is missing is the gap of 0.2 mm along the seams, at most as high as the board and with dovetails at most twice as long.
        var whole = board.Body.AsPrinted.Volume();
        Assert.InRange(whole - board.Printed.Sum(p => p.AsPrinted.Volume()), 0.2 * 83 * Floor, 2 * 0.2 * (160 + 90) * board.Body.AsPrinted.Bounds().Size.Z);
        Assert.Contains(board.Cut!, kit.Cut);
        Assert.DoesNotContain(kit.Findings, f => f.Severity == Severity.Stop);
    }

    [Fact]
    public void None_is_made_unasked()
    {
        Assert.Null(KitCheck.Build(Read(false, "")).FollowBoard);
        Assert.Null(Read(true, "follow_board = \"none\"\n").Parting.FollowBoard);
    }

    [Theory]
    [InlineData("[parting]\nfollow_board = \"drag\"\n", "flat one is rammed on a flat board")]
    [InlineData("[parting]\njoint = \"carved\"\nfollow_board = true\n", "follow_board")]
    public void A_flat_joint_or_another_word_is_refused_with_its_line(string parting, string told)
    {
        var message = Assert.Throws<InputException>(() => JobFolder.Read(ObjBodies.RoundBar(8, 80, 12, 1, x => 0), "[[part]]\nmesh = \"part.obj\"\n" + parting)).Message;
        Assert.Contains(told, message, StringComparison.Ordinal);
        Assert.Matches("line [0-9]+", message);
    }

    private static double Back(KitFollowBoard board) =>
        board.Nested == MouldHalf.Drag ? board.Body.InMould.Bounds().Low.Z : board.Body.InMould.Bounds().High.Z;
}

/// <summary>What a body covers of the plan.</summary>
file static class Shadows
{
    public static PlanRegion Shadow(this KitBody body) => PlanRegion.Union(
        body.InMould.Facets.Where(f => body.InMould.AreaNormal(f).Z > 0)
            .Select(f => PlanRegion.Polygon([body.InMould.Vertices[f.A].Plan, body.InMould.Vertices[f.B].Plan, body.InMould.Vertices[f.C].Plan])));
}
