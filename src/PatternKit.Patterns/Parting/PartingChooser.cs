using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Parting;

/// <summary>
/// Chooses the height of a flat joint. What counts is the metal that must be added: recesses open to the outside are
/// filled to the joint, enclosed ones are left by sand and cost nothing. That cost is least at the height of some planar
/// face. Among the least: one that leaves a half empty (the lower end of the part first, as it was drawn); else the one
/// with the least sand standing or hanging inside, which is where the cost of reaching the joint in every column is
/// least; of these the largest planar face; of equals the plane of symmetry, else the lowest. A body of prisms always has such a
/// face, so the rule never gets as far as the metal of the draft.
/// </summary>
public static class PartingChooser
{
    /// <summary>Chooses, or takes the height that the job gives.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">Its part.</param>
    /// <param name="casting">Its casting.</param>
    /// <param name="table">Of loose pieces, for what hangs over.</param>
    /// <exception cref="InputException">The height given lies outside the part.</exception>
    public static PartingChoice Choose(Job job, PartBody part, CastingBody casting, LooseTable table)
    {
        var (map, trapped_mm3, findings) = TrappedGaps.Fill(casting, table);
        var step = casting.Lattice.Step;
        var heights = new Heights(map, casting.TurnedHeights_mm, step);
        var scale = casting.Frame.Scale;
        double z;
        string reason;
        if (job.Parting.At_mm is { } given)
        {
            z = casting.Lattice.Snap(given * scale);
            var (low, high) = (Math.Min(part.Box.Low.Z, map.Box.Low.Z / scale), Math.Max(part.Box.High.Z, map.Box.High.Z / scale));
            var slack = part.Step + casting.Lattice.Step;
            if (!(given >= low - slack && given <= high + slack))
                throw new InputException(PartBody.Source(job), "[parting] at", string.Create(
                    CultureInfo.InvariantCulture, $"z = {given:0.###} mm lies outside the part, which reaches from {low:0.###} to {high:0.###} mm; give a height in between, or \"auto\"."));
            z = Math.Clamp(z, map.Box.Low.Z, map.Box.High.Z);
            reason = "given in the job";
        }
        else
        {
            (z, reason) = casting.TurnedHeights_mm.Cores is [var axis] && axis >= map.Box.Low.Z && axis <= map.Box.High.Z
                ? (axis, "the axis of the cores that lie, which part with the mould") : Automatic(heights);
            z = casting.Lattice.Snap(z);
        }

        // Sloped surfaces that the joint passes through lie on both its sides.
        var cut = map.CutAt(z, step);
        if (cut != map) (map, heights) = (cut, new(cut, casting.TurnedHeights_mm, step));
        var (from, to) = heights.SameCostAround(z);
        var added_mm3 = heights.Added(z);
        var told = string.Create(
            CultureInfo.InvariantCulture,
            $"{reason}; {added_mm3:0.#} mm³ of metal added, the same from z = {from / scale:0.###} to {to / scale:0.###} mm");
        return new(
            InJob(z, scale), z, InJob(from, scale), InJob(to, scale), added_mm3, trapped_mm3,
            [.. heights.All.Select(h => new PartingAlternative(InJob(h, scale), heights.Added(h), Math.Max(0, heights.Sand(h)), heights.LeavesHalfEmpty(h), heights.Face(h)))],
            told, map, findings);
    }

    /// <summary>A height of the lattice in job z for people and scripts: to a tenth of a micrometre, far below a printed layer.</summary>
    private static double InJob(double z, double scale) => Math.Round(z / scale, 4) + 0.0;

    private static (double Z, string Reason) Automatic(Heights heights)
    {
        var least = heights.All.Min(heights.Added);
        var best = heights.All.Where(h => heights.Added(h) <= least + heights.Slack_mm3).ToList();
        if (best[0] == heights.All[0])
            return (best[0], "least metal added and the drag left empty: flat back at the bottom");
        if (best[^1] == heights.All[^1])
            return (best[^1], "least metal added and the cope left empty: flat back at the top");

        if (best.FindIndex(heights.IsAxis) is var axis and >= 0)
            return (best[axis], "least metal added, at the plane of the axis of a turned feature");

        var sand = best.Min(heights.Sand);
        best = [.. best.Where(h => heights.Sand(h) <= sand + heights.Slack_mm3)];
        var face = best.Max(heights.Face);
        best = [.. best.Where(h => heights.Face(h) >= face * (1 - 1e-9))];
        if (best.Count > 1 && heights.Symmetry is { } middle && middle > best[0] && middle < best[^1] && heights.Added(middle) <= least + heights.Slack_mm3)
            return (middle, "least metal added, at the plane of symmetry between two equal faces");
        return (best[0], best.Count > 1 ? "least metal added, at the lowest of the largest planar faces" : "least metal added, at the largest planar face");
    }

    /// <summary>Costs of the heights of one casting, each reckoned once.</summary>
    private sealed class Heights
    {
        private readonly ColumnMap map;
        private readonly SandJoint joint;
        private readonly ReachCost fill;
        private readonly Dictionary<double, double> added = [];

        private readonly double[] turned;

        internal Heights(ColumnMap map, TurnedHeights turned, double step)
        {
            this.map = map;
            joint = new(map, step);
            var metal = map.Cells.Where(c => !c.Solid.IsEmpty).ToList();
            fill = new([.. metal.Select(c => (c.Region.Area, c.Low, c.High))]);
            Slack_mm3 = 1e-9 * map.Volume;
            this.turned = [.. turned.Axes.Select(z => Lattice.Snap(z, step))];
            var (low, high) = (map.Box.Low.Z, map.Box.High.Z);
            All =
            [
                .. metal.SelectMany(c => new[] { c.Solid[0].Low, c.Solid[^1].High }).Where(p => p.IsLevel).Select(p => p.AtOrigin)
                    .Concat(this.turned).Concat(turned.Corners.Select(z => Lattice.Snap(z, step))).Where(z => z >= low && z <= high)
                    .Append(low).Append(high).Distinct().Order(),
            ];
        }

        /// <summary>The heights of level faces, of axes and profile corners of turned features, and the ends of the casting, ascending.</summary>
        internal double[] All { get; }

        internal bool IsAxis(double z) => Array.IndexOf(turned, z) >= 0;

        /// <summary>Costs that differ by less are the same.</summary>
        internal double Slack_mm3 { get; }

        /// <summary>The height about which the casting is its own mirror image, if there is one.</summary>
        internal double? Symmetry => map.Cells.All(c => c.Solid.IsEmpty || Math.Abs(c.Low + c.High - All[0] - All[^1]) <= 1e-6 * (All[^1] - All[0])) ? (All[0] + All[^1]) / 2 : null;

        internal double Added(double z)
        {
            if (!added.TryGetValue(z, out var cost)) added.Add(z, cost = joint.At(z).Added_mm3);
            return cost;
        }

        internal double Sand(double z) => fill.At(z) - Added(z);

        internal double Face(double z) => map.Cells.Where(c => !c.Solid.IsEmpty && (c.Solid[0].Low == z || c.Solid[^1].High == z)).Sum(c => c.Region.Area);

        internal bool LeavesHalfEmpty(double z) => z <= All[0] || z >= All[^1];

        /// <summary>The heights without a break around one that cost the same. Between two faces the cost is linear.</summary>
        internal (double Low, double High) SameCostAround(double z)
        {
            var cost = Added(z);
            bool Same(double h) => Math.Abs(Added(h) - cost) <= Slack_mm3;
            var (low, high) = (z, z);
            foreach (var h in All.Where(h => h < z).Reverse())
            {
                if (!Same((h + low) / 2) || !Same(h)) break;
                low = h;
            }

            foreach (var h in All.Where(h => h > z))
            {
                if (!Same((h + high) / 2) || !Same(h)) break;
                high = h;
            }

            return (low, high);
        }
    }
}
