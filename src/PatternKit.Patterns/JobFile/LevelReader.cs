using System.Collections.Immutable;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>levels</c> of [parting], the regions of the plan over which a stepped joint has heights of its own:
/// <c>[{ shape = { … }, z = 25 }, { outline = "lever.dxf#HIGH", z = 12 }]</c>, or [[parting.levels]]. Places are those of the part as it lies.
/// </summary>
internal sealed class LevelReader(JobText text, OutlineReader outlines)
{
    private const string Example = "levels = [{ shape = { rectangle = [60, 80], at = [40, 0] }, z = 25 }]";

    /// <summary>More would be a carved joint drawn by hand.</summary>
    private const int Most = 100;

    /// <summary>Heights nearer than this are one, mm.</summary>
    private const double LeastStep_mm = 0.1;

    /// <summary>The levels; at least one, none at the height around, none over another.</summary>
    /// <param name="entry">The key.</param>
    /// <param name="around_mm">Height of the joint everywhere else.</param>
    public ImmutableArray<JointLevel> Read(TomlEntry entry, double around_mm)
    {
        if (entry.Value is not TomlList { Items: [TomlTable, ..] } list) throw text.Refuse(entry.Value.Line, $"levels is no list of regions; write such as {Example}.");
        if (list.Items.Length > Most) throw text.Refuse(entry.Line, $"levels has {list.Items.Length} regions; at most {Most}. A joint that changes so often is better carved: joint = \"carved\".");
        var levels = ImmutableArray.CreateBuilder<JointLevel>();
        var plans = new List<PlanRegion>();
        foreach (var item in list.Items)
        {
            if (item is not TomlTable table) throw text.Refuse(item.Line, $"levels holds {item.Kind}; write such as {Example}.");
            var level = One(table, around_mm);
            var plan = PlanRegion.EvenOdd(level.Loops, OutlineTolerance.Chord_mm);
            for (var i = 0; i < plans.Count; i++)
            {
                var common = plans[i].Intersection(plan);
                if (!(common.Area > LoopRules.SmallestArea_mm2)) continue;
                var p = common.InnerPoint;
                throw text.Refuse(table.Line, $"region {plans.Count + 1} of levels overlaps region {i + 1} near ({Values.LengthText(text, p.X)}, {Values.LengthText(text, p.Y)}); a joint has one height there. Cut one back to the other; regions may meet.");
            }

            levels.Add(level);
            plans.Add(plan);
        }

        return levels.ToImmutable();
    }

    private JointLevel One(TomlTable table, double around_mm)
    {
        var s = Section.Open(text, table, "a region of levels", ["shape", "outline", "gap", "z"]);
        var (shape, outline) = (s["shape"], s["outline"]);
        if ((shape is null) == (outline is null)) throw text.Refuse(table.Line, $"a region of levels has {(shape is null ? "neither shape nor outline" : "both shape and outline")}; give one, as in {Example}.");
        if (outline is null && s["gap"] is { } gap) throw text.Refuse(gap.Line, "gap is for an outline; a shape has no gaps. Take it out.");
        var z = s["z"] ?? throw text.Refuse(table.Line, $"a region of levels has no z, the height of the joint there; write such as {Example}.");
        var height = Values.Length(text, z.Value, "z of a region of levels", -PartReader.LargestHeight_mm, PartReader.LargestHeight_mm);
        if (Math.Abs(height - around_mm) < LeastStep_mm)
            throw text.Refuse(z.Value.Line, $"z = {z.Value.Quoted} of a region of levels is the height of the joint around, at, so that there is no step. Take the region out, or give it another height.");
        var loops = outline is not null ? outlines.Read(outline, s["gap"]).Loops : ShapeReader.Read(text, shape!);
        return LoopRules.Problem(loops, mm => Values.LengthText(text, mm)) is { } problem
            ? throw text.Refuse((outline ?? shape)!.Line, $"levels: {problem}")
            : new(loops, height, $"{Path.GetFileName(text.Source)}, line {table.Line}");
    }
}
