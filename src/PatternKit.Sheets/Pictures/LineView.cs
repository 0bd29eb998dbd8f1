using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Sheets.Pictures;

/// <summary>The lines of bodies seen along an axis, in millimetres of the view: to the right and upward.</summary>
/// <param name="Seen">Edges and outlines that nothing covers.</param>
/// <param name="Hidden">Those that the bodies cover, and that fall on no line seen.</param>
/// <param name="Low">Lower left corner of the bodies in the view.</param>
/// <param name="High">Upper right corner.</param>
internal sealed record LineView(ImmutableArray<ImmutableArray<Vec2>> Seen, ImmutableArray<ImmutableArray<Vec2>> Hidden, Vec2 Low, Vec2 High)
{
    // Of the longer side; a line is told seen or hidden from one to the next.
    private const int Pixels = 1200;

    // How far an edge may lie behind the surface and still be its edge, pixels of depth.
    private const double Slack = 3;

    // Shorter changes between seen and hidden are no lines but the grain of the pixels.
    private const int Grain = 6;

    // Shorter lines are left out, pixels.
    private const int SeenSpeck = 2, HiddenSpeck = 9;

    /// <summary>Draws bodies as they lie in the mould.</summary>
    /// <param name="bodies">Meshes.</param>
    /// <param name="right">To the right of the view, a unit vector.</param>
    /// <param name="up">Upward in it, square to the other.</param>
    /// <param name="leavesOut">Whether an edge between two places is no matter of the drawing.</param>
    public static LineView Of(IReadOnlyList<EdgedMesh> bodies, Vec3 right, Vec3 up, Func<Vec3, Vec3, bool> leavesOut) =>
        DepthRaster.InTurn(() => Drawn(bodies, right, up, leavesOut));

    private static LineView Drawn(IReadOnlyList<EdgedMesh> bodies, Vec3 right, Vec3 up, Func<Vec3, Vec3, bool> leavesOut)
    {
        var toward = Vec3.Cross(right, up);
        Vec3 See(Vec3 p) => new(Vec3.Dot(p, right), Vec3.Dot(p, up), Vec3.Dot(p, toward));
        var seen = bodies.Select(b => b.Mesh.Vertices.Select(See).ToArray()).ToArray();
        var box = seen.SelectMany(s => s).Aggregate(Box3.Empty, (b, p) => b.With(p));
        var scale = Pixels / Math.Max(box.Size.X, Math.Max(box.Size.Y, 1e-6));
        const int border = 4;
        Vec3 Pixel(Vec3 p) => new((scale * (p.X - box.Low.X)) + border, (scale * (box.High.Y - p.Y)) + border, scale * p.Z);
        Vec2 Back(Vec3 p) => new(((p.X - border) / scale) + box.Low.X, box.High.Y - ((p.Y - border) / scale));
        using var raster = new DepthRaster((int)Math.Ceiling(scale * box.Size.X) + (2 * border), (int)Math.Ceiling(scale * box.Size.Y) + (2 * border));
        var edges = new List<(Vec3 A, Vec3 B)>();
        foreach (var (body, places) in bodies.Zip(seen))
        {
            var mesh = body.Mesh;
            for (var f = 0; f < mesh.Facets.Length; f++)
            {
                var facet = mesh.Facets[f];
                if (Vec3.Dot(body.Normals[f], toward) > 0) raster.Fill(Pixel(places[facet.A]), Pixel(places[facet.B]), Pixel(places[facet.C]), 0);
            }

            // Creases of the far side are all hidden.
            var found = FeatureEdges.Find(body, toward).Concat(FeatureEdges.Find(body, -1 * toward).Where(e => e.Kind == EdgeKind.Crease));
            edges.AddRange(found.Where(e => !leavesOut(mesh.Vertices[e.A], mesh.Vertices[e.B])).Select(e => (Pixel(places[e.A]), Pixel(places[e.B]))));
        }

        var runs = edges.Where(e => (e.B - e.A).Plan.Length > 0.5).SelectMany(e => Runs(raster, e.A, e.B)).ToArray();
        var drawn = new HashSet<(int, int)>();
        var visible = Uncovered(runs.Where(r => r.IsSeen), drawn);
        var hidden = Uncovered(runs.Where(r => !r.IsSeen), drawn);
        return new(Chains(visible, SeenSpeck, Back), Chains(hidden, HiddenSpeck, Back), box.Low.Plan, box.High.Plan);
    }

    private static IEnumerable<(Vec3 A, Vec3 B, bool IsSeen)> Runs(DepthRaster raster, Vec3 a, Vec3 b)
    {
        var steps = Math.Max(1, (int)Math.Ceiling((b - a).Plan.Length));
        var shows = Enumerable.Range(0, steps).Select(i => raster.Shows(a + ((i + 0.5) / steps * (b - a)), Slack)).ToArray();
        for (var i = 0; i < steps;)
        {
            var end = i;
            while (end < steps && shows[end] == shows[i]) end++;
            // A short run takes the look of the one before it.
            if (end - i < Grain && i > 0) for (var k = i; k < end; k++) shows[k] = shows[i - 1];
            i = end;
        }

        for (var i = 0; i < steps;)
        {
            var end = i;
            while (end < steps && shows[end] == shows[i]) end++;
            yield return (a + ((double)i / steps * (b - a)), a + ((double)end / steps * (b - a)), shows[i]);
            i = end;
        }
    }

    // What falls on a line drawn before is left out (ISO 128-2: of lines that fall together one is drawn).
    private static List<(Vec3 A, Vec3 B)> Uncovered(IEnumerable<(Vec3 A, Vec3 B, bool IsSeen)> runs, HashSet<(int, int)> drawn)
    {
        var kept = new List<(Vec3, Vec3)>();
        foreach (var (a, b, _) in runs.OrderByDescending(r => (r.B - r.A).Plan.Length))
        {
            var steps = Math.Max(1, (int)Math.Ceiling((b - a).Plan.Length));
            var cells = Enumerable.Range(0, steps).Select(i => a + ((i + 0.5) / steps * (b - a))).Select(p => ((int)p.X, (int)p.Y)).ToArray();
            bool IsDrawn((int X, int Y) c) => drawn.Contains(c) || drawn.Contains((c.X + 1, c.Y)) || drawn.Contains((c.X - 1, c.Y)) || drawn.Contains((c.X, c.Y + 1)) || drawn.Contains((c.X, c.Y - 1));
            var free = cells.Select(c => !IsDrawn(c)).ToArray();
            // Ends meet other lines by nature.
            if (free.Count(f => f) < Math.Max(1, steps / 4)) continue;
            kept.Add((a, b));
            foreach (var c in cells) drawn.Add(c);
        }

        return kept;
    }

    // Pieces that meet end to end become one line, so that dashes run on.
    private static ImmutableArray<ImmutableArray<Vec2>> Chains(List<(Vec3 A, Vec3 B)> pieces, double speck, Func<Vec3, Vec2> back)
    {
        static (int, int) Key(Vec3 p) => ((int)Math.Round(p.X), (int)Math.Round(p.Y));
        var at = pieces.SelectMany((p, i) => new[] { (Key(p.A), i), (Key(p.B), i) }).ToLookup(p => p.Item1, p => p.i);
        var used = new bool[pieces.Count];
        var chains = ImmutableArray.CreateBuilder<ImmutableArray<Vec2>>();
        for (var i = 0; i < pieces.Count; i++)
        {
            if (used[i]) continue;
            used[i] = true;
            var chain = new LinkedList<Vec3>([pieces[i].A, pieces[i].B]);
            while (Next(chain.Last!.Value) is { } next) chain.AddLast(next);
            while (Next(chain.First!.Value) is { } next) chain.AddFirst(next);
            // Specks are where a fillet runs out in a point.
            if (chain.Zip(chain.Skip(1), (a, b) => (b - a).Plan.Length).Sum() >= speck) chains.Add([.. chain.Select(back)]);
        }

        return chains.ToImmutable();

        Vec3? Next(Vec3 end)
        {
            var key = Key(end);
            // At a fork the line ends.
            if (at[key].Count() != 2) return null;
            foreach (var n in at[key])
            {
                if (used[n]) continue;
                used[n] = true;
                return Key(pieces[n].A) == key ? pieces[n].B : pieces[n].A;
            }

            return null;
        }
    }
}
