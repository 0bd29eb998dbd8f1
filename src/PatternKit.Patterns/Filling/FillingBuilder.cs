using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Impressions;
using static System.FormattableString;

namespace PatternKit.Patterns.Filling;

/// <summary>From a cavity and its gating to how it fills and in which order it freezes.</summary>
internal static class FillingBuilder
{
    // Remedies are sought for the worst places alone; the others are told without.
    private const int Solved = 3;
    private const int MostPlaces = 8;

    /// <summary>The filling of a mould.</summary>
    /// <param name="alloy">Its metal.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="cavity">On cells.</param>
    /// <param name="heat">How hot it is poured, and what freezes last.</param>
    /// <param name="gating">Its gating.</param>
    /// <param name="feeders">What feeders hold, by heights as the mould stands.</param>
    /// <param name="volume_mm3">Metal in the mould, gating apart.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="thin">What the check of thin metal has found: exact, where cells are too coarse.</param>
    /// <param name="castings">Several castings in one mould; none for one.</param>
    public static FillingPlan Build(
        Alloy alloy, FoundryTables tables, CastingGrid cavity, CastingHeat heat, GatingPlan gating, ImmutableArray<CavitySlice> feeders, double volume_mm3, PatternFrame frame,
        IEnumerable<Finding> thin, ImmutableArray<CastingPlace> castings)
    {
        var table = tables.Filling;
        var reckoning = gating.Reckoning;
        var (metal, pour, mould) = (heat.Metal, heat.Pour, heat.Mould);
        var (grid, walls) = (cavity.Grid, cavity.Walls);
        var shares = Shares(gating, table);
        // Ingates that come out in one cell are one.
        ImmutableArray<(int Cell, double Share)> entries = [.. gating.Enters_mm.Select((p, i) => (Cell: grid.Nearest(p), Share: shares[i])).GroupBy(e => e.Cell).Select(g => (g.Key, g.Sum(e => e.Share)))];
        var (gate_mm, cell_mm3) = (gating.Position.Gate_mm, volume_mm3 / grid.Filled);
        var run = Run(alloy, metal, reckoning);

        StreamRun Run(Alloy poured, MetalHeat heat, GatingReckoning through) =>
            StreamRun.Of(RisingFlood.Of(grid, entries, gating.Position.Up, Front(poured, heat, through)), walls, through, gate_mm, cell_mm3, feeders, table);

        // A metal whose surface tension is not known finds its level.
        FloodFront? Front(Alloy poured, MetalHeat heat, GatingReckoning through) => poured.Heat.SurfaceTension_N_m is { } tension
            ? new(MetalStream.FrontHeight_mm(tension.Value, heat.Density_kg_m3), MetalStream.Slope(table.Friction.Value, through.IngateVelocity_m_s, through.Input.MeanWall_mm))
            : null;
        FillRatios Ratios(int cell) => run.Ratios(cell, mould);
        var regions = RiskRegion.Of(run.Flood, Ratios, table.Risk.Doubtful);
        var remedies = new Remedies(cavity, run, mould, pour.Highest_C.Value, entries, reckoning, alloy, tables.Gating, cell_mm3, gate_mm, feeders, frame.ToJob, frame.Scale,
            OtherMetal.Of(alloy, mould.Sand, tables, reckoning, Run), through => Run(alloy, metal, through));
        ImmutableArray<FillPlace> places = [.. regions.Take(MostPlaces).Select(Place)];
        FillPlace Place(RiskRegion r, int i)
        {
            ImmutableArray<FillRemedy> found = i < Solved ? [.. remedies.Of(r)] : [];
            double Front(Func<HeatTransfer, double> transfer) => r.Cells.Max(c => run.Front(c, mould, transfer));
            var hottest = remedies.HottestClears(r);
            var off = table.FreezingTime_percent.Value / 100;
            return new(
                frame.ToJob(grid.Middle(r.Worst)), run.Wall_mm(r.Worst) / frame.Scale, run.Way_mm(r.Worst), run.Arrives_s(r.Worst), r.Ratios,
                new(Front(t => t.Low_W_m2K), r.Ratios.Choked / (1 + off), r.Ratios.Head),
                new(Front(t => t.High_W_m2K), r.Ratios.Choked / (1 - off), r.Ratios.Head * table.OxideSkin_times.Value),
                r.Cells.Length * cell_mm3, found, hottest)
            { NoneOfFamily = i < Solved && !hottest && found.All(f => f.Alloy is null) ? AlloyFamilies.Name(alloy.Family) : null };
        }

        var known = thin.Where(f => f.Code == "thin-section").Min(f => f.Value) * frame.Scale ?? double.PositiveInfinity;
        var thinnest = Math.Min(run.Flood.Order.Min(run.Wall_mm), known);
        var constant = mould.Constant_s_mm2;
        var shrinkage = alloy.Heat.FreezingShrinkage_percent;
        var plan = new FillingPlan(
            pour, run.FillTime_s, shares, thinnest / frame.Scale, run.Flood.Order.Max(run.Way_mm),
            RiskRegion.Largest(run.Flood.Order, Ratios), grid.Cell_mm, thinnest < grid.Cell_mm || run.Flood.Order.Length < grid.SolidCount,
            mould.Constant,
            MouldConstant.Time_s(constant, Modulus.Wall(thinnest)), places,
            heat.HotSpots,
            shrinkage, shrinkage is null ? null : volume_mm3 * shrinkage.Value / 100, [.. Assumptions(alloy)], [])
        {
            Table = table,
            CastingsFull_s = castings.Length < 2 ? [] : Full(),
        };
        return plan with { Findings = [.. FillingFindings.Of(plan, regions.Length, reckoning)] };

        ImmutableArray<double> Full()
        {
            var full = new double[castings.Length];
            foreach (var cell in run.Flood.Order)
            {
                var casting = CastingPlace.Nearest(castings, grid.Middle(cell).Plan);
                full[casting] = Math.Max(full[casting], run.Arrives_s(cell));
            }

            return [.. full];
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
        if (gating.Runs_mm.Length < 2) return [.. Enumerable.Range(0, gating.Enters_mm.Length).Select(i => r.Input.Shares.IsEmpty ? 1.0 / gating.Enters_mm.Length : r.Input.Share(i))];
        var runner = r.Runner.Value;
        GateBranch Branch(double length, int passed)
        {
            var area = r.RunnerAfter_mm2(passed);
            return new(area, 2 * area / ((area / runner.Depth_mm) + runner.Depth_mm), length, r.IngateAt(passed).Area_mm2);
        }

        var network = GateNetwork.Solve(
            r.Head_mm.Value, r.SprueBase_mm2, r.Discharge.Value, [.. gating.Runs_mm.Select(Branch)],
            table.Friction.Value, table.GateBend_heads.Value);
        return [.. Enumerable.Range(0, network.Rates_mm3_s.Length).Select(network.Share)];
    }
}
