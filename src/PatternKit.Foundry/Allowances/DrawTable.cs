using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>What the draw check lets pass, beside the limits of each sand and alloy.</summary>
/// <param name="LeastDepth_mm">Sand that stands or hangs less than this is not looked at.</param>
/// <param name="SquareCorner_mm">An inside corner rounded by less counts as square.</param>
public sealed record DrawTable(Quoted LeastDepth_mm, Quoted SquareCorner_mm)
{
    internal static DrawTable Read(RowReader file)
    {
        var table = new DrawTable(file.Row("least_depth").Quoted("mm", 0.1, 100), file.Row("square_corner").Quoted("radius_mm", 0.1, 20));
        file.Finish();
        return table;
    }
}
