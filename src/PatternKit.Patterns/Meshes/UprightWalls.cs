using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Meshes;

/// <summary>The walls of a mesh that stand too upright for a draw, or lean the wrong way.</summary>
/// <param name="Area_mm2">Area of facets with less draft than asked.</param>
/// <param name="Leaning_mm2">The part of it that leans over.</param>
/// <param name="Whole_mm2">Area of the skin.</param>
/// <param name="Least">Least draft of any of them, radians, negative where a wall leans over; that asked for where there is none.</param>
/// <param name="At_mm">The middle of the largest such facet.</param>
public sealed record UprightWalls(double Area_mm2, double Leaning_mm2, double Whole_mm2, double Least, Vec3? At_mm)
{
    /// <summary>The facets with less draft than asked, ascending.</summary>
    public ImmutableArray<int> Facets { get; init; } = [];

    /// <summary>A wall drawn with just the draft asked for may be off it so much by rounding, radians.</summary>
    private const double Slack = 1e-3;

    /// <summary>Sums up facets.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="up">Unit vector of the draw.</param>
    /// <param name="joint">Height along it from which the mesh is drawn to either side, at a place.</param>
    /// <param name="asked">Draft, radians.</param>
    /// <param name="roof">What leans over by more, radians, is no wall but the ceiling of a recess, or an undercut, which is told by its volume.</param>
    public static UprightWalls Of(TriangleMesh mesh, Vec3 up, Func<Vec3, double> joint, double asked, double roof)
    {
        double area = 0, leaning = 0, whole = 0, least = asked, largest = 0;
        Vec3? at = null;
        var facets = ImmutableArray.CreateBuilder<int>();
        for (var i = 0; i < mesh.Facets.Length; i++)
        {
            var f = mesh.Facets[i];
            var n = mesh.AreaNormal(f);
            var size = n.Length / 2;
            whole += size;
            if (size == 0) continue;
            var middle = (1 / 3.0) * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C]);
            var along = Vec3.Dot(middle, up) >= joint(middle) ? Vec3.Dot(n, up) : -Vec3.Dot(n, up);
            var draft = Math.Asin(Math.Clamp(along / n.Length, -1, 1));
            if (draft >= asked - Slack || draft <= -roof) continue;
            area += size;
            facets.Add(i);
            if (draft < -Slack) leaning += size;
            least = Math.Min(least, draft);
            if (size <= largest) continue;
            (largest, at) = (size, middle);
        }

        return new(area, leaning, whole, least, at) { Facets = facets.ToImmutable() };
    }
}
