using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Cores.Hollows;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Meshes;

/// <summary>
/// The way of a part that is a mesh up to its halves, in the same values as that of outlines. Its maps are empty, since it is no stack of prisms; what
/// would be asked of them is asked of the mesh.
/// </summary>
internal static class MeshCasting
{
    /// <summary>Default for the distance of facets from the drafted surface, mm; half of what a printed layer is rough by at the least.</summary>
    public const double Tolerance_mm = 0.02;

    /// <summary>Prints reach no farther than so many times the part.</summary>
    private const double RoomForPrints = 4;

    private static readonly ColumnMap NoMap = new([]);

    /// <summary>The finished part.</summary>
    /// <exception cref="InputException">It has no size.</exception>
    public static PartBody Part(PartMesh mesh)
    {
        var (box, volume) = (mesh.Body.Bounds(), mesh.Body.Volume());
        if (!(volume > 0)) throw new InputException(mesh.Where, "", $"{mesh.File} holds no metal: its volume is {volume.ToString("0.###", CultureInfo.InvariantCulture)} mm³.");
        return new(NoMap, volume, box, Lattice.StepFor(Farthest(box)), Tolerance_mm, []);
    }

    /// <summary>Allowances as far as meshes can have them: nothing is taken off against rapping, and all walls have one draft.</summary>
    public static Allowances Limited(Allowances allowances) => allowances with
    {
        Rapping_mm = new(0, "", "nothing is taken off a mesh in this release: rap gently, or expect the cavity to be wider"),
        DraftInside = allowances.DraftOutside with { Rule = "that of outside walls: a mesh has one draft for all" },
    };

    /// <summary>The casting at pattern size.</summary>
    /// <param name="part">The finished part.</param>
    /// <param name="stocked">It with stock on it.</param>
    /// <param name="allowances">Decided.</param>
    /// <param name="job">Steps of its joint, and prints of its cores, are to be on the lattice, too.</param>
    public static CastingBody Casting(PartBody part, StockedMesh stocked, Allowances allowances, Job job)
    {
        var (scale, box, raw_mm3) = (allowances.Scale, stocked.Mesh.Body.Bounds(), part.Volume_mm3 + stocked.Added_mm3);
        var reach_mm = (job.Cores?.Undercuts is null ? 1 : RoomForPrints) * scale * SteppedJoint.Corners(job.Parting).SelectMany(p => new[] { Math.Abs(p.X), Math.Abs(p.Y) }).Append(Math.Max(Farthest(box), box.Size.Z)).Max();
        return new(
            NoMap, Lattice.For(1.2 * reach_mm), new(scale), new(part.Volume_mm3, 0, stocked.Added_mm3, raw_mm3 * (Math.Pow(scale, 3) - 1), 0, 0, 0, 0, 0),
            raw_mm3, new([], []), [], stocked.Findings);
    }

    /// <summary>How the part lies with its joint at the height that the job gives, or else where least must be filled, flat-backed if that costs little; where undercuts are left to cores, they count.</summary>
    /// <exception cref="InputException">The height lies outside the part.</exception>
    public static MeshLie Lie(Job job, PartMesh mesh, PartBody part, FoundryTables tables)
    {
        var box = mesh.Body.Bounds();
        var (low, high) = (box.Low.Z, box.High.Z);
        if (job.Parting.At_mm is { } given && !(given >= low - part.Step && given <= high + part.Step))
            throw new InputException(PartBody.Source(job), "[parting] at", string.Create(
                CultureInfo.InvariantCulture, $"z = {given:0.###} mm lies outside the part, which reaches from {low:0.###} to {high:0.###} mm; give a height in between, or \"auto\"."));
        double? at = job.Parting.At_mm is { } z ? Math.Clamp(z, low, high) : null;
        var lie = At(at);
        return at is null && job.Parting.Joint == JointKind.Flat ? MeshHollows.WithJoint(job, mesh, lie, height => At(height)) : lie;

        MeshLie At(double? height) => MeshLie.Of(mesh.Body, new(0, 0, 1), height, job.Pattern.Skin ?? DraftRule.UsualSkin, tables.Lying, tables.Draft);
    }

    /// <summary>Where it parts, and why.</summary>
    /// <param name="job">The job.</param>
    /// <param name="lie">How it lies.</param>
    /// <param name="casting">The casting.</param>
    /// <param name="carved">Its joint where that is not flat.</param>
    /// <param name="left">Hollows left to the sand.</param>
    /// <param name="hollows">Those left to cores.</param>
    public static PartingChoice Choice(Job job, MeshLie lie, CastingBody casting, CarvedJoint? carved, LeftRecesses left, MeshHollows hollows)
    {
        var scale = casting.Frame.Scale;
        var isLeast = lie.Joint_mm >= lie.Least.Low && lie.Joint_mm <= lie.Least.High;
        var (from, to) = isLeast ? (lie.Least.Low, lie.Least.High) : (lie.Joint_mm, lie.Joint_mm);
        var added_mm3 = (lie.Added_mm3 - lie.Caught_mm3 - left.Volume_mm3()) * Math.Pow(scale, 3);
        var reason = carved?.Steps is { } steps ? string.Create(CultureInfo.InvariantCulture, $"stepped as the job asks, at z {string.Join(", ", steps.Levels_mm.Select(z => z.ToString("0.###", CultureInfo.InvariantCulture)))} mm with steps of {steps.Draft.Value * 180 / Math.PI:0.#}° from the draw; the height is that of the joint at the flask")
            : carved is not null ? "carved along the parting line, as flat as the part lets it be; the height is that of the joint at the flask"
            : job.Parting.Joint == JointKind.Carved ? "level, since a flat joint parts as well as a carved one all along the parting line"
            : job.Parting.At_mm is not null ? "given in the job"
            : lie.IsForCores ? "where cores can be set into what lies behind the draw"
            : lie.FlatBack_mm2 > 0 ? "at an end of the part, where it has a flat back and hardly more must be filled than at best"
            : isLeast ? "where least metal must be added, in the middle of the heights that cost the same" : "at an end of the part, where hardly more must be filled than at best";
        var cored = hollows.Volume_mm3 > 0 ? string.Create(CultureInfo.InvariantCulture, $", and {hollows.Volume_mm3 * Math.Pow(scale, 3):0.#} mm³ behind the draw left to cores") : "";
        return new(
            Rounded(lie.Joint_mm), casting.Lattice.Snap(scale * lie.Joint_mm), Rounded(from), Rounded(to), added_mm3, lie.Caught_mm3 * Math.Pow(scale, 3), [],
            string.Create(CultureInfo.InvariantCulture, $"{reason}; {added_mm3:0.#} mm³ of metal added{cored}{(carved is null ? string.Create(CultureInfo.InvariantCulture, $", the same from z = {from:0.###} to {to:0.###} mm") : "")}"), NoMap, []);

        static double Rounded(double z) => Math.Round(z, 4) + 0.0;
    }

    /// <summary>The joint with nothing left behind it but what the sand can be left.</summary>
    public static JointPlan Plan(MeshLie lie, PartingChoice choice, LeftRecesses left, MeshHollows hollows) =>
        new(new([], choice.PatternHeight_mm), choice.Trapped_mm3, choice.Added_mm3, [.. MeshFindings.Filled(lie, left, hollows)]);

    /// <summary>A half, drafted.</summary>
    /// <param name="mesh">The part with its stock.</param>
    /// <param name="lie">How it lies.</param>
    /// <param name="casting">At pattern size.</param>
    /// <param name="choice">The joint.</param>
    /// <param name="carved">The joint where it is not flat.</param>
    /// <param name="left">Hollows left to the sand.</param>
    /// <param name="half">Which.</param>
    /// <param name="draft">Of its walls.</param>
    /// <param name="tolerance">Of its surfaces.</param>
    /// <param name="cores">Cores whose prints are joined to it; a flat joint has them alone.</param>
    public static HalfMould Half(
        PartMesh mesh, MeshLie lie, CastingBody casting, PartingChoice choice, CarvedJoint? carved, LeftRecesses left, MouldHalf half, DraftAngles draft, MeshingTolerance tolerance, ImmutableArray<HollowCore> cores = default)
    {
        var (scale, joint) = (casting.Frame.Scale, choice.PatternHeight_mm);
        var filled_mm3 = (lie.Part_mm3 + lie.Added_mm3) * Math.Pow(scale, 3);
        var body = DrawnUpward(mesh, scale, half);
        var undrafted_mm3 = filled_mm3 * (half == MouldHalf.Cope ? lie.ShareAbove : 1 - lie.ShareAbove);
        if (carved is not null) return HalfMould.OfMesh(OnJoint(mesh, scale, carved, half, draft, casting.Lattice, tolerance), carved.Shadow, undrafted_mm3, draft, casting.Lattice, tolerance);

        var side = half == MouldHalf.Cope ? HiddenSide.FromAbove : HiddenSide.FromBelow;
        var left_mm3 = left.Volume_mm3(side) * Math.Pow(scale, 3);
        var own = half == MouldHalf.Cope ? joint : -joint;
        var hollows = left_mm3 == 0 ? null
            : MeshTerrain.OfHollows(body.MirroredBy(v => v with { Z = -v.Z }), -own, left.Plan(side, scale), draft.Outside, casting.Lattice, tolerance.Error_mm, draft.Inset);
        if (cores.IsDefaultOrEmpty) return HalfMould.OfMesh(Drafted(body, own), hollows, undrafted_mm3 - left_mm3, draft, casting.Lattice, tolerance);
        var with = new GroundSoup();
        with.Add(body);
        with.Add(HollowSeats.Ground(cores, half).Mapped(v => v with { Z = v.Z + own }));
        return HalfMould.OfMesh(Drafted(with.Mesh(), own), hollows, undrafted_mm3 - left_mm3 + HollowSeats.Added_mm3(cores, half), draft, casting.Lattice, tolerance);

        DraftedTerrain Drafted(TriangleMesh all, double ground) => MeshTerrain.Of(all, ground, draft.Outside, casting.Lattice, tolerance.Error_mm, draft.Inset);
    }

    /// <summary>What of a mesh lies on one side of a joint that is not flat, drafted, in the frame in which its draw points up.</summary>
    /// <param name="mesh">The mesh, as it lies.</param>
    /// <param name="scale">Pattern size over its size.</param>
    /// <param name="carved">The joint.</param>
    /// <param name="half">Which side.</param>
    /// <param name="draft">Of its walls.</param>
    /// <param name="lattice">Where its corners are.</param>
    /// <param name="tolerance">Of its surfaces.</param>
    public static TerrainOverGround OnJoint(PartMesh mesh, double scale, CarvedJoint carved, MouldHalf half, DraftAngles draft, Lattice lattice, MeshingTolerance tolerance)
    {
        var ground = half == MouldHalf.Cope ? carved.Surface : carved.Surface.Negated();
        return new(MeshTerrain.Of(DrawnUpward(mesh, scale, half), lattice.Snap(ground.Range.Low - 1), draft.Outside, lattice, tolerance.Error_mm, draft.Inset), ground);
    }

    private static TriangleMesh DrawnUpward(PartMesh mesh, double scale, MouldHalf half) =>
        half == MouldHalf.Cope ? mesh.Body.Mapped(v => scale * v) : mesh.Body.MirroredBy(v => new(scale * v.X, scale * v.Y, -scale * v.Z));

    private static double Farthest(Box3 box) => new[] { box.Low.X, box.Low.Y, box.Low.Z, box.High.X, box.High.Y, box.High.Z }.Max(Math.Abs);
}
