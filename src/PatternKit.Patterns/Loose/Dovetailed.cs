using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Loose;

/// <summary>
/// The slot of a loose piece in the pattern's wall and its tongue, in the piece's own frame. The slot is open at the tip of the main draw, where the tongue fills it up to the level face there, and
/// its flanks and back open that way by the taper, so that the pattern comes off the tongue along its own draw. The tongue's faces are those of the slot moved in by the clearance; in front and on top it is flush.
/// </summary>
/// <param name="Middle">Where its middle is along the wall.</param>
/// <param name="Low">Where its floor meets the wall.</param>
/// <param name="Rise">Height of the level face at the tip of the wall over the origin of the frame.</param>
/// <param name="Neck">Width at the wall at its lower end, mm.</param>
/// <param name="Depth">There.</param>
/// <param name="Flare">How far flanks lean out for each mm of depth.</param>
/// <param name="Lean">Of the wall from the main draw, radians.</param>
/// <param name="Taper">By which it opens along the main draw, radians.</param>
internal sealed record Dovetailed(double Middle, double Low, double Rise, double Neck, double Depth, double Flare, double Lean, double Taper)
{
    /// <summary>By how much a flank runs out for each mm up the wall: the main draw leaves the wall, so that the flare alone would close the slot.</summary>
    private double Spread => (Math.Tan(Taper) + (Flare * Math.Sin(Lean))) / Math.Cos(Lean);

    /// <summary>By how much the back gets deeper for each mm up the wall; a wall that leans by the taper opens it by itself.</summary>
    private double Deepening => Math.Max(0, Math.Tan(Taper) - Math.Tan(Lean));

    /// <summary>Where the level face meets the wall.</summary>
    public double High => Rise / Math.Cos(Lean);

    /// <summary>Along the wall.</summary>
    public double Length => High - Low;

    /// <summary>Half its width at a place up the wall and a depth below 0.</summary>
    public double HalfWidth(double y, double z) => (Neck / 2) + (Spread * (y - Low)) - (Flare * z);

    /// <summary>Its corners with all faces but front and top moved in by a gap: below, then above, each in front left and right, then at the back right and left, seen from outside.</summary>
    /// <param name="gap_mm">0 for the slot.</param>
    public ImmutableArray<Vec3> Corners(double gap_mm)
    {
        var narrower = gap_mm * Math.Sqrt(1 + (Spread * Spread) + (Flare * Flare));
        var shallower = gap_mm * Math.Sqrt(1 + (Deepening * Deepening));
        return [.. new[] { (Low * Math.Cos(Lean)) + gap_mm, Rise }.SelectMany(rise =>
        {
            var front = rise / Math.Cos(Lean);
            // On the back plane z = −(depth + deepening (y − low)), at the height y cos + z sin of the level.
            var back = (rise + ((Depth - shallower - (Deepening * Low)) * Math.Sin(Lean))) / (Math.Cos(Lean) - (Deepening * Math.Sin(Lean)));
            var z = -(Depth - shallower + (Deepening * (back - Low)));
            var (wide, deep) = (HalfWidth(front, 0) - narrower, HalfWidth(back, z) - narrower);
            return new Vec3[] { new(Middle - wide, front, 0), new(Middle + wide, front, 0), new(Middle + deep, back, z), new(Middle - deep, back, z) };
        })];
    }

    /// <summary>The face in the wall, turning left seen from outside, of corners as above.</summary>
    public static ImmutableArray<Vec3> Front(ImmutableArray<Vec3> c) => [c[0], c[1], c[5], c[4]];

    /// <summary>The level face at the tip, the same way.</summary>
    public static ImmutableArray<Vec3> Top(ImmutableArray<Vec3> c) => [c[6], c[7], c[4], c[5]];

    /// <summary>Back, floor and flanks, turning left seen from outside the tongue.</summary>
    public static ImmutableArray<ImmutableArray<Vec3>> Hidden(ImmutableArray<Vec3> c) => [[c[3], c[7], c[6], c[2]], [c[3], c[2], c[1], c[0]], [c[2], c[6], c[5], c[1]], [c[7], c[3], c[0], c[4]]];

    /// <summary>Volume of the body with such corners, mm³.</summary>
    public static double Volume_mm3(ImmutableArray<Vec3> c)
    {
        var faces = Hidden(c).Add(Front(c)).Add(Top(c));
        return faces.Sum(f => Enumerable.Range(1, f.Length - 2).Sum(i => Vec3.Dot(f[0] - c[0], Vec3.Cross(f[i] - c[0], f[i + 1] - c[0])))) / 6;
    }
}
