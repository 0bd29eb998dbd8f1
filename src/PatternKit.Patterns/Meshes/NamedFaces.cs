using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Meshes;

/// <summary>Which places of the part are beside faces that the job names and gives a radius.</summary>
internal sealed class NamedFaces
{
    /// <summary>Cells in the distance that counts as beside: a place may be so much farther off.</summary>
    private const int CellsBeside = 4;

    private readonly Dictionary<(int, int, int), double> radii = [];
    private readonly double cell;

    /// <summary>Finds the faces.</summary>
    /// <param name="mesh">The part.</param>
    /// <param name="radii_mm">By name.</param>
    /// <param name="beside_mm">How near to a facet a place is beside it.</param>
    /// <exception cref="InputException">A name catches no facet.</exception>
    public NamedFaces(PartMesh mesh, ImmutableDictionary<string, double> radii_mm, double beside_mm)
    {
        cell = Math.Max(beside_mm / CellsBeside, 0.5);
        foreach (var region in mesh.Faces)
        {
            if (!radii_mm.TryGetValue(region.Name, out var radius)) continue;
            var caught = false;
            foreach (var f in mesh.Body.Facets)
            {
                if (!region.Holds(mesh.Body, f)) continue;
                caught = true;
                var (a, b, c) = (mesh.Body.Vertices[f.A], mesh.Body.Vertices[f.B], mesh.Body.Vertices[f.C]);
                var box = Box3.Empty.With(a).With(b).With(c);
                var reach = new Vec3(beside_mm, beside_mm, beside_mm);
                var ((x, y, z), (endX, endY, endZ)) = (Cell(box.Low - reach), Cell(box.High + reach));
                for (var i = x; i <= endX; i++)
                    for (var j = y; j <= endY; j++)
                        for (var k = z; k <= endZ; k++)
                            radii[(i, j, k)] = Math.Max(radius, radii.GetValueOrDefault((i, j, k)));
            }

            if (!caught)
                throw new InputException(region.Where, "", $"faces \"{region.Name}\" catches no facet of {mesh.File}: all three corners of a facet have to lie in it, as the part lies in the mould. Make the box larger, or look up the place in the mesh.");
        }
    }

    /// <summary>The radius at a place, the largest where several faces are near; null beside none.</summary>
    public double? Of(Vec3 at) => radii.TryGetValue(Cell(at), out var radius) ? radius : null;

    private (int X, int Y, int Z) Cell(Vec3 at) => ((int)Math.Floor(at.X / cell), (int)Math.Floor(at.Y / cell), (int)Math.Floor(at.Z / cell));
}
