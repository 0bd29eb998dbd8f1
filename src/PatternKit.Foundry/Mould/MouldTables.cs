using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Between pattern and pour: what holds the cope, sand, crucibles, vents, waiting, and how near sizes come out.</summary>
/// <param name="HoldFactor">Sand, flask and weights hold so many times what lifts the cope.</param>
/// <param name="Facing">Thickness of facing sand by the weight of the casting.</param>
/// <param name="LooseSand_kg_m3">Density of sand as it is shovelled.</param>
/// <param name="Melting">Crucibles and what one person lifts.</param>
/// <param name="Vents">Vents of the cope.</param>
/// <param name="ShakeOut">How long castings stay in the sand.</param>
/// <param name="SolidTimes">And at least so many times the freezing time of the thickest section.</param>
/// <param name="BoardStress_MPa">What boards that back a mould on edge bear in bending.</param>
/// <param name="Spread">How near sizes come out.</param>
public sealed record MouldTables(
    Quoted HoldFactor, ImmutableArray<WeightRow> Facing, Quoted LooseSand_kg_m3, MeltingTable Melting, VentTable Vents, ImmutableArray<ShakeOutRow> ShakeOut, Quoted SolidTimes, Quoted BoardStress_MPa, SpreadTable Spread)
{
    internal static MouldTables Read(Func<string, RowReader> file)
    {
        var (forces, flasks, shakeOut) = (file("forces"), file("flasks"), file("shakeout"));
        var tables = new MouldTables(
            forces.Row("safety").Quoted("factor", 1, 5), WeightRows.Read(flasks, "facing"), flasks.Row("loose").Quoted("kg_m3", 500, 5000),
            MeltingTable.Read(file("melting")), VentTable.Read(file("vents")), ShakeOutRow.Read(shakeOut), shakeOut.Row("solid").Quoted("times", 1, 20), forces.Row("board").Quoted("stress_MPa", 0.5, 100), SpreadTable.Read(file("spread")));
        foreach (var read in new[] { forces, flasks, shakeOut }) read.Finish();
        return tables;
    }

    /// <summary>The factor by which the cope is held, with its rule.</summary>
    public Sourced<double> Hold => new(HoldFactor.Value, HoldFactor.From.Text, $"sand, flask and weights together hold {Shown.Number(HoldFactor.Value)} times the lift");

    /// <summary>Facing sand for a casting.</summary>
    public Sourced<double> Facing_mm(double casting_kg) => WeightRows.For(Facing, casting_kg, "facing sand on the pattern");
}
