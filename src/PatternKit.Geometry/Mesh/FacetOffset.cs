using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>A mesh whose facets were moved outward, each by its own distance.</summary>
/// <param name="Mesh">The same facets on moved vertices.</param>
/// <param name="Turned">The first facet that came out facing the other way, since a hollow there is narrower than what was put on; null where none did.</param>
/// <param name="Least">For each facet the least of what its corners were moved along its normal, mm.</param>
public sealed record OffsetMesh(TriangleMesh Mesh, int? Turned, ImmutableArray<double> Least);

/// <summary>
/// Moves the planes of facets along their normals and the vertices to where those planes meet (mitred offset; offsetting of solids: Rossignac and Requicha
/// 1984). Planes that are not moved stay, so that the side of a raised top is continued and a wall moved sideways keeps its top. Facets and how they hang together stay.
/// </summary>
/// <remarks>
/// Where planes of nearly one direction are moved by different distances, as at the end of a region on a smooth skin, the larger counts, and the facets beside it lead over
/// to what stays. At a vertex of more than three directions the distances are met in the least-squares sense, and never by less than asked while that takes a fifth more at most.
/// </remarks>
public static class FacetOffset
{
    /// <summary>Planes closer in direction than this, of which one is moved less, do not hold it back: cos 30°.</summary>
    private static readonly double Alike = Math.Cos(Math.PI / 6);

    /// <summary>A vertex moves by so many times the distance at most: edges sharper than about 30° get a blunt end.</summary>
    private const double Most = 4;

    /// <summary>By so much more it may be moved so that no plane falls short.</summary>
    private const double Stretch = 1.2;

    /// <summary>Part of the whole below which a direction has no say.</summary>
    private const double Slight = 1e-12;

    /// <summary>What falls short by less than this part is rounding.</summary>
    private const double Stray = 1e-9;

    /// <summary>Moves facets outward.</summary>
    /// <param name="mesh">Facing outward.</param>
    /// <param name="by_mm">For each facet how far, at least 0.</param>
    /// <exception cref="ArgumentException">Not as many distances as facets, or one below 0 or not finite.</exception>
    public static OffsetMesh Of(TriangleMesh mesh, IReadOnlyList<double> by_mm)
    {
        if (by_mm.Count != mesh.Facets.Length || by_mm.Any(d => !(d >= 0 && double.IsFinite(d)))) throw new ArgumentException("Every facet needs a distance of 0 or more.", nameof(by_mm));
        var planes = new List<(Vec3 Normal, double By)>?[mesh.Vertices.Length];
        for (var f = 0; f < by_mm.Count; f++)
        {
            if (by_mm[f] == 0) continue;
            foreach (var v in Corners(mesh.Facets[f])) planes[v] ??= [];
        }

        for (var f = 0; f < by_mm.Count; f++)
        {
            var normal = mesh.AreaNormal(mesh.Facets[f]);
            if (!(normal.Length > 0)) continue;
            foreach (var v in Corners(mesh.Facets[f])) planes[v]?.Add((1 / normal.Length * normal, by_mm[f]));
        }

        var vertices = mesh.Vertices.ToBuilder();
        for (var v = 0; v < planes.Length; v++)
            if (planes[v] is { Count: > 0 } own) vertices[v] += Move(own);
        var moved = new TriangleMesh(vertices.MoveToImmutable(), mesh.Facets);

        int? turned = null;
        var least = ImmutableArray.CreateBuilder<double>(by_mm.Count);
        for (var f = 0; f < by_mm.Count; f++)
        {
            var (before, after) = (mesh.AreaNormal(mesh.Facets[f]), moved.AreaNormal(mesh.Facets[f]));
            var length = before.Length;
            if (!(length > 0))
            {
                least.Add(by_mm[f]);
                continue;
            }

            if (turned is null && Array.Exists(Corners(mesh.Facets[f]), v => planes[v] is not null) && Vec3.Dot(before, after) <= 0) turned = f;
            least.Add(Corners(mesh.Facets[f]).Min(v => Vec3.Dot(1 / length * before, moved.Vertices[v] - mesh.Vertices[v])));
        }

        return new(moved, turned, least.MoveToImmutable());
    }

    private static int[] Corners(Facet f) => [f.A, f.B, f.C];

    /// <summary>The shortest move that takes the planes of a vertex along.</summary>
    private static Vec3 Move(List<(Vec3 Normal, double By)> planes)
    {
        planes.Sort((p, q) => q.By != p.By ? q.By.CompareTo(p.By) : Order(p.Normal, q.Normal));
        var kept = new List<(Vec3 Normal, double By)>(planes.Count);
        foreach (var plane in planes)
            if (!kept.Exists(k => k.By > plane.By && Vec3.Dot(k.Normal, plane.Normal) > Alike)) kept.Add(plane);

        // Normal equations (N + ε) d = Σ by n, with ε so small that only directions without a say feel it.
        double xx = 0, xy = 0, xz = 0, yy = 0, yz = 0, zz = 0;
        var sum = default(Vec3);
        foreach (var (n, by) in kept)
        {
            (xx, xy, xz, yy, yz, zz) = (xx + (n.X * n.X), xy + (n.X * n.Y), xz + (n.X * n.Z), yy + (n.Y * n.Y), yz + (n.Y * n.Z), zz + (n.Z * n.Z));
            sum += by * n;
        }

        var slight = Slight * kept.Count;
        var (a, b, c) = (new Vec3(xx + slight, xy, xz), new Vec3(xy, yy + slight, yz), new Vec3(xz, yz, zz + slight));
        var volume = Vec3.Dot(a, Vec3.Cross(b, c));
        var move = (1 / volume) * new Vec3(Vec3.Dot(sum, Vec3.Cross(b, c)), Vec3.Dot(a, Vec3.Cross(sum, c)), Vec3.Dot(a, Vec3.Cross(b, sum)));

        var lacking = kept.Where(k => k.By > 0).Select(k => k.By / Math.Max(Vec3.Dot(k.Normal, move), Slight)).DefaultIfEmpty(1).Max();
        if (lacking > 1 + Stray && lacking <= Stretch) move = lacking * move;
        var limit = Most * kept[0].By;
        return move.Length <= limit ? move : limit / move.Length * move;
    }

    private static int Order(Vec3 p, Vec3 q) => (p.X, p.Y, p.Z).CompareTo((q.X, q.Y, q.Z));
}
