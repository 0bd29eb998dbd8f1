using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A facet of a mesh that the drafted terrain may show.</summary>
/// <param name="A">First corner.</param>
/// <param name="B">Second corner.</param>
/// <param name="C">Third corner.</param>
/// <param name="Plane">That of its face.</param>
/// <param name="Face">Number of its face: facets of one plane that hang together have one.</param>
internal readonly record struct GroundFacet(Vec3 A, Vec3 B, Vec3 C, HeightPlane Plane, int Face);

/// <summary>
/// The upper skin of a mesh as ground to be drafted: level faces as plateaus, gentle facets, and the edges and points from which it falls
/// steeper than the draft. It need not be a graph: what is hidden under other ground does no harm, since the terrain is the highest of all.
/// </summary>
internal sealed class MeshGround
{
    /// <summary>A facet drawn with just the draft asked for may be off it so much by rounding, radians.</summary>
    private const double Slack = 0.01 * Math.PI / 180;

    /// <summary>At so many heights the largest level faces are plateaus with lines of their own; others are facets like any.</summary>
    private const int MostLevels = 40;

    /// <summary>And none smaller than this part of the plan.</summary>
    private const double LeastLevel = 1e-4;

    /// <summary>Edges between gentle facets that bend by no less are lines that a mesh should have, radians.</summary>
    private const double SharpBend = 12 * Math.PI / 180;

    private readonly GroundPatches patches;

    /// <summary>Reads a mesh.</summary>
    /// <param name="mesh">Any mesh, z along the draw; need not be closed.</param>
    /// <param name="ground">Height of the plan outside; nothing is lower.</param>
    /// <param name="angle">Draft, radians.</param>
    /// <param name="lattice">Where corners are put.</param>
    public MeshGround(TriangleMesh mesh, double ground, double angle, Lattice lattice)
    {
        (Ground, Angle) = (ground, angle);
        var skin = MeshSkin.Of(mesh, ground, lattice);
        var gentle = 1 / Math.Tan(angle - Slack);
        var faces = new List<int>();
        for (var f = 0; f < skin.Facets.Length; f++)
        {
            var (a, b, c) = skin.Triangle(f);
            var n = Vec3.Cross(b - a, c - a);
            if (n.Z > 0 && n.Plan.Length <= gentle * n.Z && Math.Max(a.Z, Math.Max(b.Z, c.Z)) > ground) faces.Add(f);
        }

        (Falls, Tips, IsHidden) = MeshFalls.Of(skin, faces, ground, angle, gentle);
        Flats = LevelFaces(skin, faces, lattice, out var isFlat);
        List<int> sloped = [.. faces.Where(f => !isFlat[f])];
        patches = new(skin, sloped, lattice);
        var (face, planes) = Faces(skin, sloped, lattice);
        Facets =
        [
            .. sloped.OrderBy(f => face[f]).ThenBy(f => f).Select(f =>
            {
                var (a, b, c) = skin.Triangle(f);
                return new GroundFacet(a, b, c, planes[face[f]], face[f]);
            }),
        ];
        SharpSides = Sharp(skin, face, planes);
    }

    /// <summary>Height of the plan outside.</summary>
    public double Ground { get; }

    /// <summary>Draft, radians.</summary>
    public double Angle { get; }

    /// <summary>Level faces worth lines of their own, those of one height together.</summary>
    public ImmutableArray<Plateau> Flats { get; }

    /// <summary>The other facets no steeper than the draft, face by face.</summary>
    public ImmutableArray<GroundFacet> Facets { get; }

    /// <summary>Edges from which the ground falls steeper than the draft.</summary>
    public ImmutableArray<FallEdge> Falls { get; }

    /// <summary>Points from which it falls so on all sides.</summary>
    public ImmutableArray<Vec3> Tips { get; }

    /// <summary>Whether a point of the mesh lies under the drafted terrain.</summary>
    public Func<Vec3, bool> IsHidden { get; }

    /// <summary>Sides of facets along which the ground bends sharply or falls off, with the face that one of them belongs to.</summary>
    public ImmutableArray<(int Face, Vec2 From, Vec2 To)> SharpSides { get; }

    /// <summary>The highest point.</summary>
    public double Highest => Flats.Select(f => f.Height).Concat(Facets.Select(f => Math.Max(f.A.Z, Math.Max(f.B.Z, f.C.Z))))
        .Concat(Falls.Select(e => Math.Max(e.FromHeight, e.ToHeight))).Concat(Tips.Select(t => t.Z)).DefaultIfEmpty(Ground).Max();

    /// <summary>What of the facets rises above a height; the level faces are not among them.</summary>
    /// <param name="height">Height.</param>
    /// <param name="isCovered">Whether something rises above the height over a point of the plan.</param>
    public IEnumerable<PlanRegion> Above(double height, Func<Vec2, bool> isCovered) => patches.Above(height, isCovered);

    private static ImmutableArray<Plateau> LevelFaces(MeshSkin skin, List<int> faces, Lattice lattice, out bool[] isFlat)
    {
        isFlat = new bool[skin.Facets.Length];
        var (plan, byHeight) = (0.0, new SortedDictionary<double, List<int>>());
        foreach (var f in faces)
        {
            var (a, b, c) = skin.Triangle(f);
            plan += PlanArea(a, b, c);
            if (a.Z != b.Z || b.Z != c.Z) continue;
            if (!byHeight.TryGetValue(a.Z, out var list)) byHeight.Add(a.Z, list = []);
            list.Add(f);
        }

        var largest = byHeight.Select(h => (Height: h.Key, Facets: h.Value, Area: h.Value.Sum(f => skin.Triangle(f) is var (a, b, c) ? PlanArea(a, b, c) : 0)))
            .Where(h => h.Area >= LeastLevel * plan).OrderByDescending(h => h.Area).ThenBy(h => h.Height).Take(MostLevels).OrderBy(h => h.Height);
        var flats = ImmutableArray.CreateBuilder<Plateau>();
        foreach (var (height, facets, _) in largest)
        {
            foreach (var f in facets) isFlat[f] = true;
            var region = PlanRegion.UnionOn(lattice, new GroundPatches(skin, facets, lattice).Above(double.NegativeInfinity, p => facets.Exists(f => IsOver(skin.Triangle(f), p))));
            if (!region.IsEmpty) flats.Add(new(region, height));
        }

        return flats.ToImmutable();
    }

    /// <summary>Facets of one plane that hang together, grown from the largest.</summary>
    private static (int[] Face, List<HeightPlane> Planes) Faces(MeshSkin skin, List<int> facets, Lattice lattice)
    {
        var face = Enumerable.Repeat(-1, skin.Facets.Length).ToArray();
        var isIn = new bool[face.Length];
        foreach (var f in facets) isIn[f] = true;
        var neighbours = new int[3 * face.Length];
        Array.Fill(neighbours, -1);
        for (var e = 0; e < skin.EdgeCount; e++)
        {
            var sides = skin.Sides(e);
            if (sides.Length != 2 || !isIn[sides[0] / 3] || !isIn[sides[1] / 3]) continue;
            (neighbours[sides[0]], neighbours[sides[1]]) = (sides[1], sides[0]);
        }

        var planes = new List<HeightPlane>();
        var queue = new Queue<int>();
        foreach (var seed in facets.OrderByDescending(f => skin.Triangle(f) is var (a, b, c) ? PlanArea(a, b, c) : 0).ThenBy(f => f))
        {
            if (face[seed] >= 0) continue;
            var (a, b, c) = skin.Triangle(seed);
            var plane = HeightPlane.Through(a, b, c);
            var slack = 4 * lattice.Step * (1 + plane.Slope);
            face[seed] = planes.Count;
            queue.Enqueue(seed);
            while (queue.TryDequeue(out var f))
            {
                for (var s = 3 * f; s < (3 * f) + 3; s++)
                {
                    var other = neighbours[s];
                    if (other < 0 || face[other / 3] >= 0) continue;
                    var apex = skin.Vertices[skin.Apex(other)];
                    if (Math.Abs(plane.At(apex.Plan) - apex.Z) > slack) continue;
                    face[other / 3] = planes.Count;
                    queue.Enqueue(other / 3);
                }
            }

            planes.Add(plane);
        }

        return (face, planes);
    }

    private static ImmutableArray<(int Face, Vec2 From, Vec2 To)> Sharp(MeshSkin skin, int[] face, List<HeightPlane> planes)
    {
        var sides = ImmutableArray.CreateBuilder<(int, Vec2, Vec2)>();
        var least = Math.Cos(SharpBend);
        for (var e = 0; e < skin.EdgeCount; e++)
        {
            int first = -1, second = -1, at = -1;
            foreach (var s in skin.Sides(e))
            {
                if (face[s / 3] < 0) continue;
                if (first < 0) (first, at) = (face[s / 3], s);
                else second = face[s / 3];
            }

            if (first < 0 || (second >= 0 && (first == second || Vec3.Dot(Normal(planes[first]), Normal(planes[second])) > least))) continue;
            sides.Add((first, skin.Vertices[skin.Start(at)].Plan, skin.Vertices[skin.End(at)].Plan));
        }

        return sides.ToImmutable();

        static Vec3 Normal(HeightPlane p) => (1 / Math.Sqrt(1 + p.Gradient.LengthSquared)) * new Vec3(-p.Gradient.X, -p.Gradient.Y, 1);
    }

    private static bool IsOver((Vec3 A, Vec3 B, Vec3 C) facet, Vec2 p) => PlanArea(facet.A, facet.B, new(p.X, p.Y, 0)) >= 0
        && PlanArea(facet.B, facet.C, new(p.X, p.Y, 0)) >= 0 && PlanArea(facet.C, facet.A, new(p.X, p.Y, 0)) >= 0;

    private static double PlanArea(Vec3 a, Vec3 b, Vec3 c) => Vec2.Cross(b.Plan - a.Plan, c.Plan - a.Plan) / 2;
}
