using System.Collections.Immutable;
using PatternKit.Exchange.Stl;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Builds kits and checks what must hold for each of them.</summary>
internal static class KitCheck
{
    public const double Degree = Math.PI / 180;

    /// <summary>Meshes may come out below the asked draft by this much (the contract of the design).</summary>
    public const double DraftSlack = 0.05 * Degree;

    public static TheoryData<string> Templates() => TemplateTests.Names();

    public static Job Template(string name) => JobReader.Read(JobFolder.Repository("templates", name, "job.toml"));

    public static Kit Build(Job job) => KitBuilder.Build(job, FoundryTables.Default);

    /// <summary>The settings under which closed forms hold: no contraction, no rapping, no dowels, no draw screws, no fillets, no gating, both drafts given.</summary>
    public static Job Bare(this Job job, double outsideDegrees, double? insideDegrees = null, double? joint_mm = null, SizeHolds holds = SizeHolds.Tip) => job with
    {
        Pattern = new(outsideDegrees * Degree, (insideDegrees ?? outsideDegrees) * Degree, holds, Contraction: 0, Rapping_mm: 0, Dowels: false, DrawScrews: false, Fillet: new(0, ImmutableDictionary<string, double>.Empty)),
        Parting = new(joint_mm),
        Gating = new(Wanted: false),
    };

    public static KitBody Cope(this Kit kit) => Assert.Single(kit.Bodies, b => b.Half == MouldHalf.Cope);

    public static KitBody Drag(this Kit kit) => Assert.Single(kit.Bodies, b => b.Half == MouldHalf.Drag);

    /// <summary>Volume of the bodies if nothing were sunk into the parting faces.</summary>
    public static double Unpocketed_mm3(this Kit kit) => kit.Bridge.Pattern_mm3 - kit.Bridge.Pockets_mm3;

    /// <summary>The section of a body where it stands in the mould, as a region.</summary>
    public static PlanRegion Section(this KitBody body, double z) =>
        PlanRegion.EvenOdd(MeshSection.AtHeight(body.InMould, z).Select(l => PlanPath.Polygon(l.AsSpan())), 1);

    /// <summary>Width in x and in y of a region's box.</summary>
    public static (double X, double Y) Extent(this PlanRegion region) =>
        (region.Geometry.EnvelopeInternal.Width, region.Geometry.EnvelopeInternal.Height);

    /// <summary>Everything that must hold for the bodies of any kit.</summary>
    public static void Sound(Kit kit)
    {
        Closed(kit);
        foreach (var body in kit.Bodies) Drafted(kit, body);
    }

    /// <summary>The same but for draft.</summary>
    public static void Closed(Kit kit)
    {
        Assert.NotEmpty(kit.Bodies);
        Assert.True(Math.Abs(kit.Bridge.Gap) <= 1e-4, $"volume bridge: {kit.Bridge}, gap {kit.Bridge.Gap:R}");
        foreach (var body in kit.Bodies)
        {
            Valid(body.InMould, $"{body.Name} in the mould");
            Valid(body.AsPrinted, $"{body.Name} as printed");
            Printed(body, kit.Parting.PatternHeight_mm);
            InSinglePrecision(body);
            HandlingCheck.Held(kit, body);
        }
    }

    public static void Valid(TriangleMesh mesh, string what)
    {
        var report = MeshInspection.Inspect(mesh);
        Assert.True(report.IsValid, $"{what}: {report}");
        Assert.True(report.Volume_mm3 > 0, $"{what}: {report}");
    }

    /// <summary>Flat face on z = 0, nothing below, brought there by a proper rotation about x and a shift.</summary>
    public static void Printed(KitBody body, double joint_mm)
    {
        Assert.Equal(0.0, body.AsPrinted.Bounds().Low.Z);
        Assert.Contains(body.AsPrinted.Facets, f => body.AsPrinted.AreaNormal(f) is { Z: < 0 } n && n.Plan.Length == 0
            && body.AsPrinted.Vertices[f.A].Z == 0);
        double[,] m = new double[3, 4];
        for (var i = 0; i < 3; i++)
            for (var j = 0; j < 4; j++)
                m[i, j] = body.ToPrinted[i][j];
        Assert.Equal((1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0), (m[0, 0], m[0, 1], m[0, 2], m[1, 0], m[2, 0], m[0, 3], m[1, 3]));
        Assert.Equal(1, (m[1, 1] * m[2, 2]) - (m[1, 2] * m[2, 1]), 12);
        var up = body.Half == MouldHalf.Cope ? 1.0 : -1.0;
        Assert.Equal((up, up), (m[1, 1], m[2, 2]));
        Assert.Equal(0, m[2, 3] + (m[2, 2] * joint_mm), 9);
        Assert.Equal(body.InMould.Vertices.Length, body.AsPrinted.Vertices.Length);
        for (var v = 0; v < body.InMould.Vertices.Length; v++)
        {
            var p = body.InMould.Vertices[v];
            var moved = new Vec3(Row(m, 0, p), Row(m, 1, p), Row(m, 2, p));
            Assert.True((moved - body.AsPrinted.Vertices[v]).Length <= 1e-9, $"{p} goes to {moved}, not to {body.AsPrinted.Vertices[v]}");
        }
    }

    /// <summary>Written and read again, every corner stands where it stood and the facets are the same.</summary>
    public static void InSinglePrecision(KitBody body)
    {
        var mesh = body.AsPrinted;
        Assert.Equal(0.0, StlWriter.RoundingChange(mesh));
        Assert.Equal(0.0, StlWriter.RoundingChange(body.InMould));
        var read = StlReader.Read(StlWriter.Write(mesh, "pump house"), "cope.stl").Value;
        Assert.Equal(mesh.Facets.Length, read.Facets.Length);
        for (var f = 0; f < mesh.Facets.Length; f++)
            Assert.Equal(Corners(mesh, f), Corners(read, f));
        Valid(read, "read again");
    }

    /// <summary>
    /// Every facet that sand touches has the lesser of the asked drafts, level facets apart. Upright facets are those of pockets in the
    /// parting face, so they must lie where the kit says that a pocket is.
    /// </summary>
    public static void Drafted(Kit kit, KitBody body)
    {
        var asked = kit.Decisions.Where(d => d.Key is "draft_outside_deg" or "draft_inside_deg").Min(d => d.Value) * Degree;
        var pockets = PlanRegion.Union(
        [
            .. kit.Dowels.Select(d => PlanRegion.EvenOdd([PlanPath.Circle(d.At_mm, d.Hole_mm)], 0.005)),
            .. kit.Plan.Marks.Where(m => m.Half == body.Half).Select(m => m.Region),
            .. kit.Handling.Where(h => h.Half == body.Half).Select(h => h.Region),
        ]).Offset(0.01, 0.01);
        var (mesh, least) = (body.InMould, double.PositiveInfinity);
        foreach (var f in mesh.Facets)
        {
            var n = mesh.AreaNormal(f);
            if (n.Plan.Length == 0) continue;
            var middle = (1 / 3.0 * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C])).Plan;
            if (n.Z == 0 && pockets.Contains(middle)) continue;
            least = Math.Min(least, Math.Atan2(Math.Abs(n.Z), n.Plan.Length));
        }

        Assert.True(least >= asked - DraftSlack, $"{body.Name}: {least / Degree}° of draft where {asked / Degree}° are asked");
        if (double.IsFinite(least)) Assert.Equal(least, body.LeastDraft, 1e-9);
    }

    private static (Vec3 A, Vec3 B, Vec3 C) Corners(TriangleMesh mesh, int facet)
    {
        var f = mesh.Facets[facet];
        return (mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C]);
    }

    private static double Row(double[,] m, int row, Vec3 p) => (m[row, 0] * p.X) + (m[row, 1] * p.Y) + (m[row, 2] * p.Z) + m[row, 3];
}
