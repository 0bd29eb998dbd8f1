using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using static System.FormattableString;
using static PatternKit.Patterns.Moulding.MouldHalves;

namespace PatternKit.Patterns.Moulding;

/// <summary>
/// Inside corners between upright walls that stand on the joint, rounded in plan before draft, so much wider above that the foot keeps the
/// radius. (Those that stand on a flat are filled by the fillet that rolls along it.) A corner that is drawn round enough stays as drawn.
/// </summary>
/// <param name="Terrain">With the corners filled.</param>
/// <param name="Added_mm3">What they hold, before draft.</param>
/// <param name="Decisions">The radius with its rule, where a corner was rounded.</param>
public sealed record RoundedCorners(TerrainMap Terrain, double Added_mm3, ImmutableArray<Decision> Decisions)
{
    /// <summary>Rounds the corners of a terrain.</summary>
    /// <param name="job">The job.</param>
    /// <param name="map">The terrain before draft, on the lattice.</param>
    /// <param name="cope">The half above, drafted, its corners square.</param>
    /// <param name="drag">The half below.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="allowances">Stock, to know named features by their ends.</param>
    /// <param name="check">Which corners count as square.</param>
    /// <param name="step">Of the lattice, mm.</param>
    public static RoundedCorners Of(
        Job job, TerrainMap map, HalfMould cope, HalfMould drag, PatternFrame frame, Allowances allowances, DrawTable check, double step)
    {
        var asked = job.Pattern.Fillet?.All_mm;
        var rule = asked is { } given ? new Sourced<double>(given, "", Allowances.Given)
            : new(allowances.Fillets.Least_mm.Value, allowances.Fillets.Least_mm.From.Text, "the least fillet");
        if (rule.Value == 0) return new(map, 0, []);
        var (above, below) = Both(half => Fills(half == MouldHalf.Cope ? cope : drag, half));
        var count = above.Count + below.Count;
        if (count == 0) return new(map, 0, []);
        var rounded = Filled(map, above, below, step);
        return new(rounded, rounded.Volume - map.Volume,
        [
            new(
                "fillet_corners_mm", "Inside corners of the outline that stand on the joint", rule.Value, "mm",
                Invariant($"{count} {(count == 1 ? "corner" : "corners")} of both halves rounded before draft; {rule.Rule}"), rule.Source),
        ]);

        List<Fill> Fills(HalfMould mould, MouldHalf half)
        {
            var fills = new List<Fill>();
            if (mould.IsEmpty) return fills;
            var sign = half == MouldHalf.Cope ? 1 : -1;
            var named = new NamedRadii(job, job.Pattern.Fillet, half, frame, allowances);
            var metal = map.Cells.Where(c => c.IsMetal && sign * ((sign > 0 ? c.Upper : c.Lower) - map.Base) > 0)
                .Select(c => (c.Region, End: sign > 0 ? c.Top : c.Floor)).ToArray();
            // From the top down a corner shows first where the lower of its two walls ends; below, it is the same corner again.
            foreach (var end in metal.Where(c => c.End.IsLevel).Select(c => sign * c.End.AtOrigin).Distinct().OrderDescending())
            {
                var run = mould.Run(end - mould.Joint_mm);
                var reach = mould.Run(mould.Upper.Levels[0] - end) + Slack_mm;
                var higher = mould.Higher(metal.Select(c => new Plateau(c.Region, sign > 0 ? c.End : -c.End)), end, Chord_mm);
                var level = metal.Where(c => c.End.IsLevel && sign * c.End.AtOrigin == end).Select(c => c.Region);
                foreach (var corner in InsideCorners.Of(PlanRegion.Union(level.Append(higher)), rule.Value + run, Chord_mm))
                {
                    if (corner.Rounding - run >= Math.Min(check.SquareCorner_mm.Value, rule.Value)) continue;
                    if (fills.Exists(f => f.Region.Geometry.IsWithinDistance(corner.Fill.Geometry, mould.Run((sign * f.End_mm) - end) + Slack_mm))) continue;
                    var beside = metal.Where(c => c.Region.Geometry.IsWithinDistance(corner.Fill.Geometry, reach)).ToArray();
                    // Along a round or sloped wall no upright edge of sand stands.
                    if (beside.Length == 0 || beside.Any(b => !b.End.IsLevel || named.Of(new Plateau(b.Region, sign * b.End.AtOrigin)) == 0)) continue;
                    // It also takes what taper will put between it and higher walls, so that no slit is left beside it.
                    fills.Add(new(PlanRegion.Union([corner.Fill, corner.Fill.Offset(reach, Chord_mm).Intersection(higher)]), sign * end));
                }
            }

            return fills;
        }
    }

    /// <summary>Corners fit to nothing: their chords may be so far off their arcs, mm.</summary>
    private const double Chord_mm = 0.03;

    /// <summary>What rounding may leave between regions that touch, mm.</summary>
    private const double Slack_mm = 0.02;

    private readonly record struct Fill(PlanRegion Region, double End_mm);

    private static TerrainMap Filled(TerrainMap map, List<Fill> cope, List<Fill> drag, double step)
    {
        HeightPlane flat = new(map.Base, default);
        return TerrainPatches.Cut(map, cope, drag, f => f.Region, Kind, step);

        TerrainKind? Kind(TerrainCell? cell, Fill[] high, Fill[] low)
        {
            if (high.Length + low.Length == 0) return cell is null ? null : new(cell.Top, cell.Floor, cell.IsMetal, cell.IsOpen);
            // Sand in a hole may part at another height; where metal comes, it stands on the joint.
            var (top, floor, isOpen) = cell is { IsMetal: true } ? (cell.Top, cell.Floor, cell.IsOpen) : (flat, flat, false);
            if (high.Length > 0 && high.Max(f => f.End_mm) is var up && up > top.AtOrigin) top = new(up, default);
            if (low.Length > 0 && low.Min(f => f.End_mm) is var down && down < floor.AtOrigin) floor = new(down, default);
            return new(top, floor, true, isOpen);
        }
    }
}
