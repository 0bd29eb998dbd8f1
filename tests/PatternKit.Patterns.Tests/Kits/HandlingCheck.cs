using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>What must hold for the pockets by which any half is drawn, measured on its mesh.</summary>
internal static class HandlingCheck
{
    /// <summary>Chords of grown outlines and of holes.</summary>
    private const double Chord_mm = 0.03;

    public static Handling Handling(this Kit kit, MouldHalf half) => Assert.Single(kit.Handling, h => h.Half == half);

    public static void Held(Kit kit, KitBody body)
    {
        if (kit.Plate is not null)
        {
            // What stands on a plate is drawn with it.
            Assert.Empty(kit.Handling);
            return;
        }

        var held = kit.Handling(body.Half);
        // A finding tells of pieces without, and only of them.
        var told = kit.Findings.Count(f => f.Code == "no-draw-screw" && f.Message.Contains(body.Name, StringComparison.Ordinal));
        Assert.Equal(kit.Job.Pattern.DrawScrews && held.Pieces.Any(p => p.Screws.IsEmpty) ? 1 : 0, told);
        var outline = body.Half == MouldHalf.Cope ? kit.Plan.CopeOutline : kit.Plan.DragOutline;
        // A piece is what hangs together; over a recess from below it may stand on the joint in several places.
        Assert.Equal(MeshInspection.Inspect(body.AsPrinted).Shells, held.Pieces.Length);
        Assert.All(held.Pieces, p => Assert.False(p.Rule.Length == 0 || (p.Screws.IsEmpty && !p.Seats.IsEmpty)));
        // No screw of a piece is in another.
        if (outline.Pieces().Count() == held.Pieces.Length)
            Assert.All(held.Pieces.Where(p => !p.Screws.IsEmpty), p => Assert.Single(outline.Pieces(), region => p.Screws.All(s => region.Contains(s.At_mm))));
        Assert.All(held.Pieces.SelectMany(p => p.Screws), s => Assert.Single(outline.Pieces(), region => region.Contains(s.At_mm)));
        Assert.All(outline.Pieces(), region => Assert.InRange(held.Pieces.Count(p => p.Screws.Any(s => region.Contains(s.At_mm))), 0, 1));
        if (held.Screws.Any()) Sunk(kit, body, held, outline);
    }

    private static void Sunk(Kit kit, KitBody body, Handling held, PlanRegion outline)
    {
        var table = FoundryTables.Default.Handling;
        var (land, wall) = (table.Land_mm.Value, table.Wall_mm.Value);
        Assert.True(kit.Job.Pattern.DrawScrews);
        var pockets = held.Screws.Select(s => (s.Region, s.Depth_mm)).Concat(held.Seats.Select(s => (s.Region, s.Depth_mm))).ToList();
        var others = kit.Dowels.Select(d => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005)).ToList();
        var marks = PlanRegion.Union(kit.Plan.Marks.Where(m => m.Half == body.Half).Select(m => m.Region));
        var sunk = PlanRegion.Union([.. pockets.Select(p => p.Region), .. others, marks]);
        foreach (var (region, depth) in pockets)
        {
            var around = region.Offset(land - Chord_mm, 0.005);
            Within(around, outline, "leaves the joint face");
            Within(around, At(0.005).Union(sunk), "has less land than asked at the joint");
            // A hole in a seat goes on into the wall above the seat; it has a wall of its own.
            var deeper = PlanRegion.Union(held.Screws.Where(h => h.Depth_mm > depth).Select(h => h.Region));
            Within(around, At(depth + wall - 0.01).Union(deeper), "has less wall above than asked");
            Assert.All(others, o => Assert.True(o.Geometry.Distance(region.Geometry) >= land - Chord_mm, $"{body.Name}: a pocket meets a dowel"));
            Assert.True(marks.IsEmpty || marks.Geometry.Distance(region.Geometry) > 1, $"{body.Name}: a pocket meets the lettering");
        }

        // As deep as told, no deeper, and a hole in a seat goes on below it.
        foreach (var s in held.Screws)
        {
            Assert.True(At(s.Depth_mm - 0.02).Intersection(s.Region).Area < 0.05, $"{body.Name}: a hole is shallower than told");
            Within(s.Region, At(s.Depth_mm + 0.02), "is deeper than told");
        }

        foreach (var s in held.Seats)
        {
            var holes = PlanRegion.Union(held.Screws.Select(h => h.Region));
            Assert.True(At(s.Depth_mm - 0.02).Intersection(s.Region).Area < 0.05, $"{body.Name}: a seat is shallower than told");
            Within(s.Region.Difference(holes.Offset(0.01, 0.005)), At(s.Depth_mm + 0.02), "is deeper than told");
            Assert.Equal(2, held.Screws.Count(h => s.Region.Covers(h.Region)));
        }

        PlanRegion At(double depth) => body.Section(kit.Parting.PatternHeight_mm + (body.Half == MouldHalf.Cope ? depth : -depth));

        void Within(PlanRegion inner, PlanRegion outer, string what)
        {
            var beyond = inner.Difference(outer);
            Assert.True(beyond.Area < 1e-3, $"{body.Name}: a pocket {what}, by {beyond.Area:R} mm² near {beyond.InnerPoint}");
        }
    }
}
