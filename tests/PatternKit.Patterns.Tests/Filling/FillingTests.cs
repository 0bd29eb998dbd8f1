using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Filling;

/// <summary>Whole jobs: parts that do not run are told with what clears them, and with that they are clear.</summary>
public class FillingTests
{
    // A cover's boss, 14 mm thick, with a fin of 2.5 mm that reaches 90 mm out from it.
    private static Job Fin(string alloy = "CuSn10Zn2", double wall_mm = 2.5, GatingSettings? gating = null) => Jobs.Of(
        Jobs.Block(-60, -7, 0, 7, 0, 30, name: "boss"), Jobs.Block(-10, -wall_mm / 2, 90, wall_mm / 2, 0, 12, name: "fin")) with
    {
        Alloy = alloy,
        Gating = gating ?? AtBoss(),
    };

    private static GatingSettings AtBoss() => new(At_mm: new(-30, -20), Ingates: 1);

    private static FillingPlan Filled(Job job) => KitCheck.Build(job).Filling!;

    [Fact]
    public void A_long_thin_fin_poured_cold_is_told_with_its_place_its_wall_its_way_and_its_ratio()
    {
        var kit = KitCheck.Build(Fin(gating: AtBoss() with { PourTemperature_C = 1005 }));
        var place = kit.Filling!.Places[0];
        Assert.Equal(FillRisk.Front, place.Ratios.Kind);
        Assert.InRange(place.At_mm.X, 75, 90);
        // The top of the fin, narrowed by draft.
        Assert.InRange(place.Wall_mm, 2.0, 2.6);
        // From the middle of the boss, round its corner and out along the fin.
        Assert.InRange(place.Way_mm, 110, 150);
        Assert.InRange(place.Ratios.Front, 0.8, 2);
        Assert.Equal(place.Ratios.Front * 0.5, place.Low.Front, 0.1 * place.Ratios.Front);
        Assert.Equal(place.Ratios.Front * 1.75, place.High.Front, 0.1 * place.Ratios.Front);
        var finding = Assert.Single(kit.Findings, f => f.Code == "misrun-risk" && f.Severity == Severity.Warn);
        Assert.Equal((place.At_mm, (double?)place.Ratios.Worst, (double?)0.8), (finding.At_mm!.Value, finding.Value, finding.Limit));
        Assert.Contains("1005 °C", finding.Message, StringComparison.Ordinal);
        Assert.NotEmpty(finding.Source!);
        Assert.Contains("[gating] pour_temperature", finding.Remedy, StringComparison.Ordinal);
    }

    // Flemings' form by hand for the way through the fin alone: the tip enters as warm as the boss, 90 mm at the speed of the ingates.
    [Fact]
    public void The_ratio_of_a_fin_is_its_length_over_the_reach_of_the_stream()
    {
        var kit = KitCheck.Build(Fin());
        var alloy = FoundryTables.Default.Alloy("CuSn10Zn2");
        var metal = MetalHeat.Of(alloy, FoundryTables.Default.Filling)!;
        var reach_m = MetalStream.Reach_m(
            metal.UntilTipStops_J_m3(kit.Filling!.Pour.Taken_C.Value), kit.Gating!.Reckoning.IngateVelocity_m_s, 2000, Modulus.Wall(kit.Filling.ThinnestWall_mm) / 1000, metal.Liquidus_C - metal.Mould_C);
        Assert.Equal(0.090 / reach_m, kit.Filling.Worst.Front, 0.15 * kit.Filling.Worst.Front);
    }

    [Fact]
    public void The_temperature_told_clears_the_fin()
    {
        var cold = Filled(Fin(gating: AtBoss() with { PourTemperature_C = 1020 }));
        var remedy = Assert.Single(cold.Places[0].Remedies, r => r.Key == "pour_temperature_C");
        Assert.InRange(remedy.Value, 1021, 1260);
        var hot = Filled(Fin(gating: AtBoss() with { PourTemperature_C = remedy.Value }));
        Assert.Empty(hot.Places);
        // Not much hotter than needed: 15 °C less do not.
        Assert.NotEmpty(Filled(Fin(gating: AtBoss() with { PourTemperature_C = remedy.Value - 15 })).Places);
    }

    [Fact]
    public void The_wall_told_clears_the_fin()
    {
        var thin = Filled(Fin("AlSi7Mg"));
        var place = thin.Places[0];
        var remedy = Assert.Single(place.Remedies, r => r.Key == "wall_mm");
        Assert.True(remedy.Value > place.Wall_mm);
        // The wall told is the thinnest, at the top of a drafted fin: its foot gets as much more.
        var thick = Filled(Fin("AlSi7Mg", 2.5 + remedy.Value - place.Wall_mm + 0.05));
        Assert.Empty(thick.Places);
    }

    [Fact]
    public void The_head_told_clears_the_fin()
    {
        var low = Filled(Fin("AlSi7Mg"));
        Assert.True(low.Places[0].Ratios.Head > 0.5);
        var remedy = Assert.Single(low.Places[0].Remedies, r => r.Key == "head_mm");
        Assert.Empty(Filled(Fin("AlSi7Mg", gating: AtBoss() with { Head_mm = remedy.Value })).Places);
    }

    [Fact]
    public void What_no_temperature_of_the_range_clears_is_said_to_be_so()
    {
        var kit = KitCheck.Build(Fin("AlSi7Mg"));
        var place = kit.Filling!.Places[0];
        Assert.False(place.HottestClears);
        Assert.DoesNotContain(place.Remedies, r => r.Key == "pour_temperature_C");
        Assert.NotEmpty(Filled(Fin("AlSi7Mg", gating: AtBoss() with { PourTemperature_C = kit.Filling.Pour.Highest_C.Value })).Places);
        Assert.Contains("No pouring temperature of the range", Assert.Single(kit.Findings, f => f.Code == "misrun-risk").Remedy, StringComparison.Ordinal);
    }

    // The fin of 4 mm and 150 mm length, which no temperature of AlSi7Mg clears.
    private static Job LongFin(string alloy = "AlSi7Mg") => Jobs.Of(
        Jobs.Block(-60, -7, 0, 7, 0, 30, name: "boss"), Jobs.Block(-10, -2, 150, 2, 0, 12, name: "fin")) with
    {
        Alloy = alloy,
        Gating = AtBoss(),
    };

    // Of the aluminium alloys the one whose liquidus is next (604 °C; AlSi12 582) stops as early; the eutectic, whose tip runs on until half of it is solid, gets through.
    [Fact]
    public void The_alloy_told_clears_the_fin_where_no_temperature_of_its_own_does()
    {
        var kit = KitCheck.Build(LongFin());
        var place = kit.Filling!.Places[0];
        Assert.False(place.HottestClears);
        var remedy = Assert.Single(place.Remedies, r => r.Key == "alloy");
        Assert.Equal("AlSi12", remedy.Alloy);
        Assert.Contains("(alloy = \"AlSi12\"), poured at 760 °C", Assert.Single(kit.Findings, f => f.Code == "misrun-risk").Remedy, StringComparison.Ordinal);
        var other = Filled(LongFin(remedy.Alloy!));
        Assert.Equal(remedy.Value, other.Pour.Taken_C.Value);
        Assert.Empty(other.Places);
        // Nearer by its liquidus, and no better.
        Assert.NotEmpty(Filled(LongFin("AlSi6Cu4")).Places);
    }

    // Offered is what is nearest to the job's metal by its liquidus, of its own family, and nothing that a job has to acknowledge.
    [Fact]
    public void Other_alloys_are_tried_by_how_near_their_liquidus_is()
    {
        var (tables, own) = (FoundryTables.Default, FoundryTables.Default.Alloy("CuSn10Zn2"));
        var reckoning = KitCheck.Build(Fin()).Gating!.Reckoning;
        double[] away = [.. OtherMetal.Of(own, tables.Sand("green"), tables, reckoning, (_, _, _) => null!).Select(o =>
        {
            Assert.Equal(own.Family, o.Alloy.Family);
            Assert.False(o.Alloy.Hazardous);
            return Math.Abs(o.Alloy.Freezing!.Liquidus_C - own.Freezing!.Liquidus_C);
        })];
        Assert.True(away.Length > 4);
        Assert.Equal(away.Order(), away);
    }

    // A fin of 2.5 mm asks any aluminium for half the head that there is, or nearly: what is told clears with a twentieth to spare.
    [Fact]
    public void Where_no_alloy_of_the_family_clears_it_that_is_said()
    {
        var kit = KitCheck.Build(Fin("AlSi7Mg"));
        Assert.Equal("aluminium", kit.Filling!.Places[0].NoneOfFamily);
        Assert.Contains("No other aluminium alloy of the table clears it.", Assert.Single(kit.Findings, f => f.Code == "misrun-risk").Remedy, StringComparison.Ordinal);
        Assert.All(FoundryTables.Default.Alloys.Where(a => a.Family == AlloyFamily.Aluminium && a.Key is not ("AlSi7Mg" or "AlMg7")), a => Assert.True(Filled(Fin(a.Key)).Worst.Worst > 0.95 * 0.5, a.Key));
        // Hotter metal of its own clears it: no other is sought.
        var cold = Filled(Fin(gating: AtBoss() with { PourTemperature_C = 1020 })).Places[0];
        Assert.True(cold is { HottestClears: true, NoneOfFamily: null });
        Assert.DoesNotContain(cold.Remedies, r => r.Key == "alloy");
    }

    [Fact]
    public void The_time_told_clears_the_plate()
    {
        Job Plate(double time_s) => Jobs.Of(Jobs.Block(-120, -60, 120, 60, 0, 6)) with { Alloy = "AlSi7Mg", Gating = new(PourTime_s: time_s) };
        var slow = Filled(Plate(6));
        var remedy = Assert.Single(slow.Places[0].Remedies, r => r.Key == "pour_time_s");
        Assert.True(remedy.Value < slow.FillTime_s);
        Assert.Empty(Filled(Plate(remedy.Value)).Places);
    }

    // The end of the fin is where the ingate is told; gated at both ends of the long side, the second is there.
    [Fact]
    public void The_ingate_told_clears_the_fin()
    {
        var place = Filled(LongFin()).Places[0];
        var at = Assert.Single(place.Remedies, r => r.Key == "ingate").At_mm!.Value;
        Assert.InRange(at.X, 140, 151);
        Assert.Empty(Filled(LongFin() with { Gating = new() { Where = GatedAt.BothEnds } }).Places);
    }

    // A block of 120 x 120 x 25 mm behind a neck of 4 mm: the neck has to stay open for most of the pour. Its freezing time is known to 30 % (common practice): 1/1.3 to 1/0.7 of the ratio.
    [Fact]
    public void A_way_that_freezes_too_soon_is_told_with_its_range_and_what_is_told_clears_it()
    {
        Job Neck(double time_s, double neck_mm = 4) => Jobs.Of(
            Jobs.Block(-60, -20, 0, 20, 0, 20), Jobs.Block(-1, -6, 25, 6, 0, neck_mm), Jobs.Block(24, -60, 144, 60, 0, 25)) with
        {
            Alloy = "CuSn10Zn2",
            Gating = AtBoss() with { PourTime_s = time_s },
        };
        var kit = KitCheck.Build(Neck(12));
        var place = kit.Filling!.Places[0];
        Assert.Equal(FillRisk.Choked, place.Ratios.Kind);
        Assert.Equal((place.Ratios.Choked / 1.3, place.Ratios.Choked / 0.7), (place.Low.Choked, place.High.Choked));
        Assert.Contains(
            FormattableString.Invariant($"{place.Ratios.Choked:0.0#} times ({place.Ratios.Choked / 1.3:0.0#} to {place.Ratios.Choked / 0.7:0.0#}) as long"), kit.Findings.First(f => f.Code == "misrun-risk").Message, StringComparison.Ordinal);
        Assert.Empty(Filled(Neck(Assert.Single(place.Remedies, r => r.Key == "pour_time_s").Value)).Places);
        Assert.Empty(Filled(Neck(12, Assert.Single(place.Remedies, r => r.Key == "wall_mm").Value)).Places);
    }

    // Laplace: 2 γ / (ρ g d); a skin of oxide can double it (physics of capillarity: memory).
    [Fact]
    public void A_narrow_place_is_told_with_the_head_that_a_skin_of_oxide_would_ask_for()
    {
        var place = Filled(Fin("AlSi7Mg", 2.2)).Places[0];
        Assert.Equal((place.Ratios.Head, 2 * place.Ratios.Head), (place.Low.Head, place.High.Head));
        // 2 x 0.9 N/m over 2400 kg/m³ x 9.81 m/s² x d, against the head over the top of the fin.
        Assert.All(new[] { FillRisk.Front, FillRisk.Choked, FillRisk.Head }, k => Assert.True(place.Low.Of(k) <= place.Ratios.Of(k) && place.Ratios.Of(k) <= place.High.Of(k)));
    }

    // Two ingates along the whole side: one meets the boss, the other the fin.
    [Fact]
    public void A_fin_gated_at_both_ends_runs_better()
    {
        var one = Filled(Fin("AlSi7Mg"));
        var both = Filled(Fin("AlSi7Mg", gating: new(Ingates: 2)));
        Assert.Equal(2, both.Shares.Length);
        Assert.Equal(1, both.Shares.Sum(), 1e-9);
        Assert.True(both.Worst.Front < 0.9 * one.Worst.Front, $"{both.Worst.Front} {one.Worst.Front}");
    }

    // Gray iron carries most heat into the fin, aluminium least: in sand of the same temperature 2.1, 1.2 and 0.6 GJ/m³ until the tip stops.
    [Fact]
    public void Aluminium_runs_less_far_than_bronze_and_bronze_less_than_iron()
    {
        double Front(string alloy) => Filled(Fin(alloy)).Worst.Front;
        var (aluminium, bronze, iron) = (Front("AlSi7Mg"), Front("CuSn10Zn2"), Front("gray-iron"));
        Assert.True(aluminium > 1.3 * bronze && bronze > 1.3 * iron, $"{aluminium} {bronze} {iron}");
        Assert.NotEmpty(Filled(Fin("AlSi7Mg")).Places);
        Assert.Empty(Filled(Fin()).Places);
    }

    // What is told must not hang on how the cells fall: cells of three sizes, moved by parts of a cell, and the casting turned by a right angle, in every way of pouring it.
    [Theory]
    [InlineData("AlSi7Mg")]
    [InlineData("CuSn10Zn2")]
    public void The_ratio_of_a_fin_is_the_same_however_its_cells_fall(string alloy)
    {
        (string Name, GatingSettings Gating)[] ways =
        [
            ("boss", AtBoss()), ("both ends", new() { Where = GatedAt.BothEnds }), ("on edge", new() { OnEdge = true }), ("on edge, both ends", new() { OnEdge = true, Where = GatedAt.BothEnds }),
        ];
        var kit = KitCheck.Build(Fin(alloy));
        var turned = KitCheck.Build(Jobs.Of(Jobs.Block(-7, -60, 7, 0, 0, 30, name: "boss"), Jobs.Block(-1.25, -10, 1.25, 90, 0, 12, name: "fin")) with { Alloy = alloy, Gating = AtBoss() with { At_mm = new(20, -30) } });
        var fine = kit.Stage!.Cavity().Grid.Cell_mm;
        foreach (var (name, gating) in ways)
        {
            var fronts = new List<double>();
            foreach (var cell_mm in new[] { fine, 0.8 * fine, 0.62 * fine })
            {
                foreach (var aside in new Vec3[] { new(0, 0, 0), new(0.5, 0.3, 0.2), new(0.2, 0.5, 0.7) })
                    fronts.Add(Front(kit, gating, cell_mm, aside));
            }

            fronts.Add(Front(turned, gating.At_mm is null ? gating : gating with { At_mm = new(20, -30) }, fine, default));
            var mean = fronts.Average();
            Assert.True(fronts.Average(f => Math.Abs(f - mean)) <= 0.03 * mean, name);
            Assert.All(fronts, f => Assert.True(Math.Abs(f - mean) <= 0.09 * mean, $"{name}: {string.Join(" ", fronts.Select(x => x.ToString("0.000", System.Globalization.CultureInfo.InvariantCulture)))}"));
        }

        double Front(Kit of, GatingSettings gating, double cell_mm, Vec3 aside)
        {
            var cavity = CastingGrid.Of(of.Stage!.Cope, of.Stage.Drag, [], [], cell_mm, aside);
            return (of.Stage with { Cavity = () => cavity }).Reckon(of.Job with { Gating = gating }).Filling!.Worst.Front;
        }
    }

    // Walls planted with a known thickness on a boss small and large (cells of 1.1 and 2.1 mm), standing and lying, however the cells fall: all of the wall is read to 3 %, drafted half a degree to each side where it stands.
    // What its tip has lost, gated at the boss and with an ingate of its own, is then the same to 5 %; where a wall is one or two cells, to 15 %, since the steps of the stream are as long as it is thick.
    [Theory]
    [InlineData(false, false)]
    [InlineData(false, true)]
    [InlineData(true, false)]
    [InlineData(true, true)]
    public void A_thin_wall_is_read_as_thick_as_it_was_planted_however_its_cells_fall(bool large, bool standing)
    {
        foreach (var t in new[] { 2.0, 2.5, 3.0 })
        {
            var kit = KitCheck.Build(Jobs.Of(
                large ? Jobs.Block(-110, -40, 0, 40, 0, 40, name: "boss") : Jobs.Block(-60, -7, 0, 7, 0, 30, name: "boss"),
                standing ? Jobs.Block(-10, -t / 2, 90, t / 2, 0, 12, name: "fin") : Jobs.Block(-10, -6, 90, 6, 0, t, name: "fin")).Bare(0.5, joint_mm: 0) with
            { Alloy = "AlSi7Mg", Gating = AtBoss() });
            var (atBoss, atEnds) = (new List<double>(), new List<double>());
            foreach (var aside in new Vec3[] { new(0, 0, 0), new(0.5, 0.3, 0.2), new(0.2, 0.5, 0.7), new(0.8, 0.9, 0.4) })
            {
                var cavity = CastingGrid.Of(kit.Stage!.Cope, kit.Stage.Drag, [], [], kit.Stage.Cavity().Grid.Cell_mm, aside);
                var cells = Enumerable.Range(0, cavity.Grid.Count).Where(i => cavity.Grid.IsSolid(i) && cavity.Grid.Middle(i) is { X: > 10 and < 86, Z: < 10.5 }).ToArray();
                Assert.True(cells.Length > 100);
                foreach (var cell in cells)
                {
                    var planted = standing ? t + (2 * (12 - cavity.Grid.Middle(cell).Z) * Math.Tan(0.5 * KitCheck.Degree)) : t;
                    Assert.Equal(planted, cavity.Walls.At_mm(cell), 0.03 * planted);
                }

                var stage = kit.Stage with { Cavity = () => cavity };
                atBoss.Add(stage.Reckon(kit.Job).Filling!.Worst.Front);
                atEnds.Add(stage.Reckon(kit.Job with { Gating = new() { Where = GatedAt.BothEnds } }).Filling!.Worst.Front);
            }

            foreach (var fronts in new[] { atBoss, atEnds })
                Assert.All(fronts, f => Assert.True(Math.Abs(f - fronts.Average()) <= (large ? 0.15 : 0.05) * fronts.Average(), FormattableString.Invariant($"{t}: {string.Join(" ", fronts.Select(x => x.ToString("0.000", System.Globalization.CultureInfo.InvariantCulture)))}")));
        }
    }

    // A strip that fills from one end: its far end is reached when all is full, and what its tip has lost by then is h (T − T₀) t / M. (Flemings, Solidification Processing, 1974, ch. 7)
    [Theory]
    [InlineData(3)]
    [InlineData(4.5)]
    public void The_ratio_of_a_strip_is_that_of_its_fill_time_and_its_thickness(double thick_mm)
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 150, 16, 0, thick_mm)) with { Alloy = "AlSi7Mg", Gating = new() { OnEdge = true } });
        var metal = MetalHeat.Of(FoundryTables.Default.Alloy("AlSi7Mg"), FoundryTables.Default.Filling)!;
        var f = kit.Filling!;
        // No faster than it comes out of the ingate.
        var time_s = Math.Max(f.FillTime_s, f.FarthestWay_mm / (1000 * kit.Gating!.Reckoning.IngateVelocity_m_s));
        var lost = MetalStream.Loss_W_m3(2000, Modulus.Wall(thick_mm * kit.Scale) / 1000, metal.Liquidus_C - metal.Mould_C) * time_s;
        Assert.Equal(lost / metal.UntilTipStops_J_m3(f.Pour.Taken_C.Value), f.Worst.Front, 0.05 * f.Worst.Front);
    }

    // A plate lies in one half: its fill time is that of a prism over the ingates.
    [Fact]
    public void A_plate_fills_in_the_time_of_its_prism()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 12)));
        var r = kit.Gating!.Reckoning;
        Assert.Equal(r.FillTime_s, kit.Filling!.FillTime_s, 0.02 * r.FillTime_s);
        Assert.Equal(kit.Stage!.Volume_mm3, r.Fills_mm3, 1e-9 * r.Fills_mm3);
        Assert.Equal(r.Fills_mm3 / (r.Choke_mm2.Value * r.Discharge.Value * Flow.Speed_mm_s(EffectiveHead.Exact(r.Head_mm.Value, 12 * kit.Scale, 12 * kit.Scale))), r.FillTime_s, 0.005 * r.FillTime_s);
        Assert.Empty(kit.Filling.Places);
        // From one side's middle to the far corners.
        Assert.InRange(kit.Filling.FarthestWay_mm, 80, 120);
        var spot = Assert.Single(kit.Filling.HotSpots);
        // A plate of 12 mm: 5 to 6 mm, the more the farther from its edges.
        Assert.InRange(spot.Modulus_mm, 5.4, 6.5);
        Assert.Equal(MouldConstant.Time_s(kit.Filling.MouldConstant_s_mm2.Value, spot.Modulus_mm), spot.Freezes_s, 1e-9);
        Assert.Null(spot.CutOff_s);
        Assert.Equal(kit.Bridge.Pattern_mm3 * 0.052, kit.Filling.Shrinks_mm3!.Value, 0.01 * kit.Filling.Shrinks_mm3.Value);
    }

    [Fact]
    public void A_filling_that_takes_another_time_than_its_choke_was_made_for_is_told_with_the_choke_that_would_do()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 12)));
        var r = kit.Gating!.Reckoning;
        Assert.Null(FillingFindings.Timed(kit.Filling! with { FillTime_s = 1.04 * r.FillTime_s }, r));
        var told = FillingFindings.Timed(kit.Filling! with { FillTime_s = 1.5 * r.FillTime_s }, r)!;
        Assert.Equal(("fill-time", Severity.Warn), (told.Code, told.Severity));
        // Continuity: half as long again through the same choke asks for half as much choke again.
        Assert.Contains(FormattableString.Invariant($"{1.5 * r.Choke_mm2.Value:0} mm²"), told.Remedy, StringComparison.Ordinal);
    }

    // Two heavy blocks on a thin bar: both are cut off from each other when the bar is solid, each with half of the metal.
    [Fact]
    public void Two_blocks_on_a_thin_neck_are_two_hot_spots_of_one_size()
    {
        var filling = Filled(Jobs.Of(Jobs.Block(-70, -20, -30, 20, 0, 40), Jobs.Block(30, -20, 70, 20, 0, 40), Jobs.Block(-35, -5, 35, 5, 0, 8)) with { Parting = new(0) });
        Assert.Equal(2, filling.HotSpots.Length);
        Assert.Equal([-50, 50], filling.HotSpots.Select(h => Math.Round(h.At_mm.X / 10) * 10).Order());
        Assert.All(filling.HotSpots, h => Assert.InRange(h.Modulus_mm, 0.94 * Modulus.Block(40.5, 40.5, 40.5), 1.1 * Modulus.Block(42, 42, 41)));
        var cut = Assert.Single(filling.HotSpots, h => h.CutOff_s is not null);
        Assert.True(cut.CutOff_s < 0.3 * cut.Freezes_s, $"{cut}");
        Assert.Equal(filling.HotSpots.Max(h => h.Pool_mm3) / 2, cut.Pool_mm3, 0.06 * cut.Pool_mm3);
    }

    [Fact]
    public void The_last_to_freeze_is_the_heavy_boss_and_not_the_plate()
    {
        var filling = Filled(Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 8), Jobs.Round(90, 40, 34, 0, 34, name: "boss")));
        Assert.True((filling.HotSpots[0].At_mm.Plan - new Vec2(90, 40)).Length < 6, $"{filling.HotSpots[0].At_mm}");
        Assert.True(filling.HotSpots[0].Modulus_mm > 5);
    }

    [Fact]
    public void A_cored_bushing_is_filled_round_its_core()
    {
        var kit = KitCheck.Build(KitCheck.Template("gland-flange"));
        Assert.NotNull(kit.Filling);
        Assert.InRange(kit.Filling!.ThinnestWall_mm, 5, 15);
    }

    // Chvorinov: all times of freezing go with the mould constant. Four times the constant: what it is used for, every freezing time, the way that may freeze, and the wait in the sand.
    [Fact]
    public void A_mould_constant_of_the_shop_is_used_wherever_something_freezes()
    {
        var job = Jobs.Of(Jobs.Block(0, 0, 120, 80, 0, 8), Jobs.Round(90, 40, 60, 0, 60, name: "boss")) with { Alloy = "AlSi7Mg", Feeders = false };
        var reckoned = KitCheck.Build(job);
        var four = 4 * reckoned.Filling!.MouldConstant_s_mm2.Value;
        var own = KitBuilder.Build(job, FoundryTables.Default.With(FormattableString.Invariant($"[[mould_constant]]\nalloy = \"AlSi7Mg\"\nsand = \"{job.Sand}\"\ns_mm2 = {four:R}\n"), "shop.toml"));
        Assert.Equal(four, own.Filling!.MouldConstant_s_mm2.Value);
        Assert.Contains("measured", own.Filling.MouldConstant_s_mm2.Source, StringComparison.Ordinal);
        Assert.Equal(reckoned.Filling.HotSpots.Select(h => 4 * h.Freezes_s), own.Filling.HotSpots.Select(h => h.Freezes_s), (a, b) => Math.Abs(a - b) < 1e-6 * a);
        Assert.Equal(reckoned.Filling.HotSpots.Select(h => 4 * h.CutOff_s), own.Filling.HotSpots.Select(h => h.CutOff_s), (a, b) => a == b || Math.Abs(a!.Value - b!.Value) < 1e-6 * a.Value);
        Assert.Equal(4 * reckoned.Filling.FirstFreezes_s, own.Filling.FirstFreezes_s, 1e-6 * own.Filling.FirstFreezes_s);
        Assert.Equal(reckoned.Filling.Worst.Choked, 4 * own.Filling.Worst.Choked, 1e-6 * reckoned.Filling.Worst.Choked);
        Assert.Equal(reckoned.Filling.Worst.Front, own.Filling.Worst.Front);
        var (wait, section) = (own.Pouring!.ShakeOut.Wait_minutes.Value, own.Pouring.ShakeOut.Section_mm);
        Assert.Equal(3 * four * section * section / 4 / 60, wait, 1e-9);
        Assert.True(wait > reckoned.Pouring!.ShakeOut.Wait_minutes.Value);
        Assert.Equal(4 * reckoned.Pouring.ShakeOut.Solid_s!.Value, own.Pouring.ShakeOut.Solid_s!.Value, 1e-6 * own.Pouring.ShakeOut.Solid_s.Value);
        Assert.Contains("measured", own.Pouring.ShakeOut.Solid_s.Source, StringComparison.Ordinal);
    }

    public static TheoryData<string> Templates() => KitCheck.Templates();

    [Theory]
    [MemberData(nameof(Templates))]
    public void Every_template_is_reckoned_and_likely_to_run(string name)
    {
        var kit = KitCheck.Build(KitCheck.Template(name));
        var filling = kit.Filling!;
        Assert.DoesNotContain(filling.Places, p => p.Ratios.Worst > filling.Table.Risk.High);
        // The choke was reckoned for the time in which the mould fills, lying and on edge, in iron without feeders and in aluminium with them, or is the least there is, and then faster.
        var one = kit.Job.Impressions is null ? kit : KitCheck.Build(kit.Job with { Impressions = null, Plate = null });
        foreach (var alloy in new[] { kit.Stage!.Alloy, FoundryTables.Default.Alloy("AlSi7Mg") })
        {
            foreach (var (stage, onEdge) in new[] { (kit.Stage, false), (one.Stage, true) })
            {
                // Not every casting has a side to be gated by, as the ways to pour tell.
                if (stage is null) continue;
                var (gating, filled, feeding) = (stage with { Alloy = alloy, Casting_kg = stage.Casting_kg * alloy.Density_kg_m3.Value / stage.Alloy.Density_kg_m3.Value })
                    .Reckon(onEdge ? one.Job with { Gating = new() { OnEdge = true } } : kit.Job);
                var (r, time_s) = (gating!.Reckoning, filled!.FillTime_s);
                Assert.Equal(r.FillTime_s, time_s, 0.03 * r.FillTime_s);
                Assert.Equal(r.FloorApplied ? r.PourTime_s.Value * r.ChokeByTime_mm2.Value / r.LeastChoke_mm2.Value : r.PourTime_s.Value, time_s, 0.03 * time_s);
                var holds_mm3 = (feeding?.Holds ?? []).Sum(h => h.Area_mm2 * (h.High_mm - h.Low_mm));
                Assert.Equal(stage.Volume_mm3 + holds_mm3, r.Fills_mm3, 0.01 * r.Fills_mm3);
            }
        }

        Assert.DoesNotContain(kit.Findings, f => f.Code == "fill-time");
        Assert.False(filling.IsCoarse);
        Assert.NotEmpty(filling.HotSpots);
        Assert.All(filling.HotSpots, h => Assert.True(h.CutOff_s is not { } cut || cut < h.Freezes_s));
    }

    [Fact]
    public void Without_gating_or_without_a_known_freezing_range_nothing_is_reckoned()
    {
        Assert.Null(KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 60, 40, 0, 12)) with { Gating = new(Wanted: false) }).Filling);
        Assert.Null(KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 60, 40, 0, 12)) with { Alloy = "AlMg7" }).Filling);
    }

    [Fact]
    public void Metal_that_would_not_be_liquid_is_refused_and_metal_too_hot_is_told()
    {
        var refused = Assert.Throws<InputException>(() => KitCheck.Build(Fin(gating: AtBoss() with { PourTemperature_C = 990 })));
        Assert.Contains("liquidus", refused.Message, StringComparison.Ordinal);
        Assert.Contains(KitCheck.Build(Fin(gating: AtBoss() with { PourTemperature_C = 1300 })).Findings, f => f.Code == "pour-temperature" && f.Limit == 1260);
    }

    [Fact]
    public void A_part_and_its_mirror_image_fill_alike()
    {
        FillingPlan Of(int sign) => Filled(Jobs.Of(
            Jobs.Block(Math.Min(-60 * sign, 0), -7, Math.Max(-60 * sign, 0), 7, 0, 30), Jobs.Block(Math.Min(-10 * sign, 90 * sign), -1.25, Math.Max(-10 * sign, 90 * sign), 1.25, 0, 12)) with
        { Gating = new(At_mm: new(-30 * sign, -20), Ingates: 1) });
        var (left, right) = (Of(1), Of(-1));
        Assert.Equal(left.FillTime_s, right.FillTime_s, 1e-3 * left.FillTime_s);
        Assert.Equal(left.Worst.Front, right.Worst.Front, 0.02 * left.Worst.Front);
        Assert.Equal(left.ThinnestWall_mm, right.ThinnestWall_mm, 0.02);
    }
}
