using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>Metal of a part that is a mesh that is thinner than usually runs in sand, at any slant.</summary>
public static class MeshThinMetal
{
    /// <summary>So many places are listed.</summary>
    private const int Listed = 5;

    /// <summary>How far outside its skin a point looks for what is in its way, as a part of the diagonal.</summary>
    private const double Outside = 1e-4;

    private const string Code = "thin-section";

    /// <summary>The thin places of a part that an alloy is to fill; none where no figure is known for it.</summary>
    /// <param name="mesh">Closed and facing outward, millimetres of the finished part.</param>
    /// <param name="alloy">Its least section is the limit.</param>
    /// <param name="joint_mm">Height of the joint, z up, where a pattern fills what hangs behind the draw: walls beside what is filled come out thicker and do not count. Null where the part itself is moulded.</param>
    /// <param name="isLeft">Whether a place lies beside a hollow that the pattern leaves; null where it leaves none.</param>
    /// <param name="isCored">Whether a place lies beside a hollow that a core leaves; null where none does.</param>
    public static ImmutableArray<Finding> Of(TriangleMesh mesh, Alloy alloy, double? joint_mm = null, Func<Vec3, bool>? isLeft = null, Func<Vec3, bool>? isCored = null)
    {
        if (alloy.MinimumSection_mm is not { } least) return [];
        var walls = new WallThickness(mesh);
        var places = ThinPlaces.Of(walls, mesh, least.Value, joint_mm is { } z ? Drawn(walls, mesh, z, isLeft, isCored) : null);
        var listed = places.Take(Listed).Select(p => new Finding(
            Code, Severity.Warn,
            Invariant($"A wall near {Place(p)} is {p.Least_mm:0.##} mm thick, and {p.Area_mm2 / 100:0.##} cm² of it are thinner than {least.Value:0.##} mm: metal may freeze before it is filled."),
            p.At, p.Least_mm, least.Value, least.From.Text, "Thicken it, or cast it thicker and machine it; else pour hotter and gate near it.", "mm")
        {
            Facets = p.Facets,
        });
        if (places.Length <= Listed) return [.. listed];
        var rest = places.Skip(Listed).ToArray();
        return
        [
            .. listed,
            new Finding(
                Code, Severity.Warn, Invariant($"{rest.Length} more places are thinner than {least.Value:0.##} mm, {rest.Sum(p => p.Area_mm2) / 100:0.##} cm² together, the thinnest {rest[0].Least_mm:0.##} mm near {Place(rest[0])}."),
                rest[0].At, rest[0].Least_mm, least.Value, least.From.Text, "As above.", "mm")
            {
                Facets = [.. rest.SelectMany(p => p.Facets)],
            },
        ];
    }

    /// <summary>The thinnest wall of a part of which no alloy is known, as a fact, if it is thinner than what usually runs in most alloys.</summary>
    /// <param name="mesh">Closed and facing outward.</param>
    /// <param name="tables">The alloys.</param>
    public static ImmutableArray<Finding> Thinnest(TriangleMesh mesh, FoundryTables tables)
    {
        var known = tables.Alloys.Where(a => a.MinimumSection_mm is not null).ToArray();
        if (known.Length == 0) return [];
        var usual_mm = known.GroupBy(a => a.MinimumSection_mm!.Value).OrderByDescending(g => g.Count()).ThenBy(g => g.Key).First().Key;
        var places = ThinPlaces.Of(new(mesh), mesh, usual_mm);
        if (places.IsEmpty) return [];
        var families = known.GroupBy(a => a.Family).OrderBy(g => g.Min(a => a.MinimumSection_mm!.Value)).ThenBy(g => g.Key)
            .Select(g => (g.Key, Least: g.Min(a => a.MinimumSection_mm!.Value), Most: g.Max(a => a.MinimumSection_mm!.Value)))
            .Select(g => Invariant($"{Name(g.Key)} {g.Least:0.##}") + (g.Most > g.Least ? Invariant($" to {g.Most:0.##}") : ""));
        return
        [
            new Finding(
                Code, Severity.Note,
                Invariant($"The thinnest wall is {places[0].Least_mm:0.##} mm, near {Place(places[0])}; {places.Sum(p => p.Area_mm2) / 100:0.##} cm² of walls are thinner than the {usual_mm:0.##} mm that most alloys ask for. Usually runs, mm: {string.Join(", ", families)}."),
                places[0].At, places[0].Least_mm, usual_mm, "the least section of most alloys; \"patternkit alloys\" tells each with its source", "Name the metal with --alloy, or in a job, to have it judged.", "mm")
            {
                Facets = [.. places.SelectMany(p => p.Facets)],
            },
        ];
    }

    /// <summary>Whether nothing stands between a point of the skin and its half of the mould, or in a hollow that is left, the other.</summary>
    private static Func<Vec3, Vec3, bool> Drawn(WallThickness walls, TriangleMesh mesh, double joint_mm, Func<Vec3, bool>? isLeft, Func<Vec3, bool>? isCored)
    {
        var out_mm = Outside * mesh.Bounds().Size.Length;
        return (at, outward) => isCored?.Invoke(at) == true || IsFree(at, outward, at.Z >= joint_mm ? 1 : -1) || (isLeft?.Invoke(at) == true && IsFree(at, outward, at.Z >= joint_mm ? -1 : 1));

        bool IsFree(Vec3 at, Vec3 outward, double way) => walls.Meeting(at + (out_mm * outward), new(0, 0, way)) is null;
    }

    private static string Place(ThinPlace p) => Invariant($"({p.At.X:0.#}, {p.At.Y:0.#}, {p.At.Z:0.#}) mm");

    private static string Name(AlloyFamily family) => family switch
    {
        AlloyFamily.WhiteMetal => "white metal",
        AlloyFamily.Copper => "copper alloys",
        _ => family.ToString().ToLowerInvariant(),
    };
}
