using CsCheck;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Moulding;

/// <summary>Where halves are taken hold of, and what the pockets take away from them.</summary>
public sealed class DrawScrewTests
{
    private static readonly HandlingTable Table = FoundryTables.Default.Handling;

    // Plates of any size with things on and in them, so that every rule of the table meets some.
    private static readonly Gen<Job> AnyPlate = Gen.Select(
        Gen.Double[25, 330], Gen.Double[0.15, 1], Gen.Double[3, 30], Gen.Int[0, 3], Gen.Double[-0.4, 0.4], Gen.Double[5, 60], Gen.Int[0, 1], Gen.Int[0, 2]).Select(
        (length, ratio, height, more, place, size, below, turned) =>
        {
            var (x, y) = (length / 2, length * ratio / 2);
            List<Feature> features = [turned == 0 ? Jobs.Block(-y, -x, y, x, -below * height, height) : Jobs.Block(-x, -y, x, y, -below * height, height)];
            if ((more & 1) != 0) features.Add(Jobs.Round(length * place, 0, Math.Min(size, y * 1.5), -100, 100, CutKind.Drawn));
            if ((more & 2) != 0) features.Add(Jobs.Round(-length * place, 0, size, 0, height + 20));
            return Jobs.Of([.. features]) with { Pattern = new(2 * KitCheck.Degree, 2 * KitCheck.Degree, Contraction: 0.013, Rapping_mm: 0.1), Gating = new(Wanted: false) };
        });

    [Fact]
    public void Any_plate_is_held_with_land_and_wall_or_says_why_not() => AnyPlate.Sample(
        job => KitCheck.Sound(KitCheck.Build(job)), iter: 30, threads: 1,
        print: job => string.Join("; ", job.Features.Select(f => $"{f.Cut} {f.Low_mm:R}..{f.High_mm:R} {string.Join(' ', f.Loops.SelectMany(l => l.Vertices).Select(v => v.Point))}")));

    [Fact]
    public void A_short_half_hangs_on_one_screw_under_the_centre_of_its_volume()
    {
        // A plate 80 × 50 × 12 with a block 20 × 50 × 12 on its right end: areas of the section along x are 960 at 0, 240 at 30, and of the
        // wedges of draft, h² tan 2°/2, 10.06 at 40.3, 2.51 at −40.1 and 2.51 at 19.9: 7554/1215 = 6.2. The grid has cells of 1.3 mm.
        var kit = Made(Jobs.Block(-40, -25, 40, 25, 0, 12), Jobs.Block(20, -25, 40, 25, 12, 24));
        var held = kit.Handling(MouldHalf.Cope);
        var screw = Assert.Single(held.Screws);
        Assert.Equal(6.2, screw.At_mm.X, 0.33);
        Assert.Equal(0, screw.At_mm.Y, 0.05);
        Assert.Equal(("M4", 5.6, 9), (screw.Thread, screw.Hole_mm, screw.Depth_mm));
        Assert.Empty(held.Seats);
    }

    [Fact]
    public void A_long_half_hangs_on_two_at_its_quarter_points()
    {
        var held = Made(Jobs.Block(-100, -20, 100, 20, 0, 20)).Handling(MouldHalf.Cope);
        Assert.Equal(2, held.Screws.Count());
        // Half the drafted length of 200 + 2 · 20 tan 2° apart.
        var apart = 0.5 * (200 + (40 * Math.Tan(2 * KitCheck.Degree)));
        Assert.Equal([-apart / 2, apart / 2], held.Screws.Select(s => s.At_mm.X), (a, b) => Math.Abs(a - b) < 0.11);
        Assert.All(held.Screws, s => Assert.Equal((0.0, "M5"), (s.At_mm.Y, s.Thread)));
    }

    [Fact]
    public void A_slender_half_counts_as_long_and_lies_as_it_likes()
    {
        // The same lever at 30° to x: pockets turn with it.
        var (s, c) = Math.SinCos(Math.PI / 6);
        Vec2 Turned(double x, double y) => new((c * x) - (s * y), (s * x) + (c * y));
        var lever = Jobs.Block(0, 0, 1, 1, 0, 20) with
        {
            Loops = [Geometry.Plan.PlanPath.Polygon(Turned(-55, -15), Turned(55, -15), Turned(55, 15), Turned(-55, 15))],
        };
        var held = Made(lever).Handling(MouldHalf.Cope);
        Assert.Equal(2, held.Screws.Count());
        var between = held.Screws.Last().At_mm - held.Screws.First().At_mm;
        Assert.Equal(30, Math.Atan2(between.Y, between.X) * 180 / Math.PI, 0.5);
    }

    [Fact]
    public void A_ring_is_held_on_both_sides_of_its_bore()
    {
        var held = Made(Jobs.Round(0, 0, 80, 0, 15), Jobs.Round(0, 0, 30, -1, 16, CutKind.Drawn)).Handling(MouldHalf.Cope);
        Assert.Equal(2, held.Screws.Count());
        Assert.Equal(0, (held.Screws.First().At_mm + held.Screws.Last().At_mm).Length, 0.2);
        Assert.Contains("both sides", held.Rule, StringComparison.Ordinal);
    }

    [Fact]
    public void A_large_half_has_seats_of_rapping_plates_and_loses_just_the_pockets()
    {
        var (with, without) = (Made(Jobs.Block(-120, -80, 120, 80, 0, 22)), Made(false, Jobs.Block(-120, -80, 120, 80, 0, 22)));
        var held = with.Handling(MouldHalf.Cope);
        Assert.Equal((2, 4), (held.Seats.Count(), held.Screws.Count()));
        Assert.Equal(with.Unpocketed_mm3(), without.Unpocketed_mm3(), 0.02);
        // Two seats 50.5 × 20.5 with corners of 2 mm, 3.2 mm deep, and in them four holes of 6.4 mm going 10.5 mm on. Chords are 0.005 mm
        // inside at most: 48 sides for the corners, 58 for a hole.
        var pockets = (2 * 3.2 * ((50.5 * 20.5) - 16 + Inscribed(4, 48))) + (4 * 10.5 * Inscribed(6.4, 58));
        Assert.Equal(pockets, Marks_mm3(with) - with.Bridge.Pockets_mm3, 0.02);
        Assert.Equal([3.2, 3.2], held.Seats.Select(s => s.Depth_mm));
        Assert.All(held.Screws, s => Assert.Equal(13.7, s.Depth_mm, 1e-9));
    }

    // The smallest row needs 4.5 mm of hole and 2 mm of wall.
    [Theory]
    [InlineData(6.4, false)]
    [InlineData(6.6, true)]
    public void A_thin_plate_has_none_and_says_why(double height, bool held)
    {
        var kit = Made(Jobs.Block(-60, -15, 60, 15, 0, height));
        var handling = kit.Handling(MouldHalf.Cope);
        Assert.Equal(held, handling.Screws.Any());
        var findings = kit.Findings.Where(f => f.Code == "no-draw-screw").ToList();
        Assert.Equal(held ? 0 : 1, findings.Count);
        if (held) return;
        Assert.StartsWith("none: ", handling.Rule, StringComparison.Ordinal);
        var finding = findings[0];
        Assert.Equal(Table.Screws[0].Depths_mm[0] + Table.Wall_mm.Value, finding.Limit);
        Assert.Equal(height, finding.Value!.Value, 0.15);
        Assert.Equal(Severity.Note, finding.Severity);
        Assert.Contains("draw pin", finding.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_narrow_rib_has_none_however_high_it_is() =>
        Assert.Empty(Made(Jobs.Block(-60, -3, 60, 3, 0, 30)).Handling(MouldHalf.Cope).Screws);

    [Fact]
    public void Both_halves_of_a_split_pattern_are_held_and_the_pockets_keep_clear_of_the_dowels()
    {
        var job = Jobs.Of(Jobs.Block(-50, -30, 50, 30, -12, 12)).Bare(2, joint_mm: 0);
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Dowels = true, DrawScrews = true } });
        KitCheck.Sound(kit);
        Assert.Equal(2, kit.Dowels.Length);
        Assert.Equal([MouldHalf.Cope, MouldHalf.Drag], kit.Handling.Select(h => h.Half));
        Assert.All(kit.Handling, h => Assert.Single(h.Screws));
    }

    [Fact]
    public void Every_piece_of_a_half_has_its_own_or_is_told()
    {
        // Below the joint a block, a stud and a peg that is too slim: three pieces of the drag.
        var kit = Made(Jobs.Block(-60, -30, 60, 30, 0, 15), Jobs.Block(-50, -20, -10, 20, -20, 0), Jobs.Round(20, 0, 20, -15, 0), Jobs.Round(45, 0, 5, -15, 0));
        var held = kit.Handling(MouldHalf.Drag);
        Assert.Equal([1, 1, 0], held.Pieces.OrderBy(p => p.Centre_mm.X).Select(p => p.Screws.Length));
        Assert.Equal([-30, 20], held.Screws.Select(s => s.At_mm.X).Order(), (a, b) => Math.Abs(a - b) < 0.3);
        Assert.Contains("1 of the 3 pieces of the drag half", Assert.Single(kit.Findings, f => f.Code == "no-draw-screw").Message, StringComparison.Ordinal);
        Assert.StartsWith("1 of 3 pieces: none", held.Without, StringComparison.Ordinal);
    }

    [Fact]
    public void Where_none_are_wanted_there_are_none_and_no_word_of_it_but_the_decision()
    {
        var kit = Made(false, Jobs.Block(-40, -25, 40, 25, 0, 12));
        Assert.Empty(kit.Handling(MouldHalf.Cope).Screws);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "no-draw-screw");
        var decision = Assert.Single(kit.Decisions, d => d.Key == "draw_screws_cope");
        Assert.Equal((0.0, "given in the job"), (decision.Value, decision.Rule));
    }

    private static double Inscribed(double diameter, int sides) => sides * diameter * diameter / 8 * Math.Sin(2 * Math.PI / sides);

    private static double Marks_mm3(Kit kit) => kit.Plan.Marks.Sum(m => m.Region.Area * FoundryTables.Default.Joint.Mark.Depth_mm) * -1;

    private static Kit Made(params Feature[] features) => Made(true, features);

    private static Kit Made(bool screws, params Feature[] features)
    {
        var job = Jobs.Of(features).Bare(2, joint_mm: 0);
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { DrawScrews = screws } });
        KitCheck.Sound(kit);
        return kit;
    }
}
