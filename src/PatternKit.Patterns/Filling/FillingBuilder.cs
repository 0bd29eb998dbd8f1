using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Filling;

/// <summary>From a cavity and its gating to how it fills and in which order it freezes.</summary>
internal static class FillingBuilder
{
    // Remedies are sought for the worst places alone; the others are told without.
    private const int Solved = 3;
    private const int MostPlaces = 8;
    private const int MostHotSpots = 6;

    /// <summary>The filling of a mould; null where there is no metal, or its heat is not known.</summary>
    /// <param name="job">The job.</param>
    /// <param name="alloy">Its metal.</param>
    /// <param name="sand">Its sand.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cavity">On cells.</param>
    /// <param name="gating">Its gating.</param>
    /// <param name="volume_mm3">Metal in the mould, gating apart.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="castings">Boxes in plan of several castings in one mould; none for one.</param>
    /// <param name="thin">What the check of thin metal has found: exact, where cells are too coarse.</param>
    /// <exception cref="InputException">The pouring temperature that was asked for is not above the liquidus.</exception>
    public static FillingPlan? Build(
        Job job, Alloy alloy, Sand sand, FoundryTables tables, CastingGrid cavity, GatingPlan gating, double volume_mm3, PatternFrame frame,
        ImmutableArray<(Vec2 Low, Vec2 High)> castings, IEnumerable<Finding> thin)
    {
        var table = tables.Filling;
        if (cavity.Grid.SolidCount == 0) return null;
        var reckoning = gating.Reckoning;
        if (MetalHeat.Of(alloy, table) is not { } metal || PourTemperature.Of(alloy, reckoning.Input.MeanWall_mm, job.Gating?.PourTemperature_C, table) is not { } pour) return null;
        if (pour.Taken_C.Value <= metal.Liquidus_C)
            throw new InputException(PartBody.Source(job), "", Invariant($"pour_temperature = {pour.Taken_C.Value:0.##} of [gating] is not above the liquidus of the metal, {metal.Liquidus_C:0.#} °C: it would not be liquid. Write more, usually {pour.Highest_C.Value:0} °C at most, or leave it out."));
        var mould = new StreamHeat(metal, sand, pour.Taken_C.Value, alloy.Heat.SurfaceTension_N_m?.Value, table);
        var (grid, walls) = (cavity.Grid, cavity.Walls);
        var shares = Shares(gating, table);
        // Ingates that come out in one cell are one.
        ImmutableArray<(int Cell, double Share)> entries = [.. gating.Enters_mm.Select((p, i) => (Cell: grid.Nearest(p), Share: shares[i])).GroupBy(e => e.Cell).Select(g => (g.Key, g.Sum(e => e.Share)))];
        var (gate_mm, cell_mm3) = (gating.Position.Gate_mm, volume_mm3 / grid.Filled);
        var run = StreamRun.Of(RisingFlood.Of(grid, entries, gating.Position.Up, Front()), walls, reckoning, gate_mm, cell_mm3, table);

        // A metal whose surface tension is not known finds its level.
        FloodFront? Front() => alloy.Heat.SurfaceTension_N_m is { } tension
            ? new(MetalStream.FrontHeight_mm(tension.Value, metal.Density_kg_m3), MetalStream.Slope(table.Friction.Value, reckoning.IngateVelocity_m_s, reckoning.Input.MeanWall_mm))
            : null;
        FillRatios Ratios(int cell) => run.Ratios(cell, mould);
        var regions = RiskRegion.Of(run.Flood, Ratios, table.Risk.Doubtful);
        var remedies = new Remedies(cavity, run, mould, pour.Highest_C.Value, entries, reckoning, alloy, tables.Gating, cell_mm3, gate_mm, frame.ToJob, frame.Scale);
        ImmutableArray<FillPlace> places =
        [
            .. regions.Take(MostPlaces).Select((r, i) => new FillPlace(
                frame.ToJob(grid.Middle(r.Worst)), run.Wall_mm(r.Worst) / frame.Scale, run.Way_mm(r.Worst), run.Arrives_s(r.Worst), r.Ratios,
                run.Front(r.Worst, mould, table.FrontHeat.Low_W_m2K), run.Front(r.Worst, mould, table.FrontHeat.High_W_m2K), r.Cells.Length * cell_mm3,
                i < Solved ? [.. remedies.Of(r)] : [], remedies.HottestClears(r))),
        ];
        var known = thin.Where(f => f.Code == "thin-section").Min(f => f.Value) * frame.Scale ?? double.PositiveInfinity;
        var thinnest = Math.Min(run.Flood.Order.Min(run.Wall_mm), known);
        var constant = mould.Constant_s_mm2;
        var shrinkage = alloy.Heat.FreezingShrinkage_percent;
        var plan = new FillingPlan(
            pour, run.FillTime_s, shares, thinnest / frame.Scale, run.Flood.Order.Max(run.Way_mm),
            RiskRegion.Largest(run.Flood.Order, Ratios), grid.Cell_mm, thinnest < grid.Cell_mm || run.Flood.Order.Length < grid.SolidCount,
            new(constant, MouldConstant.Source, Invariant($"B = (π/4) (heat / (T − T₀))² / (kρc), heat until solid from {pour.Taken_C.Value:0} °C, T {metal.FreezesAt_C:0} °C: {table.FreezesAt.Value:0.##} of the range above the solidus ({table.FreezesAt.From.Text}); {sand.Title}")),
            MouldConstant.Time_s(constant, Modulus.Wall(thinnest)), places,
            [.. HotSpots()],
            shrinkage, shrinkage is null ? null : volume_mm3 * shrinkage.Value / 100, [.. Assumptions(alloy)], [])
        {
            Table = table,
        };
        return plan with { Findings = [.. FillingFindings.Of(plan, regions.Length)] };

        // Castings are alike, but their cells are not: the sections of the first are those of all.
        IEnumerable<HotSpot> HotSpots()
        {
            var several = castings.Length > 1;
            Vec2[] asides = several ? [.. castings.Select(c => (1 / frame.Scale) * (c.Low - castings[0].Low))] : [default];
            foreach (var s in FreezingOrder.Of(cavity.Thickness, table.Prominence.Value, several ? IsOfFirst : null).Take(MostHotSpots))
            {
                var at = frame.ToJob(grid.Origin + (grid.Cell_mm * s.Ball.Middle));
                foreach (var aside in asides)
                {
                    yield return new(
                        at + new Vec3(aside.X, aside.Y, 0), 2 * s.Ball.Radius * grid.Cell_mm / frame.Scale, s.Modulus_mm, MouldConstant.Time_s(constant, s.Modulus_mm),
                        s.Neck_mm is { } neck ? MouldConstant.Time_s(constant, neck) : null, s.Cells * cell_mm3, shrinkage is null ? null : s.Cells * cell_mm3 * shrinkage.Value / 100)
                    { Casting_mm = aside };
                }
            }
        }

        // Draft reaches over the boxes, by less than half of the sand between them.
        bool IsOfFirst(int cell)
        {
            var p = grid.Middle(cell).Plan;
            double Away((Vec2 Low, Vec2 High) box) => new Vec2(Math.Max(0, Math.Max(box.Low.X - p.X, p.X - box.High.X)), Math.Max(0, Math.Max(box.Low.Y - p.Y, p.Y - box.High.Y))).Length;
            var own = Away(castings[0]);
            return castings.Skip(1).All(c => own < Away(c));
        }
    }

    private static IEnumerable<string> Assumptions(Alloy alloy)
    {
        if (alloy.Heat.LiquidSpecificHeat_J_kgK is null) yield return "the specific heat of the liquid is not known; that of the solid is taken";
        if (alloy.LiquidDensity_kg_m3 is null) yield return "the density of the liquid is not known; that of the solid is taken";
        if (alloy.Heat.SurfaceTension_N_m is null) yield return "the surface tension is not known; whether the head presses the metal into narrow places is not checked";
        if (alloy.Heat.Pouring is null) yield return "no pouring range of this alloy is known; a general superheat is taken";
        if (alloy.Heat.FreezingShrinkage_percent is null) yield return "the shrinkage on freezing is not known";
    }

    /// <summary>What part of the metal each ingate gets from a runner that narrows past each.</summary>
    private static ImmutableArray<double> Shares(GatingPlan gating, FillingTable table)
    {
        var r = gating.Reckoning;
        if (gating.Runs_mm.Length < 2) return [.. Enumerable.Repeat(1.0 / gating.Enters_mm.Length, gating.Enters_mm.Length)];
        var runner = r.Runner.Value;
        GateBranch Branch(double length, int passed)
        {
            var area = r.RunnerAfter_mm2(passed);
            return new(area, 2 * area / ((area / runner.Depth_mm) + runner.Depth_mm), length, r.Ingate.Value.Area_mm2);
        }

        var network = GateNetwork.Solve(
            r.Head_mm.Value, r.SprueBase_mm2, r.Discharge.Value, [.. gating.Runs_mm.Select(Branch)],
            table.Friction.Value, table.GateBend_heads.Value);
        return [.. Enumerable.Range(0, network.Rates_mm3_s.Length).Select(network.Share)];
    }
}
