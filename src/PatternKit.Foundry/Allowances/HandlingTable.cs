using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A plate of flat bar let into the joint face, tapped in its middle for the draw screw and rapped on.</summary>
/// <param name="Length_mm">Along the half.</param>
/// <param name="Width_mm">Across it.</param>
/// <param name="Thickness_mm">Along the draw.</param>
/// <param name="Pitch_mm">Between the two inserts that hold it.</param>
public sealed record RappingPlate(double Length_mm, double Width_mm, double Thickness_mm, double Pitch_mm);

/// <summary>A size of draw screw.</summary>
/// <param name="UpTo_mm">Greatest length of the half; infinite in the last row.</param>
/// <param name="Thread">Such as M4.</param>
/// <param name="Hole_mm">Diameter of the hole for its insert.</param>
/// <param name="Depths_mm">Of the hole for a short and for a long insert, ascending.</param>
/// <param name="Plate">The plate that goes with it.</param>
/// <param name="From">Where it comes from.</param>
public sealed record DrawScrewRow(
    double UpTo_mm, string Thread, double Hole_mm, ImmutableArray<double> Depths_mm, RappingPlate Plate, Provenance From);

/// <summary>When a half is drawn by two screws.</summary>
/// <param name="From_mm">Length from which any half is.</param>
/// <param name="SlenderFrom_mm">Length from which a slender one is.</param>
/// <param name="SlenderTimesWidth">Length over width from which it is slender.</param>
/// <param name="Apart">Distance of the two, as a fraction of the length.</param>
/// <param name="OffCentre">A half is also drawn by two where one would be farther from the centre than this fraction of the length; nor may the middle of two be.</param>
/// <param name="From">Where it comes from.</param>
public sealed record DrawPairRule(double From_mm, double SlenderFrom_mm, double SlenderTimesWidth, double Apart, double OffCentre, Provenance From);

/// <summary>When a half has seats for rapping plates, and how the seat differs from the plate.</summary>
/// <param name="From_mm2">Plan area of the half from which it has.</param>
/// <param name="Clearance_mm">Seat longer and wider than the plate by this.</param>
/// <param name="Sunk_mm">How far the plate lies below the joint face.</param>
/// <param name="Corner_mm">Radius of the seat's corners.</param>
/// <param name="From">Where it comes from.</param>
public sealed record PlateSeatRule(double From_mm2, double Clearance_mm, double Sunk_mm, double Corner_mm, Provenance From);

/// <summary>Draw screws and rapping plates.</summary>
/// <param name="Screws">By length of the half, ascending.</param>
/// <param name="Land_mm">Material around a pocket.</param>
/// <param name="Wall_mm">Material above it.</param>
/// <param name="Pair">When there are two.</param>
/// <param name="Seat">When there are plates.</param>
public sealed record HandlingTable(
    ImmutableArray<DrawScrewRow> Screws, Quoted Land_mm, Quoted Wall_mm, DrawPairRule Pair, PlateSeatRule Seat)
{
    internal static HandlingTable Read(RowReader file)
    {
        var screws = SizeRows.Read(file, "screw", Screw);
        var pair = file.Row("pair");
        var plate = file.Row("plate");
        var table = new HandlingTable(
            screws,
            file.Row("land").Quoted("mm", 0.5, 20),
            file.Row("wall").Quoted("mm", 0.5, 20),
            new(pair.Number("from_mm", 1, 1e4), pair.Number("slender_from_mm", 1, 1e4), pair.Number("slender_times_width", 1, 100),
                pair.Number("apart", 0.1, 0.9), pair.Number("off_centre", 0, 0.5), pair.Provenance()),
            new(plate.Number("from_mm2", 1, 1e8), plate.Number("clearance_mm", 0, 5), plate.Number("sunk_mm", 0, 5), plate.Number("corner_mm", 0, 10), plate.Provenance()));
        pair.Finish();
        plate.Finish();
        file.Finish();
        return table;
    }

    /// <summary>The row for a half of a length.</summary>
    /// <returns>The index of the row in <see cref="Screws"/>, and its sizes in words.</returns>
    public (int Index, string Sizes) For(double length_mm)
    {
        Checked.Positive(length_mm, nameof(length_mm));
        var (row, over_mm) = SizeRows.Find(Screws, r => r.UpTo_mm, length_mm);
        return (Screws.IndexOf(row), Shown.Range_mm(over_mm, row.UpTo_mm));
    }

    private static DrawScrewRow Screw(double upTo_mm, RowReader r)
    {
        var depths = r.Numbers("depths_mm", 1, 100);
        if (depths.IsEmpty || !depths.SequenceEqual(depths.Order()))
            throw r.Error("'depths_mm' must grow.");
        var plate = r.Numbers("plate_mm", 1, 500);
        if (plate.Length != 3)
            throw r.Error("'plate_mm' is length, width and thickness.");
        return new(
            upTo_mm, r.Text("thread"), r.Number("hole_mm", 1, 50), depths,
            new(plate[0], plate[1], plate[2], r.Number("pitch_mm", 1, 400)), r.Provenance());
    }
}
