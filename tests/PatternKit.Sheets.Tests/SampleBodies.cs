using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Sheets.Tests;

/// <summary>Bodies for the tests.</summary>
internal static class SampleBodies
{
    /// <summary>A frustum on z = 0: regular base and top of as many sides.</summary>
    public static TriangleMesh Frustum(double baseRadius, double topRadius, double height, int sides)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        for (var i = 0; i < sides; i++)
        {
            var (s, c) = Math.SinCos(2 * Math.PI * i / sides);
            vertices.Add(new(baseRadius * c, baseRadius * s, 0));
            vertices.Add(new(topRadius * c, topRadius * s, height));
        }

        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (var i = 0; i < sides; i++)
        {
            var (a, b) = (2 * i, 2 * ((i + 1) % sides));
            facets.Add(new(a, b, b + 1));
            facets.Add(new(a, b + 1, a + 1));
            if (i is 0 || i == sides - 1) continue;
            facets.Add(new(0, b, a));
            facets.Add(new(1, a + 1, b + 1));
        }

        return new(vertices.ToImmutable(), facets.ToImmutable());
    }

    /// <summary>A lever bracket of 120 × 60 mm, drafted by the kernel, on z = 0, with two dowel holes in the flat face.</summary>
    public static TriangleMesh Bracket(ImmutableArray<Vec2> dowels, double hole, double depth)
    {
        var lattice = Lattice.For(200);
        var plate = RoundedRectangle(120, 60, 12);
        var boss = Disc(new(85, 30), 16);
        var bore = Disc(new(85, 30), 6);
        var rib = PlanRegion.Rectangle(new(12, 27), new(85, 33));
        var high = boss.Difference(bore);
        var middle = rib.Difference(boss).Difference(bore);
        var low = plate.Difference(boss).Difference(rib);
        PlanRegion On(PlanRegion region) => PlanRegion.UnionOn(lattice, [region]);
        var terrain = new DraftedTerrain(
            [new(On(low), lattice.Snap(12)), new(On(middle), lattice.Snap(20)), new(On(high), lattice.Snap(30)), new(On(bore), 0)],
            0, 2 * Math.PI / 180, 3 * Math.PI / 180, lattice, 0.01);
        return TerrainSolid.Build(terrain, null, [], [.. dowels.Select(d => new UprightPocket(On(Disc(d, hole / 2)), depth))], lattice, new(0.01));
    }

    /// <summary>A rectangle with round corners, its lower left corner at the origin, then grown on all sides.</summary>
    public static PlanRegion RoundedRectangle(double width, double height, double corner, double grown = 0) =>
        PlanRegion.Rectangle(new(corner, corner), new(width - corner, height - corner)).Offset(corner + grown, 0.01);

    /// <summary>A disc.</summary>
    public static PlanRegion Disc(Vec2 centre, double radius) =>
        PlanRegion.EvenOdd([PlanPath.Circle(centre, 2 * radius)], 0.01);
}
