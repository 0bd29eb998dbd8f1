using System.Collections.Immutable;
using PatternKit.Geometry.Mesh.Joining;

namespace PatternKit.Geometry.Mesh.Mending;

/// <summary>A mesh after mending, and what was done to it.</summary>
public sealed record MendedMesh(TriangleMesh Mesh, MendingReport Report);

/// <summary>
/// Mends what programs do to meshes on the way: corners not joined, facets without area, twice there, turned over or missing, crumbs beside the
/// body, shells that run through each other. Nothing is moved but by the weld, and no vertex is invented but where facets run through each other. Each step is counted. What is left
/// is told by the report; nothing is thrown for a bad mesh. A valid mesh comes back as it is, and mending a mended mesh does nothing.
/// </summary>
/// <remarks>
/// Inside and outside are settled per closed patch by its volume, and by how many others hold it: one held by an odd number is a void.
/// Steps are repeated until none changes anything, since a hole can show only once a doubled facet is gone.
/// </remarks>
public static class MeshMending
{
    private const int MostRounds = 8;

    // Of the grid on which shells are joined: at first no corner moves. What thin facets cross in the last digits goes on coarser ones, none coarser than 4·10⁻⁹ of the size.
    private static readonly int[] GridDigits = [80, 80, 40, 36, 32, 28];

    /// <summary>Mends the mesh.</summary>
    /// <param name="mesh">Any mesh, also with corners that are not finite.</param>
    /// <param name="limits">How far to go; by default <see cref="MendingLimits"/> as it stands.</param>
    public static MendedMesh Mend(TriangleMesh mesh, MendingLimits? limits = null)
    {
        limits ??= new();
        if (AsItIs(mesh) is { } sound) return Joined(new(mesh, new([], [], sound)), limits);
        return Joined(Rounds(mesh, limits), limits);
    }

    /// <summary>The body that shells which run through each other hold together; as it is where that does not mend it.</summary>
    private static MendedMesh Joined(MendedMesh mended, MendingLimits limits)
    {
        var (joined, shells) = (mended, 0);
        foreach (var digits in GridDigits)
        {
            if (!IsCrossed(joined.Report.After) || BodyUnion.Of(joined.Mesh, digits) is not var (union, met)) break;
            if (joined == mended) shells = met;
            var again = Rounds(union, limits);
            joined = new(again.Mesh, again.Report with { Done = [.. joined.Report.Done.Concat(again.Report.Done).GroupBy(d => d.Step).OrderBy(g => g.Key).Select(g => (g.Key, g.Sum(d => d.Count)))] });
            if (joined.Report.IsMended) return joined with { Report = joined.Report with { Done = joined.Report.Done.Add((MendingStep.ShellsJoined, shells)) } };
            // Rounding can make thin facets cross again, which is joined anew; if it has torn them, all is tried on a coarser grid.
            if (!IsCrossed(joined.Report.After)) joined = mended;
        }

        return mended;

        // Of shells that cross none can be said to hold another.
        static bool IsCrossed(MeshReport report) =>
            report.CrossingPairs > 0 && !report.CrossingsCutOff && report.Defects.All(d => d.Kind is MeshDefectKind.CrossingPair or MeshDefectKind.MisorientedShell);
    }

    private static MendedMesh Rounds(TriangleMesh mesh, MendingLimits limits)
    {
        var total = new SortedDictionary<MendingStep, int>();
        ImmutableArray<OpenHole> holes = [];
        for (var round = 0; round < MostRounds; round++)
        {
            var counts = new Dictionary<MendingStep, int>();
            (var next, holes) = Round(mesh, limits, counts);
            // Parting pinches undoes what the weld joined: what counts is what came of both.
            if (IsSame(mesh, next)) break;
            mesh = next;
            foreach (var (step, count) in counts)
                if (count > 0) total[step] = total.GetValueOrDefault(step) + count;
        }

        return new(mesh, new([.. total.Select(t => (t.Key, t.Value))], holes, MeshInspection.Inspect(mesh)));
    }

    /// <summary>The report on one closed shell that faces outward and has no defect that mending looks for, as most files hold; null for any other mesh.</summary>
    private static MeshReport? AsItIs(TriangleMesh mesh)
    {
        if (mesh.Facets.IsEmpty) return null;
        var edges = new MeshEdges(mesh.Facets, CornerWeld.Own(mesh.Vertices.Length));
        foreach (var group in edges.Groups())
            if (group.Count != 2 || edges.RunsUp(group[0]) == edges.RunsUp(group[1])) return null;
        if (!(mesh.Volume() > 0)) return null;
        var report = MeshInspection.Inspect(mesh);
        return report is { Shells: 1, DuplicateVertices: 0 } && report.Defects.All(d => d.Kind is MeshDefectKind.CrossingPair) ? report : null;
    }

    private static (TriangleMesh Mesh, ImmutableArray<OpenHole> Holes) Round(TriangleMesh mesh, MendingLimits limits, Dictionary<MendingStep, int> counts)
    {
        mesh = Counted(MendingStep.NonFiniteFacetsDropped, FacetSieve.NonFinite(mesh));
        mesh = Counted(MendingStep.IdleVerticesDropped, CornerWeld.WithoutIdle(mesh));
        mesh = Counted(MendingStep.VerticesJoined, CornerWeld.Exact(mesh));
        mesh = Counted(MendingStep.DegenerateFacetsDropped, FacetSieve.Degenerate(mesh));
        var tolerance_mm = limits.WeldShareOfDiagonal * mesh.Bounds().Size.Length;
        mesh = Counted(MendingStep.NearVerticesJoined, CornerWeld.Near(mesh, tolerance_mm));
        mesh = Counted(MendingStep.DegenerateFacetsDropped, FacetSieve.Degenerate(mesh));
        mesh = Counted(MendingStep.InnerWallFacetsDropped, FacetSieve.InnerWalls(mesh));
        mesh = Counted(MendingStep.DuplicateFacetsDropped, FacetSieve.Duplicate(mesh));
        mesh = Counted(MendingStep.FacetsSplit, OpenSides.SplitAtCorners(mesh, tolerance_mm));

        var turned = FacetPatches.ToTurn(mesh);
        mesh = FacetPatches.Turned(mesh, turned);
        var before = mesh.Facets.Length;
        (mesh, var filled, var holes) = HoleFilling.Fill(mesh, limits, tolerance_mm);
        counts[MendingStep.HolesFilled] = filled;
        counts[MendingStep.FacetsAdded] = mesh.Facets.Length - before;
        var patches = new PatchMeasures(mesh);
        var outward = patches.ToTurnOutward();
        mesh = FacetPatches.Turned(mesh, outward);
        counts[MendingStep.FacetsTurned] = turned.Where((t, f) => t != outward[f]).Count();

        (var strays, counts[MendingStep.StrayShellsDropped]) = patches.Strays(limits.StrayShareOfVolume);
        mesh = new(mesh.Vertices, [.. mesh.Facets.Where((_, f) => !strays[f])]);
        // Vertices that only dropped facets had go with them, uncounted.
        mesh = CornerWeld.WithoutIdle(mesh).Mesh;
        var parted = MeshBuilder.SeparatePinches(mesh);
        counts[MendingStep.PinchesParted] = parted.Vertices.Length - mesh.Vertices.Length;
        return (parted, holes);

        TriangleMesh Counted(MendingStep step, (TriangleMesh Mesh, int Count) result)
        {
            counts[step] = counts.GetValueOrDefault(step) + result.Count;
            return result.Mesh;
        }
    }

    // The same facets at the same places, joined in the same vertices, whatever those are numbered.
    private static bool IsSame(TriangleMesh a, TriangleMesh b)
    {
        if (a.Facets.Length != b.Facets.Length || a.Vertices.Length != b.Vertices.Length) return false;
        var (there, back) = (new int[a.Vertices.Length], new int[b.Vertices.Length]);
        Array.Fill(there, -1);
        Array.Fill(back, -1);
        for (var i = 0; i < a.Facets.Length; i++)
        {
            var (f, g) = (a.Facets[i], b.Facets[i]);
            if (!Pair(f.A, g.A) || !Pair(f.B, g.B) || !Pair(f.C, g.C)) return false;
        }

        // As many vertices without a partner on either side; the second mesh has no idle ones.
        return !there.AsSpan().Contains(-1);

        bool Pair(int v, int w)
        {
            if (there[v] < 0 && back[w] < 0) (there[v], back[w]) = (w, v);
            return there[v] == w && back[w] == v && a.Vertices[v] == b.Vertices[w];
        }
    }
}
