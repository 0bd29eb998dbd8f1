using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Meshes;

/// <summary>
/// Fillets on a half of a part that is a mesh: one radius for its upper side and one for its hollows, by the thicker of the walls beside their inside corners, as for outlines; smaller ones
/// where walls are low or floors narrow, larger or smaller ones beside faces that the job names.
/// </summary>
internal static class MeshFilletPlan
{
    /// <summary>Skin that is nearer to an inside corner than so many radii is beside it.</summary>
    private const double BesideRadii = 2;

    /// <summary>So many places of the skin are read at the most.</summary>
    private const int MostReadings = 2000;

    /// <summary>A held radius is told from so much floor on, in squares of the radius asked for.</summary>
    private const double ToldFrom = 1;

    /// <summary>Skin is a hollow's where that reaches up to it, or a little beside it, looked for in so many directions.</summary>
    private const int Directions = 8;

    /// <summary>A side of a half, in the frame in which its own draw points up.</summary>
    /// <param name="Terrain">Without fillets.</param>
    /// <param name="Sign">Heights in the pattern over those of the frame.</param>
    /// <param name="Name">The half, and what of it.</param>
    /// <param name="Where">What its corners are called.</param>
    /// <param name="Has">Whether a place of the pattern's skin, in the frame, is this side's.</param>
    /// <param name="Fill">Fills its inside corners.</param>
    private sealed record Side(DraftedTerrain Terrain, int Sign, string Name, string Where, Func<Vec3, bool> Has, Filling Fill);

    private delegate MeshFillets Filling(DraftedTerrain terrain, ImmutableArray<double> radii, double share, double tolerance, Func<Vec2, double>? radiusAt);

    /// <summary>The half with its fillets, and what is to be told of them.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mesh">The part with its stock.</param>
    /// <param name="mould">The half without fillets.</param>
    /// <param name="half">Which.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="table">The rules.</param>
    /// <param name="prints">Of cores, in plan: their feet stay sharp.</param>
    public static (FilletPlan Fillets, HalfMould Mould) Into(Job job, PartMesh mesh, HalfMould mould, MouldHalf half, PatternFrame frame, FilletTable table, PlanRegion prints)
    {
        if (mould.IsEmpty || (job.Pattern.Fillet?.All_mm == 0 && job.Pattern.Fillet.Names_mm.IsEmpty)) return (FilletPlan.None, mould);
        var (name, sign) = half == MouldHalf.Cope ? ("cope", 1) : ("drag", -1);
        var (decisions, findings) = (ImmutableArray.CreateBuilder<Decision>(), ImmutableArray.CreateBuilder<Finding>());
        var upper = Made(new(mould.Upper, sign, name, "foot of the walls", p => p.Z > mould.JointAt(p.Plan), (terrain, radii, share, tolerance, at) => MeshFillets.Of(terrain, radii, share, tolerance, at)));
        var under = mould.Under is { } hollows ? Made(new(hollows, -sign, $"recesses of the {name}", "corner of roof and walls", p => p.Z <= -mould.Joint_mm && IsOf(hollows, p, table.Least_mm.Value), MeshFillets.OfHollows)) : null;
        return (FilletPlan.None with { Decisions = decisions.ToImmutable(), Findings = findings.ToImmutable() }, mould.Filleted(upper, under));

        ClosedTerrain? Made(Side side)
        {
            if (MeshFillets.IsTooLarge(side.Terrain))
            {
                findings.Add(TooLarge(side.Name, frame));
                return null;
            }

            if (Filled(job, mesh, side, mould.Tolerance_mm, frame, table, prints) is not var (made, wanted_mm, rule)) return null;
            foreach (var r in made.Radii_mm)
            {
                decisions.Add(new(
                    Invariant($"fillet_{name}_{decisions.Count + 1}_mm"), Invariant($"Fillets of the {side.Name}"), r, "mm",
                    r == wanted_mm ? rule.Rule : job.Pattern.Fillet?.Names_mm.ContainsValue(r) == true ? Allowances.Given : "where walls are low or a floor is narrow", r == wanted_mm ? rule.Source : ""));
            }

            findings.AddRange(Told(made.Held, h => !prints.Contains(h.Plan) && (side.Sign != sign || !mould.IsCarved || h.Z > mould.JointAt(h.Plan)), wanted_mm, rule, side, frame));
            return made.Terrain;
        }
    }

    /// <summary>A side with its fillets, and the radius that they should have; null where it has no inside corners.</summary>
    private static (MeshFillets Made, double Wanted_mm, Sourced<double> Rule)? Filled(Job job, PartMesh mesh, Side side, double tolerance, PatternFrame frame, FilletTable table, PlanRegion prints)
    {
        var settings = job.Pattern.Fillet;
        var named = settings?.Names_mm ?? ImmutableDictionary<string, double>.Empty;
        var rule = settings?.All_mm is { } asked ? new Sourced<double>(asked, "", Allowances.Given) : ByRule(mesh, side, tolerance, frame, table);
        if (rule is not { } radius) return null;
        var wanted_mm = settings?.All_mm ?? Fillets.InSeries(table, Math.Min(radius.Value, table.Series_mm[^1]));
        ImmutableArray<double> radii =
        [
            .. table.Series_mm.Where(r => r >= table.Profile_mm.Value && r < named.Values.Append(wanted_mm).Max()).Concat(named.Values).Append(wanted_mm).Where(r => r > 0).Distinct().OrderDescending(),
        ];
        Func<Vec2, double>? radiusAt = null;
        if (!named.IsEmpty || !prints.IsEmpty)
        {
            var faces = named.IsEmpty ? null : new NamedFaces(mesh, named, radii[0]);
            radiusAt = p => prints.Contains(p) ? 0 : faces?.Of(At(side, frame, p)) ?? wanted_mm;
        }

        return (side.Fill(side.Terrain, radii, table.GapShare.Value, tolerance, radiusAt), wanted_mm, radius);
    }

    /// <summary>By the metal behind the skin beside the inside corners; null where there are none.</summary>
    private static Sourced<double>? ByRule(PartMesh mesh, Side side, double tolerance, PatternFrame frame, FilletTable table)
    {
        var least_mm = table.Least_mm.Value;
        var cell = BesideRadii * least_mm;
        var beside = new HashSet<(int, int)>();
        foreach (var p in MeshFillets.Places(side.Terrain, least_mm, tolerance))
        {
            var at = frame.ToJob(new(p.X, p.Y, 0));
            beside.Add(Cell(at));
        }

        if (beside.Count == 0) return null;
        SkinSample[] samples = [.. SkinSampling.Over(mesh.Body, cell).Samples.Where(s => beside.Contains(Cell(s.At)) && side.Has(new(frame.Scale * s.At.X, frame.Scale * s.At.Y, side.Sign * frame.Scale * s.At.Z)))];
        var walls = new WallThickness(mesh.Body);
        var every = Math.Max(1, samples.Length / MostReadings);
        var read = new double[(samples.Length + every - 1) / every];
        Parallel.For(0, read.Length, i => read[i] = walls.At(samples[i * every].Facet, samples[i * every].At)?.Thickness_mm ?? double.NaN);
        double[] known = [.. read.Where(t => t > 0).Order()];
        return Fillets.Least(table, known.Length == 0 ? least_mm : known[(int)(table.MeshSkin.Value * (known.Length - 1))]);

        (int, int) Cell(Vec3 at) => ((int)Math.Floor(at.X / cell), (int)Math.Floor(at.Y / cell));
    }

    /// <summary>Whether a place is skin of hollows, which have given it more draft: they reach up to it there or as far beside it.</summary>
    private static bool IsOf(DraftedTerrain hollows, Vec3 p, double beside_mm) => Enumerable.Range(0, Directions).Select(i => 2 * Math.PI * i / Directions)
        .Select(turn => beside_mm * new Vec2(Math.Cos(turn), Math.Sin(turn))).Prepend(default).Min(off => hollows.At(p.Plan + off).Height) - beside_mm <= p.Z;

    private static Vec3 At(Side side, PatternFrame frame, Vec2 p) =>
        // Adding zero turns a negative zero into zero.
        frame.ToJob(new(p.X, p.Y, (side.Sign * side.Terrain.At(p).Height) + 0.0));

    private static Finding TooLarge(string name, PatternFrame frame) => new(
        "fillet-capped", Severity.Note, $"The surface of the {name} has too many facets for fillets in this release: none are made there.", frame.ToJob(default), 0,
        Remedy: "Thin the mesh out in the program that it comes from, or look at its inside corners; round their feet with wax or filler on the pattern.", Unit: "mm");

    private static IEnumerable<Finding> Told(ImmutableArray<HeldRadius> held, Func<Vec3, bool> isInHalf, double wanted_mm, Sourced<double> rule, Side side, PatternFrame frame)
    {
        var told = held.Where(h => h.Radius_mm < wanted_mm && h.Area_mm2 >= ToldFrom * wanted_mm * wanted_mm && isInHalf(h.Place)).ToArray();
        if (told.Length == 0) yield break;
        var worst = told.OrderBy(h => h.Radius_mm).ThenByDescending(h => h.Area_mm2).First();
        var at = At(side, frame, worst.Place.Plan);
        var got = worst.Radius_mm > 0 ? Invariant($"has R {worst.Radius_mm:0.##} mm") : "has no fillet";
        var others = told.Length > 1 ? Invariant($"; {told.Length - 1} more places of this half are held back too") : "";
        yield return new(
            "fillet-capped", Severity.Note,
            Invariant($"The {side.Where} near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm {got}, less than {wanted_mm:0.##} mm, because a wall there is low or the floor between walls is narrow{others}."),
            at, worst.Radius_mm, wanted_mm, rule.Source, "Nothing, if the sand there is firm; or widen the gap, or round the foot with wax or filler on the pattern.", "mm");
    }
}
