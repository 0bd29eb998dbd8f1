using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Loose;

/// <summary>A loose piece whose place, size and hold are settled.</summary>
/// <param name="Part">As the job has it.</param>
/// <param name="Half">Of the mould that it lies in.</param>
/// <param name="Mould">That half of the pattern.</param>
/// <param name="Frame">Where it sits.</param>
/// <param name="Terrain">What stands out, drafted along its own draw, on the wall.</param>
/// <param name="Face">Its outer face before draft, in its own plan, with its plane.</param>
/// <param name="Draft">Along its own draw.</param>
/// <param name="Out_mm">How far its outer face is from the drafted wall, level, at its origin.</param>
/// <param name="Lattice">Of its own frame.</param>
internal sealed record PlannedPiece(
    LoosePart Part, MouldHalf Half, HalfMould Mould, PieceFrame Frame, DraftedTerrain Terrain, Plateau Face, Sourced<double> Draft, double Out_mm, Lattice Lattice)
{
    /// <summary>The tongue; null where a pin holds it, or nothing can.</summary>
    public Dovetailed? Tail { get; init; }

    /// <summary>The pins; null where a dovetail holds it.</summary>
    public Pinned? Pins { get; init; }

    /// <summary>Name of its body and file.</summary>
    public string BodyName => "loose-" + JobFile.JobName.Safe(Part.Name).ToLowerInvariant();

    /// <summary>Where it touches the wall, in its own plan.</summary>
    public PlanRegion Back => Terrain.Footprint;

    /// <summary>Its back along the wall and up it.</summary>
    public (Vec2 Low, Vec2 High) BackBox
    {
        get
        {
            var box = Back.Geometry.EnvelopeInternal;
            return (new(box.MinX, box.MinY), new(box.MaxX, box.MaxY));
        }
    }

    /// <summary>Heights in the half's frame between which it stands out.</summary>
    public (double Low, double High) Heights
    {
        get
        {
            var rises = Back.Rings().SelectMany(r => r).Select(p => Frame.Rise(p.Y, 0)).Concat(Face.Region.Rings().SelectMany(r => r).Select(p => Frame.Rise(p.Y, Face.Surface.At(p)))).ToArray();
            return (Frame.Origin.Z + rises.Min(), Frame.Origin.Z + rises.Max());
        }
    }

    /// <summary>The piece in plan as far as it stands out.</summary>
    public PlanRegion Plan
    {
        get
        {
            var (low, high) = BackBox;
            var heights = Heights;
            return PlanRegion.Polygon([Frame.Plan(low.X, heights.High, 0), Frame.Plan(low.X, heights.High, FarthestOut_mm), Frame.Plan(high.X, heights.High, FarthestOut_mm), Frame.Plan(high.X, heights.High, 0)]);
        }
    }

    /// <summary>How far it stands out from the wall, level, at its highest place.</summary>
    public double FarthestOut_mm => Out_mm + ((Heights.High - Frame.Origin.Z) * Math.Tan(Frame.Lean));

    /// <summary>A point of its half's frame in that of the mould.</summary>
    public Vec3 InMould(Vec3 p) => Half == MouldHalf.Cope ? p : p with { Z = -p.Z };

    /// <summary>A place of its own frame in the mould.</summary>
    public Vec3 At(Vec3 own) => InMould(Frame.Placed(own));

    /// <summary>What stands out, as a closed body on the wall in its own frame.</summary>
    public TriangleMesh Standing(MeshingTolerance tolerance) => TerrainSolid.Build(Terrain, null, [], [], Lattice, tolerance);

    /// <summary>The corners of its tongue on the lattice of its own frame.</summary>
    public ImmutableArray<Vec3> TongueCorners(double gap_mm) => [.. Tail!.Corners(gap_mm).Select(Snapped)];

    /// <summary>A point on the lattice of its own frame.</summary>
    public Vec3 Snapped(Vec3 p) => new(Lattice.Snap(p.X), Lattice.Snap(p.Y), Lattice.Snap(p.Z));

    /// <summary>A point of its own frame in that of its half, on the lattice there.</summary>
    public Vec3 Seated(Vec3 own)
    {
        var p = Frame.Placed(own);
        return new(Mould.Lattice.Snap(p.X), Mould.Lattice.Snap(p.Y), Mould.Lattice.Snap(p.Z));
    }
}
