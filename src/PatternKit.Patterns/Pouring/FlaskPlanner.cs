using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Pouring;

/// <summary>Chooses the flask: the smallest of the shop's that leaves the sand that the tables ask for round, above and below all that is moulded.</summary>
internal static class FlaskPlanner
{
    /// <summary>The flask for a mould.</summary>
    public static FlaskPlan Of(PouredMould mould, double head_mm, FoundryTables tables)
    {
        var wall = tables.Plates.Margin_mm(mould.Casting_kg);
        var above = GatingRules.SandBeyond(mould.Casting_kg, "above the casting", tables.Gating);
        var below = GatingRules.SandBeyond(mould.Casting_kg, "below the casting", tables.Gating);
        var box = new NetTopologySuite.Geometries.Envelope();
        foreach (var plan in (mould.Gating?.Bars ?? []).Select(b => b.Plan).Concat([mould.Cope.Footprint, mould.Drag.Footprint, mould.Prints, mould.Loose])) box.ExpandToInclude(plan.Geometry.EnvelopeInternal);
        // On edge the flask ends at the level of the metal, where the cup is.
        var upright = mould.Gating is { Position.IsOnEdge: true } g ? g : null;
        var (side, level) = (upright?.Position.Up.Direction.Plan ?? default, upright?.Level_mm ?? 0);
        if (upright is not null) box.ExpandToInclude(side.X == 0 ? box.Centre.X : side.X * level, side.Y == 0 ? box.Centre.Y : side.Y * level);
        var metal = Box(mould.Metal.Concat((mould.Gating?.Bars ?? []).Where(b => !b.IsOpen).Select(b => b.Body)));
        var patterns = Box(mould.Patterns);
        // A print may come as near to the outside as it likes: its gas leaves there.
        var cope = Math.Max(upright is null ? head_mm : 0, Math.Max(mould.Above_mm + above.Value, patterns.High.Z - mould.Joint_mm));
        var drag = Math.Ceiling(Math.Max(mould.Joint_mm - metal.Low.Z + below.Value, mould.Joint_mm - patterns.Low.Z));
        var (x, y) = (Math.Ceiling(box.Width + ((side.X == 0 ? 2 : 1) * wall.Value)), Math.Ceiling(box.Height + ((side.Y == 0 ? 2 : 1) * wall.Value)));
        var owned = tables.Workshop.Flasks.SelectMany(f => new[] { (Flask: f, Turned: false), (Flask: f, Turned: true) })
            .Where(f => Fits(f.Flask.Cope_mm, cope) && Fits(f.Flask.Drag_mm, drag))
            .Where(f => f.Turned ? Fits(f.Flask.Width_mm, x) && Fits(f.Flask.Length_mm, y) : Fits(f.Flask.Length_mm, x) && Fits(f.Flask.Width_mm, y))
            .OrderBy(f => f.Flask.Inside_mm3).ThenBy(f => f.Turned).ToImmutableArray();
        return new(x, y, cope, drag, wall, above, below, new Vec2(box.Centre.X, box.Centre.Y) - (0.5 * wall.Value * side), owned.IsEmpty ? null : owned[0].Flask, !owned.IsEmpty && owned[0].Turned, tables.Workshop.Flasks.Length);

        // A flask of just the size is large enough.
        static bool Fits(double has, double needs) => has >= needs - 0.01;
    }

    private static Box3 Box(IEnumerable<KitBody> bodies) => bodies.Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, b) => all.With(b.Low).With(b.High));
}
