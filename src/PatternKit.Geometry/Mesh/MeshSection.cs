using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// Sections of a closed mesh by a plane, as closed loops. A vertex on the plane counts as lying just beyond it
/// (on the side of the normal), so each facet is cut in one segment or not at all and the loops always close:
/// the section is the one just short of the plane. A face that lies in the plane shows when the body is
/// short of it and does not when the body is beyond.
/// </summary>
public static class MeshSection
{
    /// <summary>
    /// Section at height <paramref name="z"/>: outer loops counter-clockwise, holes clockwise, the first point not
    /// repeated, loops in order of their lowest facet number. Loops that shrink to fewer than three points are left out.
    /// </summary>
    /// <exception cref="ArgumentException">The mesh has a hole, an over-used edge or a turned facet at that height.</exception>
    public static ImmutableArray<ImmutableArray<Vec2>> AtHeight(TriangleMesh mesh, double z)
    {
        var beyond = new double[mesh.Vertices.Length];
        for (var v = 0; v < beyond.Length; v++) beyond[v] = mesh.Vertices[v].Z - z;
        return [.. Loops(mesh, beyond, p => p.Plan)];
    }

    /// <summary>
    /// Section by the plane through <paramref name="point"/> square to <paramref name="normal"/> (any length but 0):
    /// outer loops counter-clockwise seen from the tip of the normal, else as <see cref="AtHeight"/>.
    /// </summary>
    /// <exception cref="ArgumentException">No plane; or the mesh is not closed at it.</exception>
    public static ImmutableArray<ImmutableArray<Vec3>> AtPlane(TriangleMesh mesh, Vec3 point, Vec3 normal)
    {
        if (!point.IsFinite || !normal.IsFinite || normal.Length == 0) throw new ArgumentException("The normal gives no plane.", nameof(normal));
        var beyond = new double[mesh.Vertices.Length];
        for (var v = 0; v < beyond.Length; v++) beyond[v] = Vec3.Dot(normal, mesh.Vertices[v] - point);
        return [.. Loops(mesh, beyond, p => p)];
    }

    private static List<ImmutableArray<T>> Loops<T>(TriangleMesh mesh, double[] beyond, Func<Vec3, T> map)
        where T : IEquatable<T>
    {
        // A cut facet, seen from outside with the normal up, is entered over the edge that goes down and left over the
        // edge that goes up; the solid is to the left. The next facet has the same edge as its way in.
        var wayIn = new Dictionary<(int High, int Low), int>();
        var wayOut = new List<(int High, int Low)>();
        var entry = new List<(int High, int Low)>();
        foreach (var f in mesh.Facets)
        {
            var (a, b, c) = (beyond[f.A] >= 0, beyond[f.B] >= 0, beyond[f.C] >= 0);
            if (a == b && b == c) continue;
            (int High, int Low) down = a && !b ? (f.A, f.B) : b && !c ? (f.B, f.C) : (f.C, f.A);
            (int High, int Low) up = !a && b ? (f.B, f.A) : !b && c ? (f.C, f.B) : (f.A, f.C);
            if (!wayIn.TryAdd(down, entry.Count)) throw Broken(mesh, down);
            entry.Add(down);
            wayOut.Add(up);
        }

        var loops = new List<ImmutableArray<T>>();
        var done = new bool[entry.Count];
        var points = ImmutableArray.CreateBuilder<T>();
        for (var start = 0; start < done.Length; start++)
        {
            if (done[start]) continue;
            points.Clear();
            var at = start;
            do
            {
                done[at] = true;
                var p = map(Cut(mesh, beyond, entry[at]));
                if (points.Count == 0 || !p.Equals(points[^1])) points.Add(p);
                if (!wayIn.TryGetValue(wayOut[at], out at)) throw Broken(mesh, wayOut[at]);
            }
            while (!done[at]);
            while (points.Count > 1 && points[^1].Equals(points[0])) points.RemoveAt(points.Count - 1);
            if (points.Count >= 3) loops.Add(points.ToImmutable());
        }

        return loops;
    }

    // Both facets of an edge compute its point from the same numbers in the same order.
    private static Vec3 Cut(TriangleMesh mesh, double[] beyond, (int High, int Low) edge)
    {
        var (high, low) = (mesh.Vertices[edge.High], mesh.Vertices[edge.Low]);
        if (beyond[edge.High] == 0) return high;
        var t = beyond[edge.Low] / (beyond[edge.Low] - beyond[edge.High]);
        return low + (t * (high - low));
    }

    private static ArgumentException Broken(TriangleMesh mesh, (int High, int Low) edge) =>
        new($"The mesh is not closed or not consistently turned at the edge from {mesh.Vertices[edge.Low]} to {mesh.Vertices[edge.High]}.", nameof(mesh));
}
