using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Moulding;

/// <summary>How the halves of a split pattern fit each other: dowels and the ledge at the joint.</summary>
public sealed class RegisterTests
{
    // A flange with a boss on either side, not in line, so that neither half is the mirror image of the other.
    private static readonly Job Flange = Jobs.Of(
        Jobs.Block(-50, -30, 50, 30, -12, 12),
        Jobs.Round(20, 5, 30, 12, 26, name: "upper boss"),
        Jobs.Round(-25, -8, 24, -24, -12, name: "lower boss"));

    [Fact]
    public void Marks_keep_clear_of_a_narrow_dimple_between_the_places_that_a_sample_would_look_at()
    {
        // The small hole closes by its draft just above the joint: a cone a few tenths of a millimetre wide where letters could be.
        var job = Jobs.Of(
            Jobs.Block(-45, -35, 45, 35, -3, 7), Jobs.Round(4, 23.7115696, 24.285714, -11, 2), Jobs.Round(0, -3, 18.240385, -40, 60, CutKind.Drawn),
            Jobs.Round(-1.67858, 9.888324, 1.7560994, -40, 60, CutKind.Drawn)).Bare(5, holds: SizeHolds.Parting);
        var kit = KitCheck.Build(job with { Parting = new(null, Match: true), Pattern = job.Pattern with { Contraction = 0.013 } });
        KitCheck.Closed(kit);
        Assert.Contains(kit.Findings, f => f.Code == "deep-hole");
    }

    [Fact]
    public void A_split_pattern_has_two_dowels_of_different_diameter_at_the_same_places_of_both_halves()
    {
        var kit = WithDowels();
        Assert.Equal(["cope", "drag"], kit.Bodies.Select(b => b.Name));
        Assert.Equal(2, kit.Dowels.Length);
        Assert.True(kit.Dowels[0].Diameter_mm > kit.Dowels[1].Diameter_mm);
        var table = FoundryTables.Default.Dowels;
        Assert.All(kit.Dowels, d =>
        {
            Assert.Contains(d.Diameter_mm, table.Diameters_mm);
            Assert.Equal(d.Diameter_mm + table.Clearance_mm.Value, d.Hole_mm, 12);
        });

        // Measured on the meshes, each just inside its own half.
        foreach (var (body, inward) in new[] { (kit.Cope(), 1.0), (kit.Drag(), -1.0) })
        {
            foreach (var d in kit.Dowels)
            {
                var hole = Hole(body, kit.Parting.PatternHeight_mm + (inward * (d.Depth_mm - 0.05)), d.At_mm);
                Assert.Equal(d.Hole_mm, hole.Extent().X, 0.01);
                Assert.Equal(d.Hole_mm, hole.Extent().Y, 0.01);
                Assert.Equal(d.At_mm.X, hole.Geometry.Centroid.X, 0.005);
                Assert.Equal(d.At_mm.Y, hole.Geometry.Centroid.Y, 0.005);
                Assert.True(Hole(body, kit.Parting.PatternHeight_mm + (inward * (d.Depth_mm + 0.05)), d.At_mm).IsEmpty, "the hole is deeper than told");
            }
        }
    }

    [Fact]
    public void Dowel_holes_keep_their_cover_in_both_halves()
    {
        var kit = WithDowels();
        var cover = FoundryTables.Default.Dowels.Cover_mm.Value;
        foreach (var body in kit.Bodies)
        {
            var inward = body.Half == MouldHalf.Cope ? 1 : -1;
            foreach (var d in kit.Dowels)
            {
                // Everything within the cover of the hole, sideways and at its end, is metal of the body.
                var disc = PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm + (2 * cover) - 0.02)], 0.005);
                foreach (var depth in new[] { 0.01, d.Depth_mm, d.Depth_mm + cover - 0.01 })
                    Assert.True(disc.Difference(body.Section(kit.Parting.PatternHeight_mm + (inward * depth)).Filled()).IsEmpty, $"{body.Name}: less than {cover} mm of cover at depth {depth}");
                Assert.True(disc.Difference(kit.Plan.CopeOutline).IsEmpty && disc.Difference(kit.Plan.DragOutline).IsEmpty);
            }
        }
    }

    [Fact]
    public void Turned_half_round_the_halves_cannot_be_joined()
    {
        var kit = WithDowels();
        var middle = 0.5 * (kit.Dowels[0].At_mm + kit.Dowels[1].At_mm);
        // The only motion that brings one place onto the other is half a turn about their middle: then the diameters differ.
        Assert.Equal(0, Vec2.Distance((2 * middle) - kit.Dowels[0].At_mm, kit.Dowels[1].At_mm), 1e-9);
        Assert.NotEqual(kit.Dowels[0].Diameter_mm, kit.Dowels[1].Diameter_mm);
    }

    // By hand: 5 mm less 2 mm of cover leave 3 mm, one diameter of a 3 mm pin; 4 mm leave 2 mm, too little for the 2.5 mm that the
    // thicker of the smallest pair needs.
    [Fact]
    public void A_thin_half_gets_small_shallow_dowels_and_a_thinner_one_a_finding()
    {
        var (thin, thinner) = (Thin(-5), Thin(-4));
        Assert.Equal([3, 2.5], thin.Dowels.Select(d => d.Diameter_mm));
        Assert.All(thin.Dowels, d => Assert.InRange(d.Depth_mm, 2.5, 3));
        Assert.DoesNotContain(thin.Findings, f => f.Code == "no-register");
        KitCheck.Sound(thin);
        Assert.Empty(thinner.Dowels);
        Assert.Equal(4.0, Assert.Single(thinner.Findings, f => f.Code == "no-register").Limit);
    }

    [Fact]
    public void The_strainer_cover_is_registered() => Assert.Equal(2, KitCheck.Build(KitCheck.Template("strainer-cover")).Dowels.Length);

    private static Kit Thin(double low_mm)
    {
        var job = Jobs.Of(Jobs.Block(-50, -30, 50, 30, 0, 20), Jobs.Block(-40, -22, 40, 22, low_mm, 0)).Bare(2, joint_mm: 0);
        return KitCheck.Build(job with { Pattern = job.Pattern with { Dowels = null } });
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void Parted_off_centre_the_higher_half_overhangs_by_the_difference_of_its_runs(double degrees)
    {
        var kit = KitCheck.Build(OffCentre(degrees, false));
        KitCheck.Sound(kit);
        Assert.Equal(10 * Math.Tan(degrees * KitCheck.Degree), kit.Parting.Ledge_mm, 0.02);
        Assert.True(kit.Plan.CopeOutline.Area > kit.Plan.DragOutline.Area);
        // 10 tan 1° = 0.17 mm is let pass, 10 tan 3° = 0.52 mm is not.
        if (degrees == 1)
        {
            Assert.DoesNotContain(kit.Findings, f => f.Code == "ledge");
            return;
        }

        var finding = Assert.Single(kit.Findings, f => f.Code == "ledge");
        Assert.Equal((kit.Parting.Ledge_mm, 0.2), (finding.Value, finding.Limit));
        Assert.True(Math.Max(Math.Abs(finding.At_mm!.Value.X) - 40, Math.Abs(finding.At_mm.Value.Y) - 25) is > 0 and < 2, $"{finding.At_mm}");
        Assert.Contains("match = true", finding.Remedy, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void Matched_halves_have_no_ledge_and_the_wider_one_is_as_before(double degrees)
    {
        var (kit, before) = (KitCheck.Build(OffCentre(degrees, true)), KitCheck.Build(OffCentre(degrees, false)));
        KitCheck.Sound(kit);
        Assert.InRange(kit.Parting.Ledge_mm, 0, 0.02);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "ledge");
        Assert.Equal(before.Plan.CopeOutline.Area, kit.Plan.CopeOutline.Area, 1e-9);
        // The contours of both meshes a hair from the joint, not only the figure that the kit tells.
        var (cope, drag) = (kit.Cope().Section(0.0005).Filled(), kit.Drag().Section(-0.0005).Filled());
        Assert.True(cope.Difference(drag.Offset(0.02, 0.001)).IsEmpty);
        Assert.True(drag.Difference(cope.Offset(0.02, 0.001)).IsEmpty);
    }

    private static Job OffCentre(double degrees, bool match) =>
        Jobs.Of(Jobs.Block(-40, -25, 40, 25, -10, 20)).Bare(degrees, joint_mm: 0) with { Parting = new(0, match) };

    private static Kit WithDowels()
    {
        var job = Flange.Bare(2, joint_mm: 0);
        var kit = KitCheck.Build(job with { Pattern = job.Pattern with { Dowels = true } });
        KitCheck.Sound(kit);
        return kit;
    }

    /// <summary>The hole of the body around a place at a height; empty where there is none.</summary>
    private static PlanRegion Hole(KitBody body, double z, Vec2 at)
    {
        var loops = MeshSection.AtHeight(body.InMould, z).Select(l => PlanRegion.Polygon(l)).ToList();
        return loops.Where(l => l.Contains(at) && l.Area < 400).DefaultIfEmpty(PlanRegion.Empty).MinBy(l => l.Area)!;
    }
}
