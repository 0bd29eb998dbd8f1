using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh.Walls;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Checks;
using PatternKit.Patterns.Cores.Hollows;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Meshes;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Originals;

/// <summary>
/// Looks at a part that is to be its own pattern (<c>original = true</c>): how it draws, what the casting will measure, what it takes to mould it, and whether
/// a printed pattern is the better way. Pure; nothing touches the disk.
/// </summary>
public static class OriginalCheck
{
    /// <summary>What is to be said of the part.</summary>
    /// <param name="job">A job of a mesh that says original = true.</param>
    /// <param name="tables">Trade tables, the shop's own values included.</param>
    /// <exception cref="InputException">A name that no table has; no metal; a joint outside the part.</exception>
    public static OriginalAnswer Of(Job job, FoundryTables tables)
    {
        if (job.Mesh is not { } mesh || !job.Original) throw new ArgumentException("A job that makes no mesh its own pattern.", nameof(job));
        var (alloy, sand) = KitBuilder.Materials(job, tables);
        var part = MeshCasting.Part(mesh);
        // No layers were printed on it.
        var smooth = job with { Pattern = job.Pattern with { Skin = PatternSkin.Smoothed } };
        var allowances = Allowances.Resolve(smooth, part.Box.Size, tables);
        var lie = MeshCasting.Lie(smooth, mesh, part, tables);
        var walls = new WallThickness(mesh.Body);
        var casting = MeshCasting.Casting(part, new(mesh, 0, []), Allowances.None(DraftRule.Floor(tables.Draft).Value, tables.Fillets), job);

        var faces = UntaperedFaces.Of(mesh.Body, walls, lie.Joint_mm, allowances.DraftOutside.Value, double.DegreesToRadians(tables.Lying.Roof_deg.Value), casting.Lattice);
        var rise = EdgeRise.Of(mesh.Body, lie.Columns!, lie.Joint_mm);
        var sizes = new OriginalSizes(allowances, alloy, sand, tables.Machining);
        ImmutableArray<MeasureResult> measures = [.. job.Measures.Select(m => sizes.Of(m, walls))];
        var overall = sizes.Overall(part.Box.Size);
        ImmutableArray<Finding> findings =
        [
            .. OriginalWords.Faces(faces, allowances.DraftOutside), .. MeshFindings.Of(lie).Where(f => f.Code != "no-draft"), .. OriginalWords.FollowBoard(rise, tables.Originals.FlatWithin_mm),
            .. Sand(), .. OriginalWords.NarrowRecesses(lie, sand, tables.DrawCheck), .. MeshThinMetal.Of(mesh.Body, alloy), .. KitBuilder.Hazard(alloy, job),
        ];
        var reasons = OriginalWords.Reasons(findings, faces, lie, measures.IsEmpty ? overall : measures, tables.Originals);
        var caught = findings.Any(f => f.Code == "undercut");
        return new(
            job, alloy.Title, lie, caught ? OriginalVerdict.CannotBeDrawn : reasons.IsEmpty ? OriginalVerdict.WillDo : OriginalVerdict.PatternIsBetter, reasons,
            OriginalWords.Work(findings, faces, rise, tables.Originals), allowances.Contraction, allowances.Rapping_mm, allowances.DraftOutside, measures, overall, faces, lie.Walls.Whole_mm2, rise, findings);

        // The sand around the part as it is: a mould with the least taper that can be reckoned with.
        IEnumerable<Finding> Sand()
        {
            var draft = new DraftAngles(DraftRule.Floor(tables.Draft).Value, DraftRule.Floor(tables.Draft).Value);
            var choice = MeshCasting.Choice(job, lie, casting, null, LeftRecesses.Of(lie, false, MeshHollows.None), MeshHollows.None);
            HalfMould Half(MouldHalf half) => MeshCasting.Half(mesh, lie, casting, choice, null, LeftRecesses.Of(lie, false, MeshHollows.None), half, draft, new MeshingTolerance(part.ChordTolerance_mm));
            var (cope, drag) = MouldHalves.Both(Half);
            return FragileSand.Of(cope, drag, sand, tables.DrawCheck, casting.Frame).ToArray();
        }
    }
}
