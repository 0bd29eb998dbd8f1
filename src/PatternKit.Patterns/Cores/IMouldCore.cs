using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Cores;

/// <summary>A core as planned, whatever its shape: turned, or that of a hollow of a mesh. Pattern millimetres.</summary>
internal interface IMouldCore
{
    /// <summary>Of what it leaves.</summary>
    string Name { get; }

    /// <summary>How its own frame lies in the mould.</summary>
    TurnedFrame Axis { get; }

    /// <summary>Its prints.</summary>
    ImmutableArray<CorePrint> Prints { get; }

    /// <summary>Clearance on each face of a print.</summary>
    double Side_mm { get; }

    /// <summary>Clearance over the upper end of a core that stands.</summary>
    double Axial_mm { get; }

    /// <summary>Where both come from.</summary>
    Sourced<double> ClearanceFrom { get; }

    /// <summary>Its shadow with its prints, in plan of the mould.</summary>
    PlanRegion Plan { get; }

    /// <summary>Its shadow in its own frame, prints included.</summary>
    Box3 Extent { get; }

    /// <summary>How thick it is at its thinnest, for the wire that leads its gas out.</summary>
    double Least_mm { get; }

    /// <summary>Cores of one key come out of one box.</summary>
    string Key { get; }

    /// <summary>Where the core is over a place of the plan of the mould, ascending; to be asked often.</summary>
    Func<Vec2, IEnumerable<(double Low, double High)>> Columns();

    /// <summary>By how much more surface the casting cools by, mm².</summary>
    double Surface_mm2(HalfMould cope, HalfMould drag);

    /// <summary>What of it lies in the metal, mm³, and the centre of that along the axis of a turned one.</summary>
    (double Volume_mm3, double Centre_mm) Displaced(HalfMould cope, HalfMould drag, Lattice lattice);

    /// <summary>What lifts it, and what its prints bear.</summary>
    CoreLoad Load(CoreLoads loads, (double Volume_mm3, double Centre_mm) inMetal, GridUp up);

    /// <summary>Its body and its box.</summary>
    (KitBody Body, CoreBox Box) Made(string name, Vec3 aside, FoundryTables tables, MeshingTolerance tolerance);
}
