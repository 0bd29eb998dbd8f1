using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Originals;

/// <summary>
/// What a casting will measure that is moulded from the part itself: rapping widens the cavity by its growth on either side in the plane of the joint,
/// contraction then makes all smaller. Nothing was added against either.
/// </summary>
internal sealed class OriginalSizes(Allowances allowances, Alloy alloy, Sand sand, MachiningTables table)
{
    /// <summary>How far from an end of a dimension the skin is looked for, mm; an end farther off is a centre, which rapping does not move.</summary>
    private const double Search_mm = 1;

    /// <summary>Where a ray starts before the place that it looks at, so that it meets a skin that passes through it, mm.</summary>
    private const double Before_mm = 1e-4;

    /// <summary>A dimension of the job.</summary>
    public MeasureResult Of(Measure m, WallThickness walls)
    {
        var d = m.To_mm - m.From_mm;
        var along = d.Length > 0 ? 1 / d.Length * d : new Vec3(1, 0, 0);
        var (start, end) = (Skin(walls, m.From_mm, along), Skin(walls, m.To_mm, along));
        var sides = (start is null ? 0 : 1) + (end is null ? 0 : 1);
        return Of(m.Name, m.Nominal_mm, d.Length + (end ?? 0) - (start ?? 0), sides * new Vec3(along.X, along.Y, 0).Length);
    }

    /// <summary>The sizes of the box around the part.</summary>
    /// <param name="size">Edges of the box, z along the draw.</param>
    public ImmutableArray<MeasureResult> Overall(Vec3 size) => [Of("overall, along x", size.X, size.X, 2), Of("overall, along y", size.Y, size.Y, 2), Of("overall, along the draw", size.Z, size.Z, 0)];

    /// <summary>How far from a point the skin is met along a line, signed; null where none is near.</summary>
    private static double? Skin(WallThickness walls, Vec3 p, Vec3 along)
    {
        var (ahead, behind) = (walls.Meeting(p - (Before_mm * along), along) - Before_mm, Before_mm - walls.Meeting(p + (Before_mm * along), -1 * along));
        var nearest = behind is null || Math.Abs(ahead ?? double.PositiveInfinity) <= Math.Abs(behind.Value) ? ahead : behind;
        return Math.Abs(nearest ?? double.PositiveInfinity) <= Search_mm ? nearest : null;
    }

    private MeasureResult Of(string name, double nominal_mm, double part_mm, double sides)
    {
        var asCast = (part_mm + (sides * allowances.Rapping_mm.Value)) / allowances.Scale;
        var size = Math.Max(nominal_mm, 0.1);
        var grade = CastingTolerance.UsualGrade(table, alloy.Family, sand.Bond, size);
        var tolerance = CastingTolerance.Total(table, grade.Value, size);
        return new(name, nominal_mm, part_mm, asCast, tolerance.Value / 2, $"{tolerance.Rule}; {tolerance.Source}; grade: {grade.Rule}");
    }
}
