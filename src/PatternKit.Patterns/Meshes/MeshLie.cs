using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Meshes;

/// <summary>
/// A part known by its mesh alone, lying in the mould with one direction up and parted square to it: what hangs in the sand there, and which
/// walls have less draft than asked.
/// </summary>
/// <param name="Up">Unit vector that the cope's half is drawn along.</param>
/// <param name="Joint_mm">Height of the joint along it.</param>
/// <param name="Range">Lowest and highest point along it.</param>
/// <param name="Part_mm3">Volume of the part.</param>
/// <param name="Caught_mm3">What must be filled wherever the joint is, because sand there has metal on both sides of it along the draw.</param>
/// <param name="Added_mm3">That, and what the part lacks to reach a flat joint: filled, or left to the sand of the other half.</param>
/// <param name="Hidden">The pieces of what is added.</param>
/// <param name="Shadow_mm2">Projected area.</param>
/// <param name="FlatBack_mm2">Area of the facets that lie in the joint, where it is at an end of the part; 0 elsewhere.</param>
/// <param name="Walls">Walls that are too upright.</param>
/// <param name="AskedDraft">For the height of the part, radians, with its rule.</param>
/// <param name="Spacing_mm">Distance of the lines that the part was looked through along.</param>
public sealed record MeshLie(
    Vec3 Up, double Joint_mm, ColumnInterval Range, double Part_mm3, double Caught_mm3, double Added_mm3, HiddenRegions Hidden, double Shadow_mm2, double FlatBack_mm2,
    UprightWalls Walls, Sourced<double> AskedDraft, double Spacing_mm)
{
    /// <summary>Heights of the joint between which least has to be added.</summary>
    public ColumnInterval Least { get; init; }

    /// <summary>Whether the joint was put where cores can be set.</summary>
    public bool IsForCores { get; init; }

    /// <summary>The part along the draw.</summary>
    internal MeshColumns? Columns { get; init; }

    /// <summary>For each region of what is hidden the facets that bound it.</summary>
    internal Lazy<ImmutableArray<ImmutableArray<int>>> HiddenFacets { get; init; } = new(() => []);

    /// <summary>What of the part, with what is added, lies above the joint: a share of the whole, 0 to 1.</summary>
    public double ShareAbove { get; init; }

    /// <summary>Share of the projected area that lies flat in the joint.</summary>
    public double FlatShare => Math.Min(1, FlatBack_mm2 / Shadow_mm2);

    /// <summary>Lines through the part, along the longer side of its plan.</summary>
    private const int Lines = 400;

    /// <summary>Less hidden space than this part of the body, or than a cell a spacing deep, is roughness of the mesh.</summary>
    private const double SmallOfPart = 1e-5;

    /// <summary>Two ends whose costs differ by no more than this part of the body are equal: then the one with the larger flat back is the joint, or the lower.</summary>
    private const double Same = 1e-6;

    /// <summary>Height within which facets count as lying in the joint, as a part of the whole.</summary>
    private const double InJoint = 1e-6;

    /// <summary>Lays the part.</summary>
    /// <param name="mesh">Closed and facing outward.</param>
    /// <param name="up">Direction of the draw, of any length.</param>
    /// <param name="joint_mm">Height of the joint along it; null for where least must be filled, flat-backed if that costs nothing.</param>
    /// <param name="skin">Of the pattern; it decides the draft.</param>
    /// <param name="table">What a flat back is worth, and what counts as a wall.</param>
    /// <param name="draft">By height.</param>
    public static MeshLie Of(TriangleMesh mesh, Vec3 up, double? joint_mm, PatternSkin skin, LyingTable table, DraftTable draft)
    {
        up = (1 / up.Length) * up;
        var spacing = PlanSize(mesh, up) / Lines;
        var columns = MeshColumns.Cast(mesh, up, spacing);
        var space = HiddenSpace.Of(columns);
        var part = mesh.Volume();
        var joint = joint_mm ?? space.Reach.Plane(
            columns.Range, table.FlatBack.Value * part, Same * part, FlatBack(mesh, up, columns.Range.High, columns.Range) > FlatBack(mesh, up, columns.Range.Low, columns.Range));
        var hidden = space.RegionsAt(joint, Math.Max(SmallOfPart * part, spacing * spacing * spacing));
        var asked = DraftRule.For(draft, Math.Max(columns.Range.Length, 1e-3), false, skin);
        return new(
            up, joint, columns.Range, part, space.Gaps_mm3, space.At(joint), hidden, space.Shadow_mm2, FlatBack(mesh, up, joint, columns.Range),
            UprightWalls.Of(mesh, up, _ => joint, asked.Value, double.DegreesToRadians(table.Roof_deg.Value)), asked, spacing)
        {
            Least = new(space.Reach.LeastFrom, space.Reach.LeastTo),
            ShareAbove = ShareOver(columns, joint),
            Columns = columns,
            HiddenFacets = new(() => Geometry.Columns.HiddenFacets.Of(mesh, columns, hidden.Regions)),
        };
    }

    /// <summary>The same part with a joint that is not flat.</summary>
    /// <param name="mesh">The mesh, lying as here, z up.</param>
    /// <param name="level_mm">Height of the joint around.</param>
    /// <param name="joint">Height of the joint over a place of the plan.</param>
    /// <param name="table">What counts as a wall.</param>
    public MeshLie Carved(TriangleMesh mesh, double level_mm, Func<Vec2, double> joint, LyingTable table)
    {
        // Measured from the joint, the part lies on a flat one.
        var columns = MeshColumns.Cast(mesh, Up, Spacing_mm).From(joint);
        var space = HiddenSpace.Of(columns);
        var hidden = space.RegionsAt(0, Math.Max(SmallOfPart * Part_mm3, Spacing_mm * Spacing_mm * Spacing_mm));
        return this with
        {
            Joint_mm = level_mm,
            Caught_mm3 = space.Gaps_mm3,
            Added_mm3 = space.At(0),
            HiddenFacets = new(() => Geometry.Columns.HiddenFacets.Of(mesh, columns, hidden.Regions, joint)),
            Hidden = hidden with { Regions = [.. hidden.Regions.Select(r => r with { Place = r.Place + (joint(r.Place.Plan) * Up) })] },
            FlatBack_mm2 = 0,
            Walls = UprightWalls.Of(mesh, Up, p => joint(p.Plan), AskedDraft.Value, double.DegreesToRadians(table.Roof_deg.Value)),
            Least = new(level_mm, level_mm),
            ShareAbove = ShareOver(columns, 0),
        };
    }

    private static double ShareOver(MeshColumns columns, double joint)
    {
        double above = 0, below = 0;
        for (var row = 0; row < columns.Grid.Rows; row++)
            for (var column = 0; column < columns.Grid.Columns; column++)
            {
                var solid = columns.At(column, row);
                if (solid.IsEmpty) continue;
                above += Math.Max(0, solid[^1].High - joint);
                below += Math.Max(0, joint - solid[0].Low);
            }

        return above / (above + below);
    }

    private static double FlatBack(TriangleMesh mesh, Vec3 up, double joint, ColumnInterval range)
    {
        var slack = InJoint * range.Length;
        if (Math.Abs(joint - range.Low) > slack && Math.Abs(joint - range.High) > slack) return 0;
        bool Lies(int v) => Math.Abs(Vec3.Dot(mesh.Vertices[v], up) - joint) <= slack;
        return mesh.Facets.Where(f => Lies(f.A) && Lies(f.B) && Lies(f.C)).Sum(f => mesh.AreaNormal(f).Length) / 2;
    }

    private static double PlanSize(TriangleMesh mesh, Vec3 up)
    {
        var frame = DirectionFrame.Along(up);
        var (low, high) = (new Vec2(double.PositiveInfinity, double.PositiveInfinity), new Vec2(double.NegativeInfinity, double.NegativeInfinity));
        foreach (var v in mesh.Vertices)
        {
            var p = frame.FromSpace(v).Plan;
            (low, high) = (new(Math.Min(low.X, p.X), Math.Min(low.Y, p.Y)), new(Math.Max(high.X, p.X), Math.Max(high.Y, p.Y)));
        }

        return Math.Max(high.X - low.X, high.Y - low.Y);
    }
}
