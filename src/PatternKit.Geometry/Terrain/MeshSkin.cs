using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// A mesh prepared for drafting: corners on the lattice and numbered by position, heights within rounding of the ground or of a level
/// face put there, and for every edge the facets that meet in it.
/// </summary>
internal sealed class MeshSkin
{
    /// <summary>Heights nearer to the ground than this lie in it: the lattice could not carry their draft, mm.</summary>
    private const double InGround = 0.002;

    /// <summary>Facets that rise no more than this over their whole extent are level but for rounding, mm; also the height of a level face as a whole.</summary>
    private const double Level = 2e-4;

    /// <summary>And whose slope is no more than this.</summary>
    private const double LevelSlope = 1e-4;

    private readonly Vec3[] vertices;
    private readonly (int A, int B, int C)[] facets;

    private MeshSkin(Vec3[] vertices, (int A, int B, int C)[] facets)
    {
        (this.vertices, this.facets) = (vertices, facets);
        int[] sides = [.. Enumerable.Range(0, 3 * facets.Length)];
        (SidesByEdge, EdgeStarts) = EdgeSides.Of(sides, s => (Start(s), End(s)), vertices.Length);
    }

    /// <summary>Corners.</summary>
    public ReadOnlySpan<Vec3> Vertices => vertices;

    /// <summary>Facets by corner number; none names a corner twice.</summary>
    public ReadOnlySpan<(int A, int B, int C)> Facets => facets;

    /// <summary>How many edges there are.</summary>
    public int EdgeCount => EdgeStarts.Length - 1;

    private int[] EdgeStarts { get; }

    private int[] SidesByEdge { get; }

    /// <summary>The sides that make an edge: 3 · facet + corner at which the side starts.</summary>
    public ReadOnlySpan<int> Sides(int edge) => SidesByEdge.AsSpan(EdgeStarts[edge]..EdgeStarts[edge + 1]);

    /// <summary>The corner at which a side starts.</summary>
    public int Start(int side) => Corner(side / 3, side % 3);

    /// <summary>The corner at which a side ends.</summary>
    public int End(int side) => Corner(side / 3, (side + 1) % 3);

    /// <summary>The corner of the facet that a side does not touch.</summary>
    public int Apex(int side) => Corner(side / 3, (side + 2) % 3);

    /// <summary>The three corners of a facet.</summary>
    public (Vec3 A, Vec3 B, Vec3 C) Triangle(int facet) => (vertices[facets[facet].A], vertices[facets[facet].B], vertices[facets[facet].C]);

    /// <summary>Prepares a mesh.</summary>
    /// <param name="mesh">Any mesh, z along the draw.</param>
    /// <param name="ground">Height of the plan outside.</param>
    /// <param name="lattice">Where its corners are put.</param>
    public static MeshSkin Of(TriangleMesh mesh, double ground, Lattice lattice)
    {
        var table = new PositionTable(mesh.Vertices.Length);
        var of = new int[mesh.Vertices.Length];
        for (var i = 0; i < of.Length; i++)
        {
            var v = mesh.Vertices[i];
            of[i] = table.Number(new(lattice.Snap(v.X), lattice.Snap(v.Y), Math.Abs(v.Z - ground) < InGround ? ground : lattice.Snap(v.Z)));
        }

        (int A, int B, int C)[] kept = [.. mesh.Facets.Select(f => (A: of[f.A], B: of[f.B], C: of[f.C])).Where(f => f.A != f.B && f.B != f.C && f.C != f.A)];
        var skin = new MeshSkin([.. table.Drained()], kept);
        return skin.Settled(ground, lattice);
    }

    /// <summary>Level faces that rounding, or turning the part, left a little uneven, at one height each.</summary>
    private MeshSkin Settled(double ground, Lattice lattice)
    {
        var isLevel = new bool[facets.Length];
        for (var f = 0; f < facets.Length; f++)
        {
            var (a, b, c) = Triangle(f);
            var rise = Math.Max(a.Z, Math.Max(b.Z, c.Z)) - Math.Min(a.Z, Math.Min(b.Z, c.Z));
            if (rise > Level) continue;
            var n = Vec3.Cross(b - a, c - a);
            isLevel[f] = n.Plan.Length <= LevelSlope * Math.Abs(n.Z);
        }

        var sets = new DisjointSets(facets.Length);
        for (var e = 0; e < EdgeCount; e++)
        {
            var sides = Sides(e);
            for (var i = 1; i < sides.Length; i++)
                if (isLevel[sides[0] / 3] && isLevel[sides[i] / 3]) sets.Join(sides[0] / 3, sides[i] / 3);
        }

        var moved = vertices.ToArray();
        var changed = false;
        foreach (var face in Enumerable.Range(0, facets.Length).Where(f => isLevel[f]).GroupBy(sets.Find))
        {
            var corners = face.SelectMany(f => new[] { facets[f].A, facets[f].B, facets[f].C }).Distinct().ToArray();
            var (low, high) = (corners.Min(v => vertices[v].Z), corners.Max(v => vertices[v].Z));
            // A gentle slope of many facets is no level face.
            if (low == high || high - low > Level) continue;
            var height = low <= ground && ground <= high ? ground : lattice.Snap((low + high) / 2);
            foreach (var v in corners) moved[v] = moved[v] with { Z = height };
            changed = true;
        }

        return changed ? new(moved, facets) : this;
    }

    private int Corner(int facet, int corner) => corner switch
    {
        0 => facets[facet].A,
        1 => facets[facet].B,
        _ => facets[facet].C,
    };
}
