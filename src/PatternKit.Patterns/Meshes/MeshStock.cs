using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>A mesh with machining stock on it.</summary>
/// <param name="Mesh">What is cast: as many facets as the part, in the same order.</param>
/// <param name="Added_mm3">Metal that the stock adds.</param>
/// <param name="Findings">Where stock is put, and where less than asked.</param>
internal sealed record StockedMesh(PartMesh Mesh, double Added_mm3, ImmutableArray<Finding> Findings);

/// <summary>
/// Puts machining stock on a mesh: on facets that look up, down or sideways, and on named faces, which go before. The planes of those facets are moved along their
/// normals and meet the planes of the others (<see cref="FacetOffset"/>).
/// </summary>
internal static class MeshStock
{
    /// <summary>Stock that falls short by more than this part of it is told.</summary>
    private const double Short = 0.05;

    private const double Mm2PerCm2 = 100, Mm3PerCm3 = 1000;

    /// <summary>The mesh as it is to be cast.</summary>
    /// <param name="mesh">The finished part.</param>
    /// <param name="stock">Figures, found already where a rule was to find them.</param>
    /// <exception cref="InputException">A named face catches no facet; the stock closes a hollow, or the body would cross itself.</exception>
    public static StockedMesh Of(PartMesh mesh, StockSettings stock)
    {
        var body = mesh.Body;
        var (place, by) = (new string[body.Facets.Length], new double[body.Facets.Length]);
        for (var f = 0; f < by.Length; f++) (place[f], by[f]) = ByFacing(body.AreaNormal(body.Facets[f]), stock);
        foreach (var region in mesh.Faces)
        {
            if (stock.Names_mm?.TryGetValue(region.Name, out var own) is not true) continue;
            var caught = 0;
            for (var f = 0; f < by.Length; f++)
            {
                if (!region.Holds(body, body.Facets[f])) continue;
                caught++;
                // Of named faces that overlap, the larger stock.
                if (mesh.Faces.Any(o => o.Name == place[f]) && by[f] > own) continue;
                (place[f], by[f]) = (region.Name, own);
            }

            if (caught == 0)
                throw new InputException(region.Where, "", $"faces \"{region.Name}\" catches no facet of {mesh.File}: all three corners of a facet have to lie in it, as the part lies in the mould. Make the box larger, or look up the place in the mesh.");
        }

        if (Array.TrueForAll(by, d => d == 0)) return new(mesh, 0, []);
        var moved = FacetOffset.Of(body, by);
        if (moved.Turned is { } turned) throw TooMuch(mesh, Middle(body, body.Facets[turned]), "it is more than a hollow there has room for");
        // What did not cross itself before must not do so now.
        var crossings = MeshInspection.Inspect(moved.Mesh);
        if (crossings.CrossingPairs > 0 && MeshInspection.Inspect(body).CrossingPairs == 0)
            throw TooMuch(mesh, crossings.Defects.First(d => d.Kind == MeshDefectKind.CrossingPair).First, "faces that lie across from each other would meet");
        return new(mesh with { Body = moved.Mesh }, moved.Mesh.Volume() - body.Volume(), [.. Told(body, place, by, moved)]);
    }

    /// <summary>Up is what faces up by 45° or more, down likewise, and all else is a side.</summary>
    private static (string Place, double By_mm) ByFacing(Vec3 normal, StockSettings stock) =>
        !(normal.Length > 0) ? ("", 0)
        : normal.Z >= FaceRegion.Along * normal.Length ? ("top", stock.Top_mm)
        : -normal.Z >= FaceRegion.Along * normal.Length ? ("bottom", stock.Bottom_mm)
        : ("sides", stock.Sides_mm);

    private static IEnumerable<Finding> Told(TriangleMesh body, string[] place, double[] by, OffsetMesh moved)
    {
        foreach (var group in Enumerable.Range(0, by.Length).Where(f => by[f] > 0).GroupBy(f => place[f]).OrderBy(g => g.Key, StringComparer.Ordinal))
        {
            ImmutableArray<int> facets = [.. group];
            var (area_mm2, asked) = (facets.Sum(f => body.AreaNormal(body.Facets[f]).Length) / 2, by[facets[0]]);
            var at = Middle(body, body.Facets[facets.MaxBy(f => body.AreaNormal(body.Facets[f]).Length)]);
            var metal_mm3 = facets.Sum(f => Between(body, moved.Mesh, body.Facets[f]));
            var what = group.Key switch { "top" => "faces that look up", "bottom" => "faces that look down", "sides" => "sides", var name => $"\"{name}\"" };
            yield return new(
                "stock", Severity.Note, Invariant($"{asked:0.###} mm of stock on {what}: {area_mm2 / Mm2PerCm2:0.##} cm², most of it near {Place(at)}, {metal_mm3 / Mm3PerCm3:0.###} cm³ of metal to be cut off."),
                at, asked, Remedy: "Take it off when machining; to leave faces as cast, name others under stock.", Unit: "mm")
            {
                Facets = facets,
            };
            var worst = facets.MinBy(f => moved.Least[f]);
            if (moved.Least[worst] >= asked * (1 - Short)) continue;
            var lacking = Middle(body, body.Facets[worst]);
            yield return new(
                "stock", Severity.Warn, Invariant($"Near {Place(lacking)} the stock on {what} is {Math.Max(0, moved.Least[worst]):0.##} mm and not {asked:0.##}: the edge there is too sharp, or too many faces meet."),
                lacking, Math.Max(0, moved.Least[worst]), asked, "the stock that the job asks for", "Look at it in the pattern, and model the stock there if the face must clean up.", "mm")
            {
                Facets = [worst],
            };
        }
    }

    /// <summary>What lies between a facet and where it was moved to: a prism with a twisted side is three tetrahedra, whose choice of diagonals evens out over a closed skin.</summary>
    private static double Between(TriangleMesh before, TriangleMesh after, Facet f)
    {
        var (a, b, c) = (before.Vertices[f.A], before.Vertices[f.B], before.Vertices[f.C]);
        var (x, y, z) = (after.Vertices[f.A], after.Vertices[f.B], after.Vertices[f.C]);
        return Tetrahedron(a, b, c, x) + Tetrahedron(x, b, c, y) + Tetrahedron(x, y, c, z);

        static double Tetrahedron(Vec3 p, Vec3 q, Vec3 r, Vec3 top) => Vec3.Dot(Vec3.Cross(q - p, r - p), top - p) / 6;
    }

    private static InputException TooMuch(PartMesh mesh, Vec3 at, string why) => new(
        mesh.Where, "[pattern] stock", $"the stock cannot be put on near {Place(at)} mm: {why}. Give less there, name the faces that are machined under faces in [[part]] and put stock on those alone, or model the stock in the mesh.");

    private static Vec3 Middle(TriangleMesh mesh, Facet f) => 1 / 3.0 * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C]);

    private static string Place(Vec3 p) => Invariant($"({p.X:0.#}, {p.Y:0.#}, {p.Z:0.#})");
}
