using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Moulding;

/// <summary>All that is sunk upright into the joint faces: holes of dowels and draw screws, seats of plates, marks. No two have a place in common.</summary>
/// <param name="Dowels">Register both halves; none where nothing fits or nothing is to be registered.</param>
/// <param name="DowelRule">What chose them.</param>
/// <param name="DowelSource">Where the rule is from.</param>
/// <param name="Handling">Of every half that is not empty.</param>
/// <param name="Marks">Of every half that has room for one.</param>
internal sealed record JointPockets(
    ImmutableArray<Dowel> Dowels, string DowelRule, string DowelSource, ImmutableArray<Handling> Handling, ImmutableArray<PartingMark> Marks)
{
    /// <summary>Nothing is sunk in.</summary>
    /// <param name="why">In the words of the dowel rule.</param>
    public static JointPockets None(string why) => new([], why, "common practice", [], []);

    /// <summary>Places them, the dowels first; where the joint is not flat, dowels alone, on level places of it.</summary>
    /// <param name="job">The job.</param>
    /// <param name="cope">Upper half.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="allowances">What was asked for dowels.</param>
    /// <param name="tables">Trade tables.</param>
    /// <param name="texts">What the mark of a half may say.</param>
    /// <param name="seams">Where nothing may be sunk into a half, since it is cut there.</param>
    public static JointPockets Of(
        Job job, HalfMould cope, HalfMould drag, Allowances allowances, FoundryTables tables, Func<MouldHalf, ImmutableArray<MarkText>> texts, Func<MouldHalf, PlanRegion> seams)
    {
        var (dowels, rule, source) = Registered(cope, drag, allowances, tables.Dowels, seams(MouldHalf.Cope).Union(seams(MouldHalf.Drag)));
        // Draw screws and marks look for a face that is level all over.
        if (cope.IsCarved) return new(dowels, rule, source, [], []);
        var holes = PlanRegion.Union(dowels.Select(HoleOf));
        var placed = MouldHalves.Both(half =>
        {
            var mould = half == MouldHalf.Cope ? cope : drag;
            if (mould.IsEmpty) return default;
            var taken = holes.Union(seams(half));
            var handling = DrawScrews.Of(mould, half, job.Pattern.DrawScrews, taken, tables.Handling);
            return (Handling: handling, Mark: PartingMarks.Place(texts(half), mould, half, taken.Union(handling.Region), tables.Joint.Mark));
        });
        (Handling? Handling, PartingMark? Mark)[] all = [placed.Cope, placed.Drag];
        return new(dowels, rule, source, [.. all.Select(p => p.Handling).OfType<Handling>()], [.. all.Select(p => p.Mark).OfType<PartingMark>()]);
    }

    private static (ImmutableArray<Dowel> Dowels, string Rule, string Source) Registered(
        HalfMould cope, HalfMould drag, Allowances allowances, DowelTable table, PlanRegion seams)
    {
        var split = !cope.IsEmpty && !drag.IsEmpty;
        return split && allowances.Dowels != false ? RegisterDowels.Place(cope, drag, allowances.DowelDiameter_mm, table, seams) : ([], split ? Allowances.Given : "one half only: nothing to register", "");
    }

    /// <summary>Every pocket of a half. Holes in a seat are taken out of it.</summary>
    public ImmutableArray<UprightPocket> Of(MouldHalf half)
    {
        var (handling, mark) = (Handling.FirstOrDefault(h => h.Half == half), Marks.FirstOrDefault(m => m.Half == half));
        return
        [
            .. Dowels.Select(d => new UprightPocket(HoleOf(d), d.Depth_mm)),
            .. handling?.Screws.Select(s => new UprightPocket(s.Region, s.Depth_mm)) ?? [],
            .. handling?.Seats.Select(s => new UprightPocket(s.Region.Difference(PlanRegion.Union(handling.Screws.Select(h => h.Region))), s.Depth_mm)) ?? [],
            .. mark is null ? ImmutableArray<UprightPocket>.Empty : [new UprightPocket(mark.Region, mark.Depth_mm)],
        ];
    }

    private static PlanRegion HoleOf(Dowel d) => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005);
}
