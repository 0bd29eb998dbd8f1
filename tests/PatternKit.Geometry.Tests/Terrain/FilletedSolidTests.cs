using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Mesh;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Fillets against closed forms: the wedge between two tangents and their arc, and Pappus's theorem.</summary>
public class FilletedSolidTests
{
    private const double Tolerance = 0.01;
    private const double Floor = 6;
    private static readonly PlanRegion Plate = PlanRegion.Rectangle(new(0, 0), new(80, 60));

    public static TheoryData<string> Names => [.. FilletBuild.Cases.Keys];

    public static TheoryData<double, double> DraftsAndRadii => new()
    {
        { 0.5, 3 }, { 1, 3 }, { 2, 1 }, { 2, 3 }, { 2, 6 }, { 5, 4 }, { 10, 3 },
    };

    [Theory]
    [MemberData(nameof(DraftsAndRadii))]
    public void The_surface_along_a_straight_wall_is_the_arc_tangent_to_floor_and_wall(double degrees, double radius)
    {
        const double high = 20;
        var theta = degrees * Math.PI / 180;
        var fillet = FilletBuild.Terrain([new(Plate, 0, Floor), new(PlanRegion.Rectangle(new(20, 15), new(60, 45)), 0, high)], degrees, radius, Tolerance);
        var foot = 60 + ((high - Floor) * Math.Tan(theta));
        var reach = radius * Math.Tan((Math.PI / 4) - (theta / 2));
        // Tangent points at r tan(45° − θ/2) from the foot, on the floor and up the wall.
        Assert.Equal(Floor, fillet.At(new(foot + reach + 0.01, 30)).Height, 1e-9);
        Assert.True(fillet.At(new(foot + reach - 0.05, 30)).Height > Floor + 1e-5);
        Assert.Equal(0, fillet.Raise(new(foot - (reach * Math.Sin(theta)) - 0.001, 30)), 1e-9);
        Assert.True(fillet.Raise(new(foot - (0.5 * reach * Math.Sin(theta)), 30)) > 0);
        for (var i = 1; i < 40; i++)
        {
            var x = foot + reach - (i / 40.0 * (1 + Math.Sin(theta)) * reach);
            var aside = foot + reach - x;
            var expected = Floor + radius - Math.Sqrt((radius * radius) - (aside * aside));
            var (height, gradient, _) = fillet.At(new(x, 30));
            Assert.True(Math.Abs(height - expected) / Math.Sqrt(1 + gradient.LengthSquared) <= 2e-4, $"at {x - foot} from the foot {height} for {expected}");
        }
    }

    [Theory]
    [MemberData(nameof(DraftsAndRadii))]
    public void A_straight_fillet_has_the_area_of_the_wedge_less_the_sector(double degrees, double radius)
    {
        // Walls that run through both ends of the plate: floor and wall meet at an angle α = 90° + θ, and the fillet between them is
        // r² (cot(α/2) − (π − α)/2) per length.
        const double high = 20;
        var theta = degrees * Math.PI / 180;
        var alpha = (Math.PI / 2) + theta;
        var area = radius * radius * ((1 / Math.Tan(alpha / 2)) - ((Math.PI - alpha) / 2));
        var shorter = FilletBuild.Terrain([new(Plate, 0, Floor), new(PlanRegion.Rectangle(new(30, 20), new(50, 30)), 0, high)], degrees, radius, Tolerance);
        var longer = FilletBuild.Terrain([new(Plate, 0, Floor), new(PlanRegion.Rectangle(new(30, 20), new(50, 40)), 0, high)], degrees, radius, Tolerance);
        // 10 mm more of wall on both sides; the corners are the same.
        AssertRelative(20 * area, longer.AddedVolume(1e-3) - shorter.AddedVolume(1e-3), 5e-3);
        AssertRelative(20 * area, Added(longer) - Added(shorter), 1e-2);
    }

    [Fact]
    public void The_fillet_of_a_round_boss_is_the_wedge_turned_about_its_axis()
    {
        const double high = 20, radius = 3, degrees = 2;
        var theta = degrees * Math.PI / 180;
        var fillet = FilletBuild.Terrain([new(Plate, 0, Floor), new(TerrainBuild.Circle(24, new(40, 30), 128), 0, high)], degrees, radius, Tolerance);
        // Pappus: 2π times the first moment of the wedge about the axis, by Simpson's rule over its width.
        var foot = (12 * Math.Cos(Math.PI / 256)) + ((high - Floor) * Math.Tan(theta));
        var reach = radius * Math.Tan((Math.PI / 4) - (theta / 2));
        var (low, wide) = (-reach * Math.Sin(theta), reach);
        const int n = 20_000;
        var moment = 0.0;
        for (var i = 0; i <= n; i++)
        {
            var x = low + (i * (wide - low) / n);
            var arc = radius - Math.Sqrt(Math.Max(0, (radius * radius) - ((reach - x) * (reach - x))));
            var height = arc - Math.Max(0, -x / Math.Tan(theta));
            moment += (i is 0 or n ? 1 : i % 2 == 1 ? 4 : 2) * height * (foot + x);
        }

        var expected = 2 * Math.PI * moment * (wide - low) / (3 * n);
        AssertRelative(expected, fillet.AddedVolume(1e-3), 1e-2);
        AssertRelative(expected, Added(fillet), 1e-2);
    }

    [Fact]
    public void A_corner_between_walls_is_filled_up_to_its_top_as_by_a_leaning_cylinder()
    {
        // A square pocket: in plan each corner is cut by an arc; at draft zero it would be (1 − π/4) r² of floor. What the four
        // corners add above the fillet of the floor is nearly that area times the height left; draft makes it a few percent less.
        const double high = 26, radius = 4, degrees = 0.5;
        var floorOnly = FilletBuild.Terrain(
            [new(Plate, 0, high), new(PlanRegion.Rectangle(new(20, 15), new(60, 45)), Floor, high, Removes: true)], degrees, radius, Tolerance);
        var deeper = FilletBuild.Terrain(
            [new(Plate, 0, high + 10), new(PlanRegion.Rectangle(new(20, 15), new(60, 45)), Floor, high + 10, Removes: true)], degrees, radius, Tolerance);
        var expected = 4 * (1 - (Math.PI / 4)) * radius * radius * 10;
        // The floor that 10 mm more depth leaves is narrower by 2 × 10 tan θ each way, and its fillet shorter by that.
        var shorter = 8 * 10 * Math.Tan(degrees * Math.PI / 180) * 0.2077 * radius * radius;
        AssertRelative(expected - shorter, deeper.AddedVolume(1e-2) - floorOnly.AddedVolume(1e-2), 2e-2);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_body_is_valid_keeps_its_draft_and_holds_what_was_reckoned(string name)
    {
        var fillet = FilletBuild.Terrain(FilletBuild.Cases[name], 2, 3, Tolerance);
        var mesh = FilletBuild.Solid(fillet, Tolerance);
        MeshAssert.Valid(mesh);
        Assert.True(TerrainBuild.LeastDraftDegrees(mesh) >= 1.95, $"least draft {TerrainBuild.LeastDraftDegrees(mesh)}");
        var volume = mesh.Volume();
        Assert.True(Math.Abs(TerrainBuild.Solid(fillet.Sharp, Tolerance).Volume() + fillet.AddedVolume(1e-5 * volume) - volume) <= 1e-4 * volume);
        foreach (var f in mesh.Facets.Where(f => mesh.AreaNormal(f).Z > 0))
        {
            var (a, b, c) = (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
            var middle = (1 / 3.0) * (a + b + c);
            var (height, gradient, _) = fillet.At(middle.Plan);
            var n = mesh.AreaNormal(f);
            var steepness = Math.Max(gradient.LengthSquared, n.Plan.LengthSquared / (n.Z * n.Z));
            Assert.True(
                Math.Abs(height - middle.Z) / Math.Sqrt(1 + steepness) <= 2 * Tolerance, $"{name}: {height - middle.Z} mm at {middle}");
        }
    }

    private static double Added(FilletedTerrain fillet) =>
        FilletBuild.Solid(fillet, Tolerance).Volume() - TerrainBuild.Solid(fillet.Sharp, Tolerance).Volume();

    private static void AssertRelative(double expected, double actual, double tolerance) =>
        Assert.True(Math.Abs((actual / expected) - 1) <= tolerance, $"expected {expected}, got {actual}: {(actual / expected) - 1:e2}");
}
