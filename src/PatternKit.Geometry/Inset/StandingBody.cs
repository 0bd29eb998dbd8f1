using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Inset;

/// <summary>
/// A closed mesh that stands on a flat face at z = 0 and has nothing hanging over: an upper skin that is a graph over the plan, upright walls, and upright pockets in its foot.
/// </summary>
internal sealed class StandingBody
{
    private StandingBody(TriangleMesh mesh, ImmutableArray<Facet> skin, ImmutableArray<(int From, int To)> rim, PlanRegion plan, PlanRegion? outline, ImmutableArray<UprightPocket> pockets, PlanRegion slanted, bool isCut) =>
        (Mesh, Skin, Rim, Plan, Outline, Pockets, Slanted, IsCut) = (mesh, skin, rim, plan, outline, pockets, slanted, isCut);

    /// <summary>The whole body.</summary>
    public TriangleMesh Mesh { get; }

    /// <summary>Its facets that look up.</summary>
    public ImmutableArray<Facet> Skin { get; }

    /// <summary>The border of the skin, the skin to the left of every side.</summary>
    public ImmutableArray<(int From, int To)> Rim { get; }

    /// <summary>The foot, its pockets and holes with upright walls filled.</summary>
    public PlanRegion Plan { get; }

    /// <summary>The border of a block, whose outer walls are upright all round; null for a body whose walls slope down to the foot.</summary>
    public PlanRegion? Outline { get; }

    /// <summary>Sunk into the foot, those that go through to a level face included.</summary>
    public ImmutableArray<UprightPocket> Pockets { get; }

    /// <summary>Upright holes through a face that is not level.</summary>
    public PlanRegion Slanted { get; }

    /// <summary>Whether part of its walls is upright and part is not, as where it was cut from a larger body.</summary>
    public bool IsCut { get; }

    /// <summary>Whether a side of the rim lies on the foot; else a wall is below it.</summary>
    public bool IsFoot((int From, int To) side) => Mesh.Vertices[side.From].Z == 0 && Mesh.Vertices[side.To].Z == 0;

    /// <summary>Reads a mesh; null where it has faces that hang over, or does not stand on z = 0.</summary>
    /// <param name="mesh">Closed, facing outward.</param>
    public static StandingBody? Of(TriangleMesh mesh)
    {
        var (skin, ceilings) = (ImmutableArray.CreateBuilder<Facet>(), new Dictionary<double, List<Facet>>());
        foreach (var f in mesh.Facets)
        {
            var n = mesh.AreaNormal(f);
            if (n.Z > 0) skin.Add(f);
            if (n.Z >= 0) continue;
            var z = mesh.Vertices[f.A].Z;
            if (z < 0 || mesh.Vertices[f.B].Z != z || mesh.Vertices[f.C].Z != z) return null;
            if (z == 0) continue;
            if (!ceilings.TryGetValue(z, out var same)) ceilings.Add(z, same = []);
            same.Add(f);
        }

        if (skin.Count == 0) return null;
        var sides = new HashSet<(int, int)>();
        foreach (var f in skin)
            foreach (var (a, b) in new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) })
                if (!sides.Remove((b, a)) && !sides.Add((a, b))) return null;
        ImmutableArray<(int From, int To)> rim = [.. sides.OrderBy(s => s)];

        var (loops, outer, through, slanted, isCut) = (new List<PlanPath>(), new List<PlanRegion>(), new List<PlanRegion>(), new List<PlanRegion>(), false);
        foreach (var loop in SideLoops.Of(rim))
        {
            var (onFoot, off) = (loop.Any(v => mesh.Vertices[v].Z == 0), loop.Any(v => mesh.Vertices[v].Z != 0));
            Vec2[] points = [.. loop.Select(v => mesh.Vertices[v].Plan)];
            var path = PlanPath.Polygon(points);
            isCut |= onFoot && off;
            if (off && !onFoot && path.SignedArea() < 0) (loop.All(v => mesh.Vertices[v].Z == mesh.Vertices[loop[0]].Z) ? through : slanted).Add(PlanRegion.Polygon(points));
            else loops.Add(path);
            if (off && !onFoot && path.SignedArea() > 0) outer.Add(PlanRegion.Polygon(points));
        }

        // One block has one outline; a body with walls of both kinds has been cut.
        isCut |= outer.Count > 1 || (outer.Count == 1 && loops.Exists(l => l.SignedArea() > 0 && PlanRegion.Polygon([.. l.Vertices.Select(v => v.Point)]).Area > outer[0].Area));
        ImmutableArray<UprightPocket> pockets =
        [
            .. ceilings.OrderBy(c => c.Key).SelectMany(c => PlanRegion.UnionOfCoverage(c.Value.Select(f => PlanRegion.Polygon([At(f.A), At(f.B), At(f.C)]))).Pieces().Select(r => new UprightPocket(r, c.Key))),
            .. through.Select(UprightPocket.Through),
        ];
        return new(mesh, skin.ToImmutable(), rim, PlanRegion.EvenOdd(loops, 1), outer.Count == 1 ? outer[0] : null, pockets, PlanRegion.Union(slanted), isCut);

        Vec2 At(int v) => mesh.Vertices[v].Plan;
    }

    /// <summary>Where the skin is above a height, pockets and holes with upright walls filled.</summary>
    public PlanRegion Above(double z)
    {
        if (z <= 0) return Plan;
        var section = PlanRegion.EvenOdd(Geometry.Mesh.MeshSection.AtHeight(Mesh, z).Select(l => PlanPath.Polygon(l.AsSpan())), 1);
        var sunk = Pockets.Where(p => p.Depth > z).Select(p => p.Region).ToArray();
        return sunk.Length == 0 && Slanted.IsEmpty ? section : section.Union(PlanRegion.Union([.. sunk, Slanted]));
    }
}
