using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Loose;

/// <summary>Finds the drafted wall that a loose piece stands on, and looks whether it is plane wherever the piece is to lie.</summary>
internal static class PieceWall
{
    private const double Step_mm = 0.05;

    /// <summary>Facing may be off by this: then the piece follows the wall.</summary>
    private const double Askew_deg = 0.5;

    /// <summary>Walls that lean more are slopes.</summary>
    private const double MostLean_deg = 30;

    /// <summary>A wall counts as plane that is no farther off, mm.</summary>
    private const double Flat_mm = 0.02;

    /// <summary>The frame of a piece on the wall nearest to its place.</summary>
    /// <param name="part">The piece.</param>
    /// <param name="mould">The half.</param>
    /// <param name="at">Its place in the half's frame, pattern size.</param>
    /// <param name="reach_mm">How far draft, stock and rapping may have moved the wall.</param>
    /// <exception cref="InputException">There is none, or it faces elsewhere.</exception>
    public static PieceFrame Find(LoosePart part, HalfMould mould, Vec3 at, double reach_mm)
    {
        double Over(double outward) => mould.Surface(at.Plan + (outward * part.Facing)) - at.Z;
        var steps = (int)Math.Ceiling(reach_mm / Step_mm);
        var near = Enumerable.Range(-steps, 2 * steps).Where(i => Over(i * Step_mm) >= 0 && Over((i + 1) * Step_mm) < 0).Select(i => (int?)i).MinBy(i => Math.Abs(i!.Value));
        if (near is not { } step)
        {
            throw Refuse(part, Invariant($"the pattern has no wall that faces this way within {reach_mm:0.#} mm of at = [{part.At_mm.X:0.##}, {part.At_mm.Y:0.##}, {part.At_mm.Z:0.##}] mm, at that height. Put at onto a side wall of the part, and facing the way that wall looks."));
        }

        var (inside, outside) = (step * Step_mm, (step + 1) * Step_mm);
        for (var i = 0; i < 60; i++)
        {
            var middle = (inside + outside) / 2;
            if (Over(middle) >= 0) inside = middle;
            else outside = middle;
        }

        var place = at.Plan + (inside * part.Facing);
        var gradient = mould.Upper.At(place - (1e-6 * part.Facing)).Gradient;
        var lean = Math.Atan2(1, gradient.Length);
        if (gradient == default || lean > MostLean_deg * Math.PI / 180) throw Refuse(part, Invariant($"what it stands on slopes by {90 - (lean * 180 / Math.PI):0.#}° and is no side wall; loose pieces stand on walls that are upright but for their draft."));
        var facing = -gradient.Normalized();
        var off = Math.Abs(Math.Atan2(Vec2.Cross(part.Facing, facing), Vec2.Dot(part.Facing, facing))) * 180 / Math.PI;
        if (off > Askew_deg) throw Refuse(part, Invariant($"the wall there faces {Degrees(facing):0.##}°, not {Degrees(part.Facing):0.##}° (from x towards y): write facing = {Degrees(facing):0.##}. A wall that is curved or has draft from two sides cannot carry a loose piece in this release."));
        return new(new(place.X, place.Y, at.Z), facing, lean);
    }

    /// <summary>Whether the wall is plane at a place of the piece's own plan: neither curved, nor ended, nor covered by a fillet.</summary>
    public static bool IsPlane(HalfMould mould, PieceFrame frame, Vec2 own)
    {
        var p = frame.Placed(new(own.X, own.Y, 0));
        return mould.Surface(p.Plan - (Flat_mm * frame.Out)) >= p.Z && mould.Surface(p.Plan + (Flat_mm * frame.Out)) < p.Z;
    }

    /// <summary>A refusal that names the piece.</summary>
    public static InputException Refuse(LoosePart part, string why) => new(part.Where, "", $"[[loose]] \"{part.Name}\": {why}");

    private static double Degrees(Vec2 way) => Math.Atan2(way.Y, way.X) * 180 / Math.PI;
}
