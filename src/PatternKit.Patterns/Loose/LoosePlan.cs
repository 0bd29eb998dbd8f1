using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Loose;

/// <summary>The loose pieces of a job on their way: planned on the finished halves, then made, and their seats sunk into those.</summary>
internal sealed class LoosePlan
{
    /// <summary>What rounding to the lattices of piece and pattern may take from the clearance, mm.</summary>
    private const double Rounding_mm = 0.001;

    private readonly ImmutableArray<(PlannedPiece Piece, PieceTravel Travel)> pieces;
    private readonly LooseTable table;
    private readonly Lazy<ImmutableArray<KitLoosePiece>> made;

    private LoosePlan(ImmutableArray<(PlannedPiece, PieceTravel)> pieces, LooseTable table, MeshingTolerance tolerance)
    {
        (this.pieces, this.table) = (pieces, table);
        made = new(() => [.. this.pieces.Select((p, i) => Make(p.Piece, p.Travel, i + 1, tolerance))]);
    }

    /// <summary>Plans the pieces of a job; none where it has none.</summary>
    public static LoosePlan Of(Job job, HalfMould cope, HalfMould drag, PatternFrame frame, Allowances allowances, FoundryTables tables, MeshingTolerance tolerance) => new(
        job.Loose.IsEmpty ? [] : PieceTravel.Of(LoosePlanner.Apart([.. job.Loose.Select(l => LoosePlanner.Plan(job, l, cope, drag, frame, allowances, tables, tolerance))]), tables.Loose.Clear_mm.Value),
        tables.Loose, tolerance);

    /// <summary>In the order in which they are drawn.</summary>
    public ImmutableArray<(PlannedPiece Piece, PieceTravel Travel)> Pieces => pieces;

    /// <summary>The pieces made, in the same order.</summary>
    public ImmutableArray<KitLoosePiece> Made => made.Value;

    /// <summary>What stands out of the halves in plan.</summary>
    public PlanRegion Plan => PlanRegion.Union(pieces.Select(p => p.Piece.Plan));

    /// <summary>Whether a half carries any.</summary>
    public bool IsIn(MouldHalf half) => pieces.Any(p => p.Piece.Half == half);

    /// <summary>Where nothing else may be sunk into a half.</summary>
    public PlanRegion Seats(MouldHalf half) => PlanRegion.Union(pieces.Where(p => p.Piece.Half == half).Select(p => SeatOf(p.Piece)));

    /// <summary>A half with the seats of its pieces; sand touches it as before.</summary>
    public KitBody? Seated(KitBody? whole, HalfMould mould, MouldHalf half, ImmutableArray<UprightPocket> pockets)
    {
        if (whole is null || !IsIn(half)) return whole;
        var mesh = half == MouldHalf.Cope ? whole.InMould : whole.InMould.MirroredBy(v => v with { Z = -v.Z });
        foreach (var (piece, _) in pieces.Where(p => p.Piece.Half == half)) mesh = WithSeat(mesh, piece);
        var cut = PlacedHalves.Place(whole.Name, half, mesh, mould.Joint_mm, pockets);
        // Walls that were cut differ by rounding; what is steeper than that belongs to a slot or to the hole of a pin, and no sand touches it.
        return cut.LeastDraft >= whole.LeastDraft - SteepPlace.Slack ? cut : cut with { LeastDraft = whole.LeastDraft, LeastDraftAt = whole.LeastDraftAt };
    }

    private PlanRegion SeatOf(PlannedPiece piece)
    {
        var frame = piece.Frame;
        if (piece.Tail is { } tail)
        {
            var corners = tail.Corners(0);
            return PlanRegion.Polygon([.. Dovetailed.Top(corners).Select(c => frame.Placed(c).Plan)]).Union(PlanRegion.Polygon([.. corners.Take(4).Select(c => frame.Placed(c).Plan)]))
                .Offset(table.Dovetail.Land_mm, 0.1);
        }

        return piece.Pins is not { } pins ? PlanRegion.Empty
            : PlanRegion.Union(pins.At.Select(at => PlanRegion.Polygon([.. new Vec3[] { new(at.X - 0.1, at.Y, 0), new(at.X + 0.1, at.Y, 0), new(at.X, at.Y, -pins.Depth_mm) }.Select(p => frame.Placed(p).Plan)]).Offset((pins.Hole_mm / 2) + table.Pin.Land_mm, 0.1)));
    }

    private static TriangleMesh WithSeat(TriangleMesh half, PlannedPiece piece)
    {
        var lattice = piece.Mould.Lattice;
        if (piece.Tail is { } tail)
        {
            ImmutableArray<Vec3> corners = [.. tail.Corners(0).Select(piece.Seated)];
            return SunkHollow.Of(half, [Dovetailed.Front(corners), Dovetailed.Top(corners)], [.. Dovetailed.Hidden(corners).Select(f => f.Reverse().ToImmutableArray())], lattice);
        }

        foreach (var at in piece.Pins?.At ?? [])
        {
            ImmutableArray<Vec3> At(double z) => [.. piece.Pins!.Ring(at).Select(p => piece.Seated(new(p.X, p.Y, z)))];
            var (mouth, floor) = (At(0), At(-piece.Pins!.Depth_mm));
            half = SunkHollow.Of(half, [mouth], [.. Pinned.Walls(floor, mouth), floor], lattice);
        }

        return half;
    }

    private KitLoosePiece Make(PlannedPiece piece, PieceTravel travel, int order, MeshingTolerance tolerance)
    {
        var standing = piece.Standing(tolerance);
        var (own, gap_mm3) = WithHold(piece, standing);
        var lift = -own.Bounds().Low.Z;
        var (least, at) = PlacedHalves.LeastDraft(standing, Placed(piece, standing), []);
        var body = Body(piece, piece.BodyName, own, lift) with { LeastDraft = least, LeastDraftAt = at };
        return new(
            piece.Part, body, Body(piece, piece.BodyName, standing, 0) with { LeastDraft = least, LeastDraftAt = at }, piece.Half, order, piece.Frame.Out, piece.Out_mm, piece.Draft, travel.Needed_mm, travel.Free_mm, piece.Plan)
        {
            Tail = piece.Tail is { } tail ? new(tail.Neck, tail.Depth, tail.Length, table.Clearance_mm.Value, table.Taper_deg.Value) : null,
            Pins = piece.Pins is { } pins ? new(pins.At.Length, pins.Diameter_mm, pins.Hole_mm, pins.Depth_mm, Math.Ceiling(pins.Depth_mm + piece.FarthestOut_mm + table.Pin.Grip_mm)) : null,
            Back_mm2 = piece.Back.Area,
            Gap_mm3 = gap_mm3,
        };
    }

    /// <summary>The piece with its tongue or the holes for its pins, in its own frame; and what of its seat in the pattern it leaves empty.</summary>
    private (TriangleMesh Mesh, double Gap_mm3) WithHold(PlannedPiece piece, TriangleMesh standing)
    {
        if (piece.Tail is { } tail)
        {
            var tongue = piece.TongueCorners(table.Clearance_mm.Value + Rounding_mm);
            return (
                RootedSolid.Of(standing, [.. Dovetailed.Front(tongue).Select(c => c.Plan)], [.. Dovetailed.Hidden(tongue), Dovetailed.Top(tongue)], piece.Lattice),
                Dovetailed.Volume_mm3([.. tail.Corners(0).Select(piece.Seated)]) - Dovetailed.Volume_mm3(tongue));
        }

        double holes_mm3 = 0;
        foreach (var at in piece.Pins?.At ?? [])
        {
            ImmutableArray<Vec3> At(Func<Vec2, double> z) => [.. piece.Pins!.Ring(at).Select(p => piece.Snapped(new(p.X, p.Y, z(p))))];
            var (back, face) = (At(_ => 0), At(piece.Face.Surface.At));
            standing = SunkHollow.Of(standing, [face, [.. back.Reverse()]], [.. Pinned.Walls(back, face)], piece.Lattice);
            var ring_mm2 = PlanRegion.Polygon(piece.Pins!.Ring(at)).Area;
            holes_mm3 += ring_mm2 * (piece.Pins.Depth_mm + piece.Face.Surface.At(at));
        }

        return (standing, holes_mm3);
    }

    private static TriangleMesh Placed(PlannedPiece piece, TriangleMesh own) => piece.Half == MouldHalf.Cope ? own.Mapped(piece.At) : own.MirroredBy(piece.At);

    private static KitBody Body(PlannedPiece piece, string name, TriangleMesh own, double lift)
    {
        // The drag's frame is a mirror image: turned over again in y, the piece is itself.
        var isDrag = piece.Half == MouldHalf.Drag;
        Vec3 Printed(Vec3 p) => new(p.X, isDrag ? -p.Y : p.Y, p.Z + lift);
        Vec3 FromMould(Vec3 p) => Printed(piece.Frame.Local(piece.InMould(p)));
        var (o, x, y, z) = (FromMould(default), FromMould(new(1, 0, 0)), FromMould(new(0, 1, 0)), FromMould(new(0, 0, 1)));
        ImmutableArray<double> Row(Func<Vec3, double> of) => [of(x) - of(o), of(y) - of(o), of(z) - of(o), of(o)];
        return new(name, piece.Half, Placed(piece, own), isDrag ? own.MirroredBy(Printed) : own.Mapped(Printed), [Row(p => p.X), Row(p => p.Y), Row(p => p.Z)], Math.PI / 2);
    }
}
