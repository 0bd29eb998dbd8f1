using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Parting;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>
/// Makes the joint that stands at the heights that a job gives to regions of the plan. Which slope its steps may have follows from the walls: what of the part lies below the
/// joint shows nowhere above it as long as the joint is nowhere steeper than they are.
/// </summary>
internal static class SteppedJoint
{
    private const double DegreesPerRadian = 180 / Math.PI;

    /// <summary>The joint is told apart from the level around so far beyond the drafted walls at least, mm.</summary>
    private const double Margin_mm = 5;

    /// <summary>The joint.</summary>
    /// <param name="job">The job, its levels in places of the part as it lies.</param>
    /// <param name="shadow">The part in plan, pattern size.</param>
    /// <param name="box">Of the part, unscaled.</param>
    /// <param name="casting">The casting.</param>
    /// <param name="draft">Of all walls, radians.</param>
    /// <param name="tolerance_mm">Of surfaces.</param>
    /// <param name="limits">Slopes of steps.</param>
    /// <exception cref="InputException">A region lies beside the part or far out, is above or below it, or is too narrow for its steps; or the steps are too steep.</exception>
    public static CarvedJoint Of(Job job, PlanRegion shadow, Box3 box, CastingBody casting, double draft, double tolerance_mm, StepLimits limits)
    {
        var (scale, lattice) = (casting.Frame.Scale, casting.Lattice);
        var angle = Angle(job, draft, limits);
        ImmutableArray<Plateau> patches = [.. job.Parting.Levels.Select((l, i) => Patch(l, i, shadow, box, scale, lattice))];
        var reach = new Vec2(1, 1) * (scale * box.Size.Z * Math.Tan(draft));
        var surface = SteppedGround.Of(
            patches, scale * job.Parting.At_mm!.Value, angle.Value, (scale * box.Low.Plan) - reach, (scale * box.High.Plan) + reach, Margin_mm, lattice, tolerance_mm);
        var level = surface.Facets.Where(f => f.A.Z == f.B.Z && f.B.Z == f.C.Z).ToLookup(f => f.A.Z, f => 1 / 3.0 * (f.A + f.B + f.C).Plan);
        for (var i = 0; i < patches.Length; i++)
        {
            if (level[lattice.Snap(patches[i].Height)].Any(patches[i].Region.Contains)) continue;
            throw new InputException(job.Parting.Levels[i].Where, "levels", Invariant(
                $"region {i + 1} is too narrow for its steps, which fall into it from higher ground at {angle.Value * DegreesPerRadian:0.#}° from the draw: the joint never comes down to z = {job.Parting.Levels[i].Height_mm:0.###} mm. Draw it larger, or give less step_draft."));
        }

        var line = shadow.Rings().Select(surface.Raised).ToImmutableArray();
        return new(line, surface, shadow, line.Max(Steepest))
        {
            Steps = new(angle, [.. job.Parting.Levels.Select(l => l.Height_mm).Append(job.Parting.At_mm.Value).Distinct().Order()]),
        };
    }

    /// <summary>Places of the levels in plan, unscaled: the joint reaches there.</summary>
    public static IEnumerable<Vec2> Corners(PartingSettings parting) => parting.Levels.SelectMany(l => l.Loops).SelectMany(l => l.Flatten(OutlineTolerance.Chord_mm));

    private static Sourced<double> Angle(Job job, double draft, StepLimits limits)
    {
        var least = draft + (limits.OverWalls_deg / DegreesPerRadian);
        if (job.Parting.StepDraft is not { } given)
        {
            return new(Math.Max(limits.Draft_deg / DegreesPerRadian, least), limits.From.Text, Invariant($"{limits.Draft_deg:0.#}° from the draw, and {limits.OverWalls_deg:0.#}° more than the walls at least"));
        }

        return given >= least - 1e-9 ? new(given, "", Allowances.Given) : throw new InputException(job.Parting.Levels[0].Where, "[parting] step_draft", Invariant(
            $"steps of {given * DegreesPerRadian:0.##}° from the draw are too steep beside walls of {draft * DegreesPerRadian:0.##}°: what lies below the joint would show above it. Write {Math.Ceiling(least * DegreesPerRadian * 10) / 10:0.#} or more, or leave it out."));
    }

    private static Plateau Patch(JointLevel level, int index, PlanRegion shadow, Box3 box, double scale, Lattice lattice)
    {
        InputException Refused(string why) => new(level.Where, "levels", $"region {index + 1} {why}");
        var points = level.Loops.SelectMany(l => l.Flatten(OutlineTolerance.Chord_mm)).ToArray();
        // As far out again as the part is large: more than any flask gives it.
        var most = Math.Max(box.Size.X, Math.Max(box.Size.Y, box.Size.Z));
        if (points.Where(p => p.X < box.Low.X - most || p.Y < box.Low.Y - most || p.X > box.High.X + most || p.Y > box.High.Y + most).Select(p => (Vec2?)p).FirstOrDefault() is { } far)
            throw Refused(Invariant($"reaches to ({far.X:0.#}, {far.Y:0.#}) mm, farther from the part than the part is large; end it at the flask. The part lies between ({box.Low.X:0.#}, {box.Low.Y:0.#}) and ({box.High.X:0.#}, {box.High.Y:0.#}) mm."));
        if (!(level.Height_mm >= box.Low.Z && level.Height_mm <= box.High.Z))
            throw Refused(Invariant($"has z = {level.Height_mm:0.###} mm, outside the part, which reaches from {box.Low.Z:0.###} to {box.High.Z:0.###} mm; give a height in between."));
        var region = PlanRegion.UnionOn(lattice, [PlanRegion.EvenOdd(level.Loops.Select(l => scale == 1 ? l : l.Transformed(scale, 0, default)), OutlineTolerance.Chord_mm)]);
        return shadow.Intersection(region).Area > LoopRules.SmallestArea_mm2 ? new(region, scale * level.Height_mm)
            : throw Refused(Invariant($"lies beside the part, which lies between ({box.Low.X:0.#}, {box.Low.Y:0.#}) and ({box.High.X:0.#}, {box.High.Y:0.#}) mm; move it over the part, or take it out."));
    }

    private static double Steepest(ImmutableArray<Vec3> line) => line.Select((v, i) => line[(i + 1) % line.Length] - v).Max(d => Math.Abs(d.Z) / Math.Max(d.Plan.Length, 1e-9));
}
