using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A mould constant that a source gives, for metals in silica sand.</summary>
/// <param name="Family">The metals.</param>
/// <param name="Alloys">Keys of the alloys that it holds for; empty for the whole family.</param>
/// <param name="Sands">Keys of the sands; empty for all.</param>
/// <param name="Constant_s_mm2">B of t = B M².</param>
/// <param name="From">Where it comes from.</param>
public sealed record MouldConstantRow(AlloyFamily Family, ImmutableArray<string> Alloys, ImmutableArray<string> Sands, double Constant_s_mm2, Provenance From)
{
    internal const double Least_s_mm2 = 0.1;
    internal const double Most_s_mm2 = 20;

    internal bool Fits(Alloy alloy, Sand sand) => Family == alloy.Family && (Alloys.IsEmpty || Alloys.Contains(alloy.Key)) && (Sands.IsEmpty || Sands.Contains(sand.Key));

    internal static MouldConstantRow Read(RowReader r)
    {
        var row = new MouldConstantRow(
            r.Choice("family", AlloyReader.FamilyWords), r.TextsOrNone("alloys"), r.TextsOrNone("sands"), r.Number("s_mm2", Least_s_mm2, Most_s_mm2), r.Provenance());
        r.TextOr("printed", "");
        r.Finish();
        return row;
    }
}
