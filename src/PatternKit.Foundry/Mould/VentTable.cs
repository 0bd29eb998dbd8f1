using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Vents pricked through the cope.</summary>
/// <param name="Wires_mm">Diameters of wire, the thinnest first.</param>
/// <param name="WireFrom">Where they come from.</param>
/// <param name="Spacing_mm">No place of the cavity is farther from a vent.</param>
/// <param name="Closest_mm">The same where the vents so spread stay below the area asked for.</param>
/// <param name="Short_mm">Sand left between a vent and the cavity.</param>
/// <param name="Chokes">Area of all vents over that of the choke, at least.</param>
/// <param name="Peak_mm">A high place counts by itself where it stands so far over the way to a higher one.</param>
public sealed record VentTable(ImmutableArray<double> Wires_mm, Provenance WireFrom, Quoted Spacing_mm, Quoted Closest_mm, Quoted Short_mm, Quoted Chokes, Quoted Peak_mm)
{
    internal static VentTable Read(RowReader file)
    {
        var wire = file.Row("wire");
        wire.TextOr("printed", "");
        var table = new VentTable(
            [.. wire.Numbers("diameters_mm", 0.5, 20).Order()], wire.Provenance(), file.Row("spacing").Quoted("mm", 5, 500), file.Row("closest").Quoted("mm", 5, 500), file.Row("short").Quoted("mm", 1, 50),
            file.Row("area").Quoted("chokes", 0, 10), file.Row("peak").Quoted("mm", 0.05, 50));
        wire.Finish();
        file.Finish();
        return table;
    }

    /// <summary>Whether a number of vents of the thickest wire have the area asked for.</summary>
    /// <param name="count">How many.</param>
    /// <param name="choke_mm2">Area of the choke.</param>
    /// <param name="open_mm2">Area of what is open beside them.</param>
    public bool Enough(int count, double choke_mm2, double open_mm2) => (count * Flow.Circle_mm2(Wires_mm[^1])) + open_mm2 >= Chokes.Value * choke_mm2;

    /// <summary>The wire for a number of vents: the thinnest that gives the area asked for, else the thickest.</summary>
    /// <param name="count">How many vents, at least 1.</param>
    /// <param name="choke_mm2">Area of the choke; 0 where it is not known.</param>
    /// <param name="open_mm2">Area of what is open beside them, as feeders are.</param>
    public Sourced<double> Wire_mm(int count, double choke_mm2, double open_mm2)
    {
        Checked.Within(count, 1, 1e6, nameof(count));
        var asked = Chokes.Value * choke_mm2;
        var wire = Wires_mm.FirstOrDefault(d => (count * Flow.Circle_mm2(d)) + open_mm2 >= asked, Wires_mm[^1]);
        return new(wire, WireFrom.Text, Enough(count, choke_mm2, open_mm2)
            ? $"the thinnest with which all vents{(open_mm2 > 0 ? " and open feeders" : "")} have {Shown.Number(Chokes.Value)} × the area of the choke"
            : $"the thickest; all vents{(open_mm2 > 0 ? " and open feeders" : "")} together stay below {Shown.Number(Chokes.Value)} × the area of the choke: prick more beside them");
    }
}
