using CsCheck;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Terrain;

namespace PatternKit.Geometry.Tests.Envelope;

/// <summary>
/// What primitives say of themselves over a rectangle, against their values at many points of it; and terrains, which go by that, against the definition: the
/// highest of all pieces.
/// </summary>
public class RangeTests
{
    private static readonly RoundedCone[] Profiles = [new(2 * Math.PI / 180, 0), new(0.3, 0), new(0, 4), new(2 * Math.PI / 180, 3), new(0.5, 2)];

    private static readonly Gen<double> Far = Gen.Double[-20, 20];

    private static readonly Gen<(Vec2 Low, Vec2 High, double[] Along)> Places = Gen.Select(Far, Far, Gen.Double[0.01, 8], Gen.Double[0.01, 8], Gen.Double[0, 1].Array[60]).Select(
        (x, y, width, height, along) => (new Vec2(x, y), new Vec2(x + width, y + height), along));

    private static readonly Gen<Primitive> Anything = Gen.Select(Far.Array[9], Gen.Int[0, 3], Gen.Int[0, 4]).Select((c, kind, number) =>
    {
        Vec3 a = new(c[0], c[1], c[2]), b = a + new Vec3(c[3], c[4], kind == 3 ? 0 : c[5] / 4), d = a + new Vec3(c[6], c[7], c[8] / 4);
        var profile = Profiles[number];
        return kind == 0 ? Primitive.Face(a, b, d, profile) : kind == 2 ? Primitive.Vertex(a, profile) : Primitive.Edge(a, b, profile);
    });

    private static readonly Gen<Prism[]> Heaps = Gen.Select(Gen.Int[-12, 12], Gen.Int[-12, 12], Gen.Int[2, 16], Gen.Int[2, 16], Gen.Int[1, 4], Gen.Bool).Select(
        (x, y, width, depth, height, round) => new Prism(
            round ? TerrainBuild.Circle(width, new(x, y), 48) : PlanRegion.Rectangle(new(x, y), new(x + width, y + depth)), 0, 4 * height)).Array[1, 6];

    [Fact]
    public void Faces_edges_and_vertices_keep_to_what_they_say_of_a_rectangle() =>
        Gen.Select(Anything, Places).Sample((primitive, place) => Keeps(primitive, place), iter: 4000);

    [Fact]
    public void Pieces_of_terrains_and_their_rounded_edges_keep_to_what_they_say_of_a_rectangle() => Gen.Select(Heaps, Places.Array[8]).Sample(
        (heap, places) =>
        {
            foreach (var piece in TerrainBuild.Terrain(heap, 2, 0.02).Pieces)
            {
                foreach (var place in places)
                {
                    Keeps(piece, place);
                    if (!piece.IsLevelRamp) continue;
                    var rounded = new RoundedRamp(piece, new(1.5, 1.5, piece.Angle));
                    Keeps(rounded, place);
                    if (piece.A != piece.B) Keeps(new RimDrop(rounded), place);
                }
            }
        },
        iter: 20);

    /// <summary>Corners on whole millimetres, so that borders of squares and of pieces coincide.</summary>
    [Fact]
    public void A_terrain_is_the_highest_of_its_pieces() => Gen.Select(Heaps, Gen.Select(Far, Far, Gen.Bool).Array[100]).Sample(
        (heap, places) =>
        {
            var terrain = TerrainBuild.Terrain(heap, 2, 0.02);
            foreach (var (x, y, whole) in places)
            {
                var p = whole ? new Vec2(Math.Round(x), Math.Round(y)) : new(x, y);
                var highest = terrain.Pieces.Max(q => q.TryEvaluate(p, out var v, out _) ? v : terrain.GroundHeight);
                Assert.Equal(Math.Max(terrain.GroundHeight, highest), terrain.At(p).Height);
                Assert.Equal(highest > 5, terrain.Exceeds(p, 5));
            }
        },
        iter: 100);

    private static void Keeps<T>(T primitive, (Vec2 Low, Vec2 High, double[] Along) place)
        where T : struct, IEnvelopePrimitive
    {
        var (low, high, along) = place;
        // Faces hold a billionth of a millimetre beyond their borders.
        var (least, most) = primitive.Over(low - new Vec2(1e-6, 1e-6), high + new Vec2(1e-6, 1e-6));
        for (var i = 0; i + 1 < along.Length; i += 2)
        {
            var holds = primitive.TryEvaluate(new(low.X + (along[i] * (high.X - low.X)), low.Y + (along[i + 1] * (high.Y - low.Y))), out var value, out _);
            Assert.True(holds ? value <= most + 1e-9 : double.IsNegativeInfinity(least), $"{primitive} {(holds ? value : "does not hold")}, said to be {least} to {most}");
            if (holds) Assert.True(value >= least - 1e-9, $"{primitive} {value}, said to be {least} to {most}");
        }
    }
}
