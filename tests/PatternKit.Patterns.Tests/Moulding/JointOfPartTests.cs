using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Moulding;

/// <summary>Where the joint goes by itself, and what becomes of the halves.</summary>
public sealed class JointOfPartTests
{
    [Fact]
    public void A_plate_lies_flat_backed_in_one_half()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-40, -25, 40, 25, 0, 12)).Bare(2));
        FlatBacked(kit, 0);
    }

    [Theory]
    [InlineData("lever-bracket")]
    [InlineData("gland-flange")]
    public void A_template_with_a_flat_back_is_made_in_one_half(string name)
    {
        var job = KitCheck.Template(name);
        FlatBacked(KitCheck.Build(job with { Parting = new() }), 0);
    }

    [Fact]
    public void The_strainer_cover_is_made_in_both_halves_and_parted_within_its_flange()
    {
        var kit = KitCheck.Build(KitCheck.Template("strainer-cover"));
        Assert.Equal([MouldHalf.Cope, MouldHalf.Drag], kit.Bodies.Select(b => b.Half));
        Assert.InRange(kit.Parting.Height_mm, -0.001, 8.001);
        Assert.Equal(0, kit.Parting.Cost_mm3, 1e-6);
        // The dome is the cope's and the spigot the drag's.
        Assert.Equal(22 * kit.Scale, kit.Cope().InMould.Bounds().High.Z, 0.001);
        Assert.Equal(-10 * kit.Scale, kit.Drag().InMould.Bounds().Low.Z, 0.001);
    }

    private static void FlatBacked(Kit kit, double height_mm)
    {
        KitCheck.Sound(kit);
        Assert.Equal(MouldHalf.Cope, Assert.Single(kit.Bodies).Half);
        Assert.Equal(height_mm, kit.Parting.Height_mm, 1e-3);
        Assert.Equal(0, kit.Parting.Ledge_mm);
        Assert.Empty(kit.Dowels);
    }
}
