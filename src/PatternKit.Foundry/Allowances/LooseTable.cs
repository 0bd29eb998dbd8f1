using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Pieces that stand out from a wall of the pattern and are drawn sideways after it.</summary>
/// <param name="Dovetail">Sizes of the dovetails that hold them; their flanks lean as those of <see cref="FoundryTables.BedCuts"/> do.</param>
/// <param name="Taper_deg">By how much flanks and back of a slot open along the main draw.</param>
/// <param name="Clearance_mm">Between tongue and slot, square to every face.</param>
/// <param name="Pin">Sizes of the pins that hold them instead.</param>
/// <param name="Clear_mm">How far a piece has to come clear of the sand over its path before it is lifted.</param>
/// <param name="LeastOut_mm">How far a piece stands out at least.</param>
public sealed record LooseTable(LooseDovetailSizes Dovetail, Quoted Taper_deg, Quoted Clearance_mm, LoosePinSizes Pin, Quoted Clear_mm, Quoted LeastOut_mm)
{
    internal static LooseTable Read(RowReader file)
    {
        var (tail, pin) = (file.Row("dovetail"), file.Row("pin"));
        var table = new LooseTable(
            new([.. tail.Numbers("necks_mm", 1, 100).OrderDescending()], tail.Number("depth_necks", 0.1, 3), tail.Number("length_necks", 0.1, 10), tail.Number("land_mm", 0.5, 50), tail.Provenance()),
            file.Row("taper").Quoted("deg", 0.25, 20),
            file.Row("clearance").Quoted("mm", 0.05, 2),
            new([.. pin.Numbers("diameters_mm", 0.5, 20).OrderDescending()], pin.Number("wider_mm", 0, 2), pin.Number("depth_diameters", 1, 10), pin.Number("land_mm", 0.5, 50), pin.Number("grip_mm", 1, 100), pin.Provenance()),
            file.Row("travel").Quoted("clear_mm", 0, 50),
            file.Row("least").Quoted("out_mm", 0.1, 50));
        tail.Finish();
        pin.Finish();
        file.Finish();
        return table;
    }
}

/// <summary>Sizes of the dovetails of loose pieces.</summary>
/// <param name="Necks_mm">Widths at the wall, at the narrow end, the widest first.</param>
/// <param name="Depth_necks">How deep one goes, in widths of its neck.</param>
/// <param name="Length_necks">How long the piece's back holds it at least, in widths of its neck.</param>
/// <param name="Land_mm">Material around it.</param>
/// <param name="From">Where the sizes come from.</param>
public sealed record LooseDovetailSizes(ImmutableArray<double> Necks_mm, double Depth_necks, double Length_necks, double Land_mm, Provenance From);

/// <summary>Sizes of the pins of loose pieces.</summary>
/// <param name="Diameters_mm">The thickest first.</param>
/// <param name="Wider_mm">By how much the diameter of a printed hole is larger.</param>
/// <param name="Depth_diameters">How deep the hole in the pattern is, in diameters.</param>
/// <param name="Land_mm">Material around the hole.</param>
/// <param name="Grip_mm">What of a pin stands out to be pulled at.</param>
/// <param name="From">Where the sizes come from.</param>
public sealed record LoosePinSizes(ImmutableArray<double> Diameters_mm, double Wider_mm, double Depth_diameters, double Land_mm, double Grip_mm, Provenance From);
