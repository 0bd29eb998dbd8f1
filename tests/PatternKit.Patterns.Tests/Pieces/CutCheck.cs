using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;
using PatternKit.Patterns.Tests.Kits;

namespace PatternKit.Patterns.Tests.Pieces;

/// <summary>What must hold for every body that is cut to the printer's bed.</summary>
internal static class CutCheck
{
    public static FoundryTables Bed(double x, double y, string more = "") => FoundryTables.Default.With(FormattableString.Invariant($"[printer]\nbed_mm = [{x}, {y}]\n{more}\n"), "shop.toml");

    /// <summary>
    /// Pieces are sound, fit the bed as they lie or turned by a quarter, and at many heights their sections together are that of the whole but for the strip of the gap: nothing of
    /// a piece lies off the whole by more than the tolerance of both meshes, and nothing of the whole is missing.
    /// </summary>
    public static void Sound(Kit kit, CutBody cut, double bedX, double bedY)
    {
        Assert.Equal(cut.Plan.Pieces.Length, cut.Pieces.Length);
        foreach (var piece in cut.Pieces)
        {
            KitCheck.Valid(piece.AsPrinted, piece.Name);
            KitCheck.Printed(piece, kit.Parting.PatternHeight_mm);
            KitCheck.InSinglePrecision(piece);
            var size = piece.AsPrinted.Bounds().Size;
            Assert.True((size.X <= bedX && size.Y <= bedY) || (size.X <= bedY && size.Y <= bedX), $"{piece.Name} is {size}");
            NothingHangs(cut, piece);
        }

        var bounds = cut.Whole.InMould.Bounds();
        var strip = cut.Plan.Body.Difference(PlanRegion.Union(cut.Plan.Pieces.Select(p => p.Within))).Offset(0.03, 0.005);
        for (var i = 0; i < 5; i++)
        {
            var z = bounds.Low.Z + ((bounds.High.Z - bounds.Low.Z) * (i + 0.37) / 5);
            var whole = cut.Whole.Section(z);
            var pieces = cut.Pieces.Select(p => p.Section(z)).ToArray();
            var all = PlanRegion.Union(pieces);
            Assert.Equal(all.Area, pieces.Sum(p => p.Area), 1e-6 * Math.Max(1, all.Area));
            Assert.True(all.Difference(whole.Offset(0.03, 0.005)).IsEmpty, $"{cut.Whole.Name} at {z}: a piece lies outside");
            var missing = whole.Difference(all.Offset(0.03, 0.005)).Difference(strip).WithoutSlivers(0.02);
            Assert.True(missing.IsEmpty, $"{cut.Whole.Name} at {z}: {missing.Geometry} is missing");
        }
    }

    /// <summary>No facet that looks down is gentler than 45°, but the flat face on the bed and the level ceilings of what is sunk into it, which the whole body has too.</summary>
    private static void NothingHangs(CutBody cut, KitBody piece)
    {
        var mesh = piece.AsPrinted;
        var openings = new Dictionary<double, PlanRegion>();
        foreach (var f in mesh.Facets)
        {
            var n = mesh.AreaNormal(f);
            var z = mesh.Vertices[f.A].Z;
            if (n.Z >= 0 || n.Plan.Length >= -n.Z) continue;
            // Level but for a step of the lattice at a corner.
            Assert.True(n.Plan.Length <= 1e-4 * -n.Z, $"{piece.Name}: a facet at {mesh.Vertices[f.A]}, {mesh.Vertices[f.B]}, {mesh.Vertices[f.C]} hangs over");
            if (z == 0) continue;
            if (!openings.TryGetValue(z, out var solid)) openings.Add(z, solid = Section(cut.Whole.AsPrinted, z / 2));
            var at = (1 / 3.0 * (mesh.Vertices[f.A] + mesh.Vertices[f.B] + mesh.Vertices[f.C])).Plan;
            Assert.False(solid.Contains(at), $"{piece.Name}: a ceiling at {at} that the whole has not");
        }
    }

    private static PlanRegion Section(TriangleMesh mesh, double z) => PlanRegion.EvenOdd(MeshSection.AtHeight(mesh, z).Select(l => PlanPath.Polygon(l.AsSpan())), 1);

    /// <summary>Facets that are not upright on a cut or a pocket have the draft that is asked for.</summary>
    public static void Drafted(KitBody piece, double asked)
    {
        var mesh = piece.InMould;
        var least = mesh.Facets.Select(mesh.AreaNormal).Where(n => n.Z != 0 && n.Plan.Length > 0).Select(n => Math.Atan2(Math.Abs(n.Z), n.Plan.Length)).DefaultIfEmpty(Math.PI / 2).Min();
        Assert.True(least >= asked - KitCheck.DraftSlack, $"{piece.Name}: {least / KitCheck.Degree}°");
        Assert.Equal(least, piece.LeastDraft, 1e-9);
    }
}
