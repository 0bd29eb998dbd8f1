using System.Collections.Immutable;
using NetTopologySuite.Geometries;
using NetTopologySuite.Operation.Distance;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Plan;

/// <summary>A place of a region.</summary>
/// <param name="At">The place.</param>
/// <param name="Inside_mm">Distance from the border.</param>
public readonly record struct PlanStation(Vec2 At, double Inside_mm);

/// <summary>Places of a region on a square grid, by which it is looked at here and there.</summary>
public sealed class PlanStations
{
    private PlanStations(ImmutableArray<PlanStation> places, double step_mm) => (Places, Step_mm) = (places, step_mm);

    /// <summary>The places, row by row.</summary>
    public ImmutableArray<PlanStation> Places { get; }

    /// <summary>Between them, mm.</summary>
    public double Step_mm { get; }

    /// <summary>The grid over a region; of each piece too small to hold one of its places a point in its middle.</summary>
    /// <param name="region">The region.</param>
    /// <param name="count">About so many places.</param>
    public static PlanStations Over(PlanRegion region, int count)
    {
        if (region.IsEmpty) return new([], 0);
        var step = Math.Sqrt(region.Area / count);
        var (places, border) = (ImmutableArray.CreateBuilder<PlanStation>(), new IndexedFacetDistance(region.Geometry.Boundary));
        foreach (var piece in region.Pieces())
        {
            var (box, before, rings) = (piece.Geometry.EnvelopeInternal, places.Count, piece.Rings());
            var (rows, columns) = ((int)Math.Ceiling(box.Height / step), (int)Math.Ceiling(box.Width / step));
            for (var j = 0; j < rows; j++)
            {
                var y = box.MinY + (box.Height * (j + 0.5) / rows);
                // Where the row enters and leaves the piece; a border is passed by the side whose ends lie on both sides of the row.
                double[] crossings = [.. rings.SelectMany(r => r.Select((p, i) => (A: p, B: r[(i + 1) % r.Length]))).Where(s => (s.A.Y > y) != (s.B.Y > y))
                    .Select(s => s.A.X + ((y - s.A.Y) / (s.B.Y - s.A.Y) * (s.B.X - s.A.X))).Order()];
                for (var i = 0; i < columns; i++)
                {
                    var x = box.MinX + (box.Width * (i + 0.5) / columns);
                    if (crossings.Count(c => c < x) % 2 == 1) Add(new(x, y));
                }
            }

            if (places.Count == before) Add(piece.InnerPoint);
        }

        return new(places.ToImmutable(), step);

        void Add(Vec2 p) => places.Add(new(p, border.Distance(new Point(p.X, p.Y))));
    }

    /// <summary>
    /// Places so spread that none of the others is farther from one of them, or from where one is already, than a distance: again and again the place that is
    /// farthest from all so far (Gonzalez 1985), so that the first ones lie at the far ends.
    /// </summary>
    /// <param name="from">Where something is already; where there is nothing, the place deepest inside comes first.</param>
    /// <param name="distance_mm">Above 0.</param>
    public ImmutableArray<Vec2> Spread(IEnumerable<Vec2> from, double distance_mm)
    {
        var away = Enumerable.Repeat(double.PositiveInfinity, Places.Length).ToArray();
        foreach (var p in from) Reach(p);
        var taken = ImmutableArray.CreateBuilder<Vec2>();
        while (away.Length > 0)
        {
            var best = Enumerable.Range(0, away.Length).Aggregate((a, b) => away[b] > away[a] || (away[b] == away[a] && Places[b].Inside_mm > Places[a].Inside_mm + 1e-9) ? b : a);
            if (away[best] <= distance_mm) break;
            taken.Add(Places[best].At);
            Reach(Places[best].At);
        }

        return taken.ToImmutable();

        void Reach(Vec2 p)
        {
            for (var i = 0; i < away.Length; i++) away[i] = Math.Min(away[i], Vec2.Distance(Places[i].At, p));
        }
    }
}
