using System.Collections.Immutable;
using PatternKit.Geometry.Envelope;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Terrain;

/// <summary>
/// Where the drafted terrain of a mesh leaves its skin: the edges from which the skin falls steeper than the draft, and the points from
/// which it falls so on all sides.
/// </summary>
/// <remarks>
/// A point q of the body gives every p at least z_q − k |p − q|. From an edge, to one side, that is more than the body itself gives only if no facet
/// there falls gentler; and nothing of it counts if a facet there rises steeper, since then a higher point of that facet gives more
/// (triangle inequality). What is hidden under the envelope as a whole is left out where that is certain.
/// </remarks>
internal static class MeshFalls
{
    /// <summary>An edge counts as hidden if it is so at this many halvings of it.</summary>
    private const int Halvings = 6;

    /// <summary>A point is hidden only if the envelope is higher by more than this, mm.</summary>
    private const double Above = 1e-6;

    /// <summary>The edges and lone points.</summary>
    /// <param name="skin">The mesh.</param>
    /// <param name="faces">Which of its facets look up and are no steeper than the draft.</param>
    /// <param name="ground">Height of the plan outside.</param>
    /// <param name="angle">Draft, radians.</param>
    /// <param name="gentle">The steepest that counts as no steeper than the draft, as rise per plan length.</param>
    public static (ImmutableArray<FallEdge> Edges, ImmutableArray<Vec3> Tips, Func<Vec3, bool> IsHidden) Of(
        MeshSkin skin, IReadOnlyList<int> faces, double ground, double angle, double gentle)
    {
        var steepest = (1 - 1e-9) / Math.Tan(angle);
        var edges = Edges(skin, ground, steepest, gentle);
        var tips = Tips(skin, edges, ground, steepest);
        var cone = new RoundedCone(angle, 0);
        var points = edges.SelectMany(e => new[] { From(e), To(e) }).Concat(tips).Distinct().ToArray();
        var primitives = ImmutableArray.CreateBuilder<Primitive>(faces.Count + edges.Length + points.Length);
        foreach (var f in faces)
        {
            var (a, b, c) = skin.Triangle(f);
            primitives.Add(Primitive.Face(a, b, c, new(angle / 16, 0)));
        }

        foreach (var e in edges) primitives.Add(Primitive.Edge(From(e), To(e), cone));
        foreach (var v in points) primitives.Add(Primitive.Vertex(v, cone));
        var envelope = new UpperEnvelope<Primitive>(primitives.MoveToImmutable(), ground);
        var k = cone.Slope;
        var hidden = new bool[edges.Length];
        Parallel.For(0, hidden.Length, i => hidden[i] = IsUnder(From(edges[i]), To(edges[i]), Halvings));
        var hiddenTip = new bool[tips.Length];
        Parallel.For(0, hiddenTip.Length, i => hiddenTip[i] = IsHidden(tips[i]));
        return ([.. edges.Where((_, i) => !hidden[i])], [.. tips.Where((_, i) => !hiddenTip[i])], IsHidden);

        bool IsHidden(Vec3 v) => envelope.At(v.Plan).Value > v.Z + Above;

        // The envelope falls by no more than k over a length, and the edge rises by its own slope.
        bool IsUnder(Vec3 a, Vec3 b, int halvings)
        {
            var middle = 0.5 * (a + b);
            var room = envelope.At(middle.Plan).Value - middle.Z;
            if (room <= Above) return false;
            if (room > ((k * (b.Plan - a.Plan).Length) + Math.Abs(b.Z - a.Z)) / 2) return true;
            return halvings > 0 && IsUnder(a, middle, halvings - 1) && IsUnder(middle, b, halvings - 1);
        }
    }

    private static Vec3 From(FallEdge e) => new(e.From.X, e.From.Y, e.FromHeight);

    private static Vec3 To(FallEdge e) => new(e.To.X, e.To.Y, e.ToHeight);

    private static ImmutableArray<FallEdge> Edges(MeshSkin skin, double ground, double steepest, double gentle)
    {
        var edges = ImmutableArray.CreateBuilder<FallEdge>();
        for (var e = 0; e < skin.EdgeCount; e++)
        {
            var sides = skin.Sides(e);
            var (a, b) = (skin.Vertices[skin.Start(sides[0])], skin.Vertices[skin.End(sides[0])]);
            if (Math.Max(a.Z, b.Z) <= ground) continue;
            var run = b.Plan - a.Plan;
            var length = run.Length;
            var slope = length > 0 ? (b.Z - a.Z) / length : double.PositiveInfinity;
            // Of a steeper edge the upper end alone counts.
            if (Math.Abs(slope) >= steepest) continue;
            var across = Math.Sqrt((gentle * gentle) - (slope * slope));
            var (along, left, right, isUnder) = (run / length, false, false, false);
            foreach (var side in sides)
            {
                var c = skin.Vertices[skin.Apex(side)];
                var off = Vec2.Cross(along, c.Plan - a.Plan);
                var rise = c.Z - a.Z - (slope * Vec2.Dot(along, c.Plan - a.Plan));
                if (rise > 0 && rise >= across * Math.Abs(off)) isUnder = true;
                if (off == 0 || rise < -across * Math.Abs(off)) continue;
                if (off > 0) left = true;
                else right = true;
            }

            if (isUnder) continue;
            if (!right) edges.Add(new(a.Plan, b.Plan, a.Z, b.Z, false));
            if (!left) edges.Add(new(b.Plan, a.Plan, b.Z, a.Z, false));
        }

        return edges.ToImmutable();
    }

    /// <summary>Corners from which some edge falls too steep to count and none falls otherwise.</summary>
    private static ImmutableArray<Vec3> Tips(MeshSkin skin, ImmutableArray<FallEdge> edges, double ground, double steepest)
    {
        var known = edges.SelectMany(e => new[] { From(e), To(e) }).ToHashSet();
        var (falls, isUnder) = (new bool[skin.Vertices.Length], new bool[skin.Vertices.Length]);
        for (var e = 0; e < skin.EdgeCount; e++)
        {
            var (i, j) = (skin.Start(skin.Sides(e)[0]), skin.End(skin.Sides(e)[0]));
            if (skin.Vertices[i].Z < skin.Vertices[j].Z) (i, j) = (j, i);
            var (high, low) = (skin.Vertices[i], skin.Vertices[j]);
            if (high.Z - low.Z < steepest * (high.Plan - low.Plan).Length) continue;
            falls[i] = isUnder[j] = true;
        }

        var tips = ImmutableArray.CreateBuilder<Vec3>();
        for (var v = 0; v < falls.Length; v++)
            if (falls[v] && !isUnder[v] && skin.Vertices[v].Z > ground && !known.Contains(skin.Vertices[v])) tips.Add(skin.Vertices[v]);
        return tips.ToImmutable();
    }
}
