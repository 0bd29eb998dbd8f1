using System.Collections.Immutable;
using NetTopologySuite.Index;
using NetTopologySuite.Index.Strtree;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Terrain;

/// <summary>A visible crease between two ramps.</summary>
/// <param name="From">One end in plan.</param>
/// <param name="To">The other.</param>
/// <param name="First">Index of one ramp.</param>
/// <param name="Second">Index of the other; −1 on the ray at the end of a ramp.</param>
internal readonly record struct RampCrease(Vec2 From, Vec2 To, int First, int Second);

/// <summary>
/// The visible creases of an upper envelope of planes that each hold over a convex polygon of the plan: candidates are the sides of sloped
/// faces, the rays between neighbouring ramps and the lines in which two planes meet; from each candidate the stretches over which
/// something else is higher are taken away, which is arithmetic on intervals, as every plane is higher over one interval.
/// </summary>
internal static class Creases
{
    /// <summary>Planes this close in height count as meeting, mm: far above rounding, far below any lattice.</summary>
    private const double Meeting = 1e-7;

    /// <summary>Planes of neighbouring faces miss their common side by this at most, since its ends are moved onto the lattice, mm.</summary>
    private const double BesideFace = 1e-3;

    /// <summary>What is shorter is what <see cref="Meeting"/> left of a crease that is hidden, mm.</summary>
    private const double Shortest = 1e-5;

    /// <summary>Asking so many pieces takes longer than looking up which of them are near.</summary>
    private const int Many = 32;

    /// <summary>The creases, ends in the plan.</summary>
    /// <param name="pieces">Pieces of the envelope.</param>
    /// <param name="ground">Height of the plan outside; lower stretches are not seen.</param>
    /// <param name="cap">Higher stretches are not seen either.</param>
    public static ImmutableArray<RampCrease> Visible(ImmutableArray<TerrainPiece> pieces, double ground, double cap) =>
        Visible(pieces, ground, cap, SidesOfFaces(pieces));

    /// <summary>The creases between ramps, and those along given sides of faces.</summary>
    /// <param name="pieces">Pieces of the envelope.</param>
    /// <param name="ground">Height of the plan outside; lower stretches are not seen.</param>
    /// <param name="cap">Higher stretches are not seen either.</param>
    /// <param name="sides">Sides of faces, with the piece that each belongs to.</param>
    public static ImmutableArray<RampCrease> Visible(
        ImmutableArray<TerrainPiece> pieces, double ground, double cap, IEnumerable<(int Piece, Vec2 From, Vec2 To)> sides)
    {
        // Of many faces few come near a ramp or a side that is asked about.
        var lines = sides.ToArray();
        var domains = new Vec2[pieces.Length][];
        var asked = new List<(Vec2 Low, Vec2 High)>(lines.Length);
        for (var i = 0; i < pieces.Length; i++)
        {
            domains[i] = pieces.ItemRef(i).IsRamp ? pieces[i].Domain(ground) : [];
            if (domains[i].Length >= 3) asked.Add(Corners(Box(domains[i])));
        }

        foreach (var (_, from, to) in lines) asked.Add(Corners(Box([from, to])));
        var cells = new MarkedCells(asked);
        var tree = new STRtree<int>();
        for (var i = 0; i < pieces.Length; i++)
        {
            if (!pieces.ItemRef(i).IsRamp)
            {
                var box = pieces.ItemRef(i).Bounds;
                if (!cells.MayMeet(box.Low.Plan, box.High.Plan)) continue;
                domains[i] = pieces[i].Domain(ground);
            }

            if (domains[i].Length >= 3) tree.Insert(Box(domains[i]), i);
        }

        tree.Build();

        var found = ImmutableArray.CreateBuilder<RampCrease>();
        // Asked for very often: the answers are put in the same lists again.
        var (near, nearer, hidden) = (new Listed(), new Listed(), new List<(double Low, double High)>());
        foreach (var (i, from, to) in lines) AddVisible(i, -1, from, to, nearer.Of(tree, Box([from, to])), BesideFace);
        for (var i = 0; i < pieces.Length; i++)
        {
            if (!pieces[i].IsRamp || domains[i].Length < 3) continue;
            near.Of(tree, Box(domains[i])).Sort();
            foreach (var (from, to) in pieces[i].Rays(ground)) AddVisible(i, -1, from, to, Nearer(from, to), Meeting);
            foreach (var j in near.Items)
            {
                if (j <= i || !pieces[j].IsRamp) continue;
                if (Meet(i, j) is var (from, to)) AddVisible(i, j, from, to, Nearer(from, to), Meeting);
            }
        }

        return found.ToImmutable();

        // Over many pieces, only those that a line comes near are worth asking.
        List<int> Nearer(Vec2 from, Vec2 to) => near.Items.Count > Many ? nearer.Of(tree, Box([from, to])) : near.Items;

        (Vec2 From, Vec2 To)? Meet(int i, int j)
        {
            // The line f_i = f_j, from any point on it.
            var fi = pieces[i].Extended(pieces[i].A, out var gi);
            var fj = pieces[j].Extended(pieces[i].A, out var gj);
            var across = gi - gj;
            if (across.Length < 1e-9 * (gi.Length + gj.Length)) return null;
            var foot = pieces[i].A + ((fj - fi) / across.LengthSquared * across);
            var along = across.Left.Normalized();
            var (low, high) = Within(domains[i], foot, along);
            var (lowJ, highJ) = Within(domains[j], foot, along);
            (low, high) = (Math.Max(low, lowJ), Math.Min(high, highJ));
            return low < high ? (foot + (low * along), foot + (high * along)) : null;
        }

        void AddVisible(int i, int second, Vec2 from, Vec2 to, List<int> beside, double slack)
        {
            var length = (to - from).Length;
            if (length == 0) return;
            var along = (to - from) / length;
            var start = pieces[i].Extended(from, out var gradient);
            var rise = Vec2.Dot(gradient, along);
            hidden.Clear();
            if (start > cap || start + (rise * length) > cap) Hide(Where(start - cap - slack, rise, 0, length));
            foreach (var j in beside)
            {
                if (j == i || j == second) continue;
                var (low, high) = Within(domains[j], from, along);
                (low, high) = (Math.Max(low, 0), Math.Min(high, length));
                if (low >= high) continue;
                var other = pieces[j].Extended(from, out var g);
                Hide(Where(other - start - slack, Vec2.Dot(g, along) - rise, low, high));
            }

            hidden.Sort();
            hidden.Add((length, length));
            var at = 0.0;
            foreach (var (low, high) in hidden)
            {
                if (low - at > Shortest) found.Add(new(from + (at * along), from + (low * along), i, second));
                at = Math.Max(at, high);
            }

            void Hide((double Low, double High) stretch)
            {
                if (stretch.Low < stretch.High) hidden.Add(stretch);
            }
        }
    }

    /// <summary>The sides that bound sloped ground of one plane, each once.</summary>
    private static IEnumerable<(int Piece, Vec2 From, Vec2 To)> SidesOfFaces(ImmutableArray<TerrainPiece> pieces)
    {
        var sides = new Dictionary<(Vec2, Vec2), int>();
        for (var i = 0; i < pieces.Length; i++)
        {
            if (pieces[i].IsRamp || pieces[i].Gradient == default) continue;
            var corners = pieces[i].Domain(0);
            for (var k = 0; k < 3; k++)
            {
                var (from, to) = (corners[k], corners[(k + 1) % 3]);
                if ((from.X, from.Y).CompareTo((to.X, to.Y)) > 0) (from, to) = (to, from);
                // Two triangles of one plane have no crease between them.
                if (!sides.TryAdd((from, to), i) && pieces[sides[(from, to)]].Surface == pieces[i].Surface) sides.Remove((from, to));
            }
        }

        return sides.Select(s => (s.Value, s.Key.Item1, s.Key.Item2));
    }

    /// <summary>Where value + slope · t &gt; 0 within a stretch.</summary>
    private static (double Low, double High) Where(double value, double slope, double low, double high)
    {
        if (slope == 0) return value > 0 ? (low, high) : (low, low);
        var zero = -value / slope;
        return slope > 0 ? (Math.Max(low, zero), high) : (low, Math.Min(high, zero));
    }

    /// <summary>The stretch of a line inside a convex polygon that turns left.</summary>
    private static (double Low, double High) Within(ReadOnlySpan<Vec2> polygon, Vec2 from, Vec2 along)
    {
        var (low, high) = (double.NegativeInfinity, double.PositiveInfinity);
        for (var i = 0; i < polygon.Length; i++)
        {
            var (a, b) = (polygon[i], polygon[(i + 1) % polygon.Length]);
            var inward = (b - a).Left;
            var (value, slope) = (Vec2.Dot(inward, from - a), Vec2.Dot(inward, along));
            // Along a side itself rounding must not decide.
            if (Math.Abs(slope) <= 1e-9 * inward.Length)
            {
                if (value < -1e-9 * inward.Length) return (0, 0);
                continue;
            }

            if (slope > 0) low = Math.Max(low, -value / slope);
            else high = Math.Min(high, -value / slope);
        }

        return (low, high);
    }

    private static NetTopologySuite.Geometries.Envelope Box(ReadOnlySpan<Vec2> polygon)
    {
        var box = new NetTopologySuite.Geometries.Envelope();
        foreach (var p in polygon) box.ExpandToInclude(p.X, p.Y);
        return box;
    }

    private static (Vec2 Low, Vec2 High) Corners(NetTopologySuite.Geometries.Envelope box) => (new(box.MinX, box.MinY), new(box.MaxX, box.MaxY));

    /// <summary>What a tree has in a box, always in the same list.</summary>
    private sealed class Listed : IItemVisitor<int>
    {
        public List<int> Items { get; } = [];

        public List<int> Of(STRtree<int> tree, NetTopologySuite.Geometries.Envelope box)
        {
            Items.Clear();
            tree.Query(box, this);
            return Items;
        }

        public void VisitItem(int item) => Items.Add(item);
    }
}
