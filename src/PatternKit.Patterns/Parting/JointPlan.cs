using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;

namespace PatternKit.Patterns.Parting;

/// <summary>The casting between its upper and lower terrain, ready for draft, with the joint settled everywhere.</summary>
/// <param name="Terrain">
/// Pattern millimetres. Metal cells lie between lower and upper height; in an enclosed hole both are at the height
/// where the sand in it parts; outside both are at the joint.
/// </param>
/// <param name="Trapped_mm3">Filled because sand was trapped in it.</param>
/// <param name="Recess_mm3">Filled to bring recesses that are open to the outside, and columns that no joint fits, to the joint.</param>
/// <param name="Findings">What was filled at the joint, and where.</param>
public sealed record JointPlan(TerrainMap Terrain, double Trapped_mm3, double Recess_mm3, ImmutableArray<Finding> Findings)
{
    /// <summary>Settles the joint at the height chosen.</summary>
    /// <param name="casting">The casting.</param>
    /// <param name="choice">Its parting.</param>
    /// <param name="table">Of loose pieces, for what hangs over.</param>
    public static JointPlan From(CastingBody casting, PartingChoice choice, LooseTable table)
    {
        var cells = choice.Map.Cells;
        var sand = new SandJoint(choice.Map, casting.Lattice.Step);
        var joint = sand.At(choice.PatternHeight_mm);
        double Added_mm3(int i) => cells[i].Solid.IsEmpty ? 0
            : joint.Added(i, cells[i]);
        var findings = CellGroups.Of(cells.Length, i => Added_mm3(i) > 0, sand.NeighboursOf).Select(group =>
        {
            var largest = group.MaxBy(Added_mm3);
            var p = cells[largest].Region.InnerPoint;
            var (lower, upper, centre) = (joint.Lower[largest], joint.Upper[largest], cells[largest].Region.Centroid);
            var z = lower != cells[largest].Solid[0].Low ? (lower.At(centre) + cells[largest].Low) / 2 : (upper.At(centre) + cells[largest].High) / 2;
            var at = casting.Frame.ToJob(new(p.X, p.Y, z));
            // What hangs over is metal; what is filled lies between it and the joint.
            var loose = Overhang.AsLoosePiece(cells, group, c => (c.Solid[0].Low.At(c.Region.Centroid) + c.Solid[^1].High.At(c.Region.Centroid)) / 2, table);
            var why = group.Exists(i => joint.Open[i]) ? "A recess open to the outside" : "A step between the sand of both halves";
            return new Finding(
                "undercut", Severity.Warn,
                string.Create(CultureInfo.InvariantCulture, $"{why} near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm is filled to the joint, {group.Sum(Added_mm3):0.#} mm³."),
                at, group.Sum(Added_mm3), 0, Remedy: $"Machine it after casting, {(loose is null ? "" : loose + ", ")}or give another parting height.", Unit: "mm3");
        });
        var kinds = cells.Select((c, i) => (TerrainKind?)new TerrainKind(joint.Upper[i], joint.Lower[i], !c.Solid.IsEmpty, joint.Open[i]));
        return new(TerrainMap.Joined([.. cells.Select(c => c.Region)], kinds, choice.PatternHeight_mm), choice.Trapped_mm3, joint.Added_mm3, [.. findings]);
    }
}
