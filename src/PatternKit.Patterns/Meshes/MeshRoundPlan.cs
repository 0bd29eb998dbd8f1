using System.Collections.Immutable;
using PatternKit.Foundry;
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
/// Rounded edges of a half of a part that is a mesh: one radius for the half, smaller ones where walls are low or what stands there is narrow, larger or smaller ones beside faces that
/// the job names. Edges at the joint stay sharp.
/// </summary>
internal static class MeshRoundPlan
{
    /// <summary>Of the metal over a hollow that is left to the other half's sand an edge takes no more than this.</summary>
    private const double OverHollow = 0.5;

    /// <summary>A held radius is told from so much of the edge on, in squares of the radius asked for.</summary>
    private const double ToldFrom = 1;

    /// <summary>The half with its edges rounded, and what is to be told of them.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mesh">The part with its stock.</param>
    /// <param name="mould">The half with sharp edges.</param>
    /// <param name="half">Which.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="table">The rules.</param>
    /// <param name="prints">Of cores, in plan: their edges stay sharp.</param>
    public static (RoundPlan Rounds, HalfMould Mould) Into(Job job, PartMesh mesh, HalfMould mould, MouldHalf half, PatternFrame frame, FilletTable table, PlanRegion prints)
    {
        if (job.Pattern.Round is not { } settings || mould.IsEmpty) return (RoundPlan.None, mould);
        var rule = settings.All_mm is { } all ? new Sourced<double>(all, "", Allowances.Given) : new(table.Edge_mm.Value, table.Edge_mm.From.Text, table.Edge_mm.Printed);
        ImmutableArray<double> wanted = [.. settings.Names_mm.Values.Append(rule.Value).Where(r => r > 0).Distinct().OrderDescending()];
        if (wanted.IsEmpty) return (RoundPlan.None, mould);
        var name = half == MouldHalf.Cope ? "cope" : "drag";
        if (MeshFillets.IsTooLarge(mould.Upper))
        {
            return (RoundPlan.None with
            {
                Findings = [new("round-capped", Severity.Note, $"The {name} half has too many facets for rounded edges in this release: they stay sharp.", frame.ToJob(default), 0, Remedy: "Thin the mesh out in the program that it comes from, or break the casting's edges with a file.", Unit: "mm")],
            }, mould);
        }

        var sign = half == MouldHalf.Cope ? 1 : -1;
        var faces = settings.Names_mm.IsEmpty ? null : new NamedFaces(mesh, settings.Names_mm, wanted[0]);
        ImmutableArray<double> radii = [.. table.Series_mm.Where(r => r < wanted[0]).Concat(wanted).Distinct().OrderDescending()];
        var made = MeshRounds.Of(
            mould.Upper, radii, table.GapShare.Value, mould.Tolerance_mm, faces is null && mould.Under is null && prints.IsEmpty ? null : Most, mould.IsCarved ? mould.JointAt : null);
        ImmutableArray<Decision> decisions =
        [
            .. made.Radii_mm.Select((r, i) => new Decision(
                Invariant($"round_{name}_{i + 1}_mm"), Invariant($"Edges of the {name}"), r, "mm",
                r == rule.Value ? rule.Rule : wanted.Contains(r) ? Allowances.Given : "where walls are low or what stands there is narrow", r == rule.Value ? rule.Source : "")),
        ];
        return (new([], decisions, [.. Told(made.Held)]), made.Terrain is { } rounded ? mould.Rounded(rounded) : mould);

        double Most(Vec2 p)
        {
            if (prints.Contains(p)) return 0;
            var asked = faces?.Of(At(p)) ?? rule.Value;
            return mould.Under is { } under && -under.At(p).Height is var hollow && hollow > mould.Joint_mm ? Math.Min(asked, OverHollow * (mould.Upper.At(p).Height - hollow)) : asked;
        }

        // Adding zero turns a negative zero into zero.
        Vec3 At(Vec2 p) => frame.ToJob(new(p.X, p.Y, (sign * mould.Upper.At(p).Height) + 0.0));

        IEnumerable<Finding> Told(ImmutableArray<HeldRadius> held)
        {
            HeldRadius[] told = [.. held.Where(h => h.Radius_mm < rule.Value && h.Area_mm2 >= ToldFrom * rule.Value * rule.Value && h.Place.Z > mould.JointAt(h.Place.Plan) && !prints.Contains(h.Place.Plan))];
            if (told.Length == 0) yield break;
            var worst = told.OrderBy(h => h.Radius_mm).ThenByDescending(h => h.Area_mm2).First();
            var at = At(worst.Place.Plan);
            var got = worst.Radius_mm > 0 ? Invariant($"has R {worst.Radius_mm:0.##} mm") : "stays sharp";
            var others = told.Length > 1 ? Invariant($"; {told.Length - 1} more places of this half are held back too") : "";
            yield return new(
                "round-capped", Severity.Note,
                Invariant($"The edge near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm {got}, less than {rule.Value:0.##} mm, because its wall is low or what stands there is narrow{others}."),
                at, worst.Radius_mm, rule.Value, "the wall and the ground beside it must hold the arc (common practice)", "Nothing, or ask for less; the casting's edge can be broken with a file.", "mm");
        }
    }
}
