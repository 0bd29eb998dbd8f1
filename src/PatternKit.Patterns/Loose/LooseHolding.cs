using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Loose;

/// <summary>Chooses what holds a loose piece to the pattern: the widest dovetail that its back and the wall have room for, else the thickest pin.</summary>
internal static class LooseHolding
{
    private const double Step_mm = 0.25;

    /// <summary>Level faces may be off by this, mm.</summary>
    private const double Level_mm = 0.005;

    /// <summary>The piece with what holds it; with nothing where nothing has room.</summary>
    public static PlannedPiece Held(PlannedPiece piece, FoundryTables tables) => piece.Part.Held switch
    {
        LooseHold.Dovetail => piece with { Tail = Dovetail(piece, tables) },
        LooseHold.Pin => piece with { Pins = Pins(piece, tables.Loose.Pin) },
        _ => Dovetail(piece, tables) is { } tail ? piece with { Tail = tail } : piece with { Pins = Pins(piece, tables.Loose.Pin) },
    };

    private static Dovetailed? Dovetail(PlannedPiece piece, FoundryTables tables)
    {
        if (Tip(piece) is not { } rise) return null;
        var (sizes, middle) = (tables.Loose.Dovetail, piece.Back.Centroid.X);
        var (low, high) = (piece.BackBox.Low.Y, piece.BackBox.High.Y);
        foreach (var neck in sizes.Necks_mm)
        {
            for (var floor = low + sizes.Land_mm; floor + (sizes.Length_necks * neck) <= high; floor += Step_mm)
            {
                var tail = new Dovetailed(middle, floor, rise, neck, neck * sizes.Depth_necks, tables.BedCuts.Flare.Value, piece.Frame.Lean, double.DegreesToRadians(tables.Loose.Taper_deg.Value));
                var length = Math.Min(sizes.Length_necks * neck, tail.Length);
                if (length < sizes.Length_necks * neck) break;
                // Its lower end, where pattern and piece bear on each other, lies well behind the piece.
                var half = tail.HalfWidth(floor + length, 0) + sizes.Land_mm;
                if (!piece.Back.CoversRectangle(new(middle - half, floor - sizes.Land_mm), new(middle + half, floor + length))) continue;
                if (HasRoom(piece, tail, sizes.Land_mm)) return tail;
                break;
            }
        }

        return null;
    }

    /// <summary>Height over the origin of the level face in which the wall ends; null where it ends otherwise.</summary>
    private static double? Tip(PlannedPiece piece)
    {
        var (frame, mould) = (piece.Frame, piece.Mould);
        foreach (var level in mould.Flats().Select(f => f.Height).Distinct().Order().Where(h => h > piece.Frame.Origin.Z))
        {
            var edge = frame.Plan(0, level, 0);
            if (Math.Abs(mould.Surface(edge - (0.05 * frame.Out)) - level) <= Level_mm) return level - frame.Origin.Z;
        }

        return null;
    }

    /// <summary>Whether wall and level face are whole all round the slot, and the pattern is solid behind it and below.</summary>
    private static bool HasRoom(PlannedPiece piece, Dovetailed tail, double land)
    {
        var (frame, mould) = (piece.Frame, piece.Mould);
        var wide = tail.HalfWidth(tail.High, 0) + land;
        foreach (var p in LoosePlanner.Places(new(tail.Middle - wide, tail.Low - land), new(tail.Middle + wide, tail.High - 0.05)))
            if (!PieceWall.IsPlane(mould, frame, p)) return false;
        var (level, floor) = (frame.Origin.Z + tail.Rise, frame.Origin.Z + frame.Rise(tail.Low, 0));
        var corners = tail.Corners(0);
        var deep = -corners.Min(c => c.Z) + land;
        var back = corners.Max(c => c.X) - tail.Middle + land;
        foreach (var p in LoosePlanner.Places(new(tail.Middle - back, -deep), new(tail.Middle + back, -0.05)))
        {
            var plan = frame.Plan(p.X, level, p.Y);
            if (Math.Abs(mould.Surface(plan) - level) > Level_mm || mould.Surfaces(plan).Bottom > floor - land) return false;
        }

        return true;
    }

    private static Pinned? Pins(PlannedPiece piece, LoosePinSizes sizes)
    {
        foreach (var pin in sizes.Diameters_mm)
        {
            var (hole, depth) = (pin + sizes.Wider_mm, pin * sizes.Depth_diameters);
            var room = piece.Face.Region.Offset(-(hole / 2) - sizes.Land_mm, 0.05);
            if (room.IsEmpty) continue;
            var places = Spread(room, 4 * (hole + sizes.Land_mm));
            if (places.All(p => IsFirm(piece, p, hole, depth, sizes.Land_mm))) return new(places, pin, hole, depth);
            if (IsFirm(piece, places[0], hole, depth, sizes.Land_mm)) return new([places[0]], pin, hole, depth);
        }

        return null;
    }

    /// <summary>One pin in the middle of what is about as long as wide, else two that keep it from turning.</summary>
    private static ImmutableArray<Vec2> Spread(PlanRegion room, double apart)
    {
        var box = room.Geometry.EnvelopeInternal;
        var middle = room.Contains(room.Centroid) ? room.Centroid : room.InnerPoint;
        var way = box.Width >= box.Height ? new Vec2(box.Width / 2, 0) : new Vec2(0, box.Height / 2);
        if (2 * way.Length < apart || Math.Max(box.Width, box.Height) < 1.5 * Math.Min(box.Width, box.Height)) return [middle];
        Vec2[] both = [middle - (0.8 * way), middle + (0.8 * way)];
        return both.All(room.Contains) ? [.. both] : [middle];
    }

    /// <summary>Whether the pattern is solid all round the hole.</summary>
    private static bool IsFirm(PlannedPiece piece, Vec2 at, double hole, double depth, double land)
    {
        var around = (hole / 2) + land;
        return new[] { 0, depth + land }.All(z => new Vec2[] { new(-around, 0), new(around, 0), new(0, -around), new(0, around) }.All(by =>
        {
            var p = piece.Frame.Placed(new(at.X + by.X, at.Y + by.Y, -z - 0.02));
            return piece.Mould.Surface(p.Plan) >= p.Z && piece.Mould.Surfaces(p.Plan).Bottom <= p.Z;
        }));
    }
}
