using System.Collections.Immutable;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Builds filleted and rounded solids from prisms: every floor above the joint one radius, every edge another.</summary>
internal static class FilletBuild
{
    private static readonly PlanRegion Plate = PlanRegion.Rectangle(new(0, 0), new(60, 40));

    /// <summary>Every kind of fillet: straight, jutting and inner corners, round, ends at a drop, floors one above the other.</summary>
    public static IReadOnlyDictionary<string, Prism[]> Cases { get; } = new SortedDictionary<string, Prism[]>
    {
        ["block"] = [new(Plate, 0, 6), new(PlanRegion.Rectangle(new(20, 10), new(40, 30)), 0, 20)],
        ["inner corner"] = [new(Plate, 0, 6), new(PlanRegion.Rectangle(new(10, 10), new(40, 16)), 0, 20), new(PlanRegion.Rectangle(new(10, 10), new(16, 32)), 0, 20)],
        ["pocket"] = [new(Plate, 0, 20), new(PlanRegion.Rectangle(new(20, 10), new(40, 30)), 6, 20, true)],
        ["round boss"] = [new(Plate, 0, 6), new(TerrainBuild.Circle(20, new(30, 20), 48), 0, 20)],
        ["round pocket"] = [new(Plate, 0, 20), new(TerrainBuild.Circle(24, new(30, 20), 48), 6, 20, true)],
        ["drop"] = [new(Plate, 0, 6), new(PlanRegion.Rectangle(new(20, 10), new(60, 30)), 0, 20)],
        ["ring around a lower floor"] =
        [
            new(TerrainBuild.Circle(38, new(30, 20), 64), 0, 8), new(TerrainBuild.Circle(28, new(30, 20), 56), 0, 18),
            new(TerrainBuild.Circle(20, new(30, 20), 48), 5, 18, true),
        ],
        ["steps"] = [new(Plate, 0, 6), new(PlanRegion.Rectangle(new(12, 8), new(48, 32)), 0, 14), new(PlanRegion.Rectangle(new(22, 14), new(38, 26)), 0, 24)],
    };

    public static FilletedTerrain Terrain(IReadOnlyList<Prism> prisms, double degrees, double radius, double tolerance, double round = 0)
    {
        var angle = degrees * Math.PI / 180;
        var plateaus = TerrainBuild.Plateaus(prisms);
        var sharp = new DraftedTerrain(plateaus, 0, angle, angle, TerrainBuild.Lattice, tolerance, cornerReach: radius);
        PlanRegion From(Func<double, bool> height) => PlanRegion.Union(plateaus.Where(p => height(p.Height)).Select(p => p.Region));
        ImmutableArray<FilletedFloor> floors =
        [
            .. sharp.Flats().Select(f => f.Height).Distinct().Where(h => h < sharp.Levels[0])
                .Select(h => new FilletedFloor(h, From(z => z >= h), [new(From(z => z > h), radius)])),
        ];
        ImmutableArray<RoundedRim> rims = [.. plateaus.Select(p => p.Height).Distinct().SelectMany(h => From(z => z >= h).Rings().Select(ring => new RoundedRim(h, ring, round)))];
        return new(sharp, radius == 0 ? [] : floors, round == 0 ? [] : rims, tolerance);
    }

    public static TriangleMesh Solid(FilletedTerrain terrain, double tolerance) =>
        TerrainSolid.Build(terrain.ForMeshing(), null, [], [], TerrainBuild.Lattice, new(tolerance));
}
