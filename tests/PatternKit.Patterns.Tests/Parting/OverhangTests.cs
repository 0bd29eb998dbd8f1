using PatternKit.Foundry;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using static PatternKit.Patterns.Tests.Parts.Jobs;

namespace PatternKit.Patterns.Tests.Parting;

/// <summary>What is filled because it hangs over names a loose piece as a remedy, with numbers by arithmetic.</summary>
public sealed class OverhangTests
{
    private static string Remedy(params Feature[] features) => Remedy(FoundryTables.Default, features);

    private static string Remedy(FoundryTables tables, params Feature[] features) =>
        Assert.Single(KitBuilder.Build(Of(features).Bare(2, joint_mm: 0), tables).Findings, f => f.Code == "undercut").Remedy!;

    [Fact]
    public void A_lug_over_a_foot_would_have_to_travel_what_it_stands_out()
    {
        // A block of 60 × 40 mm on a foot, and on its side towards +y a lug that stands 11 mm out, above the foot.
        var remedy = Remedy(Block(-50, -40, 50, 40, 0, 10, name: "foot"), Block(-30, -20, 30, 20, 0, 50), Block(-8, 20, 8, 31, 30, 40, name: "lug"));
        var clear = FoundryTables.Default.Loose.Clear_mm.Value;
        Assert.Contains($"facing = 90): it would go {11 + clear:0.#} mm sideways once the pattern is out, and the cavity has 40 mm there", remedy, StringComparison.Ordinal);
        Assert.DoesNotContain("not enough", remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void One_over_the_bare_joint_is_told_alike_and_a_narrow_part_is_not_enough()
    {
        // On a web of 9 mm a lug of 12 mm towards −x, nothing below it.
        var remedy = Remedy(Block(0, -30, 9, 30, 0, 50), Block(-12, -8, 0, 8, 30, 40, name: "lug"));
        Assert.Contains($"facing = 180): it would go {12 + FoundryTables.Default.Loose.Clear_mm.Value:0.#} mm sideways", remedy, StringComparison.Ordinal);
        Assert.Contains("the cavity has 9 mm there before draft, which is not enough", remedy, StringComparison.Ordinal);
    }

    // The room to spare is the shop's own where it gives one, over the bare joint and between metal alike.
    [Fact]
    public void The_room_to_spare_is_that_of_the_shop()
    {
        var tables = FoundryTables.Default.With("[tables.loose.travel]\nclear_mm = 5\n", "shop.toml");
        Assert.Contains("it would go 16 mm sideways", Remedy(tables, Block(-50, -40, 50, 40, 0, 10, name: "foot"), Block(-30, -20, 30, 20, 0, 50), Block(-8, 20, 8, 31, 30, 40, name: "lug")), StringComparison.Ordinal);
        Assert.Contains("it would go 17 mm sideways", Remedy(tables, Block(0, -30, 9, 30, 0, 50), Block(-12, -8, 0, 8, 30, 40, name: "lug")), StringComparison.Ordinal);
    }
}
