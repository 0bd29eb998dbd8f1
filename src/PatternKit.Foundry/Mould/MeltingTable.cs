using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Crucibles, and what one person lifts.</summary>
/// <param name="UsefulShare">Of the volume to the brim.</param>
/// <param name="Brass_kg_m3">Density behind sizes named by brass.</param>
/// <param name="Aluminium_kg_m3">Density behind sizes named by aluminium.</param>
/// <param name="Lift_kg">Most metal that one person lifts, carries and pours.</param>
public sealed record MeltingTable(Quoted UsefulShare, Quoted Brass_kg_m3, Quoted Aluminium_kg_m3, Quoted Lift_kg)
{
    internal static MeltingTable Read(RowReader file)
    {
        var table = new MeltingTable(
            file.Row("useful").Quoted("share", 0.3, 1), file.Row("brass").Quoted("kg_m3", 5000, 10000), file.Row("aluminium").Quoted("kg_m3", 2000, 3000),
            file.Row("lift").Quoted("kg", 0.1, 200));
        file.Finish();
        return table;
    }

    /// <summary>[melting] of a shop file; what it leaves out stays as it was.</summary>
    internal MeltingTable With(RowReader row)
    {
        var from = row.Provenance();
        var table = this with
        {
            Lift_kg = row.Has("lift_kg") ? new(row.Number("lift_kg", 0.1, 200), "", from) : Lift_kg,
            UsefulShare = row.Has("useful_share") ? new(row.Number("useful_share", 0.3, 1), "", from) : UsefulShare,
        };
        row.Finish();
        return table;
    }
}
