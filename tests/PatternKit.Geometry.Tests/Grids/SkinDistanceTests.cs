using CsCheck;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Grids;

public class SkinDistanceTests
{
    private static readonly Gen<Box3> GenBox = Gen.Select(Gen.Double[0, 12], Gen.Double[0, 12], Gen.Double[0, 12], Gen.Double[1.5, 8], Gen.Double[1.5, 8], Gen.Double[1.5, 8], (x, y, z, a, b, c) => Bodies.Box(x, y, z, x + a, y + b, z + c));

    [Fact]
    public void Distances_are_those_to_the_nearest_of_all_places_where_a_line_passes_the_skin() =>
        GenBox.Array[1, 6].Sample(
            boxes =>
            {
                var grid = Bodies.Boxes(1, boxes);
                var skin = SkinDistance.Of(grid);
                var places = Places(grid).ToArray();
                for (var cell = 0; cell < grid.Count; cell++)
                {
                    if (!grid.IsSolid(cell)) continue;
                    var (x, y, z) = grid.Split(cell);
                    var here = new Vec3(x, y, z);
                    var least = places.Min(p => (p - here).Length);
                    Assert.Equal(least, skin.InCells(cell), 1e-5);
                    Assert.Equal(least, (skin.Foot(cell) - here).Length, 1e-5);
                }
            }, iter: 60);

    [Fact]
    public void A_sphere_is_measured_from_its_middle_outward()
    {
        var grid = Bodies.Sphere(20, 1);
        var skin = SkinDistance.Of(grid);
        for (var cell = 0; cell < grid.Count; cell++)
        {
            if (!grid.IsSolid(cell)) continue;
            // Lines pass the skin a cell apart along their axis, and nearer where it leans; faces are told better than places.
            var depth = 10 - grid.Middle(cell).Length;
            Assert.InRange(skin.InCells(cell), depth - 0.07, Math.Sqrt((depth * depth) + 0.5));
            if (depth > 0.3) Assert.Equal(depth, skin.Face(cell).Reach, 0.17);
        }
    }

    private static IEnumerable<Vec3> Places(SolidGrid grid)
    {
        for (var axis = 0; axis < 3; axis++)
        {
            for (var cell = 0; cell + grid.Stride(axis) < grid.Count; cell++)
            {
                if (grid.IsSolid(cell) == grid.IsSolid(cell + grid.Stride(axis))) continue;
                var (x, y, z) = grid.Split(cell);
                double at = grid.Crossing(axis, cell);
                yield return axis switch { 0 => new(at, y, z), 1 => new(x, at, z), _ => new(x, y, at) };
            }
        }
    }
}
