using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A crucible that the shop owns.</summary>
/// <param name="Name">What the shop calls it.</param>
/// <param name="Brim_litre">Volume to the brim; null where its size is named by metal.</param>
/// <param name="Brass_kg">Brass that it holds when filled as usual; null where it was not given.</param>
/// <param name="Aluminium_kg">Aluminium that it holds; null where it was not given.</param>
/// <param name="From">Where the size comes from.</param>
public sealed record Crucible(string Name, double? Brim_litre, double? Brass_kg, double? Aluminium_kg, Provenance From)
{
    /// <summary>Liquid metal that it takes, litres.</summary>
    /// <param name="table">Useful share, and the densities behind sizes named by metal.</param>
    public Sourced<double> Useful_litre(MeltingTable table)
    {
        if (Brim_litre is { } brim) return new(brim * table.UsefulShare.Value, table.UsefulShare.From.Text, $"{Shown.Number(table.UsefulShare.Value)} of {Shown.Number(brim)} litre to the brim");
        var (kg, metal, density) = Brass_kg is { } brass ? (brass, "brass", table.Brass_kg_m3) : (Aluminium_kg!.Value, "aluminium", table.Aluminium_kg_m3);
        return new(kg / density.Value * 1000, density.From.Text, $"{Shown.Number(kg)} kg of {metal} at {Shown.Number(density.Value)} kg/m³");
    }

    internal static Crucible Read(RowReader row)
    {
        double? Size(string key, double most) => row.Has(key) ? row.Number(key, 0.01, most) : null;
        var crucible = new Crucible(row.Text("name"), Size("brim_litre", 200), Size("brass_kg", 1000), Size("aluminium_kg", 1000), row.Provenance());
        row.Finish();
        return new[] { crucible.Brim_litre, crucible.Brass_kg, crucible.Aluminium_kg }.Count(s => s is not null) == 1
            ? crucible
            : throw row.Error("give the size of a crucible once: 'brim_litre', 'brass_kg' or 'aluminium_kg'.");
    }
}
