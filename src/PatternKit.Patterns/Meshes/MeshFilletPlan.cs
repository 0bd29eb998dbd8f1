using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>
/// Fillets on a half of a part that is a mesh: one radius for the half, by the thicker of the walls beside its inside corners, as for outlines; smaller ones where walls are low or
/// floors narrow, larger or smaller ones beside faces that the job names.
/// </summary>
internal static class MeshFilletPlan
{
    /// <summary>Skin that is nearer to an inside corner than so many radii is beside it.</summary>
    private const double BesideRadii = 2;

    /// <summary>So many places of the skin are read at the most.</summary>
    private const int MostReadings = 2000;

    /// <summary>A held radius is told from so much floor on, in squares of the radius asked for.</summary>
    private const double ToldFrom = 1;

    /// <summary>The half with its fillets, and what is to be told of them.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mesh">The part with its stock.</param>
    /// <param name="mould">The half without fillets.</param>
    /// <param name="half">Which.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="table">The rules.</param>
    /// <param name="check">What counts as a square corner.</param>
    public static (FilletPlan Fillets, HalfMould Mould) Into(Job job, PartMesh mesh, HalfMould mould, MouldHalf half, PatternFrame frame, FilletTable table, DrawTable check)
    {
        var settings = job.Pattern.Fillet;
        var named = settings?.Names_mm ?? ImmutableDictionary<string, double>.Empty;
        if (mould.IsEmpty || (settings?.All_mm == 0 && named.IsEmpty)) return (FilletPlan.None, mould);
        if (MeshFillets.IsTooLarge(mould.Upper))
        {
            var top = frame.ToJob(new(0, 0, 0));
            return (FilletPlan.None with { Findings = [new("fillet-capped", Severity.Note, Invariant($"The {(half == MouldHalf.Cope ? "cope" : "drag")} half has too many facets for fillets in this release: none are made."), top, 0, Remedy: "Thin the mesh out in the program that it comes from, or look at its inside corners; round their feet with wax or filler on the pattern.", Unit: "mm")] }, mould);
        }

        var sign = half == MouldHalf.Cope ? 1 : -1;
        var rule = settings?.All_mm is { } asked ? new Sourced<double>(asked, "", Allowances.Given) : ByRule(mesh, mould, sign, frame, table);
        if (rule is not { } radius) return (FilletPlan.None, mould);
        var wanted_mm = settings?.All_mm ?? Fillets.InSeries(table, Math.Min(radius.Value, table.Series_mm[^1]));
        ImmutableArray<double> radii =
        [
            .. table.Series_mm.Where(r => r >= table.Profile_mm.Value && r < named.Values.Append(wanted_mm).Max()).Concat(named.Values).Append(wanted_mm).Where(r => r > 0).Distinct().OrderDescending(),
        ];
        Func<Vec2, double>? radiusAt = null;
        if (!named.IsEmpty)
        {
            var faces = new NamedFaces(mesh, named, radii[0]);
            radiusAt = p => faces.Of(At(p)) ?? wanted_mm;
        }

        var made = MeshFillets.Of(mould.Upper, radii, table.GapShare.Value, mould.Tolerance_mm, radiusAt);
        var name = half == MouldHalf.Cope ? "cope" : "drag";
        var decisions = made.Radii_mm.Select((r, i) => new Decision(
            Invariant($"fillet_{name}_{i + 1}_mm"), Invariant($"Fillets of the {name}"), r, "mm", r == wanted_mm ? radius.Rule : named.ContainsValue(r) ? Allowances.Given : "where walls are low or a floor is narrow", r == wanted_mm ? radius.Source : ""));
        var findings = Told(made.Held, p => !mould.IsCarved || p.Z > mould.JointAt(p.Plan), wanted_mm, radius, p => At(p.Plan), frame, check).ToImmutableArray();
        return (FilletPlan.None with { Decisions = [.. decisions], Findings = findings }, made.Terrain is { } closed ? mould.Filleted(closed) : mould);

        // Adding zero turns a negative zero into zero.
        Vec3 At(Vec2 p) => frame.ToJob(new(p.X, p.Y, (sign * mould.Upper.At(p).Height) + 0.0));
    }

    /// <summary>By the metal behind the skin beside the inside corners; null where there are none.</summary>
    private static Sourced<double>? ByRule(PartMesh mesh, HalfMould mould, int sign, PatternFrame frame, FilletTable table)
    {
        var least_mm = table.Least_mm.Value;
        var cell = BesideRadii * least_mm;
        var beside = new HashSet<(int, int)>();
        foreach (var p in MeshFillets.Places(mould.Upper, least_mm, mould.Tolerance_mm))
        {
            var at = frame.ToJob(new(p.X, p.Y, 0));
            beside.Add(Cell(at));
        }

        if (beside.Count == 0) return null;
        SkinSample[] samples = [.. SkinSampling.Over(mesh.Body, cell).Samples.Where(s => beside.Contains(Cell(s.At)) && sign * frame.Scale * s.At.Z > mould.JointAt(frame.Scale * s.At.Plan))];
        var walls = new WallThickness(mesh.Body);
        var every = Math.Max(1, samples.Length / MostReadings);
        var read = new double[(samples.Length + every - 1) / every];
        Parallel.For(0, read.Length, i => read[i] = walls.At(samples[i * every].Facet, samples[i * every].At)?.Thickness_mm ?? double.NaN);
        double[] known = [.. read.Where(t => t > 0).Order()];
        return Fillets.Least(table, known.Length == 0 ? least_mm : known[(int)(table.MeshSkin.Value * (known.Length - 1))]);

        (int, int) Cell(Vec3 at) => ((int)Math.Floor(at.X / cell), (int)Math.Floor(at.Y / cell));
    }

    private static IEnumerable<Finding> Told(ImmutableArray<HeldRadius> held, Func<Vec3, bool> isInHalf, double wanted_mm, Sourced<double> rule, Func<Vec3, Vec3> place, PatternFrame frame, DrawTable check)
    {
        var told = held.Where(h => h.Radius_mm < wanted_mm && h.Area_mm2 >= ToldFrom * wanted_mm * wanted_mm && isInHalf(h.Place)).ToArray();
        if (told.Length == 0) yield break;
        var worst = told.OrderBy(h => h.Radius_mm).ThenByDescending(h => h.Area_mm2).First();
        var at = place(worst.Place);
        var got = worst.Radius_mm > 0 ? Invariant($"has R {worst.Radius_mm:0.##} mm") : "has no fillet";
        var others = told.Length > 1 ? Invariant($"; {told.Length - 1} more places of this half are held back too") : "";
        yield return new(
            "fillet-capped", Severity.Note,
            Invariant($"The foot of the walls near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm {got}, less than {wanted_mm:0.##} mm, because a wall there is low or the floor between walls is narrow{others}."),
            at, worst.Radius_mm, wanted_mm, rule.Source, "Nothing, if the sand there is firm; or widen the gap, or round the foot with wax or filler on the pattern.", "mm");
    }
}
