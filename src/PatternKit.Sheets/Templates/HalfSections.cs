using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Templates;

/// <summary>A half cut level.</summary>
/// <param name="Half">Which.</param>
/// <param name="Level_mm">How far from the joint; 0 for the joint itself.</param>
/// <param name="Region">The section; null where the body is not closed there.</param>
/// <param name="Text">What it is.</param>
internal sealed record HalfSection(MouldHalf Half, double Level_mm, PlanRegion? Region, string Text);

/// <summary>The sections of the halves that templates are cut by: the outline at the joint, then one at every flat level.</summary>
internal static class HalfSections
{
    // Levels nearer than this to each other or to the joint give one template.
    private const double SameLevel_mm = 0.01;

    // Sections are taken this much short of a level: on it, rounding would decide whether the flat ground still counts.
    private const double Short_mm = 0.001;

    public static IEnumerable<HalfSection> Of(Kit kit)
    {
        var numbers = new SheetNumbers(kit.Job.Unit);
        foreach (var body in kit.Bodies)
        {
            var cope = body.Half == MouldHalf.Cope;
            yield return new(body.Half, 0, cope ? kit.Plan.CopeOutline : kit.Plan.DragOutline, $"{body.Name} at the joint");
            foreach (var level in Levels(kit, body.Half))
            {
                var text = $"{body.Name}, {numbers.PlainLength(level)} {(cope ? "above" : "below")} the joint";
                var section = SectionAt(body, kit.Parting.PatternHeight_mm, level);
                yield return new(body.Half, level, section, section is null ? $"{text}: {ClosedSection.Missing(body)}" : text);
            }
        }
    }

    private static IEnumerable<double> Levels(Kit kit, MouldHalf half)
    {
        var last = SameLevel_mm;
        foreach (var level in kit.Plan.Flats.Where(f => f.Half == half).Select(f => Math.Abs(f.Height_mm)).Order())
        {
            if (level <= last + SameLevel_mm) continue;
            yield return last = level;
        }
    }

    private static PlanRegion? SectionAt(KitBody body, double joint, double level)
    {
        var (height, normal) = body.Half == MouldHalf.Cope ? (joint + level - Short_mm, 1) : (joint - level + Short_mm, -1);
        return ClosedSection.Of(body, new(0, 0, height), new(0, 0, normal)) is not { } loops ? null
            : PlanRegion.EvenOdd(loops.Select(l => PlanPath.Polygon([.. l.Select(p => p.Plan)])), 1);
    }
}
