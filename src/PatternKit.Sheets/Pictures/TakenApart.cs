using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Loose;

namespace PatternKit.Sheets.Pictures;

/// <summary>The bodies of a kit in their order along the draw, moved apart: what lies in the cope above, cores in their place, what lies in the drag below.</summary>
internal static class TakenApart
{
    // Of the height of all, between one layer and the next.
    private const double Gap = 0.7;

    // Of that.
    private const double BarsOut = 0.6;

    /// <summary>One mesh of all, and the names from above; null where there is one body or none.</summary>
    public static (TriangleMesh Mesh, IReadOnlyList<string> Names)? Of(Kit kit)
    {
        KitBody[] bars = [.. (kit.Gating?.Bars ?? []).Select(b => b.Body)];
        KitBody[] cope = [.. kit.Bodies.Concat(bars).Where(b => b.Half == MouldHalf.Cope)], drag = [.. kit.Bodies.Concat(bars).Where(b => b.Half == MouldHalf.Drag)];
        // Patterns stand farther out than their bars, so that ingates show; every core stands where it is set.
        (TriangleMesh Mesh, double Out)[] Layer(KitBody[] half, double way) => [.. half.Select(b => (b.InMould, way * (bars.Contains(b) ? BarsOut : 1)))];
        var bodies = Layer(cope, 1).Concat(kit.Cores.SelectMany(c => c.InMould).Select(c => (Mesh: c, Out: 0.0))).Concat(Layer(drag, -1)).Concat(kit.Loose.Select(l => (Mesh: Aside(l), Out: l.Half == MouldHalf.Cope ? 1.0 : -1.0))).ToArray();
        if (bodies.Length < 2) return null;
        var gap = Gap * bodies.Select(b => b.Mesh.Bounds()).Aggregate(Box3.Empty, (a, b) => a.With(b.Low).With(b.High)).Size.Z;
        var (vertices, facets) = (new List<Vec3>(), new List<Facet>());
        foreach (var (mesh, away) in bodies)
        {
            var (first, shift) = (vertices.Count, new Vec3(0, 0, away * gap));
            vertices.AddRange(mesh.Vertices.Select(v => v + shift));
            facets.AddRange(mesh.Facets.Select(f => new Facet(f.A + first, f.B + first, f.C + first)));
        }

        string[] names = [.. cope.Select(b => b.Name), .. kit.Cores.Select(c => c.Count == 1 ? c.Name : $"{c.Count} of {c.Name}"), .. drag.Select(b => b.Name), .. kit.Loose.Select(l => l.Body.Name)];
        return (new([.. vertices], [.. facets]), names);

        // A loose piece stands before its wall, as far as it has to come out.
        static TriangleMesh Aside(KitLoosePiece piece) => piece.Body.InMould.Mapped(v => v + (2 * piece.Travel_mm * new Vec3(piece.Facing.X, piece.Facing.Y, 0)));
    }
}
