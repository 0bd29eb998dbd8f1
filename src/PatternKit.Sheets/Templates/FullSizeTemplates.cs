using System.Collections.Immutable;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Templates;

/// <summary>Everything of a kit that is cut out at full size: sections of halves and bars, a contraction rule, gauges.</summary>
internal static class FullSizeTemplates
{
    public static ImmutableArray<Template> Of(Kit kit, ImmutableArray<HalfSection> sections)
    {
        var numbers = new SheetNumbers(kit.Job.Unit);
        return
        [
            .. sections.Where(s => s.Region is { IsEmpty: false }).Select(s => OfHalf(kit, s)),
            .. (kit.Gating?.Bars ?? []).SelectMany(b => b.Cuts.Where(c => !c.Region.IsEmpty).Select(c => new Template($"{b.Body.Name}: {c.Name}, {numbers.PlainArea(c.Region.Area)}", [c.Region]))),
            ContractionRule.Make(kit.Scale, numbers),
            .. kit.Measures.Select(m => MeasureGauge.Make(m, numbers)).OfType<Template>(),
        ];
    }

    private static Template OfHalf(Kit kit, HalfSection section)
    {
        var handling = kit.Handling.Where(h => h.Half == section.Half).ToArray();
        return new(section.Text, [section.Region!, .. handling.SelectMany(h => h.Seats).Where(s => s.Depth_mm > section.Level_mm).Select(s => s.Region)])
        {
            Drill =
            [
                .. kit.Dowels.Where(d => section.Region!.Contains(d.At_mm)).Select(d => (d.At_mm, d.Hole_mm)),
                .. handling.SelectMany(h => h.Screws).Where(s => s.Depth_mm > section.Level_mm).Select(s => (s.At_mm, s.Hole_mm)),
            ],
        };
    }
}
