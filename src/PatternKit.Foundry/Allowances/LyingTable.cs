using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>How ways to lie in the mould are judged: weights of what counts against one, and what counts as flat back and as wall.</summary>
/// <param name="Caught">Of space caught behind the draw, as a share of the part.</param>
/// <param name="Recess">Of recesses left to the other half's sand, as a share of the part.</param>
/// <param name="NotFlat">Of projected area that is not flat in the joint, as a share of it.</param>
/// <param name="Depth">Of height along the draw, as a share of the part's diagonal.</param>
/// <param name="Upright">Of skin with too little draft, as a share of it.</param>
/// <param name="FlatBack">So much more filling, as a share of the part, a flat back is worth.</param>
/// <param name="Roof_deg">What leans over by more is no wall.</param>
public sealed record LyingTable(Quoted Caught, Quoted Recess, Quoted NotFlat, Quoted Depth, Quoted Upright, Quoted FlatBack, Quoted Roof_deg)
{
    internal static LyingTable Read(RowReader file)
    {
        Quoted Weight(string name) => file.Row(name).Quoted("weight", 0, 1000);
        var table = new LyingTable(
            Weight("caught"), Weight("recess"), Weight("not_flat"), Weight("depth"), Weight("upright"),
            file.Row("flat_back").Quoted("more_filling", 0, 1), file.Row("roof").Quoted("leaning_deg", 0, 90));
        file.Finish();
        return table;
    }
}
