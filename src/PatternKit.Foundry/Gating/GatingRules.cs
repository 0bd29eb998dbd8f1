using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>
/// From weight, wall and height of a casting to the sections of its gating: pour time, effective head, choke, sprue, runner, ingates, well.
/// </summary>
public static class GatingRules
{
    /// <summary>Rule text of a value that the caller gave.</summary>
    public const string Given = "given";

    /// <summary>The whole reckoning.</summary>
    /// <param name="input">The casting and what was given.</param>
    /// <param name="alloy">The metal.</param>
    /// <param name="tables">Rules and proportions, the shop's own included.</param>
    /// <exception cref="ArgumentOutOfRangeException">A size has no sense, or the head does not reach over the casting and the basin.</exception>
    public static GatingReckoning Reckon(GatingInput input, Alloy alloy, GatingTables tables)
    {
        Checked.Positive(input.Casting_kg, nameof(input));
        Checked.Positive(input.Height_mm, nameof(input));
        Checked.Within(input.Ingates, 1, 100, nameof(input));
        if (!input.Shares.IsEmpty) Checked.Within(input.Shares.Length, input.Ingates, input.Ingates, nameof(input));
        var density = LiquidDensity(alloy);
        var hand = HandRate(density.Value, tables);
        var feeders_kg = Volume_mm3(input.Feeders) * 1e-9 * alloy.Density_kg_m3.Value;
        var byRule = input.PourTime_s is { } asked ? Fixed(asked) : PourTime.For(alloy, input.Casting_kg + feeders_kg, input.MeanWall_mm, tables);
        var casting = input.Casting(density.Value);
        ImmutableArray<CavitySlice> filled = [.. casting, .. input.Feeders];
        var fills_mm3 = Volume_mm3(filled);
        var fills_kg = fills_mm3 * 1e-9 * density.Value;
        var head = input.Head_mm is { } h ? Fixed(h) : Head(input.Casting_kg, input.AboveJoint_mm, tables);
        // The mean over all that fills is the head with which the choke's time is that of the filling itself.
        var effective = EffectiveHead.OfCavity(head.Value, filled);
        var castingHead = EffectiveHead.OfCavity(head.Value, casting);
        // No hand pours faster into a feeder that is nearly full than its head lets in.
        var time = Slowed(byRule, fills_kg / hand.Value * Math.Sqrt(castingHead / effective), hand, !input.Feeders.IsEmpty);
        var discharge = Sourced(tables.Discharge, "coefficient of discharge of the whole system");

        var byTime = Flow.Choke_mm2(fills_kg, density.Value, time.Value, discharge.Value, effective);
        var floor = Flow.Circle_mm2(tables.LeastChoke_mm.Value);
        var choke = Math.Max(byTime, floor);
        double Rate_kg_s(double head_mm) => choke * discharge.Value * Flow.Speed_mm_s(head_mm) * density.Value * 1e-9;

        var limit = Pick(tables.IngateVelocity_m_s, alloy, "fastest metal at the ingates, m/s");
        var ratio = input.Ratio is { } r ? Fixed(r) : Pick(tables.Ratios, alloy, "sprue base : runner : ingates");
        var fullFlow_mm3_s = choke * discharge.Value * Flow.Speed_mm_s(head.Value);
        var taken = Widened(ratio, input.Ratio is not null, fullFlow_mm3_s / (limit.Value * 1000) / choke, limit);
        double Area(double part) => choke * part / taken.Value.Least;

        var shapes = tables.Shapes;
        var runner = new Sourced<BarSection>(
            BarSection.Of(Area(taken.Value.Runner), shapes.RunnerWidth_depths.Value), shapes.RunnerWidth_depths.From.Text,
            $"mean width {Shown.Number(shapes.RunnerWidth_depths.Value)} × depth{(input.Ingates > 1 ? "; past each ingate narrower by the share of that" : "")}");
        var sprueBase = Area(taken.Value.Sprue);
        var baseHead = head.Value + input.FootBelow_mm - (input.RunnerInCope ? runner.Value.Depth_mm : 0);
        var basin = Sourced(shapes.BasinDepth_mm, "depth of metal over the top of the sprue, mm");
        var top = Flow.SprueTop_mm2(sprueBase, basin.Value, baseHead);
        // Each as large as its part of the metal, so that all castings are full at about the same time.
        ImmutableArray<Sourced<BarSection>> unlike = [.. input.Shares.Select(s => Ingate(s.Part * Area(taken.Value.Ingates), input with { WallAtIngates_mm = s.Wall_mm }, shapes))];
        var width = Math.Max(shapes.LeastBasinWidth_mm.Value, shapes.BasinWidth_tops.Value * Flow.Diameter_mm(top));
        return new(
            input, density, byRule, hand, time, head,
            new(effective, EffectiveHead.Source, (input.Cavity is null ? "exact: √H = c / ((c − p)/√h + 2p/(√h + √(h − p)))" : "√H = V / Σ (Vᵢ / √hᵢ) over the level slices of the cavity as it stands")
                + (input.Feeders.IsEmpty ? "" : ", feeders among them up to the level in the basin")),
            EffectiveHead.Simple(head.Value, input.Height_mm, input.AboveJoint_mm),
            discharge,
            new(byTime, "Torricelli's law and continuity", "A = V / (t C √(2gH)), V the liquid that fills casting and feeders"),
            new(floor, tables.LeastChoke_mm.From.Text, $"circle of {Shown.Number(tables.LeastChoke_mm.Value)} mm: smaller ones freeze or cannot be poured by hand"),
            new(choke, byTime < floor ? tables.LeastChoke_mm.From.Text : "Torricelli's law and continuity",
                byTime < floor ? "the least choke: the pour time alone would ask for a smaller one" : "by the pour time"),
            fills_kg / Rate_kg_s(effective), Rate_kg_s(castingHead), ratio, limit, taken,
            fullFlow_mm3_s / Area(taken.Value.Ingates) / 1000,
            sprueBase, baseHead, basin,
            new(top, "continuity of the falling stream", "A_top = A_base √(h_base / h_top), heads from the level in the basin"),
            new(width, shapes.BasinWidth_tops.From.Text, $"{Shown.Number(shapes.BasinWidth_tops.Value)} × the sprue's top, at least {Shown.Number(shapes.LeastBasinWidth_mm.Value)} mm"),
            runner,
            unlike.IsEmpty ? Ingate(Area(taken.Value.Ingates) / input.Ingates, input, shapes) : unlike.MinBy(i => i.Value.Area_mm2)!,
            new(shapes.WellArea_bases.Value * sprueBase, shapes.WellArea_bases.From.Text, $"{Shown.Number(shapes.WellArea_bases.Value)} × the sprue's base"),
            new(shapes.WellDepth_runners.Value * runner.Value.Depth_mm, shapes.WellDepth_runners.From.Text, $"{Shown.Number(shapes.WellDepth_runners.Value)} × the runner's depth"),
            shapes)
        {
            CastingHead_mm = castingHead,
            Feeders_kg = feeders_kg,
            Fills_mm3 = fills_mm3,
            Unlike = [.. unlike.Select(i => i.Value)],
        };
    }

    private static double Volume_mm3(ImmutableArray<CavitySlice> slices) => slices.Sum(s => s.Area_mm2 * (s.High_mm - s.Low_mm));

    /// <summary>Sand between runner and casting, by the weight of the casting.</summary>
    public static Sourced<double> RunnerClearance_mm(double casting_kg, GatingTables tables) =>
        WeightRows.For(tables.RunnerClearance, casting_kg, "sand between runner and casting");

    /// <summary>Sand between the casting and the outside, above it and below it, by its weight.</summary>
    /// <param name="casting_kg">The raw casting.</param>
    /// <param name="where">"above the casting", for the rule.</param>
    /// <param name="tables">Rules.</param>
    public static Sourced<double> SandBeyond(double casting_kg, string where, GatingTables tables) => WeightRows.For(tables.SandAbove, casting_kg, $"sand {where}");

    /// <summary>How many ingates a side of a casting gets: one for each spacing of its length.</summary>
    public static Sourced<int> Ingates(double side_mm, GatingTables tables)
    {
        var spacing = tables.Shapes.IngateSpacing_mm;
        return new(Math.Max(1, (int)Math.Round(side_mm / spacing.Value)), spacing.From.Text, $"one for each {Shown.Number(spacing.Value)} mm of the side");
    }

    /// <summary>Density of the metal as it is poured, or of the solid where no other is known.</summary>
    public static Sourced<double> LiquidDensity(Alloy alloy) => alloy.LiquidDensity_kg_m3 is { } liquid
        ? new(liquid.Value, liquid.From.Text, "liquid at its melting point, kg/m³")
        : new(alloy.Density_kg_m3.Value, alloy.Density_kg_m3.From.Text, "of the solid, kg/m³: no figure for the liquid is known, and textbook examples do the same; it makes the choke some 10 % small");

    private static Sourced<double> HandRate(double density_kg_m3, GatingTables tables) => tables.HandRate_kg_s is { } own
        ? Sourced(own, "the shop's own rate, kg/s")
        : new(tables.HandRate_litre_s.Value * density_kg_m3 / 1000, tables.HandRate_litre_s.From.Text, $"{Shown.Number(tables.HandRate_litre_s.Value)} litre a second by one person");

    private static Sourced<double> Slowed(Sourced<double> byRule, double byHand_s, Sourced<double> hand, bool isFed) => byHand_s > byRule.Value
        ? new(byHand_s, hand.Source, $"slowed to what one person can pour: {hand.Rule}{(isFed ? " while the casting fills; feeders take what their head lets in" : "")}")
        : byRule;

    /// <summary>Metal level in the basin above the joint, by rule.</summary>
    /// <param name="casting_kg">The raw casting.</param>
    /// <param name="above_mm">Its height above the joint.</param>
    /// <param name="tables">Rules.</param>
    public static Sourced<double> Head(double casting_kg, double above_mm, GatingTables tables)
    {
        var sand = SandBeyond(casting_kg, "above the casting", tables);
        var byCasting = above_mm + sand.Value;
        return byCasting >= tables.LeastHead_mm.Value
            ? new(byCasting, sand.Source, $"height of the casting over the joint and {sand.Rule}")
            : Sourced(tables.LeastHead_mm, "the least head, mm");
    }

    private static Sourced<GatingRatio> Widened(Sourced<GatingRatio> ratio, bool given, double ingatesForSpeed, Sourced<double> limit)
    {
        var r = ratio.Value;
        var factor = ingatesForSpeed * r.Least / r.Ingates;
        // A ratio that was asked for is kept; one whose choke is not the sprue base would lose its choke by widening.
        return given || factor <= 1 || r.Sprue > r.Least
            ? ratio
            : new(new(r.Sprue, r.Runner * factor, r.Ingates * factor), $"{ratio.Source}; speed: {limit.Source}",
                $"{r}, runner and ingates widened so that the metal keeps below {Shown.Number(limit.Value)} m/s at the ingates");
    }

    private static Sourced<BarSection> Ingate(double area_mm2, GatingInput input, GatingShapes shapes)
    {
        var most = Math.Max(shapes.IngateWall.Value * input.WallAtIngates_mm, shapes.LeastIngate_mm.Value);
        var narrow = double.IsFinite(input.WidthAtIngates_mm) ? $", no wider than the casting where it meets it, {Shown.Number(Math.Round(input.WidthAtIngates_mm, 1))} mm" : "";
        return new(
            BarSection.Of(area_mm2, shapes.IngateWidth_depths.Value, shapes.LeastIngate_mm.Value, most, input.WidthAtIngates_mm), shapes.IngateWidth_depths.From.Text,
            $"mean width {Shown.Number(shapes.IngateWidth_depths.Value)} × depth{narrow}, but no deeper than {Shown.Number(shapes.IngateWall.Value)} of the wall that it meets, and at least {Shown.Number(shapes.LeastIngate_mm.Value)} mm");
    }

    private static Sourced<T> Pick<T>(ImmutableArray<MetalRow<T>> rows, Alloy alloy, string rule)
    {
        // The last row is for all metals.
        var row = rows.First(r => r.Fits(alloy));
        return new(row.Value, row.From.Text, rule);
    }

    private static Sourced<double> Sourced(Quoted quoted, string rule) => new(quoted.Value, quoted.From.Text, rule);

    private static Sourced<T> Fixed<T>(T value) => new(value, "", Given);
}
