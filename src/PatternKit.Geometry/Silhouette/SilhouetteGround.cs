using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Silhouette;

/// <summary>The surface through a line on a silhouette, as flat as the line allows, that runs out to a level plane around it.</summary>
public static class SilhouetteGround
{
    /// <summary>So far from the line, on either side, triangles follow a line beside it, in tolerances.</summary>
    private const double Beside = 40;

    /// <summary>The rectangle of the triangles is level so far within its border, in tolerances.</summary>
    private const double Rim = 40;

    /// <summary>Heights are looked at so far apart along it, in tolerances.</summary>
    private const double Step = 20;

    /// <summary>Corners of the triangles are this far apart at least, in tolerances.</summary>
    private const double Spacing = 10;

    /// <summary>So many places along the longer side of the shadow are looked at for the body's heights.</summary>
    private const int Samples = 96;

    /// <summary>Triangles may be steeper than the surface by this.</summary>
    private const double Leeway = 1.1;

    /// <summary>Makes the surface.</summary>
    /// <param name="line">Closed loops on the border of the shadow.</param>
    /// <param name="shadow">The shadow. Inside it, and in its holes, the limit of slope is that of the line; outside it is no lower than the slope of the run-out.</param>
    /// <param name="body">Lowest and highest height of the body over a place of its shadow: between them the surface lies as far as the limit lets it.</param>
    /// <param name="level">Height of the plane around.</param>
    /// <param name="runOut">Slope at which the surface runs out to the plane, rise per plan length, above 0.</param>
    /// <param name="margin">The plane begins so far outside at least, mm.</param>
    /// <param name="lattice">Corners are on it.</param>
    /// <param name="tolerance">How far triangles may be off the surface; the surface is free, so it need not be fine.</param>
    public static FacetedGround Of(
        ImmutableArray<ImmutableArray<Vec3>> line, PlanRegion shadow, Func<Vec2, (double Low, double High)> body, double level, double runOut, double margin, Lattice lattice, double tolerance)
    {
        var all = line.SelectMany(l => l).ToArray();
        level = lattice.Snap(level);
        var own = HeightExtension.LeastSlope(line).Slope;
        var steepest = Math.Max(own, runOut);
        var away = Math.Max(margin, all.Max(v => Math.Abs(v.Z - level)) / steepest);
        var (low, high) = (lattice.Snap(new Vec2(all.Min(v => v.X) - away, all.Min(v => v.Y) - away)), lattice.Snap(new Vec2(all.Max(v => v.X) + away, all.Max(v => v.Y) + away)));
        ImmutableArray<Vec3> frame = [new(low.X, low.Y, level), new(high.X, low.Y, level), new(high.X, high.Y, level), new(low.X, high.Y, level)];
        var outside = new HeightExtension(line.Append(frame), steepest);
        var inside = own > 0 ? new HeightExtension(line, own, Sampled(shadow, body)) : null;
        var filled = shadow.Filled();
        bool IsAround(Vec2 p) => p.X <= low.X || p.Y <= low.Y || p.X >= high.X || p.Y >= high.Y;
        double Height(Vec2 p) => IsAround(p) ? level : !filled.Contains(p) ? outside.At(p) : inside?.At(p) ?? all[0].Z;
        // Triangles follow lines on either side, so that their own sides cross the line and none runs along it.
        var (inner, outer) = (shadow.Offset(-Beside * tolerance, tolerance), shadow.Offset(Beside * tolerance, tolerance));
        var beside = inner.Rings().Concat(outer.Rings()).Where(r => r.Length > 2)
            .Select(r => Straightened([.. Along(r, Step * tolerance).Select(p => new Vec3(p.X, p.Y, Height(p)))], tolerance));
        // At the border itself nothing is left to be followed, so that no narrow triangle comes to lie along it.
        var rim = new Vec2(Rim * tolerance, Rim * tolerance);
        return FacetedGround.Of(Height, lattice.Snap(low - rim), lattice.Snap(high + rim), level, beside, p => outer.Contains(p) && !inner.Contains(p), Leeway * steepest, lattice, new(tolerance, Spacing * tolerance));
    }

    /// <summary>The body over a grid of places.</summary>
    private static IEnumerable<(Vec2 At, double Low, double High)> Sampled(PlanRegion shadow, Func<Vec2, (double Low, double High)> body)
    {
        var box = shadow.Geometry.EnvelopeInternal;
        var cell = Math.Max(box.Width, box.Height) / Samples;
        for (var y = box.MinY + (cell / 2); y < box.MaxY; y += cell)
            for (var x = box.MinX + (cell / 2); x < box.MaxX; x += cell)
                if (shadow.Contains(new(x, y)) && body(new(x, y)) is var (low, high)) yield return (new(x, y), low, high);
    }

    private static IEnumerable<Vec2> Along(ImmutableArray<Vec2> ring, double spacing)
    {
        for (var i = 0; i < ring.Length; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Length]);
            var parts = Math.Max(1, (int)Math.Ceiling(Vec2.Distance(a, b) / spacing));
            for (var j = 0; j < parts; j++) yield return a + ((double)j / parts * (b - a));
        }
    }

    /// <summary>The corners of a closed line that keep it within a distance of what it was (Douglas and Peucker 1973), in plan, as an open one that ends where it starts.</summary>
    private static ImmutableArray<Vec2> Straightened(ImmutableArray<Vec3> line, double distance)
    {
        var kept = new bool[line.Length + 1];
        var far = Enumerable.Range(0, line.Length).MaxBy(i => (line[i] - line[0]).Length);
        kept[0] = kept[far] = kept[line.Length] = true;
        var stretches = new Stack<(int From, int To)>([(0, far), (far, line.Length)]);
        while (stretches.TryPop(out var s))
        {
            var (a, b) = (line[s.From], line[s.To % line.Length]);
            var (worst, at) = (distance, -1);
            for (var i = s.From + 1; i < s.To; i++)
                if (Away(line[i], a, b) is var d && d > worst) (worst, at) = (d, i);
            if (at < 0) continue;
            kept[at] = true;
            stretches.Push((s.From, at));
            stretches.Push((at, s.To));
        }

        return [.. Enumerable.Range(0, line.Length + 1).Where(i => kept[i]).Select(i => line[i % line.Length].Plan)];

        static double Away(Vec3 p, Vec3 a, Vec3 b)
        {
            var along = b - a;
            var square = Vec3.Dot(along, along);
            return (p - a - ((square > 0 ? Math.Clamp(Vec3.Dot(p - a, along) / square, 0, 1) : 0) * along)).Length;
        }
    }
}
