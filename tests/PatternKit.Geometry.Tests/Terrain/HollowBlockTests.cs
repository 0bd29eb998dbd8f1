using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;

namespace PatternKit.Geometry.Tests.Terrain;

/// <summary>Blocks with a hollow and bodies that are their own mirror image, against closed forms; both are made of one terrain.</summary>
public class HollowBlockTests
{
    private const double Degree = Math.PI / 180;
    private const double Tolerance = 0.005;

    private static readonly Lattice Grid = Lattice.For(100);

    // A stepped round bar, 20 mm in radius over 40 mm and 10 mm over 30 mm, cut off square at its thicker end.
    private static readonly PlanRegion Bar = PlanRegion.Polygon([new(-30, 0), new(45, 0), new(45, 20), new(0, 20), new(0, 10), new(-30, 10)]);
    private static readonly PlanRegion Plan = PlanRegion.Rectangle(new(-40, -32), new(40, 32));

    // π r² l, and the draft of both shoulders: over each line along the bar a wedge from the larger radius down to the smaller, its height squared
    // times half the tangent; by slices.
    private static readonly double Volume = (Math.PI * ((400 * 40) + (100 * 30))) + (Math.Tan(2 * Degree) * Slices(20_000));

    [Fact]
    public void A_mirrored_half_is_a_closed_round_bar()
    {
        var bar = MirroredSolid.Build(Half(), Plan, Grid, new(Tolerance));
        var report = MeshInspection.Inspect(bar);
        Assert.True(report.IsValid, $"{report}");
        Assert.Equal(Volume, bar.Volume(), 2e-4 * Volume);
        Assert.Equal(40, bar.Bounds().High.X);
        Assert.Equal(-bar.Bounds().High.Z, bar.Bounds().Low.Z);
    }

    [Fact]
    public void Block_and_hollow_fill_the_block()
    {
        var pocket = PlanRegion.UnionOn(Grid, [PlanRegion.EvenOdd([PlanPath.Circle(new(-36, 28), 4)], 0.005)]);
        var block = HollowBlock.Build(Plan, 26, Half(), [new(pocket, 8)], Grid, new(Tolerance));
        var report = MeshInspection.Inspect(block);
        Assert.True(report.IsValid, $"{report}");
        var bar = MirroredSolid.Build(Half(), Plan, Grid, new(Tolerance)).Volume();
        Assert.Equal((Plan.Area * 26) - (pocket.Area * 8) - (bar / 2), block.Volume(), 1e-5 * bar);
        // Open at the end that the plan cuts off: the middle of that end is no part of the block.
        var winding = new WindingNumber(block);
        Assert.Equal(0, winding.Exact(new(39.9, 0, 10)), 1e-6);
        Assert.Equal(1, winding.Exact(new(39.9, 0, 21)), 1e-6);
        Assert.Equal(1, winding.Exact(new(-35, 0, 1)), 1e-6);
    }

    [Fact]
    public void Prisms_joined_to_a_terrain_add_what_lies_outside_it()
    {
        // A block of 40 mm, its joint half way up, and a bar of radius 6 lying in the joint that goes 20 mm beyond it on both sides.
        TerrainMap map = new([new(PlanRegion.Rectangle(new(-20, -20), new(20, 20)), 10, -10, true, false)], 0);
        var bar = TurnedBody.Prisms(PlanRegion.Rectangle(new(-40, 0), new(40, 6)), TurnedAxis.X, default, Tolerance);
        var joined = TerrainUnion.Of(map, [bar], Grid.Step);
        Assert.Equal((40.0 * 40 * 20) + (Math.PI * 36 * 40), joined.Volume, 0.01);
        Assert.All(joined.Cells.Where(c => c.IsMetal), c => Assert.True(c.Upper >= 0 && c.Lower <= 0));
    }

    private static double Slices(int count) => Enumerable.Range(0, count).Sum(i =>
    {
        var y = -20 + (40 * (i + 0.5) / count);
        var (thick, thin) = (Math.Sqrt(400 - (y * y)), Math.Sqrt(Math.Max(0, 100 - (y * y))));
        return ((thick - thin) * (thick - thin)) + (thin * thin);
    }) * 40 / count;

    private static DraftedTerrain Half()
    {
        var cells = ColumnMapBuilder.Build(TurnedBody.Prisms(Bar, TurnedAxis.X, default, Tolerance), Grid.Step).Cells;
        return new([.. cells.Where(c => !c.Solid.IsEmpty).Select(c => new Plateau(c.Region, c.Solid[^1].High))], 0, 2 * Degree, 2 * Degree, Grid, Tolerance);
    }
}
