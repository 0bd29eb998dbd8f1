using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Pictures;

/// <summary>The bodies of a kit in their order along the draw, moved apart: what lies in the cope above, cores in their place, what lies in the drag below.</summary>
internal static class TakenApart
{
    // Of the height of all, between one layer and the next.
    private const double Gap = 0.7;

    /// <summary>One mesh of all, and the names from above; null where there is one body or none.</summary>
    public static (TriangleMesh Mesh, IReadOnlyList<string> Names)? Of(Kit kit)
    {
        KitBody[] bars = [.. (kit.Gating?.Bars ?? []).Select(b => b.Body)];
        KitBody[] cope = [.. kit.Bodies.Concat(bars).Where(b => b.Half == MouldHalf.Cope)], drag = [.. kit.Bodies.Concat(bars).Where(b => b.Half == MouldHalf.Drag)];
        KitBody[] cores = [.. kit.Cores.Select(c => c.Body)];
        var bodies = cope.Concat(cores).Concat(drag).ToArray();
        if (bodies.Length < 2) return null;
        var box = bodies.Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (a, b) => a.With(b.Low).With(b.High));
        // Patterns stand farther out than their bars, so that ingates show.
        var gap = Gap * box.Size.Z;
        double Shift(KitBody b) => cores.Contains(b) ? 0 : (b.Half == MouldHalf.Cope ? gap : -gap) * (bars.Contains(b) ? 0.6 : 1);
        var (vertices, facets) = (new List<Vec3>(), new List<Facet>());
        foreach (var body in bodies)
        {
            var (first, shift) = (vertices.Count, new Vec3(0, 0, Shift(body)));
            vertices.AddRange(body.InMould.Vertices.Select(v => v + shift));
            facets.AddRange(body.InMould.Facets.Select(f => new Facet(f.A + first, f.B + first, f.C + first)));
        }

        return (new([.. vertices], [.. facets]), [.. bodies.Select(b => b.Name)]);
    }
}
