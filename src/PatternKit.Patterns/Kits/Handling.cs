using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Kits;

/// <summary>A hole in the joint face of one half for a threaded insert.</summary>
/// <param name="At_mm">Plan place, pattern millimetres, on tenths.</param>
/// <param name="Thread">Of the insert, such as M4.</param>
/// <param name="Hole_mm">Diameter of the printed hole.</param>
/// <param name="Depth_mm">Depth from the joint face, that of a seat around it included.</param>
public sealed record DrawScrew(Vec2 At_mm, string Thread, double Hole_mm, double Depth_mm)
{
    /// <summary>The hole in plan.</summary>
    public PlanRegion Region => PlanRegion.EvenOdd([PlanPath.Circle(At_mm, Hole_mm)], 0.005);
}

/// <summary>A shallow recess of the joint face that a rapping plate is screwed into.</summary>
/// <param name="At_mm">Its middle, pattern millimetres, on tenths.</param>
/// <param name="Turn">Of its length from x, radians.</param>
/// <param name="Length_mm">Length of the recess.</param>
/// <param name="Width_mm">Width of the recess.</param>
/// <param name="Depth_mm">Depth of the recess.</param>
/// <param name="Corner_mm">Radius of its corners.</param>
/// <param name="Plate">The plate that fits: "50 × 20 × 3 mm".</param>
public sealed record PlateSeat(Vec2 At_mm, double Turn, double Length_mm, double Width_mm, double Depth_mm, double Corner_mm, string Plate)
{
    /// <summary>The recess in plan.</summary>
    public PlanRegion Region => Rounded(new(Length_mm / 2, Width_mm / 2), Corner_mm).Transformed(1, Turn, At_mm);

    private static PlanRegion Rounded(Vec2 half, double corner)
    {
        var core = half - new Vec2(corner, corner);
        return PlanRegion.Rectangle(-core, core).Offset(corner, 0.005);
    }
}

/// <summary>How a connected piece of a half is taken hold of at its joint face.</summary>
/// <param name="Centre_mm">Plan place under its centre of volume, pattern millimetres.</param>
/// <param name="Screws">Holes for inserts; none where there is no room, or none are wanted.</param>
/// <param name="Seats">Seats of rapping plates, each with screws in it.</param>
/// <param name="Rule">What was applied, or why there are none.</param>
/// <param name="Thickest_mm">Where a screw is wanted and has no room: the thickest body over the smallest pocket with its land.</param>
public sealed record HeldPiece(
    Vec2 Centre_mm, ImmutableArray<DrawScrew> Screws, ImmutableArray<PlateSeat> Seats, string Rule, double? Thickest_mm = null);

/// <summary>How a half is taken hold of at its joint face.</summary>
/// <param name="Half">Which half.</param>
/// <param name="Pieces">Its connected pieces: one, as a rule.</param>
/// <param name="Source">Where the rule comes from.</param>
public sealed record Handling(MouldHalf Half, ImmutableArray<HeldPiece> Pieces, string Source)
{
    /// <summary>"cope" or "drag".</summary>
    public string Name => Half == MouldHalf.Cope ? "cope" : "drag";

    /// <summary>The holes for inserts.</summary>
    public IEnumerable<DrawScrew> Screws => Pieces.SelectMany(p => p.Screws);

    /// <summary>The seats of rapping plates.</summary>
    public IEnumerable<PlateSeat> Seats => Pieces.SelectMany(p => p.Seats);

    /// <summary>All that is sunk into the joint face, in plan.</summary>
    public PlanRegion Region => PlanRegion.Union([.. Screws.Select(s => s.Region), .. Seats.Select(s => s.Region)]);

    /// <summary>What was applied to the pieces, or why they have no pockets.</summary>
    public string Rule => Told(Pieces);

    /// <summary>Why pieces have no pockets; empty where all have.</summary>
    public string Without => Told(Pieces.Where(p => p.Screws.IsEmpty));

    private string Told(IEnumerable<HeldPiece> pieces) => string.Join("; ", pieces.GroupBy(p => p.Rule).Select(
        g => Pieces.Length == 1 ? g.Key : FormattableString.Invariant($"{g.Count()} of {Pieces.Length} pieces: {g.Key}")));
}
