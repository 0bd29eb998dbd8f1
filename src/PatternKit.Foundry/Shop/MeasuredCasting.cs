using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>A size of a casting that the shop measured, beside that of its pattern.</summary>
/// <param name="Alloy">Key of the alloy.</param>
/// <param name="Sand">Key of the sand.</param>
/// <param name="Pattern_mm">On the pattern.</param>
/// <param name="Rapping_mm">What rapping adds to the size in the sand, both walls together: below 0 across a hole, 0 along the draw.</param>
/// <param name="Casting_mm">On the casting, cold and not machined.</param>
/// <param name="Where">"shop.toml, line 12".</param>
public sealed record MeasuredCasting(string Alloy, string Sand, double Pattern_mm, double Rapping_mm, double Casting_mm, string Where)
{
    /// <summary>The size that the metal found in the sand, mm.</summary>
    public double Cavity_mm => Pattern_mm + Rapping_mm;

    /// <summary>A casting differs from its pattern by less than this share of it; more is a slip of the pen.</summary>
    private const double MostDifference = 0.1;

    internal static MeasuredCasting Read(RowReader row, Func<RowReader, string> alloy, Func<RowReader, string> sand, string where)
    {
        var cast = new MeasuredCasting(alloy(row), sand(row), row.Number("pattern_mm", 1, 10000), row.Has("rapping_mm") ? row.Number("rapping_mm", -10, 10) : 0, row.Number("casting_mm", 1, 10000), where);
        row.TextOr("note", "");
        row.Finish();
        return Math.Abs(cast.Casting_mm - cast.Pattern_mm) <= MostDifference * cast.Pattern_mm
            ? cast
            : throw row.Error($"a casting of {Shown.Number(cast.Casting_mm)} mm from a pattern of {Shown.Number(cast.Pattern_mm)} mm differs by more than {Shown.Percent(MostDifference)}; measure both over the same faces, in millimetres.");
    }
}
