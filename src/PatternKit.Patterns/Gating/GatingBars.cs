using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Gating;

/// <summary>Makes the bodies of the bars: drafted terrains on the joint, and a turned sprue.</summary>
internal sealed class GatingBars
{
    private readonly GateSite site;
    private readonly GatingReckoning reckoning;
    private readonly GatingLayout layout;
    private readonly double draft;
    private readonly double joint;
    private readonly Lattice lattice;
    private readonly MeshingTolerance tolerance;

    private GatingBars(GateSite site, GatingReckoning reckoning, GatingLayout layout, double draft, double joint, Lattice lattice, MeshingTolerance tolerance)
    {
        (this.site, this.reckoning, this.layout, this.draft, this.lattice, this.tolerance) = (site, reckoning, layout, draft, lattice, tolerance);
        this.joint = lattice.Snap(joint);
    }

    private MouldHalf RunnerHalf => site.Half == MouldHalf.Drag ? MouldHalf.Cope : MouldHalf.Drag;

    // The well lies in the drag, under the sprue; of a mould on edge it is the hollow in the runner under the foot of the sprue.
    private bool RunnerHoldsWell => layout.SprueLies || RunnerHalf == MouldHalf.Drag;

    /// <summary>All bars, the sprue first.</summary>
    /// <param name="site">The side that is gated.</param>
    /// <param name="reckoning">The sections.</param>
    /// <param name="layout">Where they lie.</param>
    /// <param name="footprint">The casting at the joint, both halves.</param>
    /// <param name="draft">Of the bars, radians.</param>
    /// <param name="joint">Height of the joint, pattern millimetres.</param>
    /// <param name="tolerance">Of the meshes.</param>
    public static ImmutableArray<GatingBar> Build(
        GateSite site, GatingReckoning reckoning, GatingLayout layout, PlanRegion footprint, double draft, double joint, MeshingTolerance tolerance)
    {
        var ingates = layout.Ingates(footprint).ToArray();
        var box = PlanRegion.Union([layout.Runner, .. ingates, layout.SprueLies ? layout.LyingSprue : PlanRegion.Empty]).Geometry.EnvelopeInternal;
        var head = Math.Abs(joint) + reckoning.Head_mm.Value + reckoning.WellDepth_mm.Value;
        var reach = new[] { -box.MinX, box.MaxX, -box.MinY, box.MaxY }.Max(Math.Abs) + reckoning.BasinWidth_mm.Value;
        // One fineness for all bars, with room for what draft adds.
        var lattice = Lattice.For(1.2 * Math.Max(reach, head));
        var bars = new GatingBars(site, reckoning, layout, draft, joint, lattice, tolerance);
        return
        [
            layout.SprueLies ? bars.LyingSprue() : bars.Sprue(), bars.Runner(), .. bars.RunnerHoldsWell ? ImmutableArray<GatingBar>.Empty : [bars.Well()],
            .. ingates.Select((region, i) => bars.Ingate(region, i)),
        ];
    }

    private GatingBar Sprue()
    {
        var foot = joint + (reckoning.Input.RunnerInCope ? lattice.Snap(reckoning.Runner.Value.Depth_mm) : 0);
        var top = foot + reckoning.SprueBaseHead_mm - reckoning.BasinDepth_mm.Value;
        var rim = joint + reckoning.Head_mm.Value;
        return TurnedBar.Of(
            BarKind.Sprue, "sprue", layout.SprueAt,
            [
                (Flow.Diameter_mm(reckoning.SprueBase_mm2) / 2, foot), (Flow.Diameter_mm(reckoning.SprueTop_mm2.Value) / 2, top),
                (reckoning.BasinWidth_mm.Value / 2, rim),
            ],
            lattice,
            [
                ("foot of the sprue", foot + TurnedBar.Hair_mm, reckoning.SprueBase_mm2), ("top of the sprue, under the basin", top, reckoning.SprueTop_mm2.Value),
                ("rim of the basin", rim, Flow.Circle_mm2(reckoning.BasinWidth_mm.Value)),
            ]);
    }

    /// <summary>A sprue on the joint, in the half of the ingates: its foot lies over the round end of the runner as they do over the rest.</summary>
    private GatingBar LyingSprue()
    {
        var depth = layout.LyingDepth_mm;
        var (body, plan, faces) = Bar("sprue", site.Half, (layout.LyingSprue, depth));
        var top = layout.LyingWays.Top + 1;
        BarSectionCut Cut(string name, double outward) =>
            Across(name, body, layout.SprueAt + ((outward - layout.RunnerOut) * site.Outward), site.Outward, depth, layout.LyingArea_mm2(outward));
        return new(BarKind.Sprue, body, plan, [Cut("sprue, over the runner", layout.LyingClear), Cut("top of the sprue, under the basin", top)], faces);
    }

    private GatingBar Runner()
    {
        var section = reckoning.Runner.Value;
        var runner = (layout.Runner, section.Depth_mm);
        var (body, plan, faces) = RunnerHoldsWell ? Bar("runner", RunnerHalf, runner, (layout.Well, reckoning.WellDepth_mm.Value)) : Bar("runner", RunnerHalf, runner);
        // Half way between the well and the first ingate nothing but the runner is cut.
        var clear = layout.SprueAt + ((layout.Clear) * site.Along);
        var stepped = Enumerable.Range(1, layout.Places.Length - 1).Where(passed => layout.After(passed) is not null).Select(passed => Across(
            FormattableString.Invariant($"runner, past ingate {passed}"), body, layout.SprueAt + ((layout.After(passed)!.Value - layout.SprueAlong) * site.Along), site.Along, section.Depth_mm, reckoning.RunnerAfter_mm2(passed)));
        return new(BarKind.Runner, body, plan, [Across("runner, across", body, clear, site.Along, section.Depth_mm, section.Area_mm2), .. stepped, .. RunnerHoldsWell ? WellCut(body) : []], faces);
    }

    private GatingBar Well()
    {
        var (body, plan, faces) = Bar("well", MouldHalf.Drag, (layout.Well, reckoning.WellDepth_mm.Value));
        return new(BarKind.Well, body, plan, [.. WellCut(body)], faces);
    }

    private IEnumerable<BarSectionCut> WellCut(KitBody body)
    {
        // Below the runner, where the well is alone; its area half way down is the reckoned one.
        var level = Math.Max(reckoning.WellDepth_mm.Value / 2, reckoning.Runner.Value.Depth_mm + 0.01);
        var narrower = (level - (reckoning.WellDepth_mm.Value / 2)) * Math.Tan(draft);
        var radius = (Flow.Diameter_mm(reckoning.Well_mm2.Value) / 2) - narrower;
        yield return new(
            "well, in plan", Region(MeshSection.AtHeight(body.AsPrinted, level).Select(l => (IEnumerable<Vec2>)l)), Math.PI * radius * radius,
            new(layout.SprueAt.X, layout.SprueAt.Y, joint + (Away(body) * level)), new(0, 0, 1));
    }

    private GatingBar Ingate(PlanRegion region, int index)
    {
        var section = reckoning.IngateAt(index);
        var (body, plan, faces) = Bar(FormattableString.Invariant($"ingate-{index + 1}"), site.Half, (region, section.Depth_mm));
        // Half way along the way out, between the casting and the runner.
        return new(BarKind.Ingate, body, plan, [Across("ingate, across", body, layout.IngateCut(index), site.Outward, section.Depth_mm, section.Area_mm2)], faces);
    }

    /// <summary>A drafted bar on the joint, of faces at growing depths, each inside the one before; its outline at the joint, and the faces.</summary>
    private (KitBody Body, PlanRegion Plan, ImmutableArray<BarFace> Faces) Bar(string name, MouldHalf half, params (PlanRegion Region, double Depth)[] faces)
    {
        var ground = half == MouldHalf.Cope ? joint : -joint;
        var plateaus = ImmutableArray.CreateBuilder<Plateau>();
        for (var i = 0; i < faces.Length; i++)
        {
            var face = i + 1 < faces.Length ? OnLattice(faces[i].Region).Difference(OnLattice(faces[i + 1].Region)) : OnLattice(faces[i].Region);
            plateaus.Add(new(face, ground + lattice.Snap(faces[i].Depth)));
        }

        var terrain = new DraftedTerrain(plateaus.ToImmutable(), ground, draft, draft, lattice, tolerance.Error_mm);
        var mesh = TerrainSolid.Build(terrain, null, [], [], lattice, tolerance);
        return (PlacedHalves.Place(name, half, mesh, ground, []), terrain.Above(ground), [.. plateaus.Select(p => new BarFace(p.Region, p.Height - ground))]);
    }

    private PlanRegion OnLattice(PlanRegion region) => PlanRegion.UnionOn(lattice, [region]);

    /// <summary>The section of a bar square to a direction: across and away from the joint.</summary>
    private BarSectionCut Across(string name, KitBody body, Vec2 at, Vec2 direction, double depth_mm, double reckoned_mm2)
    {
        var away = Away(body);
        var across = direction.Left;
        var (point, normal) = (new Vec3(at.X, at.Y, joint + (away * depth_mm / 2)), new Vec3(direction.X, direction.Y, 0));
        var loops = MeshSection.AtPlane(body.InMould, point, normal);
        return new(name, Region(loops.Select(l => l.Select(p => new Vec2(Vec2.Dot(p.Plan - at, across), away * (p.Z - joint))))), reckoned_mm2, point, normal);
    }

    private static int Away(KitBody body) => body.Half == MouldHalf.Cope ? 1 : -1;

    private static PlanRegion Region(IEnumerable<IEnumerable<Vec2>> loops) =>
        PlanRegion.EvenOdd(loops.Select(l => PlanPath.Polygon([.. l])), 1);
}
