using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Meshes;

namespace PatternKit.Patterns;

/// <summary>The unit that bare lengths of a job are in.</summary>
public enum LengthUnit
{
    /// <summary>Millimetres.</summary>
    Millimetre,

    /// <summary>Inches of 25.4 mm.</summary>
    Inch,
}

/// <summary>What becomes of a feature that removes metal.</summary>
public enum CutKind
{
    /// <summary>The feature adds metal.</summary>
    None,

    /// <summary>The sand leaves it.</summary>
    Drawn,

    /// <summary>A core leaves it.</summary>
    Cored,

    /// <summary>Filled in the casting, cut later.</summary>
    Machined,
}

/// <summary>How a turned feature lies: its loops are a profile, x along the axis and y the distance from it.</summary>
/// <param name="Axis">Which way the axis runs.</param>
/// <param name="At_mm">Where the origin of the profile lies, job coordinates.</param>
public sealed record Turning(TurnedAxis Axis, Vec3 At_mm);

/// <summary>Where a line of text stands on the metal.</summary>
public enum TextSide
{
    /// <summary>On top: as written.</summary>
    Top,

    /// <summary>On the underside: mirrored in plan, so that it reads from below.</summary>
    Underside,
}

/// <summary>What a feature of letters says; its loops are their outlines in plan, mirrored already where they have to be.</summary>
/// <param name="Text">One line.</param>
/// <param name="Size_mm">Height of the capital H.</param>
/// <param name="Side">Where it stands.</param>
public sealed record Lettering(string Text, double Size_mm, TextSide Side);

/// <summary>
/// One feature of the part: closed loops of the plan, even-odd, over a range of heights; or those of a profile turned about an axis.
/// Everything is in millimetres of the finished part, job coordinates.
/// </summary>
/// <param name="Name">The user's name, or one made from its place ("part 3").</param>
/// <param name="Layer">Layer of the outline, null for typed shapes.</param>
/// <param name="Loops">Closed loops, arcs kept.</param>
/// <param name="Low_mm">Lower height.</param>
/// <param name="High_mm">Upper height, above the lower.</param>
/// <param name="Cut">Whether it adds or removes, and how.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
/// <param name="Turned">How a turned feature lies; null for one of upright walls.</param>
/// <param name="Text">What a feature of letters says; null for any other.</param>
public sealed record Feature(
    string Name,
    string? Layer,
    ImmutableArray<PlanPath> Loops,
    double Low_mm,
    double High_mm,
    CutKind Cut,
    string Where,
    Turning? Turned = null,
    Lettering? Text = null)
{
    /// <summary>In a mould of different parts the job that it comes from; empty for the job's own.</summary>
    public string Part { get; init; } = "";
}

/// <summary>A part that is a mesh: the whole part, in millimetres of the finished part and job coordinates, mended and closed.</summary>
/// <param name="Name">The user's name, or "part 1".</param>
/// <param name="File">As the job names it.</param>
/// <param name="Body">The mesh, turned and moved to where it lies.</param>
/// <param name="Lie">The direction of the file that points up; null where it lies as in the file.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record PartMesh(string Name, string File, TriangleMesh Body, Vec3? Lie, string Where)
{
    /// <summary>Faces that the job gives a name.</summary>
    public ImmutableArray<FaceRegion> Faces { get; init; } = [];
}

/// <summary>What the joint is made as.</summary>
public enum JointKind
{
    /// <summary>A plane.</summary>
    Flat,

    /// <summary>Along the parting line of the part, wherever that runs; of meshes.</summary>
    Carved,

    /// <summary>At heights that the job gives to regions of the plan, with drafted steps between them; of meshes.</summary>
    Stepped,
}

/// <summary>A region of the plan and the height of a stepped joint over it, as the part lies.</summary>
/// <param name="Loops">Closed outlines, counted even-odd, mm.</param>
/// <param name="Height_mm">Height of the joint.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record JointLevel(ImmutableArray<PlanPath> Loops, double Height_mm, string Where);

/// <summary>A value that the user gave, or null where a rule is to find it ("auto" or left out).</summary>
public sealed record PartingSettings(double? At_mm = null, bool Match = false, JointKind Joint = JointKind.Flat)
{
    /// <summary>Whether hollows of a mesh behind the joint are left to the other half's sand where they can be; else they are filled.</summary>
    public bool RecessToSand { get; init; }

    /// <summary>Regions over which a stepped joint has heights of its own; everywhere else it is at the height given.</summary>
    public ImmutableArray<JointLevel> Levels { get; init; } = [];

    /// <summary>The half of the pattern that lies in a follow board, where one is wanted for a joint that is not flat; null for none.</summary>
    public Kits.MouldHalf? FollowBoard { get; init; }

    /// <summary>Angle of the steps from the draw, radians; null by rule.</summary>
    public double? StepDraft { get; init; }
}

/// <summary>Where a size holds on a drafted wall; the taper then adds, removes or splits metal.</summary>
public enum SizeHolds
{
    /// <summary>At the far end of the draw: metal is added towards the parting (taper plus).</summary>
    Tip,

    /// <summary>Half way: taper split.</summary>
    Middle,

    /// <summary>At the parting: metal is removed away from it (taper minus).</summary>
    Parting,
}

/// <summary>
/// Stock for machining, mm per surface, by where it sits; Names has features and layers. ByRule names the places, features and
/// layers whose figure a rule is to find; null for none.
/// </summary>
public sealed record StockSettings(
    double Top_mm = 0,
    double Bottom_mm = 0,
    double Sides_mm = 0,
    double Holes_mm = 0,
    ImmutableDictionary<string, double>? Names_mm = null,
    ImmutableSortedSet<string>? ByRule = null)
{
    /// <summary>What other parts of the mould have in place of it, by <see cref="Feature.Part"/>.</summary>
    public ImmutableSortedDictionary<string, StockSettings> OfParts { get; init; } = ImmutableSortedDictionary<string, StockSettings>.Empty;

    /// <summary>The stock of a part of the mould.</summary>
    public StockSettings Of(string part) => OfParts.GetValueOrDefault(part) ?? this;

    /// <summary>That of every part.</summary>
    public IEnumerable<StockSettings> Each => OfParts.Values.Prepend(this);
}

/// <summary>A bow put into the pattern of a long thin part, in the parting plane.</summary>
/// <param name="Rise_mm">Rise at mid length, pattern against the expected warp; towards +y (long in x) or +x (long in y) when positive.</param>
public sealed record CamberSettings(double Rise_mm);

/// <summary>Radii of fillets or of edges.</summary>
/// <param name="All_mm">Everywhere; null by rule, 0 for none.</param>
/// <param name="Names_mm">Along the walls or edges of features and layers.</param>
public sealed record RadiusSettings(double? All_mm, ImmutableDictionary<string, double> Names_mm);

/// <summary>What the pattern is given beyond the part; null means by rule.</summary>
/// <param name="DraftOutside">Radians.</param>
/// <param name="DraftInside">Radians.</param>
/// <param name="Holds">Where sizes hold.</param>
/// <param name="Stock">Machining stock; null when no face is called machined.</param>
/// <param name="Contraction">As a fraction of the casting: pattern = casting × (1 + s); 0 for "none".</param>
/// <param name="MasterContraction">A second contraction for a metal master pattern, multiplied in; 0 for none.</param>
/// <param name="Rapping_mm">How much the cavity grows per side by rapping; the pattern is made smaller by it.</param>
/// <param name="Camber">A bow on request.</param>
/// <param name="Dowels">Whether register holes are wanted: null by rule, false for "none".</param>
/// <param name="DowelDiameter_mm">Diameter of the dowels, null by rule.</param>
/// <param name="Fillet">Radii of fillets, null by rule.</param>
/// <param name="Round">Radii of edges; null when they stay sharp.</param>
/// <param name="DrawScrews">False where the parting faces are to have no pockets for draw screws.</param>
/// <param name="Skin">What is made of the printed skin; null by rule.</param>
/// <param name="Finish_mm">Filler and paint on every face that sand touches; null as the shop has it.</param>
public sealed record PatternSettings(
    double? DraftOutside = null,
    double? DraftInside = null,
    SizeHolds Holds = SizeHolds.Tip,
    StockSettings? Stock = null,
    double? Contraction = null,
    double MasterContraction = 0,
    double? Rapping_mm = null,
    CamberSettings? Camber = null,
    bool? Dowels = null,
    double? DowelDiameter_mm = null,
    RadiusSettings? Fillet = null,
    RadiusSettings? Round = null,
    bool DrawScrews = true,
    PatternSkin? Skin = null,
    double? Finish_mm = null);

/// <summary>What the job says of gating; null means by rule.</summary>
/// <param name="Wanted">False for "none".</param>
/// <param name="Ratio">Sprue base : runner : ingates.</param>
/// <param name="PourTime_s">Time that the mould is to fill in.</param>
/// <param name="Head_mm">Metal level in the basin above the joint.</param>
/// <param name="At_mm">Plan place near which the metal is to enter, job coordinates.</param>
/// <param name="Ingates">How many ingates.</param>
/// <param name="PourTemperature_C">Temperature of the metal as it enters the mould.</param>
public sealed record GatingSettings(
    bool Wanted = true,
    GatingRatio? Ratio = null,
    double? PourTime_s = null,
    double? Head_mm = null,
    Geometry.Numerics.Vec2? At_mm = null,
    int? Ingates = null,
    double? PourTemperature_C = null)
{
    /// <summary>Where the metal enters, in words.</summary>
    public GatedAt Where { get; init; }

    /// <summary>Whether the mould is stood on edge to be poured.</summary>
    public bool OnEdge { get; init; }

    /// <summary>Which way is up then: along an axis of the plan, job coordinates; null by rule.</summary>
    public Geometry.Numerics.Vec2? Up { get; init; }
}

/// <summary>Where the metal enters a casting.</summary>
public enum GatedAt
{
    /// <summary>By rule, or by the place that the job gives.</summary>
    Rule,

    /// <summary>By one end of its long side, that with the higher metal.</summary>
    OneEnd,

    /// <summary>By both ends of its long side.</summary>
    BothEnds,

    /// <summary>By its lowest level.</summary>
    Bottom,
}

/// <summary>In what form patterns stand on plates.</summary>
public enum PlateKind
{
    /// <summary>One plate with the cope's pattern on one face and the drag's on the other; printed as two halves that are joined back to back.</summary>
    Match,

    /// <summary>A plate for each half of the mould that has something in it.</summary>
    Boards,
}

/// <summary>A pin of the flask that goes through the plate.</summary>
/// <param name="At_mm">From the middle of the plate, seen from above.</param>
/// <param name="Diameter_mm">Of the pin.</param>
public sealed record FlaskPin(Geometry.Numerics.Vec2 At_mm, double Diameter_mm);

/// <summary>What the job says of plates; null means by rule.</summary>
/// <param name="Kind">In what form.</param>
/// <param name="Size_mm">Length along x and width along y.</param>
/// <param name="Thickness_mm">Of the whole plate.</param>
/// <param name="Fillet_mm">Radius where something meets the face; 0 for none.</param>
/// <param name="Pins">Of the flask; none when left out.</param>
public sealed record PlateSettings(
    PlateKind Kind, (double Length_mm, double Width_mm)? Size_mm = null, double? Thickness_mm = null, double? Fillet_mm = null, ImmutableArray<FlaskPin> Pins = default);

/// <summary>The part moulded several times in one mould.</summary>
/// <param name="Count">How often.</param>
/// <param name="At_mm">Where the origin of the part goes each time, job coordinates; empty where a rule is to find it.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record ImpressionSettings(int Count, ImmutableArray<Vec2> At_mm, string Where);

/// <summary>Another part of the same metal in the mould of a job: its castings are poured with those of the job, under what the job says of alloy, sand, draft and gating.</summary>
/// <param name="Job">As read; its name tells its features from those of others.</param>
/// <param name="Count">How often.</param>
/// <param name="At_mm">Where the origin of the part goes each time, coordinates of the main job; empty where a rule is to find it.</param>
/// <param name="Turn">About its own origin first, radians.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record OtherPart(Job Job, int Count, ImmutableArray<Vec2> At_mm, double Turn, string Where);

/// <summary>How the views of a drawing stand to each other (ISO 5456-2).</summary>
public enum ViewAngle
{
    /// <summary>The plan below the front.</summary>
    First,

    /// <summary>The plan above the front.</summary>
    Third,
}

/// <summary>What holds a loose piece to the pattern while sand is rammed round it.</summary>
public enum LooseHold
{
    /// <summary>A dovetail that the pattern slides off as it is drawn.</summary>
    Dovetail,

    /// <summary>A pin that is pulled out when the sand is rammed halfway.</summary>
    Pin,
}

/// <summary>A boss or lip that stands out from a side wall and hangs over: it is drawn sideways after the main pattern.</summary>
/// <param name="Name">The user's name.</param>
/// <param name="Loops">Its outline as seen from outside, along its own draw: x to the right, y up, about the place where it stands; even-odd, mm.</param>
/// <param name="Facing">Which way it stands out, in plan; of length 1.</param>
/// <param name="At_mm">Where the origin of its outline lies on the wall of the finished part, job coordinates.</param>
/// <param name="Out_mm">How far its outer face is from there.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record LoosePart(string Name, ImmutableArray<PlanPath> Loops, Vec2 Facing, Vec3 At_mm, double Out_mm, string Where)
{
    /// <summary>What is to hold it; null by rule.</summary>
    public LooseHold? Held { get; init; }

    /// <summary>What it adds to the finished part: a box around it, job coordinates, and its volume, mm³.</summary>
    internal (Box3 Box, double Volume_mm3) Finished
    {
        get
        {
            var region = PlanRegion.EvenOdd(Loops, JobFile.OutlineTolerance.Chord_mm);
            var (seen, facing) = (region.Geometry.EnvelopeInternal, Facing);
            Vec3 Corner(double x, double y, double far) => At_mm + new Vec3((-x * facing.Y) + (far * facing.X), (x * facing.X) + (far * facing.Y), y);
            Vec3[] corners = [.. from x in new[] { seen.MinX, seen.MaxX } from y in new[] { seen.MinY, seen.MaxY } from far in new[] { 0, Out_mm } select Corner(x, y, far)];
            return (corners.Aggregate(Box3.Empty, (all, c) => all.With(c)), region.Area * Out_mm);
        }
    }

    /// <summary>In a mould of different parts the job that it comes from; empty for the job's own.</summary>
    public string Part { get; init; } = "";

    /// <summary>Stock on its outer face; null for that of the sides.</summary>
    public double? Stock_mm { get; init; }
}

/// <summary>What the job says of cores; null means by rule.</summary>
/// <param name="Print_mm">Length of every print.</param>
/// <param name="Clearance_mm">On each face of a print.</param>
public sealed record CoreSettings(double? Print_mm = null, double? Clearance_mm = null)
{
    /// <summary>What of a mesh that lies behind the draw is left to cores; null for nothing.</summary>
    public UndercutChoice? Undercuts { get; init; }

    /// <summary>Whether every core is whole and its box parts in two halves, also where half a core would do.</summary>
    public bool BoxesInHalves { get; init; }
}

/// <summary>Undercuts of a mesh that are left to cores.</summary>
/// <param name="IsAll">All for which a core can be made.</param>
/// <param name="Picks">Else these.</param>
public sealed record UndercutChoice(bool IsAll, ImmutableArray<UndercutPick> Picks);

/// <summary>One of them, by a place in it or by named faces that bound it.</summary>
/// <param name="At_mm">The place, as the part lies; null for faces.</param>
/// <param name="Faces">The faces; null for a place.</param>
/// <param name="Where">"job.toml, line 12", for messages.</param>
public sealed record UndercutPick(Vec3? At_mm, FaceRegion? Faces, string Where);

/// <summary>A dimension that matters: reported on the pattern, as cast and after stock.</summary>
/// <param name="Name">The user's name for it.</param>
/// <param name="Nominal_mm">The size on the finished part.</param>
/// <param name="From_mm">One end, job coordinates.</param>
/// <param name="To_mm">Other end.</param>
public sealed record Measure(string Name, double Nominal_mm, Vec3 From_mm, Vec3 To_mm)
{
    /// <summary>Size of what goes into it or over it; null for none.</summary>
    public double? Mate_mm { get; init; }

    /// <summary>Least clearance between both, over the whole size.</summary>
    public double Clearance_mm { get; init; }
}

/// <summary>A file that went into the job.</summary>
public sealed record InputFile(string Name, long Bytes, string Sha256);

/// <summary>
/// A job as read: all units resolved, outlines loaded, everything typed by the user kept, nothing decided.
/// </summary>
/// <param name="Name">Folder-safe name; the kit is named by it.</param>
/// <param name="Title">What the sheet is headed with.</param>
/// <param name="Unit">Unit of bare lengths, and of the sheet.</param>
/// <param name="Alloy">A key of the alloy table.</param>
/// <param name="Sand">A key of the sand table.</param>
/// <param name="Features">In the order of the file.</param>
/// <param name="Parting">Parting settings.</param>
/// <param name="Pattern">Pattern settings.</param>
/// <param name="Measures">Dimensions to report.</param>
/// <param name="Inputs">Files read, the job file first.</param>
/// <param name="Notes">Repairs and omissions while reading.</param>
/// <param name="Acknowledged">Codes of findings whose danger the user has read and is equipped for; null for none.</param>
/// <param name="Gating">Gating settings; null by rule.</param>
public sealed record Job(
    string Name,
    string Title,
    LengthUnit Unit,
    string Alloy,
    string Sand,
    ImmutableArray<Feature> Features,
    PartingSettings Parting,
    PatternSettings Pattern,
    ImmutableArray<Measure> Measures,
    ImmutableArray<InputFile> Inputs,
    ImmutableArray<ReadNote> Notes,
    ImmutableSortedSet<string>? Acknowledged = null,
    GatingSettings? Gating = null)
{
    /// <summary>The part where it is a mesh; there are no features then.</summary>
    public PartMesh? Mesh { get; init; }

    /// <summary>The plates that the patterns stand on; null for loose patterns.</summary>
    public PlateSettings? Plate { get; init; }

    /// <summary>What is drawn sideways after the main pattern.</summary>
    public ImmutableArray<LoosePart> Loose { get; init; } = [];

    /// <summary>How often the part is in the mould, and where; null for once.</summary>
    public ImpressionSettings? Impressions { get; init; }

    /// <summary>Other parts that are moulded and poured with it.</summary>
    public ImmutableArray<OtherPart> Others { get; init; } = [];

    /// <summary>What is asked of cores; null by rule.</summary>
    public CoreSettings? Cores { get; init; }

    /// <summary>Whether feeders are made where sections ask for them.</summary>
    public bool Feeders { get; init; } = true;

    /// <summary>Projection of the drawings.</summary>
    public ViewAngle Projection { get; init; }

    /// <summary>Whether a coupon to try sand, skin and taper on is made.</summary>
    public bool Coupon { get; init; }

    /// <summary>Whether the part itself is to be the pattern.</summary>
    public bool Original { get; init; }
}
