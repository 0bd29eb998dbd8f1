using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Pouring;

/// <summary>
/// Where the cope is pricked: over its high places, where the air is caught last; then again and again at the place farthest from the ingates and all vents so far,
/// until none is farther than the table says. An open feeder is a vent itself, with the area of its foot. Cores lead their gas out at their prints.
/// </summary>
internal static class VentPlanner
{
    /// <summary>The vents of a mould.</summary>
    /// <param name="mould">What is poured.</param>
    /// <param name="stations">Places of its cavity.</param>
    /// <param name="top_mm">Height of the top of the cope's sand.</param>
    /// <param name="table">Rules.</param>
    public static VentPlan Of(PouredMould mould, PlanStations stations, double top_mm, VentTable table)
    {
        var ingates = mould.BarsIn(MouldHalf.Cope).Concat(mould.BarsIn(MouldHalf.Drag)).Where(b => b.Kind == BarKind.Ingate).Select(b => b.Plan).ToArray();
        // An ingate meets the casting where that is nearest.
        Vec2[] mouths = stations.Places.IsEmpty ? [] : [.. ingates.Select(i => i.Centroid).Select(i => stations.Places.MinBy(s => Vec2.Distance(s.At, i)).At)];
        var feeders = mould.BarsIn(MouldHalf.Cope).Where(b => b.Kind == BarKind.Feeder).Select(b => b.Plan).ToArray();
        bool IsClosed(Vec2 p) => mould.Prints.Contains(p) || feeders.Any(f => f.Contains(p));
        var peaks = mould.MetalOf(MouldHalf.Cope) is { } cope ? MeshPeaks.Of(cope, table.Peak_mm.Value) : [];
        // Where a core's print or a feeder stands in the roof there is no sand to prick.
        var high = new List<Vent>();
        foreach (var p in peaks.Where(p => !IsClosed(p.At.Plan)))
            if (high.TrueForAll(v => Vec2.Distance(v.At_mm, p.At.Plan) > table.Spacing_mm.Value / 2)) high.Add(Pricked(p.At.Plan, VentPlace.HighPlace, p.At.Z));
        var choke = mould.Gating?.Reckoning.Choke_mm2.Value ?? 0;
        var (spacing, pricked) = (table.Spacing_mm, Spread(table.Spacing_mm));
        var open_mm2 = Open_mm2(mould);
        if (!table.Enough(pricked.Length, choke, open_mm2)) (spacing, pricked) = (table.Closest_mm, Spread(table.Closest_mm));
        return new(
            [.. pricked, .. mould.Cores.SelectMany(Prints)], table.Wire_mm(Math.Max(1, pricked.Length), choke, open_mm2),
            new(spacing.Value, spacing.From.Text, "no place of the cavity is farther from a vent, a feeder or an ingate"),
            new(table.Short_mm.Value, table.Short_mm.From.Text, "sand left between a vent and the cavity"), choke, open_mm2);

        ImmutableArray<Vent> Spread(Quoted distance) =>
        [
            .. high, .. stations.Spread(mouths.Concat(feeders.Select(f => f.Centroid)).Concat(high.Select(v => v.At_mm)), distance.Value).Where(p => !IsClosed(p)).Select(p => Pricked(p, VentPlace.FarEnd, mould.Roof_mm(p))),
        ];

        Vent Pricked(Vec2 at, VentPlace place, double roof_mm) => new(at, place, roof_mm, Math.Max(0, top_mm - roof_mm - table.Short_mm.Value));
    }

    /// <summary>The vents of a mould on edge: scratched into the joint, from the high places of the outline up to the edge of the flask.</summary>
    /// <param name="mould">What is poured.</param>
    /// <param name="gating">How it stands.</param>
    /// <param name="table">Rules.</param>
    public static VentPlan OnJoint(PouredMould mould, GatingPlan gating, VentTable table)
    {
        var (up, top, choke) = (gating.Position.Up.Direction.Plan, gating.Level_mm, gating.Reckoning.Choke_mm2.Value);
        var high = new List<Vent>();
        foreach (var p in PlanPeaks.Of(mould.Cavity, up, table.Peak_mm.Value))
        {
            if (high.Exists(v => Vec2.Distance(v.At_mm, p) <= table.Spacing_mm.Value / 2)) continue;
            high.Add(new(p, VentPlace.HighPlace, Vec2.Dot(p, up), Math.Max(0, top - Vec2.Dot(p, up) - table.Short_mm.Value)));
        }

        var open_mm2 = Open_mm2(mould);
        return new(
            [.. high, .. mould.Cores.SelectMany(Prints)], table.Wire_mm(Math.Max(1, high.Count), choke, open_mm2),
            new(table.Spacing_mm.Value, table.Spacing_mm.From.Text, "high places within half of it share a vent"), new(table.Short_mm.Value, table.Short_mm.From.Text, "sand left between a vent and the cavity"), choke, open_mm2);
    }

    // Those that are cut by hand are as wide all over.
    private static double Open_mm2(PouredMould mould) => (mould.Feeding?.Sections ?? []).Where(s => !s.Holds.IsEmpty).Sum(s => Flow.Circle_mm2(s.Foot_mm ?? s.Size!.Diameter_mm));

    /// <summary>Of a core that lies the ends of its prints, of one that stands its upper print; one with a lower print alone is led out below, and has none here.</summary>
    private static IEnumerable<Vent> Prints(KitCore core) =>
        from axis in core.Axes
        from print in core.Prints
        where axis.Lies || print.IsHigh
        select new Vent(core.Tip(print, axis), VentPlace.CorePrint, double.NaN, double.NaN, core.Name);
}
