using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Cores.Hollows;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Pieces;

namespace PatternKit.Patterns.Cores;

/// <summary>
/// Makes the body of a core and the halves of its box from one drafted terrain over the plane of its axis, so that the box holds the core and nothing
/// else. Half a core is the body under that terrain, and its box the one block that hollows it out. The core is at pattern size already; nothing is scaled here.
/// </summary>
internal static class CoreBoxBuilder
{
    private const double Chord_mm = 0.005;

    /// <summary>The core's body and its box.</summary>
    /// <param name="core">As planned, with prints.</param>
    /// <param name="name">Of the core; the halves of the box get -box-a and -box-b, one block -box.</param>
    /// <param name="aside">Where the origin of the core's frame lies for the box, which has no place in the mould.</param>
    /// <param name="tables">Walls and dowels.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    public static (KitBody Body, CoreBox Box) Build(PlannedCore core, string name, Vec3 aside, FoundryTables tables, MeshingTolerance tolerance)
    {
        var (profile, struck, isHalf) = (core.Profile, core.Struck, core.Within is not null);
        var turned = isHalf ? profile : core.Uncut;
        var wall = tables.Cores.BoxWall_mm.Value;
        var (thick, thin, cover) = Pins(profile.Largest, tables.Dowels);
        var side = isHalf ? wall : Math.Max(wall, thick.Hole_mm + (2 * cover));
        var width = (profile.Largest / Math.Cos(core.Draft)) + side;
        var depth = profile.Largest + wall;
        // A closed end of the cavity slopes out to the joint.
        var closed = wall + (profile.Largest * Math.Tan(core.Draft));
        var (low, high) = isHalf ? (profile.Low - closed, profile.High + closed) : struck.IsHigh ? (profile.Low - closed, struck.End_mm) : (struck.End_mm, profile.High + closed);

        // One lattice for the core where it lies, turned as it may be, for its frame, and for the place of the box.
        var reach = new[] { core.Axis.At.X, core.Axis.At.Y, core.Axis.At.Z, aside.X, aside.Y, aside.Z }.Max(Math.Abs) + Math.Max(Math.Abs(low), Math.Abs(high)) + width + depth;
        var lattice = Lattice.For(1.2 * reach);
        (low, high, width, depth) = (lattice.Snap(low), lattice.Snap(high), lattice.Snap(width), lattice.Snap(depth));
        var plan = PlanRegion.Rectangle(new(low, -width), new(high, width));
        var axis = core.Axis with { At = Snapped(core.Axis.At) };
        aside = Snapped(aside);

        var cells = ColumnMapBuilder.Build(TurnedBody.Prisms(turned.Region, TurnedAxis.X, default, tolerance.Error_mm), lattice.Step).Cells;
        var half = new DraftedTerrain(
            [.. cells.Where(c => !c.Solid.IsEmpty).Select(c => new Plateau(c.Region, c.Solid[^1].High))], 0, core.Draft, core.Draft, lattice, tolerance.Error_mm);
        // In the middle of the walls beside the cavity, across both corners, as far apart as they go; the thicker one at the closed end.
        var inset = side / 2;
        var (at, other) = struck.IsHigh ? (new Vec2(low + inset, width - inset), new Vec2(high - inset, inset - width)) : (new Vec2(high - inset, width - inset), new Vec2(low + inset, inset - width));
        ImmutableArray<Dowel> dowels = isHalf ? [] :
        [
            thick with { At_mm = at, Depth_mm = Math.Min(thick.Depth_mm, depth - cover) }, thin with { At_mm = other, Depth_mm = Math.Min(thin.Depth_mm, depth - cover) },
        ];
        ImmutableArray<UprightPocket> pockets = [.. dowels.Select(d => new UprightPocket(PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], Chord_mm), d.Depth_mm))];
        var body = isHalf ? TerrainSolid.Build(half, null, [], [], lattice, tolerance) : MirroredSolid.Build(half, plan, lattice, tolerance);
        var box = new Boxes(isHalf ? [half] : [half, half], plan, depth, wall, core.Draft, dowels, pockets, lattice, tolerance);
        return (Core(name, body, axis, core.Within, plan), box.Around(name, aside, cover, tables));

        Vec3 Snapped(Vec3 p) => new(lattice.Snap(p.X), lattice.Snap(p.Y), lattice.Snap(p.Z));
    }

    /// <summary>The body of the core of a hollow and its box; of one that lies in one half of the mould the box is one block.</summary>
    /// <param name="core">As planned, with prints.</param>
    /// <param name="name">Of the core, as for turned ones.</param>
    /// <param name="aside">Where the origin of the core's frame lies for the box.</param>
    /// <param name="tables">Walls and dowels.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    public static (KitBody Body, CoreBox Box) Build(HollowCore core, string name, Vec3 aside, FoundryTables tables, MeshingTolerance tolerance)
    {
        var (extent, lattice) = (core.Extent, core.Shape.Lattice);
        var (wall, within) = (tables.Cores.BoxWall_mm.Value, core.Above is null ? MouldHalf.Drag : core.Below is null ? MouldHalf.Cope : (MouldHalf?)null);
        var isHalf = within is not null;
        var depth = lattice.Snap(Math.Max(extent.High.Z, -extent.Low.Z) + wall);
        var (thick, thin, cover) = Pins(depth - wall, tables.Dowels);
        var side = isHalf ? wall : Math.Max(wall, thick.Hole_mm + (2 * cover));
        var (low, high) = (lattice.Snap(extent.Low.Plan - new Vec2(side, side)), lattice.Snap(extent.High.Plan + new Vec2(side, side)));
        var block = PlanRegion.Rectangle(low, high);
        // Half a core is struck off along its flat side; a box in halves is open at the end of a print.
        var plan = isHalf ? block : PlanRegion.UnionOn(lattice, [block.Difference(core.BeyondStruck())]);
        aside = new(lattice.Snap(aside.X), lattice.Snap(aside.Y), lattice.Snap(aside.Z));

        ImmutableArray<ITerrain> sides = [.. new[] { core.Above, core.Below }.OfType<ITerrain>()];
        ImmutableArray<Dowel> dowels = isHalf ? [] : [.. Corners(plan, core.Local, side).Zip([thick, thin], (at, d) => d with { At_mm = at, Depth_mm = Math.Min(d.Depth_mm, depth - cover) })];
        ImmutableArray<UprightPocket> pockets = [.. dowels.Select(d => new UprightPocket(PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], Chord_mm), d.Depth_mm))];
        // Both halves of the core have one rim, and the box cuts them off where it is open.
        var rim = PlanRegion.UnionOn(lattice, sides.Select(t => t.Footprint));
        var body = isHalf ? TerrainSolid.Build(sides[0], null, [], [], lattice, tolerance)
            : TerrainSolid.Build(new WiderTerrain(sides[0], rim, lattice), new WiderTerrain(sides[1], rim, lattice), [], [], lattice, tolerance, plan);
        var box = new Boxes(sides, plan, depth, wall, core.Draft, dowels, pockets, lattice, tolerance).Around(name, aside, cover, tables);
        // Where both sides meet at the joint they may be off each other by rounding; the walls that shape the core tell its draft.
        var steepest = box.Halves.MinBy(h => h.LeastDraft)!;
        return (Core(name, body, core.Axis, within, plan) with { LeastDraft = steepest.LeastDraft, LeastDraftAt = null }, box);
    }

    /// <summary>Two corners of a block across from each other, as far apart as they go, in the middle of its walls.</summary>
    private static IEnumerable<Vec2> Corners(PlanRegion plan, PlanRegion cavity, double side)
    {
        Vec2[] free = [.. plan.Offset(-side / 2, Chord_mm).Rings().SelectMany(r => r).Where(p => cavity.Distance(p) >= (side / 2) - Chord_mm)];
        if (free.Length < 2) throw new InvalidOperationException("A core box has no room for dowels.");
        var pairs = free.SelectMany((p, i) => free.Skip(i + 1).Select(q => (P: p, Q: q)));
        var (a, b) = pairs.MaxBy(x => Vec2.Distance(x.P, x.Q));
        return [a, b];
    }

    /// <summary>Blocks with the two sides of a core let into them, or the one of half a core.</summary>
    private sealed record Boxes(
        ImmutableArray<ITerrain> Sides, PlanRegion Plan, double Depth_mm, double Wall_mm, double Draft, ImmutableArray<Dowel> Dowels, ImmutableArray<UprightPocket> Pockets, Lattice Lattice, MeshingTolerance Tolerance)
    {
        /// <summary>The halves, cut to the bed where that asks for it.</summary>
        public CoreBox Around(string name, Vec3 aside, double cover_mm, FoundryTables tables)
        {
            var kept = PlanRegion.Union(Pockets.Select(p => p.Region.Offset(cover_mm, 0.1)));
            var cuts = BedCutPlanner.Of(
                new CuttableBody(Plan, Plan.Difference(kept), p => Plan.Contains(p) ? (Depth_mm, Sides.Max(t => t.At(p).Height)) : (0, 0), r => PlanRegion.UnionOn(Lattice, [r])), tables, kept);
            var alike = Sides.Length == 2 && ReferenceEquals(Sides[0], Sides[1]);
            TriangleMesh[] blocks = [.. Sides.Take(alike ? 1 : 2).Select(t => Block(t, Plan))];
            ImmutableArray<UprightPocket> walls = [.. Pockets, new(Plan, Depth_mm)];
            var halves = ImmutableArray.CreateBuilder<KitBody>();
            var cut = ImmutableArray.CreateBuilder<CutBody>();
            foreach (var (side, i) in Sides.Select((t, i) => (t, i)))
            {
                KitBody Placed(string n, TriangleMesh mesh, ImmutableArray<UprightPocket> upright) => i == 0 ? HalfA(n, mesh, aside, Depth_mm, upright) : HalfB(n, mesh, aside, Depth_mm, upright);
                halves.Add(Placed(name + (Sides.Length == 1 ? "-box" : i == 0 ? "-box-a" : "-box-b"), blocks[alike ? 0 : i], walls));
                if (cuts is not null) cut.Add(CutBody.Of(halves[^1], cuts, walls, within => Block(side, Plan.Intersection(within)), Placed));
            }

            return new(halves.ToImmutable(), cut.ToImmutable(), Plan, Depth_mm, Wall_mm, Draft, Dowels) { IsMirrored = alike };
        }

        private TriangleMesh Block(ITerrain side, PlanRegion of) => HollowBlock.Build(of, Depth_mm, side, [.. Pockets.Where(p => of.Contains(p.Region.InnerPoint))], Lattice, Tolerance);
    }

    private static KitBody Core(string name, TriangleMesh mesh, TurnedFrame axis, MouldHalf? within, PlanRegion plan)
    {
        var lift = -mesh.Bounds().Low.Z;
        // Half a core in the drag is turned over about its axis, its flat side up.
        var over = within == MouldHalf.Drag;
        var inMould = mesh.Mapped(v => axis.Placed(over ? new(v.X, -v.Y, -v.Z) : v));
        var (draft, at) = PlacedHalves.LeastDraft(mesh, inMould, [new(plan, lift)]);
        var rows = axis.ToFrame(lift);
        if (over) rows = [rows[0], [.. rows[1].Select(r => -r)], [.. rows[2].Select(r => -r)]];
        return new(name, MouldHalf.Cope, inMould, mesh.Mapped(v => v with { Z = v.Z + lift }), rows, draft, at);
    }

    /// <summary>Half a, above the joint of the box, or a piece of it; printed on its back.</summary>
    private static KitBody HalfA(string name, TriangleMesh block, Vec3 aside, double depth, ImmutableArray<UprightPocket> upright)
    {
        var a = block.Mapped(v => v + aside);
        var (draft, at) = PlacedHalves.LeastDraft(block, a, upright);
        return new(name, MouldHalf.Cope, a, block.Mapped(v => new(v.X, -v.Y, depth - v.Z)), TurnedFrame.Rows(aside, -1, -1, depth), draft, at);
    }

    /// <summary>Half b, the mirror image of half a below the joint of the box.</summary>
    private static KitBody HalfB(string name, TriangleMesh block, Vec3 aside, double depth, ImmutableArray<UprightPocket> upright)
    {
        var b = block.MirroredBy(v => new Vec3(v.X, v.Y, -v.Z) + aside);
        var (draft, at) = PlacedHalves.LeastDraft(block, b, upright);
        return new(name, MouldHalf.Drag, b, block.MirroredBy(v => v with { Z = depth - v.Z }), TurnedFrame.Rows(aside, 1, 1, depth), draft, at);
    }

    /// <summary>Two neighbouring standard pins for a box, by its width; places and depths are still open.</summary>
    private static (Dowel Thick, Dowel Thin, double Cover_mm) Pins(double radius, DowelTable table)
    {
        var asked = table.Choice.LastOrDefault(c => 2 * radius >= c.From_mm)?.Diameter_mm ?? table.Diameters_mm[1];
        var thick = Math.Max(1, table.Diameters_mm.IndexOf(asked));
        return (Of(table.Diameters_mm[thick]), Of(table.Diameters_mm[thick - 1]), table.Cover_mm.Value);

        Dowel Of(double d) => new(default, d, d + table.Clearance_mm.Value, table.Depth_diameters.Value * d);
    }
}
