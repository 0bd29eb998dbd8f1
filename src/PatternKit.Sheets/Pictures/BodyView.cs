using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>
/// A body drawn by a camera: parallel light, one grey a facet, creases and silhouettes as dark lines where they show. Drawn at twice the size and
/// averaged, so that edges are smooth. First the facets, then what is drawn on them, then <see cref="Halved"/>.
/// </summary>
internal sealed class BodyView : IDisposable
{
    /// <summary>White around the body, pixels.</summary>
    public const int Margin = 24;

    private readonly TriangleMesh mesh;
    private readonly Camera camera;
    private readonly Vec3 centre;
    private readonly Vec3[] seen;
    private readonly Vec3[] normals;
    private readonly DepthRaster raster;

    /// <summary>Draws the facets.</summary>
    /// <param name="mesh">The body.</param>
    /// <param name="camera">From where.</param>
    /// <param name="width">Pixels across; a tall body makes the picture no longer than that.</param>
    /// <param name="leastHeight">Pixels down at least.</param>
    /// <param name="tagged">Whether pixels know their facets.</param>
    public BodyView(TriangleMesh mesh, Camera camera, int width, int leastHeight, bool tagged)
    {
        (this.mesh, this.camera, Width) = (mesh, camera, width);
        seen = new Vec3[mesh.Vertices.Length];
        var box = Box3.Empty;
        for (var i = 0; i < seen.Length; i++) box = box.With(seen[i] = camera.See(mesh.Vertices[i]));
        if (mesh.Facets.IsEmpty || !(box.Size.X > 0) || !(box.Size.Y > 0)) throw new ArgumentException("A body without extent has no picture.", nameof(mesh));
        PixelsPerMillimetre = (width - (2 * Margin)) / box.Size.X;
        // A tall thin body would make a picture longer than a page.
        PixelsPerMillimetre = Math.Min(PixelsPerMillimetre, (width - (2 * Margin)) / box.Size.Y);
        Height = Math.Max(leastHeight, (int)Math.Ceiling(PixelsPerMillimetre * box.Size.Y) + (2 * Margin));
        centre = box.Low + (0.5 * box.Size);
        raster = new DepthRaster(2 * width, 2 * Height, tagged);
        for (var i = 0; i < seen.Length; i++) seen[i] = Fine(seen[i]);
        normals = new Vec3[mesh.Facets.Length];
        for (var f = 0; f < normals.Length; f++)
        {
            var facet = mesh.Facets[f];
            var area = mesh.AreaNormal(facet);
            normals[f] = (1 / area.Length) * area;
            if (!(Vec3.Dot(normals[f], camera.Toward) > 0)) continue;
            raster.Fill(seen[facet.A], seen[facet.B], seen[facet.C], Shade(normals[f]), f);
        }
    }

    /// <summary>Pixels across.</summary>
    public int Width { get; }

    /// <summary>Pixels down.</summary>
    public int Height { get; }

    /// <summary>Scale in the picture plane.</summary>
    public double PixelsPerMillimetre { get; }

    /// <summary>Where a point is: (column, row) in pixels, and depth toward the viewer, in the same unit.</summary>
    public Vec3 Place(Vec3 p) => 0.5 * Fine(camera.See(p));

    /// <summary>Whether no more of the body lies before a point than a skin of some thickness; a point on its skin is seen.</summary>
    public bool IsSeen(Vec3 p, double skin_mm) => raster.IsSeen(2 * Place(p), Slack + (2 * PixelsPerMillimetre * skin_mm));

    /// <summary>Nothing is drawn or asked after it.</summary>
    public void Dispose() => raster.Dispose();

    /// <summary>Draws the edges of the body.</summary>
    public void DrawEdges()
    {
        foreach (var (a, b, kind) in FeatureEdges.Find(EdgedMesh.Of(mesh, normals), camera.Toward))
            raster.Line(seen[a], seen[b], kind == EdgeKind.Silhouette ? 2.0 : 1.4, kind == EdgeKind.Silhouette ? (byte)20 : (byte)48, Slack);
    }

    /// <summary>Draws a line on the body, where it is seen.</summary>
    public void DrawLine(Vec3 from, Vec3 to, double radius) => raster.Line(2 * Place(from), 2 * Place(to), 2 * radius, 0, Slack);

    /// <summary>Hatches facets, before lines are drawn.</summary>
    public void DrawHatches(IReadOnlyList<Hatch> ofFacet) =>
        raster.Repaint((column, row, facet, grey) => Hatches.IsInk(ofFacet[facet], column / 2, row / 2) ? Hatches.Ink : grey);

    /// <summary>Of the pixels that show one of some facets the one nearest to a place; null where fewer than a few do.</summary>
    public Vec2? Nearest(IReadOnlySet<int> facets, Vec2 place)
    {
        const int few = 60;
        var (count, best, nearest) = (0, default(Vec2), double.PositiveInfinity);
        raster.Visit((column, row, facet) =>
        {
            if (!facets.Contains(facet)) return;
            count++;
            var at = new Vec2((column + 0.5) / 2, (row + 0.5) / 2);
            if ((at - place).Length is var d && d < nearest) (best, nearest) = (at, d);
        });
        return count >= few ? best : null;
    }

    /// <summary>The picture, a byte of grey a pixel.</summary>
    public byte[] Halved() => raster.Halved();

    /// <summary>How far a line may lie behind the surface and still show: it is an edge of that surface.</summary>
    private const double Slack = 3;

    private Vec3 Fine(Vec3 s) =>
        new(Width + (2 * PixelsPerMillimetre * (s.X - centre.X)), Height - (2 * PixelsPerMillimetre * (s.Y - centre.Y)), 2 * PixelsPerMillimetre * (s.Z - centre.Z));

    // Light from the upper left over the shoulder; faces along the draw come out lightest, the right side darkest.
    private byte Shade(Vec3 normal)
    {
        var light = (1.0 * camera.Toward) + (-0.55 * camera.Right) + (0.75 * camera.Up);
        var key = Vec3.Dot(normal, (1 / light.Length) * light);
        var fill = 0.5 + (0.5 * (camera.Toward.Z > 0 ? normal.Z : -normal.Z));
        return (byte)Math.Clamp(112 + (96 * Math.Max(0, key)) + (32 * fill), 0, 244);
    }
}
