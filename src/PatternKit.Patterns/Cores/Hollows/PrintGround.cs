using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>A section drawn out along the way of a mouth, as ground on the joint: its upper side, and its end where that slopes. Draft makes the walls.</summary>
internal static class PrintGround
{
    /// <summary>So far below a side of a section there is still section under its upper side, mm.</summary>
    private const double Under_mm = 1e-6;

    /// <summary>Sides that are no wider are upright, mm.</summary>
    private const double Upright_mm = 1e-9;

    /// <summary>Adds it.</summary>
    /// <param name="into">Heights over the joint, or depths under it.</param>
    /// <param name="mouth">The way.</param>
    /// <param name="section">x to the left of the way out, y the height.</param>
    /// <param name="from">Along the way.</param>
    /// <param name="to">Along the way, at its highest.</param>
    /// <param name="endTaper">Of its end from the draw, radians; 0 for none.</param>
    public static void Add(GroundSoup into, SideMouth mouth, PlanRegion section, double from, double to, double endTaper)
    {
        if (section.IsEmpty || to <= from) return;
        var (top, slope) = (CorePrint.HeightOf(section), Math.Tan(endTaper));
        foreach (var (a, b) in section.Sides())
        {
            if (Math.Abs(a.X - b.X) <= Upright_mm || !section.Contains((0.5 * (a + b)) - new Vec2(0, Under_mm))) continue;
            into.Add(At(from, a.X, a.Y), At(End(a.Y), a.X, a.Y), At(End(b.Y), b.X, b.Y), At(from, b.X, b.Y));
            if (slope > 0) into.Add(At(End(a.Y), a.X, a.Y), At(End(0), a.X, 0), At(End(0), b.X, 0), At(End(b.Y), b.X, b.Y));
        }

        double End(double height) => to + ((top - height) * slope);

        Vec3 At(double along, double across, double height) => mouth.Plan(along, across) is var p ? new(p.X, p.Y, height) : default;
    }
}
