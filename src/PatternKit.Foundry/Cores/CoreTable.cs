using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Clearance between a core's print and its seat, by the largest size of the core.</summary>
/// <param name="UpTo_mm">Largest core that the row holds for; infinite in the last row.</param>
/// <param name="Side_mm">On each face.</param>
/// <param name="Axial_mm">Over the upper end of a core that stands.</param>
/// <param name="From">Where it comes from.</param>
public sealed record CoreClearanceRow(double UpTo_mm, double Side_mm, double Axial_mm, Provenance From);

/// <summary>Prints of cores that lie in the joint.</summary>
/// <param name="Least_mm">Least length.</param>
/// <param name="Diameters">Length over diameter.</param>
/// <param name="MostDiameters">A load lengthens it up to this.</param>
/// <param name="EndTaper_deg">Of the end of the seat, from the draw.</param>
/// <param name="From">Where it comes from.</param>
public sealed record LyingPrintRule(double Least_mm, double Diameters, double MostDiameters, double EndTaper_deg, Provenance From);

/// <summary>Prints of cores that stand.</summary>
/// <param name="Diameters">Length of the lower print over diameter.</param>
/// <param name="Longest_mm">It grows no further.</param>
/// <param name="TopShare">Length of the upper print over that of the lower.</param>
/// <param name="From">Where the lengths come from.</param>
/// <param name="BottomTaper_deg">Of the lower print, from the draw.</param>
/// <param name="TopTaper_deg">Of the upper print.</param>
/// <param name="TaperFrom">Where the tapers come from.</param>
public sealed record StandingPrintRule(
    double Diameters, double Longest_mm, double TopShare, Provenance From, double BottomTaper_deg, double TopTaper_deg, Provenance TaperFrom);

/// <summary>The channel for the gas of a core.</summary>
/// <param name="Least_mm">Thinnest wire.</param>
/// <param name="Most_mm">Thickest wire.</param>
/// <param name="Diameters">Wire over the core's least diameter, in between.</param>
/// <param name="From">Where it comes from.</param>
public sealed record VentRule(double Least_mm, double Most_mm, double Diameters, Provenance From);

/// <summary>What cores and core boxes are made by.</summary>
/// <param name="Clearances">By size, ascending.</param>
/// <param name="Lying">Prints of cores that lie.</param>
/// <param name="Standing">Prints of cores that stand.</param>
/// <param name="BlindTimesHollow">Length of the one print of a core that ends in the metal, over what it carries.</param>
/// <param name="UnlikeTimes">One print is longer by this where a core could be set the wrong way round.</param>
/// <param name="FlatWider_mm">Where a core could be set upside down, the lower side of one print is a block with a flat bottom, wider and deeper than the rest by this.</param>
/// <param name="UsualStrength_kPa">Green compression strength of a sand whose row has none.</param>
/// <param name="BearingShare">Share of that strength which a seat bears.</param>
/// <param name="CoreSand_kg_m3">Density of core sand.</param>
/// <param name="Vent">Channel for the gas.</param>
/// <param name="BoxDraft_deg">Of the cavity of a core box.</param>
/// <param name="BoxWall_mm">Around and under the cavity.</param>
/// <param name="HalfLeaves">A half of a core that leaves less than this share of its space in the casting is not needed.</param>
public sealed record CoreTable(
    ImmutableArray<CoreClearanceRow> Clearances,
    LyingPrintRule Lying,
    StandingPrintRule Standing,
    Quoted BlindTimesHollow,
    Quoted UnlikeTimes,
    Quoted FlatWider_mm,
    Quoted UsualStrength_kPa,
    Quoted BearingShare,
    Quoted CoreSand_kg_m3,
    VentRule Vent,
    Quoted BoxDraft_deg,
    Quoted BoxWall_mm,
    Quoted HalfLeaves)
{
    /// <summary>The clearance for a core.</summary>
    /// <param name="largest_mm">Its largest size, prints not counted.</param>
    public CoreClearanceRow Clearance(double largest_mm) => SizeRows.Find(Clearances, r => r.UpTo_mm, largest_mm).Row;

    /// <summary>What a seat in a sand bears, kPa.</summary>
    public Sourced<double> Bearing_kPa(Sand sand)
    {
        var (strength, share) = (sand.Strength_kPa ?? UsualStrength_kPa, BearingShare);
        return new(
            strength.Value * share.Value, $"strength: {strength.From.Text}; share: {share.From.Text}",
            $"{Shown.Number(share.Value)} of {Shown.Number(strength.Value)} kPa, the compression strength of the mould's sand");
    }

    internal static CoreTable Read(RowReader file)
    {
        var (lying, standing, taper, vent) = (file.Row("lying"), file.Row("standing"), file.Row("standing_taper"), file.Row("vent"));
        foreach (var row in new[] { lying, standing, taper, vent }) row.TextOr("printed", "");
        var table = new CoreTable(
            SizeRows.Read(file, "clearance", (upTo_mm, r) =>
            {
                r.TextOr("printed", "");
                return new CoreClearanceRow(upTo_mm, r.Number("side_mm", 0, 10), r.Number("axial_mm", 0, 20), r.Provenance());
            }),
            new(lying.Number("least_mm", 1, 500), lying.Number("diameters", 0.1, 10), lying.Number("most_diameters", 0.1, 20), lying.Number("end_taper_deg", 0.5, 30), lying.Provenance()),
            new(
                standing.Number("diameters", 0.1, 10), standing.Number("longest_mm", 1, 1000), standing.Number("top_share", 0.1, 2), standing.Provenance(),
                taper.Number("bottom_deg", 0.5, 30), taper.Number("top_deg", 0.5, 30), taper.Provenance()),
            file.Row("blind").Quoted("times_hollow", 0.5, 10),
            file.Row("unlike").Quoted("times", 1.05, 5),
            file.Row("flat").Quoted("wider_mm", 0.5, 50),
            file.Row("strength").Quoted("kPa", 1, 1e5),
            file.Row("bearing").Quoted("share", 0.05, 1),
            file.Row("core_sand").Quoted("kg_m3", 500, 5000),
            new(vent.Number("least_mm", 0.5, 20), vent.Number("most_mm", 0.5, 50), vent.Number("diameters", 0.01, 0.5), vent.Provenance()),
            file.Row("box_draft").Quoted("deg", 0.5, 20),
            file.Row("box_wall").Quoted("mm", 2, 100),
            file.Row("half").Quoted("share", 0, 0.5));
        foreach (var row in new[] { lying, standing, taper, vent }) row.Finish();
        file.Finish();
        return table;
    }

    /// <summary>[cores] of a shop file; what it leaves out stays as it was.</summary>
    internal CoreTable With(RowReader row)
    {
        var from = row.Provenance();
        double? Own(string key, double low, double high) => row.Has(key) ? row.Number(key, low, high) : null;
        Quoted Or(Quoted known, string key, double low, double high) => Own(key, low, high) is { } own ? new(own, "", from) : known;
        var (side, axial, print, draft, wall) = (Own("clearance_mm", 0, 10), Own("top_clearance_mm", 0, 20), Own("print_diameters", 0.1, 10), Or(BoxDraft_deg, "box_draft_deg", 0.5, 20), Or(BoxWall_mm, "box_wall_mm", 2, 100));
        var table = this with
        {
            Clearances = [.. Clearances.Select(c => side is null && axial is null ? c : c with { Side_mm = side ?? c.Side_mm, Axial_mm = axial ?? c.Axial_mm, From = from })],
            Lying = print is { } p ? Lying with { Diameters = p, MostDiameters = Math.Max(p, Lying.MostDiameters), From = from } : Lying,
            BearingShare = Or(BearingShare, "bearing_share", 0.05, 1),
            CoreSand_kg_m3 = Or(CoreSand_kg_m3, "sand_kg_m3", 500, 5000),
            BoxDraft_deg = draft,
            BoxWall_mm = wall,
        };
        row.Finish();
        return table;
    }
}
