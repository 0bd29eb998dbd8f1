using NetTopologySuite.Algorithm.Construct;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>A connected piece of the plan between walls that stand nearer to each other than some width.</summary>
/// <param name="Region">Its extent.</param>
/// <param name="Width">Distance of the walls where it is narrowest; of a blind end or a hole, the largest circle in it, mm.</param>
/// <param name="At">A point half way between the walls.</param>
/// <param name="IsEnclosed">Whether walls bound it all round; else it opens into a wider place.</param>
public sealed record NarrowPlace(PlanRegion Region, double Width, Vec2 At, bool IsEnclosed);

/// <summary>
/// Finds the narrow places of a region or of its complement: what an opening by a disc takes away (the top-hat of Serra 1982), less
/// the corners, which every opening rounds. A place opens into wider ones by mouths, arcs of that disc. Two mouths: a neck. One mouth not
/// much longer than the place is wide: a blind slot. One longer mouth: a corner, with a wide place beside it all along.
/// </summary>
public static class NarrowPlaces
{
    /// <summary>Borders nearer to a wall than this many chord tolerances are the wall.</summary>
    private const double OnWall = 4;

    /// <summary>Below this the chords of round walls cannot be told from narrow places, mm.</summary>
    private const double Least = 0.25;

    /// <summary>
    /// Mouth over width at which a blind slot becomes a corner: parallel walls give at most a half circle over its diameter, π/2; walls that
    /// meet at 25° give 1.73.
    /// </summary>
    private const double Blunt = 1.65;

    /// <summary>What is narrow is sought so many chord tolerances off the walls: on them both contours would lie on each other but for the last digits, which is slow to tell apart.</summary>
    private const double Clear = 0.1;

    /// <summary>The places inside a region that are narrower than a width, mm.</summary>
    public static IEnumerable<NarrowPlace> Within(PlanRegion region, double width)
    {
        var (plain, chord) = (region.Simplified(Chord(width) / 2), Chord(width));
        return Measured(plain.Offset(-Clear * chord, chord).Difference(plain.Offset(-width / 2, chord).Offset(width / 2, chord)), plain, width);
    }

    /// <summary>The places outside a region, between parts of it, that are narrower than a width, mm.</summary>
    public static IEnumerable<NarrowPlace> Between(PlanRegion region, double width)
    {
        var (plain, chord) = (region.Simplified(Chord(width) / 2), Chord(width));
        return Measured(plain.Offset(width / 2, chord).Offset(-width / 2, chord).Difference(plain.Offset(Clear * chord, chord)), plain, width);
    }

    /// <summary>How near chords of the disc stay to it: of a small disc, nearer, so that the end of a mouth can be told from the wall.</summary>
    private static double Chord(double width) => Math.Min(0.02, width / 1000);

    private static IEnumerable<NarrowPlace> Measured(PlanRegion narrow, PlanRegion region, double width)
    {
        if (narrow.IsEmpty) yield break;
        IndexedFacetDistance? walls = null;
        for (var i = 0; i < narrow.Geometry.NumGeometries; i++)
        {
            // Twice the area over the border's length is no more than the largest circle's diameter.
            if (narrow.Geometry.GetGeometryN(i) is Polygon { IsEmpty: false } piece && piece.Area > Least * Least && piece.Area > Least / 4 * piece.Length
                && Measured(piece, walls ??= new(region.Geometry.Boundary), Chord(width)) is { } place && place.Width > Least && place.Width < width)
                yield return place;
        }
    }

    private static NarrowPlace? Measured(Polygon piece, IndexedFacetDistance walls, double chord)
    {
        var factory = piece.Factory;
        var runs = piece.Holes.Prepend(piece.Shell).SelectMany(ring => Runs(ring.Coordinates, c => walls.Distance(factory.CreatePoint(c)) <= OnWall * chord))
            .Select(r => (Line: factory.CreateLineString([.. r.Points]), r.IsWall)).ToList();
        var chains = runs.Where(r => r.IsWall).Select(r => r.Line).ToList();
        var mouths = runs.Where(r => !r.IsWall).Select(r => r.Line).ToList();
        if (chains.Count > 1)
        {
            var (nearest, a, b) = (double.PositiveInfinity, new Coordinate(), new Coordinate());
            for (var i = 0; i < chains.Count; i++)
            {
                var from = new IndexedFacetDistance(chains[i]);
                for (var j = i + 1; j < chains.Count; j++)
                {
                    var ends = from.NearestPoints(chains[j]);
                    if (ends[0].Distance(ends[1]) < nearest) (nearest, a, b) = (ends[0].Distance(ends[1]), ends[0], ends[1]);
                }
            }

            return new(PlanRegion.From(piece), nearest + (2 * Clear * chord), new((a.X + b.X) / 2, (a.Y + b.Y) / 2), mouths.Count == 0);
        }

        if (mouths.Exists(IsOfTwoDiscs)) return null;
        // A slot no longer than wide is as wide at its mouth as anywhere, where no circle fits any more.
        var atMouths = mouths.Select(m => walls.Distance(factory.CreatePoint(new NetTopologySuite.LinearReferencing.LengthIndexedLine(m).ExtractPoint(m.Length / 2)))).DefaultIfEmpty(0).Max();
        var longest = mouths.Select(m => m.Length).DefaultIfEmpty(0).Max();
        // No circle in the piece has more area than the piece: most corners are told by that.
        if (longest > Blunt * 2 * Math.Max(atMouths, Math.Sqrt(piece.Area / Math.PI))) return null;
        var circle = new MaximumInscribedCircle(piece, Math.Max(0.01, piece.Area / piece.Length / 50));
        var at = circle.GetCenter().Coordinate;
        var radius = Math.Max(atMouths, walls.Distance(factory.CreatePoint(at)));
        return longest > Blunt * 2 * radius ? null : new(PlanRegion.From(piece), 2 * radius, new(at.X, at.Y), mouths.Count == 0);
    }

    /// <summary>Whether two discs meet in a mouth, one on either side of a wall's end: then what lies across is farther off than the disc is wide, and there is no slot.</summary>
    private static bool IsOfTwoDiscs(LineString mouth) => Enumerable.Range(1, Math.Max(0, mouth.NumPoints - 2)).Any(i =>
    {
        var (a, b, c) = (mouth[i - 1], mouth[i], mouth[i + 1]);
        return Math.Abs(NetTopologySuite.Algorithm.AngleUtility.AngleBetween(a, b, c)) < Math.PI / 2;
    });

    /// <summary>A closed ring in stretches on and off the walls; a segment is on them if its ends and its middle are.</summary>
    private static List<(List<Coordinate> Points, bool IsWall)> Runs(Coordinate[] ring, Func<Coordinate, bool> onWall)
    {
        var n = ring.Length - 1;
        var corner = Enumerable.Range(0, n).Select(i => onWall(ring[i])).ToArray();
        var wall = Enumerable.Range(0, n)
            .Select(i => corner[i] && corner[(i + 1) % n] && onWall(new((ring[i].X + ring[i + 1].X) / 2, (ring[i].Y + ring[i + 1].Y) / 2))).ToArray();
        var start = Enumerable.Range(0, n).FirstOrDefault(i => wall[i] != wall[(i + n - 1) % n]);
        var runs = new List<(List<Coordinate> Points, bool IsWall)>();
        for (var k = 0; k < n; k++)
        {
            var i = (start + k) % n;
            if (runs.Count == 0 || runs[^1].IsWall != wall[i]) runs.Add(([ring[i]], wall[i]));
            runs[^1].Points.Add(ring[i + 1]);
        }

        return runs;
    }
}
