using System.Collections.Immutable;
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
public sealed class UpperEnvelope<T>
    where T : struct, IEnvelopePrimitive
{
    private const int LeafSize = 4;

    private const int Threads = 8;

    /// <summary>A cache line of numbers.</summary>
    private const int Apart = 16;

    /// <summary>
    /// By so much a bound may be below what it bounds, mm: a face counts a billionth of a millimetre beyond its border, where the bound has
    /// fallen by that times the slope of its profile.
    /// </summary>
    private const double Rounding = 1e-5;

    private readonly ImmutableArray<T> primitives;
    private readonly Node[] nodes;
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
        for (var i = 0; i < order.Length; i++) (order[i], boxes[i]) = (i, primitives[i].Bounds);
        var list = new List<Node>();
        if (order.Length > 0) Build(list, boxes, 0, order.Length);
        nodes = [.. list];
        for (var i = 0; i < order.Length; i++) (listed[i], tops[i]) = (primitives[order[i]], boxes[order[i]].High.Z + primitives[order[i]].Reach.Radius);
    }

    /// <summary>The primitives, by the index that samples name.</summary>
    public ImmutableArray<T> Primitives => primitives;

    /// <summary>Height where nothing reaches higher.</summary>
    public double Background { get; }

    /// <summary>The envelope at a point.</summary>
    public EnvelopeSample At(Vec2 p)
    {
        var best = new EnvelopeSample(Background, default, -1);
        if (nodes.Length == 0) return best;
        ref var known = ref recent[(Environment.CurrentManagedThreadId % Threads) * Apart];
        var least = listed[known].TryEvaluate(p, out var last, out _) ? last - Rounding : double.NegativeInfinity;
        var winner = -1;
        Span<(int Node, double Bound)> stack = stackalloc (int, double)[64];
        var top = 0;
        stack[top++] = (0, Bound(nodes[0], p));
        while (top > 0)
        {
            var (index, bound) = stack[--top];
            if (bound <= best.Value || bound < least) continue;
            ref readonly var node = ref nodes[index];
            if (node.Count > 0)
            {
                for (var i = node.First; i < node.First + node.Count; i++)
                {
                    if (tops[i] <= best.Value || tops[i] < least || !listed[i].TryEvaluate(p, out var value, out var gradient) || value <= best.Value) continue;
                    best = new(value, gradient, order[i]);
                    winner = i;
                }

                continue;
            }

            var (left, right) = (index + 1, node.First);
            var (leftBound, rightBound) = (Bound(nodes[left], p), Bound(nodes[right], p));
            if (leftBound < rightBound)
            {
                (left, right) = (right, left);
                (leftBound, rightBound) = (rightBound, leftBound);
            }

            if (rightBound > best.Value && rightBound >= least) stack[top++] = (right, rightBound);
            if (leftBound > best.Value && leftBound >= least) stack[top++] = (left, leftBound);
        }

        if (winner >= 0 && winner != known) known = winner;
        return best;
    }

    private static double Bound(in Node node, Vec2 p)
    {
        var dx = Math.Max(0, Math.Max(node.LowX - p.X, p.X - node.HighX));
        var dy = Math.Max(0, Math.Max(node.LowY - p.Y, p.Y - node.HighY));
        return node.HighZ + node.Profile.Height(Math.Sqrt((dx * dx) + (dy * dy)));
    }

    private int Build(List<Node> list, Box3[] boxes, int first, int count)
    {
        var node = new Node
        {
            LowX = double.PositiveInfinity,
            LowY = double.PositiveInfinity,
            HighX = double.NegativeInfinity,
            HighY = double.NegativeInfinity,
            HighZ = double.NegativeInfinity,
        };
        double angle = 0, radius = 0;
        for (var i = first; i < first + count; i++)
        {
            ref readonly var box = ref boxes[order[i]];
            node.LowX = Math.Min(node.LowX, box.Low.X);
            node.LowY = Math.Min(node.LowY, box.Low.Y);
            node.HighX = Math.Max(node.HighX, box.High.X);
            node.HighY = Math.Max(node.HighY, box.High.Y);
            node.HighZ = Math.Max(node.HighZ, box.High.Z);
            var reach = primitives[order[i]].Reach;
            angle = Math.Max(angle, reach.Angle);
            radius = Math.Max(radius, reach.Radius);
        }

        // The widest angle and the largest radius dominate every profile below.
        node.Profile = new(angle, radius);
        var index = list.Count;
        list.Add(node);
        if (count <= LeafSize)
        {
            node.First = first;
            node.Count = count;
        }
        else
        {
            var alongX = node.HighX - node.LowX >= node.HighY - node.LowY;
            Array.Sort(order, first, count, Comparer<int>.Create((i, j) =>
            {
                ref readonly var a = ref boxes[i];
                ref readonly var b = ref boxes[j];
                var c = alongX ? (a.Low.X + a.High.X).CompareTo(b.Low.X + b.High.X) : (a.Low.Y + a.High.Y).CompareTo(b.Low.Y + b.High.Y);
                return c != 0 ? c : i.CompareTo(j);
            }));
            Build(list, boxes, first, count / 2);
            node.First = Build(list, boxes, first + (count / 2), count - (count / 2));
        }

        list[index] = node;
        return index;
    }

    /// <summary>A leaf lists <c>Count</c> primitives from <c>First</c>; an inner node's left child follows it, its right child is <c>First</c>.</summary>
    private struct Node
    {
        public double LowX, LowY, HighX, HighY, HighZ;
        public RoundedCone Profile;
        public int First, Count;
    }
}
