using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Inset;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;

namespace PatternKit.Patterns.Printing;

/// <summary>
/// Takes off the bodies of a kit what their prints grow by until they are finished. The face on the bed stays: at the joint it has to. Faces that sand touches go in by oversize and finish along their normals, upright
/// walls and what is sunk into the face on the bed by the oversize alone, since nobody paints a dowel hole.
/// </summary>
internal static class InsetBuilder
{
    /// <summary>The kit with what its files have in place of the finished bodies; as it is where the shop gives no growth.</summary>
    public static Kit Into(Kit kit, FoundryTables tables)
    {
        var finish = kit.Job.Pattern.Finish_mm;
        var shop = tables.Growth ?? PrintGrowth.None;
        var growth = shop with { Finish_mm = finish ?? shop.Finish_mm };
        if (growth.IsNone) return kit;
        var sand = kit.Cores.Select(c => c.Body).ToHashSet();
        KitBody[] bodies = [.. kit.AllBodies.Where(b => !sand.Contains(b))];
        var joint = kit.Bodies.Concat(kit.Coupon?.Bodies ?? []).Concat((kit.Gating?.Bars ?? []).Where(b => b.Body.ToPrinted[2][2] > 0 == (b.Body.Half == MouldHalf.Cope)).Select(b => b.Body)).Select(b => b.Name).ToHashSet();
        var pieces = kit.Cut.SelectMany(c => c.Pieces.Select(p => (Name: p.Name, Cut: c))).ToDictionary(p => p.Name, p => p.Cut);
        var made = new (InsetFile? File, string? Why)[bodies.Length];
        Parallel.For(0, bodies.Length, i =>
        {
            var body = bodies[i];
            made[i] = kit.Loose.Any(l => l.Body == body) ? (null, "it fits into a seat that is as drawn") : Made(body, pieces.GetValueOrDefault(body.Name), growth, joint.Contains(body.Name));
        });
        var inset = new KitInset(
            growth,
            bodies.Zip(made).Where(m => m.Second.File is not null).ToImmutableSortedDictionary(m => m.First.Name, m => m.Second.File!, StringComparer.Ordinal),
            [.. bodies.Zip(made).Where(m => m.Second.Why is not null).Select(m => (m.First.Name, m.Second.Why!))],
            [.. growth.Flare_mm == 0 ? [] : bodies.Zip(made).Where(m => m.Second.File?.IsTrimmed != true && IsAtJoint(m.First)).Select(m => m.First.Name)]);
        return kit with
        {
            Inset = inset,
            Decisions = kit.Decisions.AddRange(InsetFindings.Decisions(inset, finish is not null)),
            Findings = kit.Findings.AddRange(InsetFindings.Of(inset, bodies).Select(f => f.In(kit.Job.Unit))),
        };

        bool IsAtJoint(KitBody body) => joint.Contains(body.Name) || (kit.Plate is null && kit.CutHalves.Any(c => c.Pieces.Contains(body)));
    }

    private static (InsetFile? File, string? Why) Made(KitBody body, CutBody? cut, PrintGrowth growth, bool atJoint)
    {
        var box = body.AsPrinted.Bounds();
        var lattice = Lattice.For(1.2 * new[] { box.Low.X, box.Low.Y, box.High.X, box.High.Y, box.High.Z }.Max(Math.Abs));
        FootTrim? trim = atJoint && growth.Flare_mm > 0 ? new(growth.Flare_mm, growth.FirstLayer_mm) : null;
        if (growth.Skin_mm == 0 && trim is null) return default;
        try
        {
            var made = InsetBody.Of((cut?.Whole ?? body).AsPrinted, new(growth.Skin_mm, growth.Oversize_mm), trim, cut is null ? null : Within(body, cut), lattice, new());
            if (made is null) return (null, "as printed there are faces that hang over, or upright holes from above");
            if (made.Mesh.Facets.IsEmpty) return (null, "nothing of it would be left");
            return MeshInspection.Inspect(made.Mesh).IsValid ? (new(made.Mesh, made.Mesh.Mapped(v => InMould(body, v)), made.IsTrimmed), null) : (null, "no sound body is left");
        }
        catch (ArgumentException)
        {
            return (null, "a pocket of it would break through");
        }
    }

    /// <summary>The plan of a piece as it is printed.</summary>
    private static PlanRegion Within(KitBody piece, CutBody cut)
    {
        var rows = piece.ToPrinted;
        // Cuts run along x and y, and bodies are printed as they lie, or turned over about x.
        return cut.Plan.Pieces.First(p => $"{cut.Whole.Name}-{p.Place}" == piece.Name).Within.Transformed(1, rows[1][1] < 0 ? Math.PI : 0, default, mirrored: rows[1][1] < 0);
    }

    private static Vec3 InMould(KitBody body, Vec3 printed)
    {
        var rows = body.ToPrinted;
        var (x, y, z) = (printed.X - rows[0][3], printed.Y - rows[1][3], printed.Z - rows[2][3]);
        return new(Row(0), Row(1), Row(2));

        double Row(int i) => (rows[0][i] * x) + (rows[1][i] * y) + (rows[2][i] * z);
    }
}
