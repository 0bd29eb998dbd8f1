namespace PatternKit.Foundry.Tests;

/// <summary>Boards that back a mould on edge, against set problems of timber beams.</summary>
public class BackingBoardTests
{
    private static Quoted Stress(double mpa) => new(mpa, "", new("a set problem", Basis.Read, [], ""));

    // A timber beam 150 mm wide and 300 mm deep over 4 m, 8 N/mm2: it bears 9 kN/m. (expertsmind.com, determine the maximum uniformly distributed load)
    [Fact]
    public void A_beam_is_as_deep_as_its_load_asks() => Assert.Equal(300, BackingBoard.Of(4000, 9.0 / 150 * 1000, Stress(8)).Thick_mm, 1e-6);

    // A timber beam 20 cm wide and 40 cm deep over 4 m, 2 N/mm2: printed 5350 N/m, with a rounded moment of inertia. (assignmentexpert.com, question 128728)
    [Fact]
    public void A_second_beam_is_as_deep_as_its_load_asks() => Assert.Equal(400, BackingBoard.Of(4000, 5.350 / 200 * 1000, Stress(2)).Thick_mm, 1.0);

    [Fact]
    public void The_wood_of_the_table_bears_less_than_its_strength_and_names_its_source()
    {
        var stress = FoundryTables.Default.Mould.BoardStress_MPa;
        Provenances.AssertComplete(stress.From);
        Assert.InRange(stress.Value, 2, 8);
        Assert.Throws<ArgumentOutOfRangeException>(() => BackingBoard.Of(0, 10, stress));
        Assert.Throws<ArgumentOutOfRangeException>(() => BackingBoard.Of(300, -1, stress));
    }
}
