using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>When a part that is at hand will do as its own pattern.</summary>
/// <param name="Untapered">Share of the skin with less taper than asked that is let pass.</param>
/// <param name="BuiltUp_mm">What walls may need to be built up by, at the thickest.</param>
/// <param name="FlatWithin_mm">How far the edge of the part may lie off a flat joint.</param>
public sealed record OriginalTable(Quoted Untapered, Quoted BuiltUp_mm, Quoted FlatWithin_mm)
{
    internal static OriginalTable Read(RowReader file)
    {
        var table = new OriginalTable(
            file.Row("untapered").Quoted("share", 0, 1), file.Row("built_up").Quoted("mm", 0, 10), file.Row("flat_joint").Quoted("within_mm", 0, 10));
        file.Finish();
        return table;
    }
}
