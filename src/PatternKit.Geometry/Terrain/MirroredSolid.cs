using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A body that is its own mirror image in the ground of a terrain. Both sides are one mesh, joined along the contour of the terrain; where the plan
/// cuts it off, an upright wall closes it.
/// </summary>
public static class MirroredSolid
{
    /// <summary>The body { |z − ground| ≤ terrain − ground } over the plan.</summary>
    /// <param name="half">The upper side.</param>
    /// <param name="plan">Where the body is cut off, on the lattice.</param>
    /// <param name="lattice">All coordinates of the result lie on it.</param>
    /// <param name="tolerance">Tolerances.</param>
    /// <returns>The body; without facets where nothing rises over the plan.</returns>
    public static TriangleMesh Build(ITerrain half, PlanRegion plan, Lattice lattice, MeshingTolerance tolerance)
    {
        var domain = PlanRegion.UnionOn(lattice, [half.Footprint.Intersection(plan)]);
        if (domain.IsEmpty) return new([], []);
        ImmutableArray<ZonedRing> rim = [.. domain.Rings().Select(r => new ZonedRing(r, TerrainMesher.Domain))];
        var mesh = TerrainMesher.Mesh(half, TerrainSolid.WithBreaklines(rim, domain, half, lattice, tolerance), [], lattice, tolerance, liftChords: true);
        return Stitched(mesh, half.GroundHeight);
    }

    private static TriangleMesh Stitched(TerrainMesh mesh, double ground)
    {
        var rim = mesh.Rim.SelectMany(e => new[] { e.From, e.To }).ToHashSet();
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var (upper, lower) = (new int[mesh.Points.Length], new int[mesh.Points.Length]);
        foreach (var v in mesh.Facets.SelectMany(f => new[] { f.A, f.B, f.C }).Distinct().Order())
        {
            var (p, h) = (mesh.Points[v], mesh.Heights[v]);
            upper[v] = lower[v] = vertices.Count;
            vertices.Add(new(p.X, p.Y, h));
            if (rim.Contains(v) && h == ground) continue;
            lower[v] = vertices.Count;
            vertices.Add(new(p.X, p.Y, (2 * ground) - h));
        }

        var facets = ImmutableArray.CreateBuilder<Facet>();
        foreach (var f in mesh.Facets)
        {
            facets.Add(new(upper[f.A], upper[f.B], upper[f.C]));
            facets.Add(new(lower[f.A], lower[f.C], lower[f.B]));
        }

        // The body lies to the left of every edge of the rim.
        foreach (var (from, to) in mesh.Rim)
        {
            if (upper[from] != lower[from]) facets.Add(new(upper[to], upper[from], lower[from]));
            if (upper[to] != lower[to]) facets.Add(new(upper[to], lower[from], lower[to]));
        }

        return new(vertices.ToImmutable(), facets.ToImmutable());
    }
}
