using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Mesh;

/// <summary>
/// A solid turned about an upright axis: rings of equal corner count at growing heights, joined by triangles. Corners lie on the lattice, so
/// that what is checked is what is written. The polygon of a ring has the area of its circle, so sections have the areas asked for.
/// </summary>
public static class TurnedSolid
{
    /// <summary>Builds the body.</summary>
    /// <param name="axis">Plan place of the axis.</param>
    /// <param name="profile">Radius and height of every ring, heights growing.</param>
    /// <param name="corners">Corners of each ring.</param>
    /// <param name="lattice">All coordinates of the result lie on it.</param>
    /// <exception cref="ArgumentException">Fewer than two rings or three corners, or heights that do not grow on the lattice.</exception>
    public static TriangleMesh Build(Vec2 axis, ImmutableArray<(double Radius, double Height)> profile, int corners, Lattice lattice)
    {
        if (profile.Length < 2 || corners < 3) throw new ArgumentException("A turned solid needs two rings of three corners.", nameof(profile));
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        var directions = EqualAreaPolygon.Corners(corners);
        var last = double.NegativeInfinity;
        foreach (var (radius, height) in profile)
        {
            var z = lattice.Snap(height);
            if (!(z > last) || !(radius > 0)) throw new ArgumentException("The heights of a turned solid must grow, and its radii be positive.", nameof(profile));
            last = z;
            foreach (var p in directions.Select(d => lattice.Snap(axis + (radius * d)))) vertices.Add(new(p.X, p.Y, z));
        }

        for (var ring = 0; ring + 1 < profile.Length; ring++)
        {
            for (var i = 0; i < corners; i++)
            {
                var (a, b) = ((ring * corners) + i, (ring * corners) + ((i + 1) % corners));
                facets.Add(new(a, b, b + corners));
                facets.Add(new(a, b + corners, a + corners));
            }
        }

        var top = (profile.Length - 1) * corners;
        for (var i = 1; i + 1 < corners; i++)
        {
            facets.Add(new(0, i + 1, i));
            facets.Add(new(top, top + i, top + i + 1));
        }

        return new(vertices.ToImmutable(), facets.ToImmutable());
    }
}
