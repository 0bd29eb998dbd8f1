using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh.Walls;

/// <summary>A connected place where a body is thin.</summary>
/// <param name="Least_mm">The least thickness read in it.</param>
/// <param name="At">Where, in the middle of the wall.</param>
/// <param name="Area_mm2">Area of the wall there, seen from one side.</param>
/// <param name="Box">Around the points of the skin that are thin.</param>
/// <param name="Facets">Those with at least half their points in it, or if there is none those with any, ascending.</param>
public sealed record ThinPlace(double Least_mm, Vec3 At, double Area_mm2, Box3 Box, ImmutableArray<int> Facets);

/// <summary>
/// The places of a mesh that are thinner than a limit and no part of something thick: a ridge no higher than it is wide belongs to what it stands on.
/// Thick is where a ball as wide as the limit fits into the body; a thin reading whose middle lies within its own thickness of such a ball does not count.
/// </summary>
public static class ThinPlaces
{
    /// <summary>Most points read; a larger skin is read on points farther apart.</summary>
    private const int MostSamples = 120_000;

    /// <summary>Distance of the points read, mm: half the limit, or more on a large skin.</summary>
    public static double Spacing(TriangleMesh mesh, double limit) =>
        Math.Max(limit / 2, Math.Sqrt(mesh.Facets.Sum(f => mesh.AreaNormal(f).Length) / 2 / MostSamples));

    /// <summary>The places, the thinnest first; less wall than a square as wide as the limit is none.</summary>
    /// <param name="walls">The mesh.</param>
    /// <param name="mesh">The same.</param>
    /// <param name="limit">Thinner than this is thin, mm.</param>
    /// <param name="counts">Of a place of the skin and the way outward whether it counts, or will be filled outside; both sides of a wall are asked. Null where all counts.</param>
    /// <exception cref="ArgumentOutOfRangeException">The limit is not above 0.</exception>
    public static ImmutableArray<ThinPlace> Of(WallThickness walls, TriangleMesh mesh, double limit, Func<Vec3, Vec3, bool>? counts = null)
    {
        if (!(limit > 0)) throw new ArgumentOutOfRangeException(nameof(limit), "A limit of thickness must be above 0.");
        var spacing = Spacing(mesh, limit);
        var sampling = SkinSampling.Over(mesh, spacing);
        var samples = sampling.Samples;
        var readings = new WallReading?[samples.Count];
        Parallel.For(0, readings.Length, i => readings[i] = Counted(samples[i]));

        var thick = ThickMetal.Of(samples, readings, walls, limit);
        var thin = new bool[readings.Length];
        Parallel.For(0, thin.Length, i => thin[i] = readings[i] is { } r && IsThin(r) && !thick.IsWithin(r.Centre, r.Thickness_mm));

        var members = Enumerable.Range(0, thin.Length).Where(i => thin[i]).ToArray();
        var sets = Joined(samples, members, 2 * spacing);
        var groups = members.Select((i, k) => (Sample: i, Root: sets.Find(k))).GroupBy(m => m.Root).Select(g => g.Select(m => m.Sample).ToArray())
            .Where(g => g.Sum(i => samples[i].Area_mm2) / 2 >= limit * limit).ToArray();
        var placeOf = new int[readings.Length];
        Array.Fill(placeOf, -1);
        for (var g = 0; g < groups.Length; g++)
            foreach (var i in groups[g]) placeOf[i] = g;
        var facets = Facets(mesh, sampling, placeOf, groups.Length);
        return [.. groups.Select((g, k) => Place(g, facets[k])).OrderBy(p => p.Least_mm).ThenByDescending(p => p.Area_mm2)];

        WallReading? Counted(SkinSample s)
        {
            if (walls.At(s.Facet, s.At) is not { } r) return null;
            return counts is null || (counts(s.At, walls.Normal(s.Facet)) && counts(r.Across, 2 / r.Thickness_mm * (r.Across - r.Centre))) ? r : null;
        }

        bool IsThin(WallReading r) => r.Thickness_mm < limit * (1 - 1e-6);

        ThinPlace Place(int[] group, List<int> inIt)
        {
            var least = group.MinBy(i => readings[i]!.Value.Thickness_mm);
            var box = Box3.Empty;
            foreach (var i in group) box = box.With(samples[i].At);
            return new(readings[least]!.Value.Thickness_mm, readings[least]!.Value.Centre, group.Sum(i => samples[i].Area_mm2) / 2, box, [.. inIt]);
        }
    }

    /// <summary>Points nearer to each other than the reach belong together, both sides of a wall as well.</summary>
    private static DisjointSets Joined(IReadOnlyList<SkinSample> samples, int[] members, double reach)
    {
        var sets = new DisjointSets(members.Length);
        var cells = new Dictionary<(int, int, int), List<int>>();
        for (var k = 0; k < members.Length; k++)
        {
            var at = samples[members[k]].At;
            var (x, y, z) = ((int)Math.Floor(at.X / reach), (int)Math.Floor(at.Y / reach), (int)Math.Floor(at.Z / reach));
            for (var dx = -1; dx <= 1; dx++)
                for (var dy = -1; dy <= 1; dy++)
                    for (var dz = -1; dz <= 1; dz++)
                        if (cells.TryGetValue((x + dx, y + dy, z + dz), out var near))
                            foreach (var other in near)
                                if ((samples[members[other]].At - at).Length <= reach) sets.Join(k, other);
            if (!cells.TryGetValue((x, y, z), out var own)) cells.Add((x, y, z), own = []);
            own.Add(k);
        }

        return sets;
    }

    private static List<int>[] Facets(TriangleMesh mesh, SkinSampling sampling, int[] placeOf, int places)
    {
        var (facets, touched) = (new List<int>[places], new List<int>[places]);
        for (var g = 0; g < places; g++) (facets[g], touched[g]) = ([], []);
        for (var f = 0; f < mesh.Facets.Length; f++)
        {
            var own = sampling.Of(f);
            var (first, count) = (-1, 0);
            foreach (var i in own)
            {
                if (placeOf[i] < 0) continue;
                if (first < 0) first = placeOf[i];
                count++;
            }

            if (first < 0) continue;
            touched[first].Add(f);
            if (2 * count >= own.Length) facets[first].Add(f);
        }

        // Of a place in the midst of large facets, those that it touches.
        for (var g = 0; g < places; g++)
            if (facets[g].Count == 0) facets[g] = touched[g];

        return facets;
    }
}
