using System.Collections.Immutable;
using NetTopologySuite.Algorithm.Construct;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>What draft does to the sizes of a part that is a mesh: by how much it moves a wall at most and where, and which faces it takes away because they are too narrow.</summary>
internal static class DraftChange
{
    /// <summary>A wall drawn with just the draft asked for may be off it so much by rounding, radians.</summary>
    private const double Slack = 1e-3;

    /// <summary>What leans over by more is the ceiling of a recess or an undercut, radians.</summary>
    private const double Roof = Math.PI / 4;

    /// <summary>How far outside its skin a point looks for what is in its way, as a part of the diagonal.</summary>
    private const double Outside = 1e-4;

    /// <summary>Less is the rounding of the lattice and of meshing, mm.</summary>
    private const double Least_mm = 0.02;

    /// <summary>A face that is no wider than this is an edge, mm.</summary>
    private const double LeastWidth_mm = 0.1;

    /// <summary>A face within this of a flat's height is that flat, mm.</summary>
    private const double SameHeight_mm = 0.003;

    /// <summary>Where on a side of a facet walls are looked at.</summary>
    private static readonly double[] Parts = [0.125, 0.5, 0.875];

    /// <summary>So many faces are listed.</summary>
    private const int Listed = 5;

    /// <summary>The findings.</summary>
    /// <param name="mesh">Closed and facing outward, z up, with its stock, millimetres of the casting.</param>
    /// <param name="cope">Its half, drafted.</param>
    /// <param name="drag">Its half, drafted.</param>
    /// <param name="frame">From the casting to the pattern.</param>
    /// <param name="draft">Angles.</param>
    public static IEnumerable<Finding> Of(TriangleMesh mesh, HalfMould cope, HalfMould drag, PatternFrame frame, DraftAngles draft)
    {
        var (scale, diagonal) = (frame.Scale, mesh.Bounds().Size.Length);
        var walls = new WallThickness(mesh);
        var moved = new (double By_mm, Vec3 At)[mesh.Facets.Length];
        Parallel.For(0, moved.Length, f => moved[f] = Moved(f));
        var most = Enumerable.Range(0, moved.Length).Aggregate((By_mm: 0.0, At: default(Vec3)), (best, f) => Math.Abs(moved[f].By_mm) > Math.Abs(best.By_mm) + 1e-9 ? moved[f] : best);
        if (Math.Abs(most.By_mm) > Least_mm)
        {
            var (off, by) = (most.By_mm < 0, Math.Abs(most.By_mm));
            yield return new(
                "draft-change", Severity.Note,
                Invariant($"Draft moves walls by up to {by:0.##} mm, {(off ? "inward" : "outward")} near ({most.At.X:0.#}, {most.At.Y:0.#}, {most.At.Z:0.#}) mm; a size between two such walls changes by twice that. What has the draft is left as it is."),
                most.At, most.By_mm, Source: "the draft of this job",
                Remedy: "Nothing, if the size may change there; else choose with hold in [pattern] where sizes hold, move the joint so that the wall is drawn to both sides, or draw the part with its taper.", Unit: "mm");
        }

        if (draft.Inset == 0) yield break;
        foreach (var lost in Lowered().OrderByDescending(l => l.By_mm).Take(Listed))
            yield return new(
                "narrow-top", Severity.Warn,
                Invariant($"The face near ({lost.At.X:0.#}, {lost.At.Y:0.#}, {lost.At.Z:0.#}) mm is {lost.Width_mm:0.##} mm wide, less than taper takes off the walls beside it: it comes out {lost.By_mm:0.##} mm lower."),
                lost.At, lost.By_mm, 0, "the draft of this job", "Let sizes hold at the tip (taper = \"plus\"), ask for less draft, or widen it.", "mm");

        // By how much the wall of a facet is moved out, square to the draw, where that is most; walls of other metal above it are not seen.
        (double By_mm, Vec3 At) Moved(int f)
        {
            var (facet, n) = (mesh.Facets[f], walls.Normal(f));
            Vec3[] corners = [mesh.Vertices[facet.A], mesh.Vertices[facet.B], mesh.Vertices[facet.C]];
            (double By_mm, Vec3 At) best = (0, default);
            foreach (var half in new[] { MouldHalf.Cope, MouldHalf.Drag })
            {
                var (mould, sign) = half == MouldHalf.Cope ? (cope, 1) : (drag, -1);
                var angle = Math.Asin(Math.Clamp(sign * n.Z, -1, 1));
                if (mould.IsEmpty || angle >= draft.Outside - Slack || angle <= -Roof) continue;
                foreach (var p in Along([.. Within(corners, p => sign * (p.Z - JointUnder(p)))]))
                {
                    if (walls.Meeting(p + (Outside * diagonal * n), new(0, 0, sign)) is not null) continue;
                    var by = (mould.Upper.At(scale * p.Plan).Height - (sign * scale * p.Z)) * Math.Tan(draft.Outside) / scale;
                    if (Math.Abs(by) > Math.Abs(best.By_mm)) best = (by, p);
                }
            }

            return best;
        }

        double JointUnder(Vec3 p) => cope.JointAt(scale * p.Plan) / scale;

        // Level faces of which no flat is left.
        IEnumerable<(double By_mm, double Width_mm, Vec3 At)> Lowered()
        {
            foreach (var (mould, sign) in new[] { (cope, 1), (drag, -1) })
            {
                if (mould.IsEmpty) continue;
                var flats = mould.Flats().ToArray();
                foreach (var patch in SmoothPatches.Of(mesh, f => sign * walls.Normal(f).Z > 1 - 1e-9, 1e-3))
                {
                    var z = mesh.Vertices[mesh.Facets[patch[0]].A].Z;
                    if (sign * (z - (sign * mould.Joint_mm / scale)) <= LeastWidth_mm) continue;
                    var face = PlanRegion.Union(patch.Select(f => PlanRegion.Polygon([Plan(mesh.Facets[f].A), Plan(mesh.Facets[f].B), Plan(mesh.Facets[f].C)])));
                    if (face.IsEmpty || flats.Any(f => Math.Abs(f.Height - (sign * scale * z)) < SameHeight_mm && f.Region.Geometry.Intersects(face.Geometry))) continue;
                    var circle = new MaximumInscribedCircle(face.Geometry, LeastWidth_mm / 4);
                    var (centre, width) = (new Vec2(circle.GetCenter().X, circle.GetCenter().Y), 2 * circle.GetRadiusLine().Length);
                    var at = new Vec3(centre.X / scale, centre.Y / scale, z);
                    var by = ((sign * scale * z) - mould.Upper.At(centre).Height) / scale;
                    if (width > LeastWidth_mm && by > Least_mm && walls.Meeting(at + new Vec3(0, 0, sign * Outside * diagonal), new(0, 0, sign)) is null) yield return (by, width / scale, at);
                }
            }

            Vec2 Plan(int v) => scale * mesh.Vertices[v].Plan;
        }
    }

    /// <summary>Points on the sides of a polygon that are more level than upright, beside its corners: where two walls meet, those of the pattern do in a round edge.</summary>
    private static IEnumerable<Vec3> Along(Vec3[] polygon) => polygon.Select((p, i) => (From: p, To: polygon[(i + 1) % polygon.Length]))
        .Where(s => (s.To - s.From).Plan.Length >= Math.Abs(s.To.Z - s.From.Z)).SelectMany(s => Parts.Select(t => s.From + (t * (s.To - s.From))));

    /// <summary>The corners at which a function is not negative, and where the sides cross its zero.</summary>
    private static IEnumerable<Vec3> Within(Vec3[] corners, Func<Vec3, double> over)
    {
        for (var i = 0; i < corners.Length; i++)
        {
            var (p, q) = (corners[i], corners[(i + 1) % corners.Length]);
            var (atP, atQ) = (over(p), over(q));
            if (atP >= 0) yield return p;
            if (atP * atQ < 0) yield return p + (atP / (atP - atQ) * (q - p));
        }
    }
}
