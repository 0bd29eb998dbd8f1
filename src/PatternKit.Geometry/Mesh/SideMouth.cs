using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// The mouth of a hollow of a mesh that lies on a level plane and opens sideways: the section of the hollow just inside the chord between the corners of the body that the
/// mouth lies between.
/// </summary>
/// <param name="Middle">Of the chord, in plan.</param>
/// <param name="Outward">Of length one, square to the chord.</param>
/// <param name="Above">What of the section lies above the plane: x to the left of <see cref="Outward"/>, y the height over the plane.</param>
/// <param name="Below">What lies below it: y the depth under the plane.</param>
public sealed record SideMouth(Vec2 Middle, Vec2 Outward, PlanRegion Above, PlanRegion Below)
{
    /// <summary>The section is taken so far inside the chord, mm: there both corners are metal for certain.</summary>
    public const double Inside_mm = 0.05;

    /// <summary>A height this far from the plane tells one side of it from the other, mm.</summary>
    private const double Beside_mm = 1e-3;

    /// <summary>Corners of the section that stand out by less are left out, mm: skins put together from several have slivers there.</summary>
    private const double Simple_mm = 2e-3;

    /// <summary>A corner of the body is looked for so many cells around an end of the opening.</summary>
    private const double Around = 3;

    /// <summary>Corners that lie as far outward to this are equally good, mm.</summary>
    private const double Same_mm = 1e-6;

    /// <summary>The plan place of a way outward from the chord and a way to the left of it.</summary>
    public Vec2 Plan(double outward, double across) => Middle + (outward * Outward) + (across * Outward.Left);

    /// <summary>Finds the mouth between two corners that are known to a cell.</summary>
    /// <param name="mesh">Closed, z along the draw.</param>
    /// <param name="z">Height of the plane.</param>
    /// <param name="from">Where one corner is about: that to the left as seen from inside, out of the mouth.</param>
    /// <param name="to">Where the other is about.</param>
    /// <param name="cell">How far off they may be, mm.</param>
    /// <param name="above">Whether the hollow lies above the plane, or also above it.</param>
    /// <param name="below">Whether it lies below, too, or only there.</param>
    /// <returns>The mouth; null where the body has no corners there, or is open above or below just inside.</returns>
    public static SideMouth? Between(TriangleMesh mesh, double z, Vec2 from, Vec2 to, double cell, bool above, bool below)
    {
        ImmutableArray<Vec2>[] level = [.. MeshSection.AtHeight(mesh, z + (above ? Beside_mm : -Beside_mm))];
        var outward = -(to - from).Left.Normalized();
        if (Corner(from) is not { } a || Corner(to) is not { } b || Vec2.Distance(a, b) < cell) return null;
        // The corners themselves say better which way is out.
        outward = -(b - a).Left.Normalized();
        var (middle, half) = (0.5 * (a + b), Vec2.Distance(a, b) / 2);
        var origin = new Vec3(middle.X - (Inside_mm * outward.X), middle.Y - (Inside_mm * outward.Y), z);
        var across = outward.Left;
        PlanRegion metal;
        try
        {
            // Seen against the normal, loops run the other way round: even-odd does not mind.
            var loops = MeshSection.AtPlane(mesh, origin, new(outward.X, outward.Y, 0)).Select(l => PlanPath.Polygon([.. l.Select(p => new Vec2(Vec2.Dot(across, p.Plan - middle), p.Z - z))]));
            metal = PlanRegion.EvenOdd(loops, Beside_mm);
        }
        catch (ArgumentException)
        {
            return null;
        }

        var box = mesh.Bounds();
        var (beside, high, low) = (half + cell, box.High.Z - z + 1, box.Low.Z - z - 1);
        var (upper, lower) = (above ? Hollow(PlanRegion.Rectangle(new(-beside, 0), new(beside, high)), high) : PlanRegion.Empty, below ? Hollow(PlanRegion.Rectangle(new(-beside, low), new(beside, 0)), low) : PlanRegion.Empty);
        return upper is null || lower is null || (upper.IsEmpty && lower.IsEmpty) ? null
            : new(middle, outward, upper, PlanRegion.Union(lower.Rings().Select(r => PlanRegion.Polygon([.. r.Select(p => new Vec2(p.X, 0 - p.Y))]))));

        Vec2? Corner(Vec2 about)
        {
            Vec2[] near = [.. level.SelectMany(l => l).Where(p => Vec2.Distance(p, about) <= Around * cell)];
            if (near.Length == 0) return null;
            var farthest = near.Max(p => Vec2.Dot(p, outward));
            // Of a face square to the way out, that beside the hollow.
            return near.Where(p => Vec2.Dot(p, outward) >= farthest - Same_mm).MinBy(p => Vec2.Distance(p, 0.5 * (from + to)));
        }

        // What of the hollow stands on the plane on one side of it; null where it is open to the window's end.
        PlanRegion? Hollow(PlanRegion window, double end)
        {
            var sign = Math.Sign(end);
            var open = window.Difference(metal);
            var standing = open.Pieces().Where(p => p.Geometry.EnvelopeInternal is var e && (sign > 0 ? e.MinY < Beside_mm : e.MaxY > -Beside_mm) && e.MinX < half && e.MaxX > -half && p.Area > Beside_mm * cell).ToArray();
            if (standing.Length == 0) return PlanRegion.Empty;
            if (standing.Any(p => p.Geometry.EnvelopeInternal is var e && (sign > 0 ? e.MaxY >= end - Beside_mm : e.MinY <= end + Beside_mm))) return null;
            return PlanRegion.Union(standing).Simplified(Simple_mm);
        }
    }
}
