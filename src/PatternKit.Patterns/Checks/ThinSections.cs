using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Checks;

/// <summary>
/// Metal that is thinner than usually runs in sand: upright walls and ribs by the width of their level sections, which draft
/// makes least at the top, and webs by their thickness along the draw. A ridge no higher than it is wide is part of what it stands on.
/// </summary>
internal static class ThinSections
{
    private const double Beside = 0.01;

    /// <summary>The thin sections of the casting.</summary>
    public static IEnumerable<Finding> Of(HalfMould cope, HalfMould drag, TerrainMap terrain, Alloy alloy, PatternFrame frame)
    {
        if (alloy.MinimumSection_mm is not { } least) return [];
        return Webs(terrain, least, frame)
            .Concat(Walls(cope, MouldHalf.Cope, least.Value).Concat(Walls(drag, MouldHalf.Drag, least.Value)).OrderBy(w => w.Place.Width)
                .Aggregate(new List<(NarrowPlace Place, Vec3 At)>(), (kept, w) =>
                {
                    if (!kept.Exists(k => k.Place.Region.Geometry.Intersects(w.Place.Region.Geometry))) kept.Add(w);
                    return kept;
                }).Select(w => Told("wall or rib", w.Place.Width, w.At, least, frame)));
    }

    private static IEnumerable<(NarrowPlace Place, Vec3 At)> Walls(HalfMould mould, MouldHalf half, double least)
    {
        if (mould.IsEmpty) yield break;
        var up = half == MouldHalf.Cope ? 1 : -1;
        foreach (var top in mould.Upper.Levels.Where(z => z > mould.Joint_mm))
        {
            foreach (var place in NarrowPlaces.Within(mould.SectionJustBelow(top, Beside), least))
            {
                var below = Math.Max(top - place.Width, mould.Joint_mm);
                if (top - below >= place.Width - Beside && IsNarrow(mould.Section(below), place.At, least)) yield return (place, new(place.At.X, place.At.Y, up * top));
            }
        }
    }

    /// <summary>Whether a section is still narrow about a point: no circle as wide as asked fits around it.</summary>
    private static bool IsNarrow(PlanRegion section, Vec2 at, double least) =>
        NarrowPlaces.Within(section, least).Any(p => p.Region.Contains(at));

    private static IEnumerable<Finding> Webs(TerrainMap terrain, Quoted least, PatternFrame frame)
    {
        var thin = terrain.Cells.Where(c => c.IsMetal && c.Upper - c.Lower < least.Value - Beside).ToList();
        foreach (var piece in PlanRegion.Union(thin.Select(c => c.Region)).Offset(-least.Value / 2, Beside).Pieces())
        {
            // The strip beside a round back, narrower than the least section, is its edge and no web.
            var cell = thin.Where(c => !c.Region.Intersection(piece).IsEmpty).MinBy(c => c.Upper - c.Lower)!;
            var p = cell.Region.Intersection(piece).InnerPoint;
            yield return Told("web or floor", cell.Upper - cell.Lower, new(p.X, p.Y, (cell.Upper + cell.Lower) / 2), least, frame);
        }
    }

    private static Finding Told(string kind, double width_mm, Vec3 place, Quoted least, PatternFrame frame)
    {
        var at = frame.ToJob(place);
        return new(
            "thin-section", Severity.Warn,
            Invariant($"A {kind} near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm is {width_mm:0.##} mm thick: metal may freeze before it is filled. About {least.Value:0.##} mm usually run."),
            at, width_mm, least.Value, least.From.Text,
            "Thicken it, or cast it thicker and machine it; else pour hotter and gate near it.", "mm");
    }
}
