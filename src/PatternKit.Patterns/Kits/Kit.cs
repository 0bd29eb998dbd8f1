using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Boards;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Coupons;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Loose;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Pieces;
using PatternKit.Patterns.Plates;
using PatternKit.Patterns.Pouring;
using PatternKit.Patterns.Printing;

namespace PatternKit.Patterns.Kits;

/// <summary>Which half of the mould a body makes.</summary>
public enum MouldHalf
{
    /// <summary>Above the joint.</summary>
    Cope,

    /// <summary>Below the joint.</summary>
    Drag,
}

/// <summary>A printable body.</summary>
/// <param name="Name">"cope", "drag", or the name of a gating bar.</param>
/// <param name="Half">Which half of the mould it lies in.</param>
/// <param name="InMould">In its place in the mould: pattern millimetres about the job's origin, z up.</param>
/// <param name="AsPrinted">The same body as it is printed: flat face on z = 0, draw upward.</param>
/// <param name="ToPrinted">Rows of the rigid motion from mould to print: x' = r · (x, y, z, 1).</param>
/// <param name="LeastDraft">The least angle from the vertical of any facet that the sand touches, radians, measured on the facets as written.</param>
/// <param name="LeastDraftAt">A place of that facet, pattern millimetres in the mould; null where no wall touches sand.</param>
public sealed record KitBody(
    string Name,
    MouldHalf Half,
    TriangleMesh InMould,
    TriangleMesh AsPrinted,
    ImmutableArray<ImmutableArray<double>> ToPrinted,
    double LeastDraft,
    Vec3? LeastDraftAt = null)
{
    /// <summary>The STL file that it is written to.</summary>
    public string FileName => Name + ".stl";

    /// <summary>Where a place of the mould is on the body as it is printed.</summary>
    public Vec3 Printed(Vec3 inMould) => Turned(inMould) + new Vec3(ToPrinted[0][3], ToPrinted[1][3], ToPrinted[2][3]);

    /// <summary>Which way a direction in the mould goes on the body as it is printed.</summary>
    public Vec3 Turned(Vec3 inMould)
    {
        var rows = ToPrinted;
        return new(Row(0), Row(1), Row(2));

        double Row(int i) => (rows[i][0] * inMould.X) + (rows[i][1] * inMould.Y) + (rows[i][2] * inMould.Z);
    }
}

/// <summary>A register hole for a metal dowel, in both halves at one place.</summary>
/// <param name="At_mm">Plan place, pattern millimetres.</param>
/// <param name="Diameter_mm">Nominal diameter of the dowel.</param>
/// <param name="Hole_mm">Diameter of the printed hole.</param>
/// <param name="Depth_mm">Depth in each half.</param>
public sealed record Dowel(Vec2 At_mm, double Diameter_mm, double Hole_mm, double Depth_mm);

/// <summary>How the volume of the pattern comes about; every term is computed by itself, mm³.</summary>
/// <param name="Part_mm3">The finished part.</param>
/// <param name="Stock_mm3">Machining stock.</param>
/// <param name="Filled_mm3">Cuts and hollows that the pattern fills: machined and cored cuts, what cannot be drawn.</param>
/// <param name="Contraction_mm3">Growth by contraction.</param>
/// <param name="Rapping_mm3">Taken off against rapping (negative) and added by camber.</param>
/// <param name="Draft_mm3">Added (or taken off) by taper.</param>
/// <param name="Fillet_mm3">Added by fillets.</param>
/// <param name="Round_mm3">Taken off by rounding.</param>
/// <param name="Pockets_mm3">Taken off by dowel holes, draw-screw pockets and the marks on the parting faces (negative).</param>
/// <param name="Pattern_mm3">The bodies, measured on the meshes.</param>
public sealed record VolumeBridge(
    double Part_mm3,
    double Stock_mm3,
    double Filled_mm3,
    double Contraction_mm3,
    double Rapping_mm3,
    double Draft_mm3,
    double Fillet_mm3,
    double Round_mm3,
    double Pockets_mm3,
    double Pattern_mm3)
{
    /// <summary>Added for core prints, before draft.</summary>
    public double Prints_mm3 { get; init; }

    /// <summary>Added by what stands out of loose pieces, with their contraction, stock and draft.</summary>
    public double Loose_mm3 { get; init; }

    /// <summary>With the loose pieces: what stands out of them is pattern, and what their seats leave empty is a pocket.</summary>
    internal VolumeBridge With(ImmutableArray<KitLoosePiece> loose) => this with
    {
        Loose_mm3 = loose.Sum(l => l.Metal.AsPrinted.Volume()),
        Pockets_mm3 = Pockets_mm3 - loose.Sum(l => l.Gap_mm3),
        Pattern_mm3 = Pattern_mm3 + loose.Sum(l => l.Metal.AsPrinted.Volume() - l.Gap_mm3),
    };

    /// <summary>Sum of all terms before the pattern, mm³.</summary>
    public double Sum_mm3 =>
        Part_mm3 + Stock_mm3 + Filled_mm3 + Contraction_mm3 + Rapping_mm3 + Prints_mm3 + Loose_mm3 + Draft_mm3 + Fillet_mm3 + Round_mm3 + Pockets_mm3;

    /// <summary>How far the sum misses the pattern, as a fraction of it.</summary>
    public double Gap => (Sum_mm3 - Pattern_mm3) / Pattern_mm3;
}

/// <summary>A decision with the rule and the source behind it, for the sheet and kit.json.</summary>
/// <param name="Key">Stable key with the unit in it, such as <c>draft_outside_deg</c>.</param>
/// <param name="Label">For people: "Draft outside".</param>
/// <param name="Value">The number in the unit of the key.</param>
/// <param name="Unit">"mm", "deg", "%" …</param>
/// <param name="Rule">How it was found: "given in the job", or the rule.</param>
/// <param name="Source">Where the rule comes from; empty when given.</param>
public sealed record Decision(string Key, string Label, double Value, string Unit, string Rule, string Source);

/// <summary>A dimension of the job on its way from the part to the pattern.</summary>
/// <param name="Name">The user's name.</param>
/// <param name="Nominal_mm">On the finished part.</param>
/// <param name="Pattern_mm">Between the surfaces of the pattern, measured on its sections; null where no surface was met.</param>
/// <param name="AsCast_mm">Expected on the casting before machining; null with it.</param>
/// <param name="Tolerance_mm">Half width of the casting tolerance, ±.</param>
/// <param name="Source">Of the tolerance.</param>
public sealed record MeasureResult(string Name, double Nominal_mm, double? Pattern_mm, double? AsCast_mm, double Tolerance_mm, string Source)
{
    /// <summary>Half width of the spread to expect in this shop, with its source; null where it is not reckoned.</summary>
    public Sourced<double>? Spread_mm { get; init; }

    /// <summary>What rapping adds to the size in the sand, both walls together: below 0 across a hole.</summary>
    public double Rapping_mm { get; init; }

    /// <summary>Metal beyond the nominal size, at both ends together, that a file or a tool takes off; below 0 where some is missing. Null where the ends look one way, as those of a step do.</summary>
    public double? Left_mm { get; init; }

    /// <summary>Of that, stock put on.</summary>
    public double Stock_mm { get; init; }

    /// <summary>Whether metal lies between its ends, as of an outer size, or beyond both, as of a hole; null where they look one way, or were not met.</summary>
    public bool? IsOuter { get; init; }

    /// <summary>Least size of the casting within its tolerance; null where none is expected.</summary>
    public double? Least_mm => AsCast_mm - Tolerance_mm;

    /// <summary>Largest size of the casting within its tolerance; null where none is expected.</summary>
    public double? Most_mm => AsCast_mm + Tolerance_mm;

    /// <summary>How it goes with its mate; null where the job names none or none can be told.</summary>
    public MateFit? Fit { get; init; }
}

/// <summary>A dimension and what goes into it or over it.</summary>
/// <param name="Mate_mm">Size of the mate.</param>
/// <param name="Asked_mm">Least clearance asked for.</param>
/// <param name="IsHole">Whether the mate goes in; else it goes over.</param>
/// <param name="AsCast_mm">Clearance to expect without machining; below 0 it does not go.</param>
/// <param name="Machined_mm">Clearance at the nominal size.</param>
public sealed record MateFit(double Mate_mm, double Asked_mm, bool IsHole, double AsCast_mm, double Machined_mm);

/// <summary>How the part lies and where it parts.</summary>
/// <param name="Height_mm">Height of the joint in job z, unscaled.</param>
/// <param name="PatternHeight_mm">The same in pattern millimetres.</param>
/// <param name="Low_mm">Lower end of the interval of equal cost, job z.</param>
/// <param name="High_mm">Upper end.</param>
/// <param name="Ledge_mm">Largest width by which the footprint of one half overhangs the other at the joint.</param>
/// <param name="Cost_mm3">Metal added before draft by this height.</param>
/// <param name="Reason">Why this height.</param>
public sealed record PartingSummary(
    double Height_mm, double PatternHeight_mm, double Low_mm, double High_mm, double Ledge_mm, double Cost_mm3, string Reason)
{
    /// <summary>The joint where it is not flat; the height is then that around it.</summary>
    public CarvedJoint? Carved { get; init; }
}

/// <summary>Weights.</summary>
/// <param name="Density_kg_m3">Density of the alloy.</param>
/// <param name="DensitySource">Its source.</param>
/// <param name="Casting_kg">The raw casting as it comes out of the sand; of several in one mould, all of them.</param>
/// <param name="Pour_kg">Metal to melt: the casting, and the gating where there is one.</param>
/// <param name="PourRule">What the pour weight holds.</param>
public sealed record MetalSummary(double Density_kg_m3, string DensitySource, double Casting_kg, double Pour_kg, string PourRule);

/// <summary>Plan figures for the drawings, pattern millimetres.</summary>
/// <param name="CopeOutline">Where the cope half stands on the joint, recesses from below left out; empty without one.</param>
/// <param name="DragOutline">The same of the drag half.</param>
/// <param name="Flats">The flat grounds of both halves with their heights, for plan views: (half, height above or below the joint, region).</param>
/// <param name="Marks">The lettering on the parting faces, in plan as seen from above.</param>
public sealed record PlanFigures(
    PlanRegion CopeOutline,
    PlanRegion DragOutline,
    ImmutableArray<(MouldHalf Half, double Height_mm, PlanRegion Region)> Flats,
    ImmutableArray<(MouldHalf Half, string Text, PlanRegion Region)> Marks);

/// <summary>Everything that a job comes to; files are made from it and from nothing else.</summary>
/// <param name="Job">The job as read.</param>
/// <param name="AlloyTitle">Full name of the alloy.</param>
/// <param name="PartVolume_mm3">Of the finished part.</param>
/// <param name="PartBox_mm">Box of the finished part, job coordinates.</param>
/// <param name="Scale">Pattern size over casting size.</param>
/// <param name="Decisions">All values with rule and source, in the order of the sheet.</param>
/// <param name="Parting">The joint.</param>
/// <param name="Bridge">The volumes.</param>
/// <param name="Bodies">The pattern halves; an empty half has none. They are not printed where a plate carries them.</param>
/// <param name="Dowels">Register holes.</param>
/// <param name="Measures">The dimensions that matter.</param>
/// <param name="Metal">Weights.</param>
/// <param name="Plan">For drawings.</param>
/// <param name="Findings">What the user should know.</param>
/// <param name="Cautions">Safety texts that go onto the sheet.</param>
/// <param name="Gating">Reckoning and bars; null where the job wants none.</param>
public sealed record Kit(
    Job Job,
    string AlloyTitle,
    double PartVolume_mm3,
    Box3 PartBox_mm,
    double Scale,
    ImmutableArray<Decision> Decisions,
    PartingSummary Parting,
    VolumeBridge Bridge,
    ImmutableArray<KitBody> Bodies,
    ImmutableArray<Dowel> Dowels,
    ImmutableArray<MeasureResult> Measures,
    MetalSummary Metal,
    PlanFigures Plan,
    ImmutableArray<Finding> Findings,
    ImmutableArray<Caution> Cautions,
    GatingPlan? Gating = null)
{
    /// <summary>Version of the layout of kit.json.</summary>
    public const int LayoutVersion = 1;

    /// <summary>How the mould fills and the casting freezes; null without gating, or where the heat of the metal is not known.</summary>
    public FillingPlan? Filling { get; init; }

    /// <summary>What other ways of pouring are reckoned from; null without gating.</summary>
    internal PouringStage? Stage { get; init; }

    /// <summary>How the casting is fed as it freezes; null where its order of freezing or the shrinkage of the metal is not known.</summary>
    public FeedingPlan? Feeding { get; init; }

    /// <summary>What is in a mould of several castings, the job's own part first; empty for one that lies as the job has it.</summary>
    public ImmutableArray<CastPart> CastParts { get; init; } = [];

    /// <summary>Where the part's origin lies for each casting of the mould, job coordinates, part by part; empty for one that lies as the job has it.</summary>
    public ImmutableArray<Vec2> Impressions_mm => [.. CastParts.SelectMany(p => p.At_mm)];

    /// <summary>The least draft that was asked for, radians.</summary>
    public double DraftAsked { get; init; }

    /// <summary>How many castings come out of the mould.</summary>
    public int CastingCount => Math.Max(1, Impressions_mm.Length);

    /// <summary>Whether they are of different parts.</summary>
    public bool IsMixed => CastParts.Length > 1;

    /// <summary>The castings in words: "casting", "3 castings of 0.42 kg", "1 rod-guide of 5.1 kg and 2 gland-flange of 0.6 kg".</summary>
    /// <param name="weight">How a weight is written.</param>
    public string CastingsInWords(Func<double, string> weight) => CastingCount == 1 ? "casting"
        : !IsMixed ? string.Create(CultureInfo.InvariantCulture, $"{CastingCount} castings of {weight(EachCasting_kg)}")
        : string.Join(" and ", CastParts.Select(p => string.Create(CultureInfo.InvariantCulture, $"{p.At_mm.Length} {p.Name} of {weight(p.Each_kg)}")));

    /// <summary>Weight of one of them; the mean where they are of different parts.</summary>
    public double EachCasting_kg => Metal.Casting_kg / CastingCount;

    /// <summary>How each half is taken hold of, in the order of the bodies.</summary>
    public ImmutableArray<Handling> Handling { get; init; } = [];

    /// <summary>The plates that the patterns stand on; null for loose patterns.</summary>
    public KitPlate? Plate { get; init; }

    /// <summary>The board on which one half of the mould is rammed first; null for a flat joint, or where none is wanted.</summary>
    public KitFollowBoard? FollowBoard { get; init; }

    /// <summary>The cores and their boxes.</summary>
    public ImmutableArray<KitCore> Cores { get; init; } = [];

    /// <summary>What is drawn sideways after the main pattern, in the order in which it is drawn.</summary>
    public ImmutableArray<KitLoosePiece> Loose { get; init; } = [];

    /// <summary>What sand, skin and taper are tried on before the pattern is printed; null where the job wants none.</summary>
    public KitCoupon? Coupon { get; init; }

    /// <summary>What is needed between pattern and pour; null where there is no metal.</summary>
    public PourPlan? Pouring { get; init; }

    /// <summary>What of the bodies is taken off in the files; null where files have them as they are.</summary>
    public KitInset? Inset { get; init; }

    /// <summary>Loose halves that are printed in pieces.</summary>
    public ImmutableArray<CutBody> CutHalves { get; init; } = [];

    /// <summary>Halves or plates that are printed in pieces.</summary>
    public ImmutableArray<CutBody> CutPattern => Plate?.Cut ?? CutHalves;

    /// <summary>Everything that is printed in pieces, core boxes included.</summary>
    public ImmutableArray<CutBody> Cut => [.. CutPattern, .. FollowBoard?.Cut is { } board ? [board] : Array.Empty<CutBody>(), .. Cores.SelectMany(c => c.Box.Cut)];

    /// <summary>What is printed of the pattern: its halves, or the plates that they stand on, in pieces where the bed asks for it.</summary>
    public ImmutableArray<KitBody> Printed => [.. PlateBuilder.ToPrint(Bodies, CutHalves, Plate, null)];

    /// <summary>Every body: the pattern, the gating bars, those left out that stand on a plate, loose pieces, the follow board, then the cores with their boxes, the coupon last.</summary>
    public IEnumerable<KitBody> AllBodies => PlateBuilder.ToPrint(Bodies, CutHalves, Plate, Gating).Concat(Loose.Select(l => l.Body)).Concat(FollowBoard?.Printed ?? []).Concat(Cores.SelectMany(c => c.Bodies)).Concat(Coupon?.Bodies ?? []);

    /// <summary>A body as its file has it, and the same in its place in the mould.</summary>
    public (TriangleMesh AsPrinted, TriangleMesh InMould) InFile(KitBody body) => Inset?.Files.GetValueOrDefault(body.Name) is { } file ? (file.AsPrinted, file.InMould) : (body.AsPrinted, body.InMould);

    /// <summary>Whether a finding forbids the kit.</summary>
    public bool HasStop => Findings.Any(f => f.Severity == Severity.Stop);
}
