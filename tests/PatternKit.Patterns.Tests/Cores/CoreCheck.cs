using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Cores;

/// <summary>What must hold for the cores of any kit, measured on the meshes as written.</summary>
internal static class CoreCheck
{
    /// <summary>Rounding to the lattice, twice.</summary>
    private const double Rounding_mm = 2e-3;

    /// <summary>Everything that must hold, chaplets and findings apart.</summary>
    public static void Sound(Kit kit)
    {
        Assert.NotEmpty(kit.Cores);
        KitCheck.Closed(kit);
        foreach (var body in kit.Bodies) KitCheck.Drafted(kit, body);
        foreach (var core in kit.Cores)
        {
            foreach (var body in core.Bodies)
            {
                KitCheck.Valid(body.InMould, $"{body.Name} in the mould");
                KitCheck.Valid(body.AsPrinted, $"{body.Name} as printed");
                KitCheck.InSinglePrecision(body);
                Moved(body);
                Assert.Equal(0, body.AsPrinted.Bounds().Low.Z);
            }

            Drafted(core);
            Holds(core);
            Fits(kit, core);
        }
    }

    /// <summary>The box, closed, holds the core: by its block, its dowel holes and its walls, to 0.05 %.</summary>
    public static void Holds(KitCore core)
    {
        var sand = core.Body.InMould.Volume();
        Assert.InRange(core.Box.Holds_mm3, sand * (1 - 5e-4), sand * (1 + 5e-4));
        Assert.Equal(sand, core.Body.AsPrinted.Volume(), 1e-6 * sand);
    }

    /// <summary>No facet that the core's sand touches is steeper than the draft of the box: those of the closed block's outside and of dowel holes are upright and nothing else is.</summary>
    public static void Drafted(KitCore core)
    {
        var box = core.Box;
        foreach (var half in box.Halves)
        {
            var mesh = half.AsPrinted;
            foreach (var f in mesh.Facets)
            {
                var n = mesh.AreaNormal(f);
                var middle = 1 / 3.0 * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C]);
                if (n.Plan.Length == 0 || box.Dowels.Any(d => (new Vec2(d.At_mm.X, half.Name[^1] != 'b' ? -d.At_mm.Y : d.At_mm.Y) - middle.Plan).Length < d.Hole_mm)) continue;
                var inPlan = half.Name[^1] != 'b' ? new Vec2(middle.X, -middle.Y) : middle.Plan;
                if (n.Z == 0 && box.Plan.Geometry.Boundary.Distance(new NetTopologySuite.Geometries.Point(inPlan.X, inPlan.Y)) < Rounding_mm) continue;
                var angle = Math.Atan2(n.Z, n.Plan.Length);
                Assert.True(angle >= box.Draft - KitCheck.DraftSlack, $"{half.Name}: {angle / KitCheck.Degree}° at {middle}");
            }

            Assert.True(half.LeastDraft >= box.Draft - KitCheck.DraftSlack, $"{half.Name}: {half.LeastDraft / KitCheck.Degree}°");
        }
    }

    /// <summary>Core and prints lie in the mould with the asked clearance everywhere, and prints not with much more: distances from samples of the core to the skin of the pattern.</summary>
    public static void Fits(Kit kit, KitCore core)
    {
        var axis = core.Axes[0];
        // The mould is wider than the pattern by what rapping does, and all skin has draft: what faces the joint, or stands upright, is of the joint and its pockets.
        var asked = core.Side_mm - kit.Decisions.Single(d => d.Key == "rapping_mm").Value;
        var skin = kit.Bodies.SelectMany(b => b.InMould.Facets.Select(f => (b.InMould, F: f, Up: b.Half == MouldHalf.Cope ? 1 : -1)))
            .Where(x => x.Up * x.InMould.AreaNormal(x.F).Z > 0)
            .Select(x => (A: x.InMould.Vertices[x.F.A], B: x.InMould.Vertices[x.F.B], C: x.InMould.Vertices[x.F.C])).ToArray();
        var insides = kit.Bodies.Select(b => new WindingNumber(b.InMould)).ToArray();
        var sunk = PlanRegion.Union([.. kit.Dowels.Select(d => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005)), .. kit.Plan.Marks.Select(m => m.Region), .. kit.Handling.Select(h => h.Region)]).Offset(0.1, 0.01);
        var (samples, tight) = (0, 0);
        foreach (var p in Samples(core.Body.InMould))
        {
            var along = axis.Along(p);
            // A standing core rests on the floor of its lower seat.
            if (!axis.Lies && core.Prints.Any(e => !e.IsHigh && Math.Abs(along - e.End_mm) < core.Side_mm)) continue;
            // The flat side of half a core lies in the joint, against what the other half has there.
            if (core.Box.IsDumped && Math.Abs(p.Z - axis.At.Z) < 1e-6) continue;
            samples++;
            // A point in the joint lies between both halves.
            if (!sunk.Contains(p.Plan)) Assert.Equal(1, insides.Sum(w => w.Exact(p + new Vec3(0, 0, 1e-4))), 1e-3);
            var distance = skin.Min(t => Distance(p, t.A, t.B, t.C));
            Assert.True(distance >= asked - Rounding_mm, $"{core.Name}: {distance} mm at {p}, {asked} mm asked");
            // On the side of a print, away from its ends.
            if (core.Prints.Any(e => e.Mouth is null && e.Sign() * (along - e.Face_mm) is var way && way > 1 && way < e.Length_mm - 2 && axis.Off(p) > e.RadiusAt(way) - 0.1))
            {
                tight++;
                Assert.True(distance <= asked + 0.15, $"{core.Name}: {distance} mm at {p}, loose");
            }

            // On the top or the bottom of one that is not round; its sides are drafted in the box and in the mould.
            foreach (var e in core.Prints.Where(e => e.Mouth is not null))
            {
                var (mouth, height) = (e.Mouth!, p.Z - axis.At.Z);
                var section = height > 0 ? mouth.Above : e.Flat ?? mouth.Below;
                if (section.IsEmpty || Math.Abs(height) < section.Geometry.EnvelopeInternal.MaxY - 0.1) continue;
                if (Vec2.Dot(p.Plan - mouth.Middle, mouth.Outward) is var way && (way < e.Face_mm + 1 || way > e.End_mm - 2)) continue;
                tight++;
                Assert.True(distance <= asked + 0.15, $"{core.Name}: {distance} mm at {p}, loose");
            }
        }

        Assert.True(samples > 200 && tight > 20, $"{samples} samples, {tight} on prints");
    }

    /// <summary>Corners and middles of facets, at most some thousand.</summary>
    internal static IEnumerable<Vec3> Samples(TriangleMesh mesh)
    {
        var every = Math.Max(1, mesh.Facets.Length / 600);
        for (var i = 0; i < mesh.Facets.Length; i += every)
        {
            var (a, b, c) = (mesh.Vertices[mesh.Facets[i].A], mesh.Vertices[mesh.Facets[i].B], mesh.Vertices[mesh.Facets[i].C]);
            yield return 1 / 3.0 * (a + b + c);
            foreach (var u in new[] { 0.1, 0.5, 0.9 }) yield return ((1 - u) * a) + (u * (0.5 * (b + c)));
            // Plain bodies have large facets.
            if (mesh.Facets.Length > 100) continue;
            for (var s = 0.05; s < 1; s += 0.1)
                for (var t = 0.05; s + t < 1; t += 0.1) yield return ((1 - s - t) * a) + (s * b) + (t * c);
        }
    }

    internal static double Distance(Vec3 p, Vec3 a, Vec3 b, Vec3 c)
    {
        // Ericson, Real-Time Collision Detection, 5.1.5: by the regions of Voronoi of the triangle.
        var (ab, ac, ap) = (b - a, c - a, p - a);
        var (d1, d2) = (Vec3.Dot(ab, ap), Vec3.Dot(ac, ap));
        if (d1 <= 0 && d2 <= 0) return ap.Length;
        var bp = p - b;
        var (d3, d4) = (Vec3.Dot(ab, bp), Vec3.Dot(ac, bp));
        if (d3 >= 0 && d4 <= d3) return bp.Length;
        var vc = (d1 * d4) - (d3 * d2);
        if (vc <= 0 && d1 >= 0 && d3 <= 0) return (ap - (d1 / (d1 - d3) * ab)).Length;
        var cp = p - c;
        var (d5, d6) = (Vec3.Dot(ab, cp), Vec3.Dot(ac, cp));
        if (d6 >= 0 && d5 <= d6) return cp.Length;
        var vb = (d5 * d2) - (d1 * d6);
        if (vb <= 0 && d2 >= 0 && d6 <= 0) return (ap - (d2 / (d2 - d6) * ac)).Length;
        var va = (d3 * d6) - (d5 * d4);
        if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) return (bp - ((d4 - d3) / (d4 - d3 + (d5 - d6)) * (c - b))).Length;
        var n = Vec3.Cross(ab, ac);
        return Math.Abs(Vec3.Dot(n, ap)) / n.Length;
    }

    /// <summary>The rows of a body take it from where it lies to where it is printed.</summary>
    private static void Moved(KitBody body)
    {
        var m = body.ToPrinted;
        for (var v = 0; v < body.InMould.Vertices.Length; v++)
        {
            var p = body.InMould.Vertices[v];
            double Row(int i) => (m[i][0] * p.X) + (m[i][1] * p.Y) + (m[i][2] * p.Z) + m[i][3];
            Assert.True((new Vec3(Row(0), Row(1), Row(2)) - body.AsPrinted.Vertices[v]).Length < 1e-6, $"{body.Name}: {p}");
        }
    }

    private static double Sign(this CorePrint print) => print.IsHigh ? 1 : -1;

    private static double RadiusAt(this CorePrint print, double way) => print.Radius_mm - (way * Math.Tan(print.Taper));
}
