using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>A place in a picture with a number.</summary>
/// <param name="Number">From 1.</param>
/// <param name="At">Where, in pixels of the view.</param>
/// <param name="IsSeen">Whether it is seen; else it lies behind the body or in it, and its leader is broken.</param>
internal readonly record struct PictureMark(int Number, Vec2 At, bool IsSeen);

/// <summary>A body in a picture: what stands over it, how it is seen, and the numbers beside it.</summary>
/// <param name="Title">One line.</param>
/// <param name="View">The body, all drawn.</param>
/// <param name="Marks">Numbers.</param>
internal sealed record PicturePanel(string Title, BodyView View, ImmutableArray<PictureMark> Marks)
{
    /// <summary>What an arrow up beside the body is called; null for no arrow.</summary>
    public string? Up { get; init; }

    /// <summary>Draws a body with what was found on it.</summary>
    /// <param name="title">One line.</param>
    /// <param name="mesh">The body, z along the draw.</param>
    /// <param name="camera">From where.</param>
    /// <param name="width">Pixels across the view.</param>
    /// <param name="hatches">For every facet.</param>
    /// <param name="joint_mm">Height of the joint, drawn as a thick line; null for none.</param>
    /// <param name="places">Numbers, the facets that they are about, and a place; one without facets is shown wherever its place is seen.</param>
    /// <param name="skin_mm">A place with no more metal than that before it, along the line of sight, counts as seen.</param>
    public static PicturePanel Of(
        string title, TriangleMesh mesh, Camera camera, int width, IReadOnlyList<Hatch> hatches, double? joint_mm, IEnumerable<(int Number, IReadOnlySet<int> Facets, Vec3? Place)> places, double skin_mm)
    {
        const double jointRadius = 1.6;
        var view = new BodyView(mesh, camera, width, 120, true);
        view.DrawHatches(hatches);
        view.DrawEdges();
        if (joint_mm is { } z)
            foreach (var (from, to) in JointLine.Of(mesh, z)) view.DrawLine(from, to, jointRadius);
        var marks = ImmutableArray.CreateBuilder<PictureMark>();
        foreach (var (number, facets, place) in places)
        {
            var at = place is { } p ? view.Place(p).Plan : new Vec2(view.Width / 2.0, view.Height / 2.0);
            if (facets.Count > 0 && view.Nearest(facets, at) is { } seen) marks.Add(new(number, seen, true));
            else if (place is { } q) marks.Add(new(number, at, facets.Count == 0 && view.IsSeen(q, skin_mm)));
        }

        return new(title, view, marks.ToImmutable());
    }
}
