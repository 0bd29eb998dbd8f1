using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Weights of what counts against a way to lie in the mould.</summary>
/// <param name="Caught">Of space caught behind the draw, as a share of the part.</param>
/// <param name="Recess">Of recesses left to the other half's sand, as a share of the part.</param>
/// <param name="NotFlat">Of projected area that is not flat in the joint, as a share of it.</param>
/// <param name="Depth">Of height along the draw, as a share of the part's diagonal.</param>
/// <param name="Upright">Of skin with too little draft, as a share of it.</param>
public sealed record LyingTable(Quoted Caught, Quoted Recess, Quoted NotFlat, Quoted Depth, Quoted Upright)
{
    internal static LyingTable Read(RowReader file)
    {
        Quoted Weight(string name) => file.Row(name).Quoted("weight", 0, 1000);
        var table = new LyingTable(Weight("caught"), Weight("recess"), Weight("not_flat"), Weight("depth"), Weight("upright"));
        file.Finish();
        return table;
    }
}
