using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>A bounding-volume tree over boxes: halves at the median along the widest axis, so its depth is log₂ n.</summary>
internal sealed class FacetTree
{
    private const int LeafSize = 4;
    private readonly Box3[] _boxes;
    private readonly int[] _items;
    private readonly List<Node> _nodes = [];

    /// <summary>Builds the tree over the given items, numbers into <paramref name="boxes"/>.</summary>
    public FacetTree(Box3[] boxes, int[] items)
    {
        _boxes = boxes;
        _items = items;
        if (items.Length > 0) Build(0, items.Length);
    }

    // Left child follows its parent; Right is 0 for a leaf.
    private readonly record struct Node(Box3 Box, int First, int Count, int Right);

    /// <summary>Number of nodes: 0 is the root, and the left child of a node follows it.</summary>
    public int NodeCount => _nodes.Count;

    /// <summary>The right child of a node; 0 for a leaf.</summary>
    public int RightOf(int node) => _nodes[node].Right;

    /// <summary>The box around all items below a node.</summary>
    public Box3 BoxOf(int node) => _nodes[node].Box;

    /// <summary>All items below a node.</summary>
    public ReadOnlySpan<int> ItemsOf(int node) => _items.AsSpan(_nodes[node].First, _nodes[node].Count);

    /// <summary>Calls <paramref name="visit"/> for each pair of items whose boxes meet, until it returns false.</summary>
    public void MeetingPairs(Func<int, int, bool> visit)
    {
        if (_nodes.Count == 0) return;
        var stack = new Stack<(int, int)>();
        stack.Push((0, 0));
        while (stack.TryPop(out var pair))
        {
            var (p, q) = pair;
            var (a, b) = (_nodes[p], _nodes[q]);
            if (p == q)
            {
                if (a.Right == 0)
                {
                    if (!VisitLeaves(a, b, true, visit)) return;
                    continue;
                }

                stack.Push((p + 1, a.Right));
                stack.Push((a.Right, a.Right));
                stack.Push((p + 1, p + 1));
            }
            else if (Meet(a.Box, b.Box))
            {
                if (a.Right == 0 && b.Right == 0)
                {
                    if (!VisitLeaves(a, b, false, visit)) return;
                }
                else if (b.Right == 0 || (a.Right != 0 && a.Count >= b.Count))
                {
                    stack.Push((a.Right, q));
                    stack.Push((p + 1, q));
                }
                else
                {
                    stack.Push((p, b.Right));
                    stack.Push((p, q + 1));
                }
            }
        }
    }

    private static bool Meet(in Box3 a, in Box3 b) =>
        a.Low.X <= b.High.X && b.Low.X <= a.High.X && a.Low.Y <= b.High.Y && b.Low.Y <= a.High.Y && a.Low.Z <= b.High.Z && b.Low.Z <= a.High.Z;

    private bool VisitLeaves(Node a, Node b, bool same, Func<int, int, bool> visit)
    {
        for (var i = 0; i < a.Count; i++)
            for (var j = same ? i + 1 : 0; j < b.Count; j++)
            {
                var (x, y) = (_items[a.First + i], _items[b.First + j]);
                if (Meet(_boxes[x], _boxes[y]) && !visit(Math.Min(x, y), Math.Max(x, y))) return false;
            }

        return true;
    }

    private int Build(int first, int count)
    {
        var (box, centres) = (Box3.Empty, Box3.Empty);
        for (var i = first; i < first + count; i++)
        {
            var b = _boxes[_items[i]];
            box = box.With(b.Low).With(b.High);
            centres = centres.With(b.Low + b.High);
        }

        var index = _nodes.Count;
        _nodes.Add(new(box, first, count, 0));
        if (count <= LeafSize) return index;
        var size = centres.Size;
        var axis = size.X >= size.Y && size.X >= size.Z ? 0 : size.Y >= size.Z ? 1 : 2;
        var half = count / 2;
        MedianSplit(first, first + count - 1, first + half, axis);
        Build(first, half);
        _nodes[index] = new(box, first, count, Build(first + half, count - half));
        return index;
    }

    // Quickselect: afterwards nothing before the target has a greater key than what follows it.
    private void MedianSplit(int low, int high, int target, int axis)
    {
        while (low < high)
        {
            var pivot = Key(_items[(low + high) >>> 1], axis);
            var (i, j) = (low, high);
            while (i <= j)
            {
                while (Key(_items[i], axis) < pivot) i++;
                while (Key(_items[j], axis) > pivot) j--;
                if (i > j) break;
                (_items[i], _items[j]) = (_items[j], _items[i]);
                i++;
                j--;
            }

            if (target <= j) high = j;
            else if (target >= i) low = i;
            else return;
        }
    }

    private double Key(int item, int axis)
    {
        ref readonly var b = ref _boxes[item];
        return axis switch
        {
            0 => b.Low.X + b.High.X,
            1 => b.Low.Y + b.High.Y,
            _ => b.Low.Z + b.High.Z,
        };
    }
}
