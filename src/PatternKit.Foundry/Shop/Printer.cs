using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>What the shop's printer takes.</summary>
/// <param name="Length_mm">Of the bed.</param>
/// <param name="Width_mm">Of the bed.</param>
/// <param name="Height_mm">Above the bed; null where it was not given.</param>
/// <param name="CutsToBed">Whether bodies that the bed does not take are cut into pieces.</param>
/// <param name="From">Where the figures come from.</param>
public sealed record Printer(double Length_mm, double Width_mm, double? Height_mm, bool CutsToBed, Provenance From)
{
    /// <summary>The bed of [printer] of a shop file; what it leaves out stays as it was. Null where no file gives one.</summary>
    internal static Printer? Read(Printer? known, RowReader row)
    {
        if (known is null && !row.Has("bed_mm"))
        {
            foreach (var key in new[] { "height_mm", "cut_to_bed" })
                if (row.Has(key)) throw row.Error($"'{key}' needs 'bed_mm', length and width of the bed, such as [220, 220].");
            return null;
        }

        var bed = known is not null && !row.Has("bed_mm") ? [known.Length_mm, known.Width_mm] : row.Numbers("bed_mm", 20, 5000);
        if (bed.Length != 2) throw row.Error("'bed_mm' is length and width, such as [220, 220].");
        double? height_mm = row.Has("height_mm") ? row.Number("height_mm", 10, 5000) : known?.Height_mm;
        return new(bed[0], bed[1], height_mm, row.FlagOr("cut_to_bed", known?.CutsToBed ?? true), row.Provenance());
    }
}
