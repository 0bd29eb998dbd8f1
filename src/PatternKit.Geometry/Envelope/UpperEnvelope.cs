using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Envelope;

/// <summary>Value, gradient and responsible primitive of an envelope at a point of the plan.</summary>
/// <param name="Value">Height, mm; the background where nothing reaches.</param>
/// <param name="Gradient">Rise per plan length; one of the possible ones on a crease.</param>
/// <param name="Primitive">Index of the winning primitive; −1 for the background.</param>
public readonly record struct EnvelopeSample(double Value, Vec2 Gradient, int Primitive);

/// <summary>
/// The upper envelope sup over q of z_q + κ(|p − q|) of a set of primitives, evaluated exactly:
/// a bounding-volume tree is searched best bound first, with the bound z_max + κ(dist(p, box)).
/// It is a dilation of the set by the profile (Serra 1982; for cones the Pasch–Hausdorff envelope), so with a cone of
/// angle θ it is Lipschitz with constant cot θ. Needs no closed body. Safe to query from several threads.
/// </summary>
public sealed partial class UpperEnvelope<T>
    where T : struct, IEnvelopePrimitive
{
    private const int LeafSize = 4;

    /// <summary>What the number of primitives in a leaf takes.</summary>
    private const int LeafBits = 3;

    /// <summary>More inner nodes than this are never one above the other: each holds half of what the one above it does, and an array no more than 2³¹.</summary>
    private const int Deepest = 32;

    /// <summary>Halves of more than this many are built side by side.</summary>
    private const int Together = 20_000;

    /// <summary>So many keys fit on the stack.</summary>
    private const int Small = 256;

    private const int Threads = 8;

    /// <summary>A cache line of numbers.</summary>
    private const int Apart = 16;

    /// <summary>
    /// By so much a bound may be below what it bounds, mm: a face counts a billionth of a millimetre beyond its border, where the bound has
    /// fallen by that times the slope of its profile.
    /// </summary>
    private const double Rounding = 1e-5;

    private readonly ImmutableArray<T> primitives;
    private readonly Pair[] pairs;
    private readonly int root;
    private readonly bool isRounded;
    private readonly int[] order;

    /// <summary>The primitives as the tree lists them: read in place, as they are large.</summary>
    private readonly T[] listed;

    /// <summary>What none of them exceeds anywhere.</summary>
    private readonly double[] tops;

    /// <summary>
    /// The winner of a query before: neighbouring points often have the same, and its value there is one that no winner is below. That only
    /// leaves out what cannot win, so that the result does not depend on it. Threads have places of their own, a cache line apart.
    /// </summary>
    private readonly int[] recent = new int[Threads * Apart];

    /// <summary>Builds the tree.</summary>
    /// <param name="primitives">What the profiles are slid over.</param>
    /// <param name="background">Height where nothing reaches higher; may be −∞.</param>
    public UpperEnvelope(ImmutableArray<T> primitives, double background)
    {
        this.primitives = primitives;
        Background = background;
        order = new int[primitives.Length];
        listed = new T[order.Length];
        tops = new double[order.Length];
        var boxes = new Box3[order.Length];
        for (var i = 0; i < order.Length; i++) (order[i], boxes[i]) = (i, primitives.ItemRef(i).Bounds);
        pairs = new Pair[order.Length > 0 ? InnerNodes(order.Length) : 0];
        if (order.Length > 0) root = Build(boxes, 0, order.Length, 0).Index;
        isRounded = primitives.Any(q => q.Reach.Radius > 0);
        for (var i = 0; i < order.Length; i++) (listed[i], tops[i]) = (primitives[order[i]], boxes[order[i]].High.Z + primitives.ItemRef(order[i]).Reach.Radius);
        (squares, corner, perSide, columns, rows) = Squares(boxes);
    }

    /// <summary>The primitives, by the index that samples name.</summary>
    public ImmutableArray<T> Primitives => primitives;

    /// <summary>Height where nothing reaches higher.</summary>
    public double Background { get; }

    /// <summary>The envelope at a point.</summary>
    /// <param name="p">The point.</param>
    /// <param name="enough">Where it is no lower than this, some value that is not either will do.</param>
    public EnvelopeSample At(Vec2 p, double enough = double.PositiveInfinity)
    {
        var background = new EnvelopeSample(Background, default, -1);
        if (order.Length == 0) return background;
        if (TryList(p, out var list)) return HighestListed(p, list, background, enough);
        ref var known = ref Known;
        var least = double.NegativeInfinity;
        if (listed[known].TryEvaluate(p, out var last, out var slope))
        {
            if (last >= enough) return new(last, slope, order[known]);
            least = last - Rounding;
        }

        return Highest(p, background, least, enough, ref known);
    }

    /// <summary>Whether the envelope is higher than a level at a point; quicker than to ask how high it is.</summary>
    public bool Exceeds(Vec2 p, double level)
    {
        if (Background > level) return true;
        if (order.Length == 0) return false;
        if (TryList(p, out var list)) return HighestListed(p, list, new(level, default, -1), level).Primitive >= 0;
        ref var known = ref Known;
        return (listed[known].TryEvaluate(p, out var last, out _) && last > level)
            || Highest(p, new(level, default, -1), double.NegativeInfinity, level, ref known).Primitive >= 0;
    }

    /// <summary>The higher of the envelope at a point and a height, which has no primitive. The higher the height, the quicker.</summary>
    public EnvelopeSample AtLeast(Vec2 p, double height)
    {
        var known = new EnvelopeSample(Math.Max(height, Background), default, -1);
        if (order.Length == 0) return known;
        return TryList(p, out var list) ? HighestListed(p, list, known, double.PositiveInfinity)
            : Highest(p, known, double.NegativeInfinity, double.PositiveInfinity, ref Known);
    }

    /// <summary>The highest of the primitives at a point, as if nothing were between them and −∞.</summary>
    public EnvelopeSample WithoutBackground(Vec2 p) =>
        order.Length == 0 ? new(double.NegativeInfinity, default, -1) : Highest(p, new(double.NegativeInfinity, default, -1), double.NegativeInfinity, double.PositiveInfinity, ref Known);

    private ref int Known => ref recent[(Environment.CurrentManagedThreadId % Threads) * Apart];

    /// <summary>The highest of what is above a sample, and no lower than <paramref name="least"/>; or the first that is found no lower than enough.</summary>
    private EnvelopeSample Highest(Vec2 p, EnvelopeSample best, double least, double enough, ref int known)
    {
        var winner = -1;
        var (x, y) = (Vector128.Create(p.X), Vector128.Create(p.Y));
        Span<(int Node, double Bound)> stack = stackalloc (int, double)[Deepest];
        var top = 0;
        stack[top++] = (root, double.PositiveInfinity);
        while (top > 0)
        {
            var (index, bound) = stack[--top];
            if (bound <= best.Value || bound < least) continue;
            if (index < 0)
            {
                var (first, count) = (~index >> LeafBits, ~index & ((1 << LeafBits) - 1));
                for (var i = first; i < first + count; i++)
                {
                    if (tops[i] <= best.Value || tops[i] < least || !listed[i].TryEvaluate(p, out var value, out var gradient) || value <= best.Value) continue;
                    best = new(value, gradient, order[i]);
                    winner = i;
                }

                if (winner >= 0 && best.Value >= enough) break;
                continue;
            }

            ref readonly var pair = ref pairs[index];
            var bounds = Bounds(pair, x, y, x, y);
            var (higher, higherBound, lower, lowerBound) = HigherFirst(pair, bounds);
            if (lowerBound > best.Value && lowerBound >= least) stack[top++] = (lower, lowerBound);
            if (higherBound > best.Value && higherBound >= least) stack[top++] = (higher, higherBound);
        }

        if (winner >= 0 && winner != known) known = winner;
        return best;
    }

    /// <summary>The children of a node with their bounds, the one that may be higher first.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static (int Higher, double Bound, int Lower, double LowerBound) HigherFirst(in Pair pair, Vector128<double> bounds)
    {
        var (left, right) = (bounds.GetElement(0), bounds.GetElement(1));
        return left < right ? (pair.Right, right, pair.Left, left) : (pair.Left, left, pair.Right, right);
    }

    /// <summary>What neither child of a node exceeds in a rectangle.</summary>
    private Vector128<double> Bounds(in Pair pair, Vector128<double> lowX, Vector128<double> lowY, Vector128<double> highX, Vector128<double> highY)
    {
        var dx = Vector128.MaxNative(Vector128<double>.Zero, Vector128.MaxNative(pair.LowX - highX, lowX - pair.HighX));
        var dy = Vector128.MaxNative(Vector128<double>.Zero, Vector128.MaxNative(pair.LowY - highY, lowY - pair.HighY));
        var d = Vector128.Sqrt((dx * dx) + (dy * dy));
        // The height of the profile, as RoundedCone has it.
        var height = pair.Lift - (d * pair.Slope);
        if (isRounded)
            height = Vector128.ConditionalSelect(Vector128.LessThanOrEqual(d, pair.BallReach), Vector128.Sqrt((pair.Radius * pair.Radius) - (d * d)), height);
        return pair.HighZ + height;
    }

    /// <summary>Inner nodes of a tree over so many, which a node's own count tells.</summary>
    private static int InnerNodes(int count) => count <= LeafSize ? 0 : count % 2 == 0 ? 1 + (2 * InnerNodes(count / 2)) : 1 + InnerNodes(count / 2) + InnerNodes(count - (count / 2));

    /// <summary>Builds the tree over a stretch of the order; its inner nodes lie one after the other from <paramref name="index"/> on.</summary>
    /// <returns>The index of an inner node; or of a leaf, with all bits turned, where its list begins and how long it is; and its box and profile.</returns>
    private (int Index, Box3 Box, RoundedCone Profile) Build(Box3[] boxes, int first, int count, int index)
    {
        if (count <= LeafSize)
        {
            var box = Box3.Empty;
            double angle = 0, radius = 0;
            for (var i = first; i < first + count; i++)
            {
                ref readonly var own = ref boxes[order[i]];
                box = box.With(own.Low).With(own.High);
                var reach = primitives.ItemRef(order[i]).Reach;
                (angle, radius) = (Math.Max(angle, reach.Angle), Math.Max(radius, reach.Radius));
            }

            return (~((first << LeafBits) | count), box, new(angle, radius));
        }

        var half = count / 2;
        Halve(boxes, first, count, half);
        var (left, right) = count > Together ? Beside(boxes, first, count, index)
            : (Build(boxes, first, half, index + 1), Build(boxes, first + half, count - half, index + 1 + InnerNodes(half)));

        // The widest angle and the largest radius dominate every profile below.
        var profile = new RoundedCone(Math.Max(left.Profile.Angle, right.Profile.Angle), Math.Max(left.Profile.Radius, right.Profile.Radius));
        pairs[index] = new()
        {
            LowX = Vector128.Create(left.Box.Low.X, right.Box.Low.X),
            LowY = Vector128.Create(left.Box.Low.Y, right.Box.Low.Y),
            HighX = Vector128.Create(left.Box.High.X, right.Box.High.X),
            HighY = Vector128.Create(left.Box.High.Y, right.Box.High.Y),
            HighZ = Vector128.Create(left.Box.High.Z, right.Box.High.Z),
            Lift = Vector128.Create(left.Profile.Lift, right.Profile.Lift),
            Slope = Vector128.Create(left.Profile.Slope, right.Profile.Slope),
            BallReach = Vector128.Create(left.Profile.BallReach, right.Profile.BallReach),
            Radius = Vector128.Create(left.Profile.Radius, right.Profile.Radius),
            Left = left.Index,
            Right = right.Index,
        };
        return (index, left.Box.With(right.Box.Low).With(right.Box.High), profile);
    }

    private ((int Index, Box3 Box, RoundedCone Profile) Left, (int Index, Box3 Box, RoundedCone Profile) Right) Beside(Box3[] boxes, int first, int count, int index)
    {
        var half = count / 2;
        (int Index, Box3 Box, RoundedCone Profile) left = default, right = default;
        Parallel.Invoke(
            () => left = Build(boxes, first, half, index + 1),
            () => right = Build(boxes, first + half, count - half, index + 1 + InnerNodes(half)));
        return (left, right);
    }

    /// <summary>
    /// Puts the lower half of a stretch of the order before the upper, by the middles of boxes along the longer side of all and else by number: what becomes a
    /// leaf is sorted so as a whole.
    /// </summary>
    private void Halve(Box3[] boxes, int first, int count, int half)
    {
        var all = Box3.Empty;
        for (var i = first; i < first + count; i++)
        {
            ref readonly var own = ref boxes[order[i]];
            all = all.With(own.Low).With(own.High);
        }

        var alongX = all.High.X - all.Low.X >= all.High.Y - all.Low.Y;
        var items = order.AsSpan(first, count);
        var keys = count <= Small ? stackalloc double[count] : new double[count];
        for (var i = 0; i < count; i++)
        {
            ref readonly var own = ref boxes[items[i]];
            keys[i] = alongX ? own.Low.X + own.High.X : own.Low.Y + own.High.Y;
        }

        Selection.Split(keys, items, half);
        if (half <= LeafSize) Selection.Sort(keys[..half], items[..half]);
        if (count - half <= LeafSize) Selection.Sort(keys[half..], items[half..]);
    }

    /// <summary>An inner node, by its children: boxes and profiles side by side, as both bounds are asked for at once.</summary>
    private struct Pair
    {
        public Vector128<double> LowX, LowY, HighX, HighY, HighZ, Lift, Slope, BallReach, Radius;
        public int Left, Right;
    }
}
