using System.Collections.Immutable;
using System.Runtime.InteropServices;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>A direction that much of a skin is square to.</summary>
/// <param name="Normal">Of length one; opposite sides count together, so its sign means nothing.</param>
/// <param name="Area_mm2">Area of the facets.</param>
public readonly record struct FlatNormal(Vec3 Normal, double Area_mm2);

/// <summary>
/// Groups facets by their normals: small bins on the sphere, gathered about the heaviest ones. Facets of a plane all fall in one bin, those of a
/// scanned one into bins near each other.
/// </summary>
public static class FlatNormals
{
    /// <summary>Bins along half a side of the cube about the unit sphere: each is an eighth of a degree wide.</summary>
    private const int Bins = 512;

    /// <summary>What lies this near to the heaviest bin of a group is one plane up to rounding, in radians: a quarter degree.</summary>
    private const double OnePlane = Math.PI / 720;

    /// <summary>The heaviest groups, greatest area first.</summary>
    /// <param name="mesh">Any mesh.</param>
    /// <param name="spread">Normals within this angle of the heaviest bin belong to its group, rad.</param>
    /// <param name="leastShare">Groups with a smaller share of the whole area are left out.</param>
    public static ImmutableArray<FlatNormal> Of(TriangleMesh mesh, double spread, double leastShare)
    {
        var sums = new Dictionary<long, Vec3>();
        double total = 0;
        foreach (var f in mesh.Facets)
        {
            var area = 0.5 * mesh.AreaNormal(f);
            var length = area.Length;
            if (!(length > 0)) continue;
            total += length;
            if (IsDown(area)) area = -1 * area;
            CollectionsMarshal.GetValueRefOrAddDefault(sums, Key((Bins / length) * area), out _) += area;
        }

        // No more groups than this can each hold the least share.
        var most = (int)Math.Min(1000, Math.Ceiling(1 / Math.Max(leastShare, 1e-3)));
        var (groups, near) = (new List<Group>(), Math.Cos(spread));
        foreach (var (_, sum, length) in sums.Select(s => (s.Key, Sum: s.Value, s.Value.Length)).OrderByDescending(s => s.Length).ThenBy(s => s.Key))
        {
            var unit = (1 / length) * sum;
            Group? group = null;
            foreach (var g in groups)
            {
                if (Math.Abs(Vec3.Dot(g.Heaviest, unit)) < near) continue;
                group = g;
                break;
            }

            if (group is null && groups.Count < most) groups.Add(group = new(unit));
            group?.Add(sum, unit);
        }

        return [.. groups.Where(g => g.Area >= leastShare * total).OrderByDescending(g => g.Area).Select(g => new FlatNormal(g.Normal, g.Area))];
    }

    private static long Key(Vec3 v)
    {
        // Each coordinate is from −Bins to Bins, so from 0 to 2 Bins once moved.
        const long Side = (2 * Bins) + 1;
        return (((((long)Math.Round(v.X) + Bins) * Side) + (long)Math.Round(v.Y) + Bins) * Side) + (long)Math.Round(v.Z) + Bins;
    }

    /// <summary>Whether the first of z, y, x that is not zero, up to rounding, is negative: so that of opposite directions one is taken.</summary>
    internal static bool IsDown(Vec3 v)
    {
        var nothing = 1e-9 * v.Length;
        if (Math.Abs(v.Z) > nothing) return v.Z < 0;
        return Math.Abs(v.Y) > nothing ? v.Y < 0 : v.X < 0;
    }

    private sealed class Group(Vec3 heaviest)
    {
        private Vec3 all;
        private Vec3 plane;

        internal Vec3 Heaviest => heaviest;

        internal double Area { get; private set; }

        /// <summary>The mean of the plane that makes up most of the group, if one does, else of all.</summary>
        internal Vec3 Normal
        {
            get
            {
                var sum = plane.Length >= 0.5 * Area ? plane : all;
                return (1 / sum.Length) * sum;
            }
        }

        internal void Add(Vec3 sum, Vec3 unit)
        {
            var along = Vec3.Dot(heaviest, unit);
            if (along < 0) (sum, along) = (-1 * sum, -along);
            all += sum;
            Area += sum.Length;
            if (along >= Math.Cos(OnePlane)) plane += sum;
        }
    }
}
