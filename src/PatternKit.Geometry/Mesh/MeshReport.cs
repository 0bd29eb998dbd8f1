using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>What can be wrong with a mesh that should bound a body.</summary>
public enum MeshDefectKind
{
    /// <summary>A vertex with a coordinate that is NaN or infinite; nothing geometric is then judged.</summary>
    NonFiniteVertex,

    /// <summary>An edge that one facet alone uses: a hole.</summary>
    BoundaryEdge,

    /// <summary>An edge that more than two facets use.</summary>
    OverusedEdge,

    /// <summary>An edge that two facets run along in the same direction: one of them is turned over.</summary>
    InconsistentEdge,

    /// <summary>A vertex whose facets form more than one fan.</summary>
    PinchedVertex,

    /// <summary>A facet that names a vertex twice or has exactly no area.</summary>
    DegenerateFacet,

    /// <summary>A facet on the same three positions as an earlier one, either way round.</summary>
    DuplicateFacet,

    /// <summary>A vertex that no facet names.</summary>
    UnusedVertex,

    /// <summary>
    /// Different edges at the same two positions that more than two facets use: sound by number, but a file
    /// that carries positions alone (STL) makes one over-used edge of them.
    /// </summary>
    CoincidentEdge,

    /// <summary>Two facets that meet other than in a corner or side that both have; touching and lying flat on each other too.</summary>
    CrossingPair,

    /// <summary>A closed shell that faces inward without being a void, or outward inside a body.</summary>
    MisorientedShell,
}

/// <summary>All defects of one kind.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Count">How often.</param>
/// <param name="First">Where the first one is, mm.</param>
/// <param name="FirstIndex">Facet number of the first one; for vertex defects the vertex number.</param>
public readonly record struct MeshDefect(MeshDefectKind Kind, int Count, Vec3 First, int FirstIndex);

/// <summary>What the inspection of a mesh found.</summary>
public sealed record MeshReport
{
    /// <summary>Number of vertices.</summary>
    public required int Vertices { get; init; }

    /// <summary>Number of facets.</summary>
    public required int Facets { get; init; }

    /// <summary>Number of shells: sets of facets joined by edges.</summary>
    public required int Shells { get; init; }

    /// <summary>Closed shells of negative volume. A void inside a body is one, and is no defect.</summary>
    public required int NegativeShells { get; init; }

    /// <summary>The box of each closed shell of positive volume: of each separate piece.</summary>
    public required ImmutableArray<Box3> Pieces { get; init; }

    /// <summary>Vertices at a position that an earlier vertex has. Not a defect: a pinch point is rightly copied.</summary>
    public required int DuplicateVertices { get; init; }

    /// <summary>Signed volume, mm³; means something only for a closed mesh.</summary>
    public required double Volume_mm3 { get; init; }

    /// <summary>The kinds of defect found, each with its count and first place.</summary>
    public required ImmutableArray<MeshDefect> Defects { get; init; }

    /// <summary>Whether the counting of crossings stopped at <see cref="MeshInspection.MostCrossings"/>.</summary>
    public bool CrossingsCutOff => CrossingPairs >= MeshInspection.MostCrossings;

    public int NonFiniteVertices => Count(MeshDefectKind.NonFiniteVertex);

    public int BoundaryEdges => Count(MeshDefectKind.BoundaryEdge);

    public int OverusedEdges => Count(MeshDefectKind.OverusedEdge);

    public int InconsistentEdges => Count(MeshDefectKind.InconsistentEdge);

    public int PinchedVertices => Count(MeshDefectKind.PinchedVertex);

    public int DegenerateFacets => Count(MeshDefectKind.DegenerateFacet);

    public int DuplicateFacets => Count(MeshDefectKind.DuplicateFacet);

    public int UnusedVertices => Count(MeshDefectKind.UnusedVertex);

    public int CoincidentEdges => Count(MeshDefectKind.CoincidentEdge);

    public int CrossingPairs => Count(MeshDefectKind.CrossingPair);

    public int MisorientedShells => Count(MeshDefectKind.MisorientedShell);

    /// <summary>Every edge is used once in each direction.</summary>
    public bool IsClosed => BoundaryEdges == 0 && OverusedEdges == 0 && InconsistentEdges == 0;

    /// <summary>
    /// The mesh bounds a body: it has facets and no defect. That is, closed, edge- and vertex-manifold, facing outward,
    /// without degenerate, duplicate or crossing facets, without idle vertices, and still so when read from positions alone
    /// (save for pinch points, which a weld joins again).
    /// </summary>
    public bool IsValid => Facets > 0 && Defects.IsEmpty;

    /// <summary>How many defects of a kind there are.</summary>
    public int Count(MeshDefectKind kind)
    {
        foreach (var d in Defects)
            if (d.Kind == kind) return d.Count;
        return 0;
    }

    /// <summary>One paragraph for a person: size of the mesh, and every kind of defect with its first place.</summary>
    public override string ToString()
    {
        var c = CultureInfo.InvariantCulture;
        var text = new StringBuilder();
        text.Append(c, $"Mesh of {Facets} facets, {Vertices} vertices ({DuplicateVertices} at a position taken), {Shells} shells ({NegativeShells} negative), {Volume_mm3:0.######} mm³: ");
        if (IsValid) return text.Append("valid.").ToString();
        if (Facets == 0) return text.Append("empty.").ToString();
        for (var i = 0; i < Defects.Length; i++)
        {
            var d = Defects[i];
            var what = d.Kind is MeshDefectKind.NonFiniteVertex or MeshDefectKind.PinchedVertex or MeshDefectKind.UnusedVertex ? "vertex" : "facet";
            var atLeast = d.Kind == MeshDefectKind.CrossingPair && CrossingsCutOff ? "at least " : "";
            text.Append(c, $"{(i == 0 ? "" : "; ")}{d.Kind} {atLeast}{d.Count}, first at {d.First}, {what} {d.FirstIndex}");
        }

        return text.Append('.').ToString();
    }
}
