using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Silhouette;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parting;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>Finds the joint of a mesh that is to be carved along its parting line, or stepped.</summary>
internal static class MeshJoint
{
    private const double DegreesPerRadian = 180 / Math.PI;

    /// <summary>How far the joint may be off the surface that it is to be, mm; the line keeps clear of the ends of walls by four times as much.</summary>
    private const double Tolerance_mm = 0.05;

    /// <summary>Places along the line, over the longer side of the part.</summary>
    private const int Places = 200;

    /// <summary>The joint runs so far beyond the drafted walls at least, mm.</summary>
    private const double Margin_mm = 5;

    /// <summary>The joint must be gentler than the draft, so that nothing below it shows above; here by half.</summary>
    private const double OfDraft = 0.5;

    /// <summary>How the part lies with a joint that is to be carved or stepped, and that joint; none where a carved one is to be had and a level one parts as well.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mesh">The part.</param>
    /// <param name="flat">How it lies with a flat joint.</param>
    /// <param name="casting">The casting.</param>
    /// <param name="draft">Of all walls, radians.</param>
    /// <param name="tolerance_mm">Of surfaces.</param>
    /// <param name="tables">Slopes, and how parts lie.</param>
    /// <exception cref="InputException">The line climbs too steeply, or the levels do not suit the part.</exception>
    public static (MeshLie Lie, CarvedJoint? Carved) Laid(Job job, PartMesh mesh, MeshLie flat, CastingBody casting, double draft, double tolerance_mm, FoundryTables tables)
    {
        var (carved, level) = job.Parting.Joint == JointKind.Stepped ? (SteppedJoint.Of(job, Shadow(mesh, casting, draft, tolerance_mm).Shadow, mesh.Body.Bounds(), casting, draft, tolerance_mm, tables.Joint.Stepped), job.Parting.At_mm!.Value)
            : Of(job, mesh, flat, casting, draft, tolerance_mm, tables.Joint.Carved);
        if (carved is null)
            return (Math.Abs(level - flat.Joint_mm) < casting.Lattice.Step ? flat : MeshLie.Of(mesh.Body, flat.Up, level, job.Pattern.Skin ?? DraftRule.UsualSkin, tables.Lying, tables.Draft), null);
        var scale = casting.Frame.Scale;
        return (flat.Carved(mesh.Body, level, p => carved.Surface.At(scale * p).Height / scale, tables.Lying), carved);
    }

    /// <summary>The carved joint; or, where a level one parts as well along all of the line, its height in the part, as near to the flat joint as it may be.</summary>
    /// <param name="job">The job; at of [parting] is the height of the joint at the flask, or of a level one.</param>
    /// <param name="mesh">The part.</param>
    /// <param name="lie">How it lies with a flat joint.</param>
    /// <param name="casting">The casting.</param>
    /// <param name="draft">Of all walls, radians.</param>
    /// <param name="tolerance_mm">Of surfaces.</param>
    /// <param name="limits">Slopes.</param>
    /// <exception cref="InputException">The line climbs too steeply.</exception>
    private static (CarvedJoint? Carved, double Level_mm) Of(Job job, PartMesh mesh, MeshLie lie, CastingBody casting, double draft, double tolerance_mm, CarvedLimits limits)
    {
        var (scale, lattice) = (casting.Frame.Scale, casting.Lattice);
        var size = scale * mesh.Body.Bounds().Size;
        var corridor = Shadow(mesh, casting, draft, tolerance_mm);
        var (low, high) = corridor.Level;
        if (low <= high) return (null, Math.Clamp(scale * lie.Joint_mm, low, high) / scale);

        var free = corridor.Line((low + high) / 2, 4 * Tolerance_mm);
        var level = job.Parting.At_mm is { } at ? scale * at : (free.SelectMany(l => l).Min(v => v.Z) + free.SelectMany(l => l).Max(v => v.Z)) / 2;
        var line = corridor.Line(level, 4 * Tolerance_mm);
        var steepest = HeightExtension.LeastSlope(line);
        var most = Math.Min(Math.Tan(limits.Most_deg / DegreesPerRadian), OfDraft / Math.Tan(draft));
        if (steepest.Slope > most) throw TooSteep(mesh, casting, steepest, most);
        var margin = (size.Z * Math.Tan(draft)) + Margin_mm;
        var surface = SilhouetteGround.Of(line, corridor.Shadow, corridor.Body, level, Math.Min(most, Math.Tan(limits.RunOut_deg / DegreesPerRadian)), margin, lattice, Tolerance_mm);
        // Triangles may come out a little steeper than what they are taken from.
        if (surface.Steepest() is var own && own.Slope > 2 * most) throw TooSteep(mesh, casting, (own.Slope, own.At, own.At), most);
        return (new(line, surface, corridor.Shadow, steepest.Slope), surface.Level / scale);
    }

    /// <summary>The part in plan, at pattern size, with the heights of its walls.</summary>
    private static Corridor Shadow(PartMesh mesh, CastingBody casting, double draft, double tolerance_mm)
    {
        var body = mesh.Body.Mapped(v => casting.Frame.Scale * v);
        var box = body.Bounds();
        return Corridor.Of(
            Drafted(body, box.Low.Z), Drafted(body.MirroredBy(v => v with { Z = -v.Z }), -box.High.Z), Math.Max(box.Size.X, box.Size.Y) / Places);

        DraftedTerrain Drafted(TriangleMesh half, double lowest) => MeshTerrain.Of(half, casting.Lattice.Snap(lowest - 1), draft, casting.Lattice, tolerance_mm);
    }

    private static InputException TooSteep(PartMesh mesh, CastingBody casting, (double Slope, Vec3 From, Vec3 To) at, double most)
    {
        var (from, to) = (casting.Frame.ToJob(at.From), casting.Frame.ToJob(at.To));
        return new(mesh.Where, "[parting] joint", Invariant(
            $"the parting line climbs at {Math.Atan(at.Slope) * DegreesPerRadian:0}° near ({from.X:0.#}, {from.Y:0.#}, {from.Z:0.#}) and ({to.X:0.#}, {to.Y:0.#}, {to.Z:0.#}) mm, and no joint is carved steeper than {Math.Atan(most) * DegreesPerRadian:0}°. Turn the part with lie, or part it flat: joint = \"flat\"."));
    }
}
