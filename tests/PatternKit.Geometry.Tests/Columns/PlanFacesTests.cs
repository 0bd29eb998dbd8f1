using CsCheck;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Polygonize;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Tests.Columns;

/// <summary>Faces of noded linework, held against the polygonizer of NetTopologySuite and against figures whose faces can be counted.</summary>
public class PlanFacesTests
{
    private static readonly GeometryFactory Factory = new();

    private static readonly Gen<LatticePoint[][]> Lines = Gen.Select(Gen.Int[0, 40], Gen.Int[0, 40], (x, y) => new LatticePoint(x, y)).Array[2, 4].Array[3, 14];

    // Crossing strokes on a coarse lattice: dangling ends, bridges, faces that touch at points and faces within faces all come up.
    [Fact]
    public void Random_strokes_have_the_faces_that_the_polygonizer_finds() => Lines.Sample(strokes =>
    {
        var linework = Pieces(strokes);
        if (linework.Count == 0) return;
        var polygonizer = new Polygonizer(false);
        foreach (var (a, b) in linework) polygonizer.Add(Factory.CreateLineString([a, b]));
        var expected = polygonizer.GetPolygons().Select(g => (Polygon)g.Normalized()).Order().Select(p => p.AsText()).ToArray();
        Assert.Equal(expected, PlanFaces.Of(linework).Polygons.Select(p => p.AsText()));
    }, iter: 400);

    // Inside of a face is on the left of its outer border, counter-clockwise; checked by a point half way beside every piece.
    [Fact]
    public void What_lies_beside_a_piece_holds_the_points_next_to_it() => Lines.Sample(strokes =>
    {
        var linework = Pieces(strokes);
        if (linework.Count == 0) return;
        var faces = PlanFaces.Of(linework);
        for (var i = 0; i < linework.Count; i++)
        {
            var (a, b) = linework[i];
            var (left, right) = faces.Beside(i);
            // So near that nothing of the lattice lies between.
            var (x, y, near) = ((a.X + b.X) / 2, (a.Y + b.Y) / 2, 1e-6 / a.Distance(b));
            var (toLeft, toRight) = (new Coordinate(x - (near * (b.Y - a.Y)), y + (near * (b.X - a.X))), new Coordinate(x + (near * (b.Y - a.Y)), y - (near * (b.X - a.X))));
            if (FaceAt(toLeft) == FaceAt(toRight))
            {
                Assert.Equal((Border.Outside, Border.Outside), (left, right));
                continue;
            }

            Assert.Equal(left, FaceAt(toLeft));
            Assert.Equal(right, FaceAt(toRight));
        }

        int FaceAt(Coordinate c) => Array.FindIndex(faces.Polygons, p => NetTopologySuite.Algorithm.Locate.SimplePointInAreaLocator.Locate(c, p) == Location.Interior);
    }, iter: 100);

    [Fact]
    public void A_square_in_a_square_joined_by_a_bridge_gives_a_ring_and_a_square()
    {
        var (outer, inner) = (Square(0, 10), Square(4, 6));
        var faces = PlanFaces.Of([.. outer, .. inner, (new(10, 10), new(6, 6))]);
        Assert.Equal([4.0, 96.0], faces.Polygons.Select(p => p.Area).Order());
        var ring = Array.FindIndex(faces.Polygons, p => p.Area == 96);
        Assert.Equal((-1, -1), faces.Beside(8));
        Assert.Equal((ring, -1), faces.Beside(0));
        Assert.Equal((1 - ring, ring), faces.Beside(4));
    }

    [Fact]
    public void Squares_that_touch_at_a_corner_inside_a_face_are_its_holes()
    {
        var faces = PlanFaces.Of([.. Square(0, 20), .. Square(4, 8), .. Square(8, 12)]);
        Assert.Equal([16.0, 16.0, 400 - 32.0], faces.Polygons.Select(p => p.Area).Order());
        Assert.All(faces.Polygons, p => Assert.True(p.IsValid));
    }

    private static (Coordinate A, Coordinate B)[] Square(double low, double high)
    {
        Coordinate[] c = [new(low, low), new(high, low), new(high, high), new(low, high)];
        return [.. c.Select((p, i) => (p, c[(i + 1) % 4]))];
    }

    private static List<(Coordinate A, Coordinate B)> Pieces(LatticePoint[][] strokes) =>
    [
        .. SnapRounding.Noded(strokes).SelectMany(l => l.Zip(l.Skip(1))).Select(s => s.First.X < s.Second.X || (s.First.X == s.Second.X && s.First.Y < s.Second.Y) ? s : (First: s.Second, Second: s.First))
            .Where(s => s.First != s.Second).Distinct().Select(s => (new Coordinate(s.First.X, s.First.Y), new Coordinate(s.Second.X, s.Second.Y))),
    ];
}
