using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Walls;

/// <summary>How thick a body is behind a point of its skin.</summary>
/// <param name="Thickness_mm">Diameter of the ball.</param>
/// <param name="Centre">Its centre.</param>
/// <param name="Across">Where it touches the other side.</param>
public readonly record struct WallReading(double Thickness_mm, Vec3 Centre, Vec3 Across);

/// <summary>
/// Thickness of the walls of a closed mesh: the largest ball that touches the skin at a point from inside and holds nothing of the other side of the
/// wall. The other side is what faces the point within 45°; what stands beside (the rim of a plate, the next side of an edge) does not hold the
/// ball back, or every edge would be thin. So the reading lies between the inscribed ball and the length of the line straight through.
/// <para>
/// A ball tangent at p with inward normal m that passes through q has the radius |q − p|² / (2 (q − p)·m). Its least value over the other side is found by
/// shrinking: the point nearest to the centre gives the next ball (Ma, Bae and Choi 2012), which is Dinkelbach's method for a quotient (1967), so that
/// where it ends is the least one. Balls that shrink about p lie in each other: one walk of the tree does.
/// </para>
/// Immutable; safe to share between threads.
/// </summary>
public sealed class WallThickness
{
    /// <summary>Sides that close on each other by more than 45° make an edge and no wall.</summary>
    private static readonly double Facing = -Math.Cos(Math.PI / 4);

    /// <summary>A ball that shrinks by less than this part is as small as it gets.</summary>
    private const double Settled = 1e-12;

    private readonly TriangleMesh mesh;
    private readonly FacetTree tree;
    private readonly Vec3[] normals;

    /// <summary>Around the normals of all facets below a node of the tree: most of the skin near a point looks the other way, and is passed over as a whole.</summary>
    private readonly Box3[] looks;

    /// <summary>Takes a mesh; facets without area are passed over.</summary>
    public WallThickness(TriangleMesh mesh)
    {
        this.mesh = mesh;
        var boxes = new Box3[mesh.Facets.Length];
        normals = new Vec3[boxes.Length];
        var sound = new List<int>(boxes.Length);
        for (var f = 0; f < boxes.Length; f++)
        {
            var (a, b, c) = Corners(f);
            boxes[f] = Box3.Empty.With(a).With(b).With(c);
            var n = mesh.AreaNormal(mesh.Facets[f]);
            if (!(n.Length > 0)) continue;
            normals[f] = (1 / n.Length) * n;
            sound.Add(f);
        }

        tree = new(boxes, [.. sound]);
        looks = new Box3[tree.NodeCount];
        // Children come after their parents.
        for (var node = looks.Length - 1; node >= 0; node--)
        {
            var right = tree.RightOf(node);
            if (right != 0)
            {
                looks[node] = looks[node + 1].With(looks[right].Low).With(looks[right].High);
                continue;
            }

            looks[node] = Box3.Empty;
            foreach (var f in tree.ItemsOf(node)) looks[node] = looks[node].With(normals[f]);
        }
    }

    /// <summary>Outward unit normal of a facet; zero for one without area.</summary>
    public Vec3 Normal(int facet) => normals[facet];

    /// <summary>The thickness behind a point.</summary>
    /// <param name="facet">The facet that it lies on.</param>
    /// <param name="p">The point, within the facet.</param>
    /// <returns>Null where no wall lies behind it: the line straight through leaves by a face that does not face it, as beside an edge.</returns>
    public WallReading? At(int facet, Vec3 p)
    {
        var inward = -1 * normals[facet];
        if (!(inward.Length > 0) || Exit(facet, p, inward) is not { } exit || !Faces(exit.Facet, inward)) return null;
        var (radius, across) = (exit.Length / 2, p + (exit.Length * inward));
        var stack = new Stack<int>();
        stack.Push(0);
        while (stack.TryPop(out var node))
        {
            if (MostAlong(node, inward) < -Facing || tree.BoxOf(node).DistanceTo(p + (radius * inward)) >= radius) continue;
            var right = tree.RightOf(node);
            if (right != 0)
            {
                stack.Push(right);
                stack.Push(node + 1);
                continue;
            }

            foreach (var f in tree.ItemsOf(node))
                if (Faces(f, inward)) Shrink(f, p, inward, ref radius, ref across);
        }

        return new(2 * radius, p + (radius * inward), across);
    }

    /// <summary>Distance from a point to the nearest of the skin, mm; infinite for a mesh without facets.</summary>
    public double DistanceTo(Vec3 p)
    {
        var nearest = double.PositiveInfinity;
        if (tree.NodeCount == 0) return nearest;
        var stack = new Stack<int>();
        stack.Push(0);
        while (stack.TryPop(out var node))
        {
            if (tree.BoxOf(node).DistanceTo(p) >= nearest) continue;
            var right = tree.RightOf(node);
            if (right == 0)
            {
                foreach (var f in tree.ItemsOf(node))
                {
                    var (a, b, c) = Corners(f);
                    nearest = Math.Min(nearest, (TrianglePoint.Nearest(a, b, c, p) - p).Length);
                }

                continue;
            }

            // The nearer child last, so that it is looked into first.
            var (first, second) = tree.BoxOf(node + 1).DistanceTo(p) <= tree.BoxOf(right).DistanceTo(p) ? (node + 1, right) : (right, node + 1);
            stack.Push(second);
            stack.Push(first);
        }

        return nearest;
    }

    /// <summary>How far along a ray first meets the skin; null where it does not.</summary>
    /// <param name="from">Where it starts; not on the skin.</param>
    /// <param name="along">Which way, of length one.</param>
    public double? Meeting(Vec3 from, Vec3 along)
    {
        double? first = null;
        Walk(from, along, double.NegativeInfinity, (_, t) =>
        {
            if (t > 0 && !(first <= t)) first = t;
            return first ?? double.PositiveInfinity;
        });
        return first;
    }

    private bool Faces(int facet, Vec3 inward) => Vec3.Dot(normals[facet], inward) >= -Facing;

    private void Shrink(int facet, Vec3 p, Vec3 inward, ref double radius, ref Vec3 across)
    {
        var (a, b, c) = Corners(facet);
        while (true)
        {
            var q = TrianglePoint.Nearest(a, b, c, p + (radius * inward));
            var d = q - p;
            var next = Vec3.Dot(d, d) / (2 * Vec3.Dot(d, inward));
            // What lies behind the tangent plane is never in the ball.
            if (!(next >= 0) || !(next < radius * (1 - Settled))) return;
            (radius, across) = (next, q);
        }
    }

    /// <summary>Where the line inward leaves the body first.</summary>
    private (int Facet, double Length)? Exit(int facet, Vec3 p, Vec3 inward)
    {
        (int Facet, double Length)? first = null;
        Walk(p, inward, 0, (f, t) =>
        {
            if (f != facet && t > 0 && Vec3.Dot(normals[f], inward) > 0 && !(first?.Length <= t)) first = (f, t);
            return first?.Length ?? double.PositiveInfinity;
        });
        return first;
    }

    /// <summary>What no normal below a node has along a direction more than.</summary>
    private double MostAlong(int node, Vec3 d)
    {
        ref readonly var n = ref looks[node];
        return (d.X * (d.X > 0 ? n.High.X : n.Low.X)) + (d.Y * (d.Y > 0 ? n.High.Y : n.Low.Y)) + (d.Z * (d.Z > 0 ? n.High.Z : n.Low.Z)) + 1e-12;
    }

    /// <summary>Calls for each facet that a ray crosses, in no order, within a length that the call may shorten.</summary>
    /// <param name="from">Where it starts.</param>
    /// <param name="along">Which way, of length one.</param>
    /// <param name="looking">Facets whose normals all have less than this along the ray may be left out.</param>
    /// <param name="visit">Gets the facet and how far along it is crossed; says what is far enough.</param>
    private void Walk(Vec3 from, Vec3 along, double looking, Func<int, double, double> visit)
    {
        if (tree.NodeCount == 0) return;
        var length = double.PositiveInfinity;
        var stack = new Stack<int>();
        stack.Push(0);
        while (stack.TryPop(out var node))
        {
            if (MostAlong(node, along) < looking || !Passes(tree.BoxOf(node), from, along, length)) continue;
            var right = tree.RightOf(node);
            if (right != 0)
            {
                stack.Push(right);
                stack.Push(node + 1);
                continue;
            }

            foreach (var f in tree.ItemsOf(node))
            {
                var (a, b, c) = Corners(f);
                if (TrianglePoint.Crossing(a, b, c, from, along) is { } t && t < length) length = Math.Min(length, visit(f, t));
            }
        }
    }

    /// <summary>Whether a ray passes a box within a length, by the slabs of its sides (Kay and Kajiya 1986), a little widened for rounding.</summary>
    private static bool Passes(in Box3 box, Vec3 from, Vec3 along, double length)
    {
        var slack = 1e-9 * (box.Size.Length + (from - box.Low).Length);
        double near = 0, far = length;
        return Slab(box.Low.X - slack, box.High.X + slack, from.X, along.X, ref near, ref far)
            && Slab(box.Low.Y - slack, box.High.Y + slack, from.Y, along.Y, ref near, ref far)
            && Slab(box.Low.Z - slack, box.High.Z + slack, from.Z, along.Z, ref near, ref far);

        static bool Slab(double low, double high, double at, double step, ref double near, ref double far)
        {
            if (step == 0) return at >= low && at <= high;
            var (s, t) = ((low - at) / step, (high - at) / step);
            near = Math.Max(near, Math.Min(s, t));
            far = Math.Min(far, Math.Max(s, t));
            return near <= far;
        }
    }

    private (Vec3 A, Vec3 B, Vec3 C) Corners(int facet)
    {
        var f = mesh.Facets[facet];
        return (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
    }
}
