using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A mould constant that the shop measured: freezing time of a section over the square of its modulus, as the shop pours.</summary>
/// <param name="Alloy">Key of the alloy.</param>
/// <param name="Sand">Key of the sand.</param>
/// <param name="Constant_s_mm2">B of t = B M².</param>
/// <param name="From">Where it comes from: "measured, shop.toml" where the row names no other.</param>
public sealed record MeasuredConstant(string Alloy, string Sand, double Constant_s_mm2, Provenance From)
{
    // A minute over a square centimetre.
    private const double PerMinute_cm2 = 0.6;

    internal static MeasuredConstant Read(RowReader row, Func<RowReader, string> alloy, Func<RowReader, string> sand)
    {
        var (a, s) = (alloy(row), sand(row));
        double? mm = row.Has("s_mm2") ? row.Number("s_mm2", MouldConstantRow.Least_s_mm2, MouldConstantRow.Most_s_mm2) : null;
        double? cm = row.Has("min_cm2") ? PerMinute_cm2 * row.Number("min_cm2", MouldConstantRow.Least_s_mm2 / PerMinute_cm2, MouldConstantRow.Most_s_mm2 / PerMinute_cm2) : null;
        var named = row.Has("source");
        var origin = row.Provenance();
        row.TextOr("note", "");
        row.Finish();
        if (mm is null == cm is null) throw row.Error("give the mould constant once: 's_mm2' or 'min_cm2', which is 0.6 s/mm².");
        return new(a, s, mm ?? cm!.Value, named ? origin : origin with { Source = $"measured, {origin.Source}" });
    }
}
