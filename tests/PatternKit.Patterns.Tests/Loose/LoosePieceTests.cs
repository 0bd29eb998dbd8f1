using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Loose;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Loose;

/// <summary>Loose pieces of a kit: closed forms, distances between the meshes as written, and both draws followed in small steps by winding numbers, which know nothing of how the bodies were made.</summary>
public sealed class LoosePieceTests
{
    private const double Degree = Math.PI / 180;

    private static readonly LooseTable Table = FoundryTables.Default.Loose;

    /// <summary>A guide: a foot with a block on it, the joint under the foot.</summary>
    private static Job Guide(params LoosePart[] loose) => (Of(Block(-50, -35, 50, 35, 0, 12, name: "foot"), Block(-30, -20, 30, 20, 0, 60)).Bare(2, joint_mm: 0) with { Loose = [.. loose] }).Undowelled();

    private static LoosePart Boss(double facing_deg = 90, double z = 36, double far = 12, LooseHold? held = null, string name = "oil boss", double diameter = 24) =>
        new(name, [PlanPath.Circle(default, diameter)], new(Math.Cos(facing_deg * Degree), Math.Sin(facing_deg * Degree)), At(facing_deg, z), far, "job.toml, line 20") { Held = held };

    private static Vec3 At(double facing_deg, double z) => facing_deg switch { 90 => new(0, 20, z), -90 => new(0, -20, z), 0 => new(30, 0, z), _ => new(-30, 0, z) };

    [Theory]
    [InlineData(LooseHold.Dovetail)]
    [InlineData(LooseHold.Pin)]
    public void A_round_boss_is_a_frustum_on_its_wall(LooseHold held)
    {
        var kit = KitCheck.Build(Guide(Boss(held: held)));
        var piece = Assert.Single(kit.Loose);
        // At z = 36 a wall of 60 mm that leans by 2° and holds its size at the tip stands 24 tan 2° out; square to it, at the middle of its outer face, the boss is cos 2° of that high.
        var height = (12 - (24 * Math.Tan(2 * Degree))) * Math.Cos(2 * Degree);
        Assert.Equal(height / Math.Cos(2 * Degree), piece.Out_mm, 1e-4);
        var (top, foot) = (12, 12 + (height * Math.Tan(2 * Degree)));
        // Its outer face leans against its back by 2°, which cancels but for the square of the tangent: a thousandth.
        var frustum = Math.PI * height / 3 * ((top * top) + (top * foot) + (foot * foot));
        Assert.Equal(1, piece.Metal.AsPrinted.Volume() / frustum, 1.5e-3);
        // Exactly: over every place of its plan the highest of what each place of the sloped face carries down at the draft.
        Assert.Equal(1, piece.Metal.AsPrinted.Volume() / (Drafted_mm3(height, Math.Tan(2 * Degree)) * PolygonArea(24) / (Math.PI * 144)), 2e-4);
        Assert.Equal(2, piece.Body.LeastDraft / Degree, 0.01);
    }

    /// <summary>Volume of the envelope of a disc of 24 mm whose height is h + g y, under a cone of 2°, by rings of half a degree and heights in small steps.</summary>
    private static double Drafted_mm3(double h, double g)
    {
        var (tan, r, n, steps) = (Math.Tan(2 * Degree), 12.0, 720, 400);
        double sum = 0;
        for (var i = 0; i < n; i++)
        {
            var way = 2 * Math.PI * (i + 0.5) / n;
            var (s, c) = Math.SinCos(way);
            // Inside the disc the face itself; the odd part cancels over opposite ways.
            sum += ((h * r * r / 2) + (g * s * r * r * r / 3)) * 2 * Math.PI / n;
            // Outside: from the rim on, what the best place of the rim carries.
            const double widest = 1.0;
            for (var k = 0; k < steps; k++)
            {
                var q = r + (widest * (k + 0.5) / steps);
                var best = 0.0;
                for (var turn = -12; turn <= 12; turn++)
                {
                    var t = way + (turn * 0.01);
                    var (sin, cos) = Math.SinCos(t);
                    best = Math.Max(best, h + (g * r * sin) - (Math.Sqrt(Math.Pow((q * c) - (r * cos), 2) + Math.Pow((q * s) - (r * sin), 2)) / tan));
                }

                sum += best * q * widest / steps * 2 * Math.PI / n;
            }
        }

        return sum;
    }

    [Theory]
    [InlineData(LooseHold.Dovetail, 90)]
    [InlineData(LooseHold.Dovetail, 0)]
    [InlineData(LooseHold.Pin, -90)]
    public void Pattern_and_piece_and_the_gap_between_them_are_the_pattern_with_the_boss(LooseHold held, double facing)
    {
        var (with, without) = (KitCheck.Build(Guide(Boss(facing, held: held))), KitCheck.Build(Guide()));
        var piece = Assert.Single(with.Loose);
        KitCheck.Closed(with);
        Assert.True(with.Cope().LeastDraft >= (2 * Degree) - KitCheck.DraftSlack);
        KitCheck.Valid(piece.Body.AsPrinted, "the piece");
        // The seat may move the mark on the joint face.
        var (marks, moved) = (-without.Bridge.Pockets_mm3, -with.Bridge.Pockets_mm3 - piece.Gap_mm3);
        var whole = without.Cope().AsPrinted.Volume() + marks + piece.Metal.AsPrinted.Volume();
        Assert.Equal(whole, with.Cope().AsPrinted.Volume() + moved + piece.Body.AsPrinted.Volume() + piece.Gap_mm3, 0.05);
        Assert.Equal(piece.Metal.AsPrinted.Volume(), with.Bridge.Loose_mm3, 1e-6);
        Assert.Equal(1e-9 * FoundryTables.Default.Alloy(with.Job.Alloy).Density_kg_m3.Value * piece.Metal.AsPrinted.Volume(), with.Metal.Casting_kg - without.Metal.Casting_kg, 1e-6);
        if (piece.Tail is not { } tail) return;
        // The gap is about the hidden faces of the tongue times the clearance: back, floor and both flanks.
        var hidden = Hidden(piece).Sum(f => piece.Body.AsPrinted.AreaNormal(f).Length / 2);
        Assert.InRange(piece.Gap_mm3 / (hidden * tail.Clearance_mm), 1.0, 1.06);
    }

    [Theory]
    [InlineData(90)]
    [InlineData(0)]
    [InlineData(180)]
    public void Between_tongue_and_slot_is_the_clearance_everywhere(double facing)
    {
        var kit = KitCheck.Build(Guide(Boss(facing)));
        var piece = Assert.Single(kit.Loose);
        Assert.NotNull(piece.Tail);
        var slot = kit.Cope().InMould;
        var places = Hidden(piece).SelectMany(f => Inside(piece.Body.InMould, f)).ToArray();
        Assert.True(places.Length > 50);
        var asked = Table.Clearance_mm.Value;
        Assert.All(places, p => Assert.InRange(Distance(slot, p), asked, asked + 0.002));
        // Its front is flush with the wall: the back of the boss and the front of the tongue lie in one plane with it.
        var depth = piece.TongueDepth_mm!.Value;
        var back = piece.Body.AsPrinted.Vertices.Select((v, i) => (v, i)).Where(v => Math.Abs(v.v.Z - depth) < 1e-6).Select(v => piece.Body.InMould.Vertices[v.i]).ToArray();
        Assert.True(back.Length > 20);
        Assert.All(back, p => Assert.Equal(0, OffWall(p, facing), 1e-4));
    }

    [Theory]
    [InlineData(LooseHold.Dovetail, false)]
    [InlineData(LooseHold.Pin, false)]
    [InlineData(LooseHold.Dovetail, true)]
    public void The_pattern_leaves_the_piece_in_the_sand(LooseHold held, bool inDrag)
    {
        var kit = KitCheck.Build(inDrag ? Hung(held) : Guide(Boss(held: held)));
        var piece = Assert.Single(kit.Loose);
        var (half, away) = (kit.Bodies.Single(b => b.Half == piece.Half), inDrag ? -1.0 : 1.0);
        var inside = new WindingNumber(half.InMould);
        var skin = Within(piece.Body.InMould).ToArray();
        int Met(double by) => skin.Count(p => inside.At(p + new Vec3(0, 0, away * by)) > 0.5);
        // The pattern goes off towards the joint: to it, the piece goes the other way.
        Assert.All(Enumerable.Range(0, 80), i => Assert.Equal(0, Met((0.1 * i) + (0.01 * i * i))));
        // It would not go the wrong way, nor sideways past the tongue.
        Assert.True(Met(-2) > 0);
        if (held == LooseHold.Dovetail) Assert.Contains(skin, p => inside.At(p + (2 * new Vec3(piece.Facing.X, piece.Facing.Y, 0))) > 0.5);
    }

    [Theory]
    [InlineData(LooseHold.Dovetail, false)]
    [InlineData(LooseHold.Pin, false)]
    [InlineData(LooseHold.Dovetail, true)]
    public void The_piece_is_drawn_sideways_and_lifted_without_meeting_sand(LooseHold held, bool inDrag)
    {
        var job = inDrag ? Hung(held) : Guide(Boss(held: held));
        var kit = KitCheck.Build(job);
        var (piece, away) = (Assert.Single(kit.Loose), inDrag ? -1.0 : 1.0);
        // What both leave in the sand: the half without a seat, and what stands out of it.
        var (half, boss) = (new WindingNumber(KitCheck.Build(job with { Loose = [] }).Bodies.Single(b => b.Half == piece.Half).InMould), new WindingNumber(piece.Metal.InMould));
        var joint = kit.Parting.PatternHeight_mm;
        var draw = -1 * new Vec3(piece.Body.ToPrinted[2][0], piece.Body.ToPrinted[2][1], piece.Body.ToPrinted[2][2]);
        var skin = Within(piece.Body.InMould, 0.05).ToArray();
        int Met(Vec3 by) => skin.Count(p => Sand(p + by));
        // Marks sunk into the joint face are closed before the sand comes.
        bool Sand(Vec3 p) => away * (p.Z - joint) > 2 && half.At(p) < 0.5 && boss.At(p) < 0.5;
        var level = draw.Plan.Length;
        for (var t = 0.0; t <= piece.Travel_mm; t += 0.5) Assert.Equal(0, Met(t / level * draw));
        var end = piece.Travel_mm / level * draw;
        for (var t = 0.0; t <= 60; t += 1.5) Assert.Equal(0, Met(end - new Vec3(0, 0, away * t)));
        // Lifted too early it would tear the sand over its path.
        Assert.True(Met((0.5 * end) - new Vec3(0, 0, away * 5)) > 0);
        // Its outer face is as far clear as the table asks for.
        Assert.Equal(Math.Round(piece.Travel_mm, 6), Math.Round(Farthest(piece) + Table.Clear_mm.Value, 6), 1e-3);
        Assert.Empty(kit.Findings.Where(f => f.Code is "loose-blocked" or "loose-hold" or "open-mesh" or "no-draft"));
        Assert.Single(kit.Findings, f => f.Code == "loose-piece" && f.Severity == Severity.Note && f.Value == piece.Travel_mm);
    }

    /// <summary>How far the piece hangs over where its wall is farthest in: level, at its highest place.</summary>
    private static double Farthest(KitLoosePiece piece)
    {
        var skin = piece.Metal.InMould.Vertices;
        var away = piece.Half == MouldHalf.Cope ? 1 : -1;
        var highest = skin.Max(p => away * p.Z);
        var face = skin.Max(p => Vec2.Dot(p.Plan, piece.Facing));
        // The wall of the guide, or of what hangs below, at that height: 20 mm at its tip, 60 mm from the joint.
        return face - (20 + ((60 - highest) * Math.Tan(2 * Degree)));
    }

    [Fact]
    public void A_piece_in_the_drag_stands_as_it_is_seen_from_outside()
    {
        // A wedge that is wider below: as seen from outside, y up.
        var job = Hung(LooseHold.Pin, PlanPath.Polygon(new Vec2(-10, -5), new(10, -5), new(6, 5), new(-2, 5)));
        var piece = Assert.Single(KitCheck.Build(job).Loose);
        Assert.Equal(MouldHalf.Drag, piece.Half);
        var outer = piece.Metal.InMould.Vertices.Where(v => v.Y > 31.9).ToArray();
        var (low, high) = (outer.Where(v => v.Z < -36).ToArray(), outer.Where(v => v.Z > -36).ToArray());
        Assert.Equal(-41, low.Min(v => v.Z), 0.01);
        Assert.Equal(-31, high.Max(v => v.Z), 0.01);
        // Who looks at the face from +y has +x on the left.
        Assert.Equal((-10, 10), (Math.Round(low.Min(v => -v.X), 2), Math.Round(low.Max(v => -v.X), 2)));
        Assert.Equal((-2, 6), (Math.Round(high.Min(v => -v.X), 2), Math.Round(high.Max(v => -v.X), 2)));
        Assert.All(piece.Body.InMould.Vertices.Zip(piece.Body.AsPrinted.Vertices), v => Assert.True((piece.Body.Printed(v.First) - v.Second).Length < 1e-6));
        Assert.Equal(piece.Body.InMould.Volume(), piece.Body.AsPrinted.Volume(), 1e-3);
    }

    [Fact]
    public void A_narrow_part_blocks_it_and_says_by_how_much()
    {
        // 12 mm of wall and 12 mm of boss: the cavity is 12 + 2 · 24 tan 2° wide at the middle of the boss, less above.
        var narrow = (Of(Block(-50, -35, 50, 35, 0, 12, name: "foot"), Block(-30, 8, 30, 20, 0, 60)).Bare(2, joint_mm: 0) with { Loose = [Boss(held: LooseHold.Pin)] }).Undowelled();
        var finding = Assert.Single(KitCheck.Build(narrow).Findings, f => f.Code == "loose-blocked");
        Assert.Equal(Severity.Stop, finding.Severity);
        // Where the boss reaches highest, 24 mm by and its draft, the cavity is narrowest for it: 12 mm + 2 (60 − z) tan 2° at that z, over 48 mm.
        Assert.InRange(finding.Value!.Value, 12 + (2 * 11 * Math.Tan(2 * Degree)), 12 + (2 * 13 * Math.Tan(2 * Degree)));
        Assert.InRange(finding.Limit!.Value, 13.1, 14.1);
        Assert.True(finding.Limit > finding.Value);
        // A little wider it draws, and nothing is said.
        var wide = narrow with { Features = [narrow.Features[0], Block(-30, 4, 30, 20, 0, 60)] };
        Assert.Empty(KitCheck.Build(wide).Findings.Where(f => f.Code == "loose-blocked"));
    }

    [Fact]
    public void Two_pieces_that_stand_in_each_others_way_are_told_and_a_pin_clears_them()
    {
        Job Facing(double width, LooseHold second) => (Of(Block(-50, -35, 50, 35, 0, 12, name: "foot"), Block(-30, 20 - width, 30, 20, 0, 60)).Bare(2, joint_mm: 0) with
        {
            Loose = [Boss(far: 8), Boss(-90, far: 8, held: second, name: "other") with { At_mm = new(0, 20 - width, 36) }],
        }).Undowelled();
        // Each goes 10 mm and has a tongue of 6 mm: both together want 10 + 6 and the other's 6.
        Assert.Equal(2, KitCheck.Build(Facing(19, LooseHold.Dovetail)).Findings.Count(f => f.Code == "loose-blocked" || f.Code == "loose-piece"));
        Assert.Contains(KitCheck.Build(Facing(19, LooseHold.Dovetail)).Findings, f => f.Code == "loose-blocked" && f.Message.Contains("stands in its way", StringComparison.Ordinal));
        var clear = KitCheck.Build(Facing(24, LooseHold.Pin));
        Assert.Empty(clear.Findings.Where(f => f.Code == "loose-blocked"));
        Assert.Equal([1, 2], clear.Loose.Select(l => l.Order));
    }

    [Fact]
    public void A_piece_too_small_to_hold_is_told_with_what_the_smallest_takes()
    {
        var kit = KitCheck.Build(Guide(Boss(diameter: 4)));
        Assert.Equal((null, null), (kit.Loose[0].Tail, kit.Loose[0].Pins));
        var finding = Assert.Single(kit.Findings, f => f.Code == "loose-hold");
        // 2 mm of pin in a hole of 2.3 mm with 1.5 mm of land on both sides.
        Assert.Equal(2 + 0.3 + (2 * 1.5), finding.Limit!.Value, 1e-9);
        Assert.InRange(finding.Value!.Value, 4.5, 5.0);
        Assert.Empty(KitCheck.Build(Guide(Boss())).Findings.Where(f => f.Code == "loose-hold"));
    }

    [Theory]
    [InlineData(24, true)]
    [InlineData(40, false)]
    public void Sand_between_the_piece_and_the_foot_has_to_carry(double z, bool isThin)
    {
        var findings = KitCheck.Build(Guide(Boss(z: z, diameter: 14))).Findings.Where(f => f.Code == "sand-tongue" && f.Message.Contains("loose piece", StringComparison.Ordinal)).ToArray();
        Assert.Equal(isThin ? 1 : 0, findings.Length);
        if (!isThin) return;
        // From the top of the foot, 12 mm, to the outer face of the boss, which starts 7 mm below its middle.
        var out_mm = 12 - (36 * Math.Tan(2 * Degree));
        // Half way back it is lower by a hair, as its draw goes.
        Assert.InRange(findings[0].Value!.Value, out_mm / 5, (out_mm + (8 * Math.Tan(2 * Degree))) / (5 - (out_mm / 2 * Math.Tan(2 * Degree))));
        Assert.Equal(FoundryTables.Default.Sand("oil-bonded").StandingLimit.Value, findings[0].Limit);
    }

    [Fact]
    public void Walls_that_cannot_carry_a_piece_are_refused_by_name()
    {
        Refused("no wall", Boss() with { At_mm = new(0, 26, 36) });
        Refused("faces 90°", Boss() with { Facing = new(Math.Cos(1.4), Math.Sin(1.4)) });
        Refused("draws with the main pattern", Boss(z: 8), Of(Block(-30, -20, 30, 20, 0, 60)));
        Refused("not worth a loose piece", Boss(far: 1.5));
        Refused("not plane", Boss(z: 52));
        Refused("not plane", Boss() with { At_mm = new(25, 20, 36) });
        Refused("runs into the pattern", Boss(far: 12), Of(Block(-50, -35, 50, 45, 0, 12, name: "foot"), Block(-30, -20, 30, 20, 0, 60), Block(-30, 30, 30, 40, 0, 60, name: "other wall")));
        Refused("curved", Boss() with { At_mm = new(0, 25, 36) }, Of(Round(0, 0, 50, 0, 60)));

        static void Refused(string why, LoosePart part, Job? job = null)
        {
            var error = Assert.Throws<InputException>(() => KitCheck.Build((job is null ? Guide(part) : job.Bare(2, joint_mm: 0) with { Loose = [part] }).Undowelled()));
            Assert.Contains("job.toml, line 20", error.Message, StringComparison.Ordinal);
            Assert.Contains("oil boss", error.Message, StringComparison.Ordinal);
            Assert.Contains(why, error.Message, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Two_pieces_in_one_place_are_refused() =>
        Assert.Contains("stands where", Assert.Throws<InputException>(() => KitCheck.Build(Guide(Boss(), Boss(z: 44, name: "other")))).Message, StringComparison.Ordinal);

    [Fact]
    public void Every_casting_of_a_mould_gets_its_own()
    {
        var job = Guide(Boss(0)) with { Impressions = new(2, [], "job.toml, line 2") };
        var kit = KitCheck.Build(job);
        Assert.Equal(["oil boss 1", "oil boss 2"], kit.Loose.Select(l => l.Part.Name));
        Assert.Equal(2, kit.Loose.Select(l => l.Body.FileName).Distinct().Count());
        Assert.Empty(kit.Findings.Where(f => f.Code is "impressions-near" or "loose-blocked"));
        Assert.Equal(kit.Loose[0].Body.AsPrinted.Volume(), kit.Loose[1].Body.AsPrinted.Volume(), 0.05);
    }

    [Fact]
    public void Its_metal_counts_in_the_mould()
    {
        var job = Guide(Boss(0, far: 20)) with { Gating = null };
        var (with, without) = (KitCheck.Build(job), KitCheck.Build(job with { Loose = [] }));
        var (piece, grid) = (Assert.Single(with.Loose), with.Stage!.Cavity().Grid);
        var cells = grid.SolidCount * Math.Pow(grid.Cell_mm, 3);
        var before = without.Stage!.Cavity().Grid;
        Assert.Equal(1, (cells - (before.SolidCount * Math.Pow(before.Cell_mm, 3))) / piece.Metal.AsPrinted.Volume(), 0.15);
        // The boss stands 20 mm out of a block of 60 mm, which is 20 mm shorter than the foot on that side: the flask is as it was. Of the cope it lifts as much as its roof has head.
        Assert.True(with.Pouring!.Lift!.Casting_mm3 > without.Pouring!.Lift!.Casting_mm3);
        Assert.True(with.Metal.Pour_kg > without.Metal.Pour_kg);
    }

    /// <summary>The guide upside down, its block in the drag.</summary>
    private static Job Hung(LooseHold held, PlanPath? outline = null) => (Of(Block(-50, -35, 50, 35, -12, 0, name: "foot"), Block(-30, -20, 30, 20, -60, 0)).Bare(2, joint_mm: 0) with
    {
        Loose = [Boss(z: -36, held: held) with { Loops = [outline ?? PlanPath.Circle(default, 24)] }],
    }).Undowelled();

    /// <summary>Facets of the tongue that lie in the pattern: not its front, nor its end at the tip.</summary>
    private static IEnumerable<Facet> Hidden(KitLoosePiece piece)
    {
        var (mesh, mould, depth) = (piece.Body.AsPrinted, piece.Body.InMould, piece.TongueDepth_mm!.Value);
        var tip = mould.Vertices.Max(v => Math.Abs(v.Z));
        return mesh.Facets.Where(f => new[] { f.A, f.B, f.C } is var c && c.All(v => mesh.Vertices[v].Z <= depth + 1e-6) && !c.All(v => Math.Abs(mesh.Vertices[v].Z - depth) < 1e-6) && !c.All(v => Math.Abs(Math.Abs(mould.Vertices[v].Z) - tip) < 1e-4));
    }

    /// <summary>Places well inside a facet.</summary>
    private static IEnumerable<Vec3> Inside(TriangleMesh mesh, Facet f)
    {
        var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
        for (var i = 1; i < 12; i++)
            for (var j = 1; i + j < 12; j++)
            {
                var p = a + (i / 12.0 * (b - a)) + (j / 12.0 * (c - a));
                // Next to an edge the nearest of the slot may be beyond the end of its face.
                if (new[] { (a, b), (b, c), (c, a) }.All(e => Vec3.Cross(p - e.Item1, e.Item2 - e.Item1).Length / (e.Item2 - e.Item1).Length > 0.4)) yield return p;
            }
    }

    /// <summary>Places just inside a body: under the middles of its facets and under places of their sides.</summary>
    private static IEnumerable<Vec3> Within(TriangleMesh mesh, double under = 0.02)
    {
        foreach (var f in mesh.Facets)
        {
            var n = mesh.AreaNormal(f);
            if (n.Length < 0.05) continue;
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            foreach (var (u, v) in new[] { (0.05, 0.05), (0.9, 0.05) }) yield return a + (u * (b - a)) + (v * (c - a)) - (under / n.Length * n);
        }
    }

    private static double OffWall(Vec3 p, double facing)
    {
        var way = new Vec2(Math.Cos(facing * Degree), Math.Sin(facing * Degree));
        return (Vec2.Dot(p.Plan, way) - (facing is 90 ? 20 : 30) - ((60 - p.Z) * Math.Tan(2 * Degree))) * Math.Cos(2 * Degree);
    }

    private static double Distance(TriangleMesh mesh, Vec3 p) => mesh.Facets.Min(f => (TrianglePoint(p, mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]) - p).Length);

    /// <summary>The nearest point of a triangle: in it, or on the nearest of its sides.</summary>
    private static Vec3 TrianglePoint(Vec3 p, Vec3 a, Vec3 b, Vec3 c)
    {
        var n = Vec3.Cross(b - a, c - a);
        var foot = p - (Vec3.Dot(p - a, n) / Vec3.Dot(n, n) * n);
        bool Left(Vec3 u, Vec3 v) => Vec3.Dot(Vec3.Cross(v - u, foot - u), n) >= 0;
        if (Left(a, b) && Left(b, c) && Left(c, a)) return foot;
        return new[] { On(a, b), On(b, c), On(c, a) }.MinBy(q => (q - p).Length);

        Vec3 On(Vec3 u, Vec3 v) => u + (Math.Clamp(Vec3.Dot(p - u, v - u) / Vec3.Dot(v - u, v - u), 0, 1) * (v - u));
    }
}

internal static class LooseJobs
{
    /// <summary>Without marks and inserts that a seat would move.</summary>
    internal static Job Undowelled(this Job job) => job with { Pattern = job.Pattern with { DrawScrews = false, Dowels = false } };
}
