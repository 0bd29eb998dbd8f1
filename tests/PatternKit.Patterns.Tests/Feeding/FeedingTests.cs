using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Feeding;

/// <summary>Feeders of whole jobs: where they are asked for, where they stand, and what is told where they cannot.</summary>
public class FeedingTests
{
    // Bishop and Pellini (from memory): steel plates are fed for 4.5 of their thickness from the feeder to where they end in sand; a chill at the end adds 50 mm.
    // A plate of 30 mm: within that it is left alone, beyond it is told with how far, and how many feeders would do.
    [Theory]
    [InlineData(120, 100, false)]
    [InlineData(520, 160, true)]
    public void A_section_longer_than_its_feeder_feeds_is_told(double length, double width, bool told)
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, length, width, 0, 30)) with { Alloy = "carbon-steel", Parting = new(0) });
        var section = Assert.Single(kit.Feeding!.Sections, s => s.Fate == FeedingFate.Fed);
        var d = section.Distance!.Value;
        Assert.Equal(4.5 * section.Across_mm * kit.Scale, d.Feeds_mm, 1e-6);
        var stands = section.StandsAt_mm!.Value;
        // From the middle of the plate under it to the farthest corner; ways along cells and across their corners are longer by up to an eighth.
        var farthest = new Vec3(Math.Max(stands.X, length - stands.X), Math.Max(stands.Y, width - stands.Y), 15).Length * kit.Scale;
        var way = d.Reach_mm + (section.Foot_mm!.Value / 2);
        Assert.InRange(way, 0.97 * farthest, 1.125 * farthest);
        Assert.Equal(told, d.Reach_mm > d.Feeds_mm);
        if (!told)
        {
            Assert.DoesNotContain(kit.Findings, f => f.Code == "feeding-distance");
            return;
        }

        var finding = Assert.Single(kit.Findings, f => f.Code == "feeding-distance");
        Assert.Equal((d.Reach_mm, d.Feeds_mm), (finding.Value!.Value, finding.Limit!.Value));
        var feeders = Math.Ceiling(((2 * d.Reach_mm) + section.Foot_mm.Value) / ((2 * d.Feeds_mm) + section.Foot_mm.Value));
        Assert.True(feeders >= 2);
        Assert.Contains(FormattableString.Invariant($"{feeders:0} feeders"), finding.Remedy, StringComparison.Ordinal);
        Assert.Contains("50 mm farther", finding.Remedy, StringComparison.Ordinal);
        Assert.Contains("moisture on a chill explodes", finding.Remedy, StringComparison.Ordinal);
        // Ten per cent thicker over each feeding distance.
        var taper = section.Taper!.Value;
        Assert.Equal(section.Across_mm * kit.Scale * Math.Pow(1.1, d.Reach_mm / d.Feeds_mm), taper.Root_mm, 1e-6);
        Assert.Contains("mm in 100 mm", finding.Remedy, StringComparison.Ordinal);
    }

    // A plate with a thick boss: the boss freezes last, and its flat top takes a feeder.
    private static readonly Feature[] Bossed = [Jobs.Block(-50, -40, 50, 40, 0, 8), Jobs.Round(10, 5, 44, 0, 30, name: "boss")];

    private static Job Of(params Feature[] features) => Jobs.Of(features) with { Alloy = "AlSi7Mg" };

    // Common practice with tin bronze, which freezes over 145 °C: several small feeders; guides give two thicknesses of feeding distance (memory). A bar of 300 x 100 x 30 mm is fed to its ends from two places and more, and aluminium bronze (11 °C) has one.
    [Fact]
    public void A_long_section_of_a_bronze_that_freezes_over_a_long_range_gets_several_small_feeders()
    {
        Kit Bar(string alloy) => KitCheck.Build(Jobs.Of(Jobs.Block(0, 0, 300, 100, 0, 30)) with { Alloy = alloy, Parting = new(0), Gating = new(Head_mm: 140) });
        var kit = Bar("CuSn10Zn2");
        var parts = kit.Feeding!.Sections.Where(s => s.Fate == FeedingFate.Fed).OrderBy(s => s.StandsAt_mm!.Value.X).ToArray();
        Assert.InRange(parts.Length, 2, 4);
        Assert.Equal(parts.Length, kit.Gating!.Bars.Count(b => b.Kind == BarKind.Feeder));
        Assert.All(parts, p =>
        {
            Assert.Equal(parts.Length, p.Sharing);
            Assert.True(p.Distance!.Value.Reach_mm <= p.Distance.Value.Feeds_mm, $"{p.Distance}");
            Assert.Equal(2 * p.Across_mm * kit.Scale, p.Distance.Value.Feeds_mm, 1e-6);
            // As long as its own part: 300 mm over their number, evenly.
            Assert.Equal(300.0 / parts.Length, 300.0 * p.Fed_mm3 / parts.Sum(x => x.Fed_mm3), 0.1 * 300 / parts.Length);
        });
        Assert.DoesNotContain(kit.Findings, f => f.Code == "feeding-distance");
        // What all of them hold is what one would have to: the shrinkage is shared out, α V / (η − α) of 5 and 14 %.
        Assert.Equal(5.0 / 9 * parts.Sum(p => p.Fed_mm3), parts.Sum(p => p.Size!.Volume_mm3), 1);
        var pitch = parts.Zip(parts.Skip(1), (a, b) => b.StandsAt_mm!.Value.X - a.StandsAt_mm!.Value.X).ToArray();
        Assert.All(pitch, d => Assert.Equal(300.0 / parts.Length, d, 0.12 * 300 / parts.Length));

        var one = Bar("aluminium-bronze").Feeding!;
        var single = Assert.Single(one.Sections, s => s.Fate == FeedingFate.Fed);
        Assert.Equal(1, single.Sharing);
        Assert.All(parts, p => Assert.True(p.Feeder_mm3 < single.Feeder_mm3 && p.Size!.ByVolume_mm < single.Size!.ByVolume_mm * 1.1));
    }

    [Fact]
    public void A_thick_boss_gets_a_feeder_on_its_top_that_is_as_high_as_the_metal_in_the_basin()
    {
        var kit = KitCheck.Build(Of(Bossed));
        var section = Assert.Single(kit.Feeding!.Sections, s => s.Fate == FeedingFate.Fed);
        Assert.Equal(10, section.StandsAt_mm!.Value.X, 0.2);
        Assert.Equal(5, section.StandsAt_mm!.Value.Y, 0.2);
        var bar = Assert.Single(kit.Gating!.Bars, b => b.Kind == BarKind.Feeder);
        Assert.Equal("feeder-1", bar.Body.Name);
        var box = bar.Body.InMould.Bounds();
        Assert.Equal(kit.Bodies.Max(b => b.InMould.Bounds().High.Z), box.Low.Z, 0.01);
        Assert.Equal(kit.Gating.Joint_mm + kit.Gating.Reckoning.Head_mm.Value, box.High.Z, 0.01);
        Assert.True(bar.Body.LeastDraft > 0);
        Assert.All(bar.Cuts, c => Assert.Equal(c.Reckoned_mm2, c.Region.Area, 0.02 * c.Reckoned_mm2));
        Assert.Empty(MeshInspection.Inspect(bar.Body.AsPrinted).Defects);
        // The foot stays within the boss, and is no narrower than its neck has to be.
        Assert.InRange(section.Foot_mm!.Value, section.Size!.Neck_mm - 0.3, 44 * kit.Scale);
        Assert.True(section.Size.Modulus_mm >= kit.Feeding.Table.Moduli.Feeder * section.Modulus_mm * (1 - 1e-9));
        Assert.DoesNotContain(kit.Findings, f => f.Code == "shrinkage" && f.Severity == Severity.Warn);
    }

    [Fact]
    public void The_metal_of_a_feeder_is_melted_too()
    {
        var with = KitCheck.Build(Of(Bossed));
        var without = KitCheck.Build(Of(Bossed) with { Feeders = false });
        var feeder = Assert.Single(with.Gating!.Bars, b => b.Kind == BarKind.Feeder).Body.AsPrinted.Volume() * 1e-9 * FoundryTables.Default.Alloy("AlSi7Mg").Density_kg_m3.Value;
        var density = FoundryTables.Default.Alloy("AlSi7Mg").Density_kg_m3.Value;
        Assert.Equal(with.Metal.Casting_kg + (1e-9 * density * with.Gating.Bars.Sum(b => b.Body.AsPrinted.Volume())), with.Metal.Pour_kg, 1e-9);
        Assert.True(with.Metal.Pour_kg >= without.Metal.Pour_kg + feeder - 1e-9);
        // It runs through the choke, which is reckoned for it, too; the level in the basin is that of the casting, the mean head lower, since feeders fill up to that level.
        var (r, bare) = (with.Gating.Reckoning, without.Gating!.Reckoning);
        Assert.Equal(feeder, r.Feeders_kg, 0.02 * feeder);
        Assert.Equal(0, bare.Feeders_kg);
        Assert.True(r.EffectiveHead_mm.Value < 0.9 * bare.EffectiveHead_mm.Value, $"{r.EffectiveHead_mm.Value} {bare.EffectiveHead_mm.Value}");
        Assert.Equal(bare.Head_mm.Value, r.Head_mm.Value);
        Assert.True(r.PourTimeByRule_s.Value > bare.PourTimeByRule_s.Value);
        // Torricelli's law over the level sections of casting and feeder together.
        var (gate, cavity, up) = (with.Gating.Position.Gate_mm, with.Stage!.Cavity(), with.Gating.Position.Up);
        var (low, high) = (with.Bodies.Min(b => b.InMould.Bounds().Low.Z), with.Bodies.Max(b => b.InMould.Bounds().High.Z));
        var time = new FillClock(r.Choke_mm2.Value, r.Discharge.Value, r.Head_mm.Value).Time_s(
        [
            .. cavity.Slices(up, low, high, gate, with.Stage.Volume_mm3),
            .. with.Feeding!.Sections.SelectMany(s => s.Holds).Select(h => new CavitySlice(h.Low_mm - gate, Math.Min(h.High_mm - gate, r.Head_mm.Value), h.Area_mm2)),
        ]);
        Assert.Equal(time, with.Filling!.FillTime_s, 0.02 * time);
        // The choke was made for just that time.
        Assert.Equal(r.PourTime_s.Value, with.Filling.FillTime_s, 0.03 * r.PourTime_s.Value);
        Assert.DoesNotContain(without.Gating!.Bars, b => b.Kind == BarKind.Feeder);
        // In its place a chill, with numbers.
        var chill = without.Feeding!.Sections[0].Chill!;
        Assert.True(chill.Target_mm < without.Feeding.Sections[0].Modulus_mm && chill.Mass_kg > 0);
        Assert.Contains(FormattableString.Invariant($"{chill.Mass_kg:0.00} kg"), Assert.Single(without.Findings, f => f.Code == "shrinkage").Remedy, StringComparison.Ordinal);
        var told = Assert.Single(without.Findings, f => f.Code == "shrinkage");
        Assert.Equal(Severity.Warn, told.Severity);
    }

    // Poured in a second, casting and feeder want a choke whose ingate is wider than the side of the plate: the feeder is kept, and what time it then takes is told.
    [Fact]
    public void A_feeder_whose_choke_finds_no_room_is_kept_and_the_longer_time_told()
    {
        var kit = KitBuilder.Build(Of(Bossed) with { Gating = new(PourTime_s: 1) }, FoundryTables.Default.With("[pouring]\nrate_kg_s = 5\n", "shop.toml"));
        Assert.Single(kit.Gating!.Bars, b => b.Kind == BarKind.Feeder);
        var told = Assert.Single(kit.Findings, f => f.Code == "fill-time");
        Assert.Equal((kit.Filling!.FillTime_s, kit.Gating.Reckoning.FillTime_s), (told.Value!.Value, told.Limit!.Value));
        Assert.True(told.Value > 1.5 * told.Limit);
        Assert.DoesNotContain(KitCheck.Build(Of(Bossed)).Findings, f => f.Code == "fill-time");
    }

    // An open feeder vents the boss that it stands on, and lifts nothing: over its foot there is no sand that the metal could press on, so that the lift is less by a column of the foot's area from there up to the level. (hydrostatics)
    [Fact]
    public void No_wire_is_pricked_into_a_feeder_and_the_cope_is_not_lifted_over_its_foot()
    {
        var with = KitCheck.Build(Of(Bossed));
        var without = KitCheck.Build(Of(Bossed) with { Feeders = false });
        var plan = Assert.Single(with.Gating!.Bars, b => b.Kind == BarKind.Feeder).Plan;
        Assert.Contains(without.Pouring!.Vents.Vents, v => plan.Contains(v.At_mm));
        Assert.DoesNotContain(with.Pouring!.Vents.Vents, v => plan.Contains(v.At_mm));
        var section = Assert.Single(with.Feeding!.Sections, s => s.Fate == FeedingFate.Fed);
        var foot_mm2 = Math.PI / 4 * section.Foot_mm!.Value * section.Foot_mm.Value;
        Assert.Equal(without.Pouring.Lift!.Under_mm3 - (foot_mm2 * (with.Pouring.Head_mm.Value - (30 * with.Scale))), with.Pouring.Lift!.Under_mm3, 0.5);
        Assert.Equal(without.Pouring.Lift.Plan_mm2 - foot_mm2, with.Pouring.Lift.Plan_mm2, 1e-6);
        // Air leaves by it as by vents.
        Assert.Equal(foot_mm2, with.Pouring.Vents.Feeders_mm2, 1e-9);
        Assert.Equal((with.Pouring.Vents.Pricked.Length * Math.PI / 4 * Math.Pow(with.Pouring.Vents.Wire_mm.Value, 2)) + foot_mm2, with.Pouring.Vents.Area_mm2, 1e-9);
        Assert.Equal(0, without.Pouring.Vents.Feeders_mm2);
        Assert.Equal(1.5, with.Pouring.Vents.Wire_mm.Value);
        Assert.Equal((without.Pouring.Flask.Cope_mm, without.Pouring.Flask.Drag_mm), (with.Pouring.Flask.Cope_mm, with.Pouring.Flask.Drag_mm));
        Assert.True(with.Pouring.Melt.Metal.Melt_kg > without.Pouring.Melt.Metal.Melt_kg);
    }

    // Two castings of one mould have the same sections, with the same moduli, wherever the second lies: its cells fall otherwise each time.
    [Theory]
    [InlineData(127)]
    [InlineData(120.37)]
    [InlineData(133.71)]
    public void Castings_of_one_mould_are_fed_alike(double pitch)
    {
        var job = KitCheck.Template("pump-body");
        Assert.Equal(2, job.Impressions!.Count);
        var kit = KitCheck.Build(job with { Alloy = "AlSi7Mg", Impressions = job.Impressions with { At_mm = [default, new(pitch, 0)] } });
        Alike(kit, pitch);
        var bosses = KitCheck.Build(Of(Bossed) with { Impressions = new(2, [default, new(pitch, 0)], "job.toml") });
        Alike(bosses, pitch);
        Assert.Equal(2, bosses.Feeding!.Sections.Count(s => s.Fate == FeedingFate.Fed));

        static void Alike(Kit kit, double pitch)
        {
            var (first, second) = (kit.Filling!.HotSpots.Where(h => h.Casting_mm == default).ToArray(), kit.Filling.HotSpots.Where(h => h.Casting_mm != default).ToArray());
            Assert.NotEmpty(first);
            Assert.Equal(first.Select(h => (h.Modulus_mm, h.Pool_mm3, h.CutOff_s)), second.Select(h => (h.Modulus_mm, h.Pool_mm3, h.CutOff_s)));
            Assert.All(first.Zip(second), p => Assert.Equal(pitch, (p.Second.At_mm - p.First.At_mm).Length, 1e-6));
            var sections = kit.Feeding!.Sections;
            Assert.Equal(sections.Length, first.Length + second.Length);
            foreach (var pair in sections.Chunk(2)) Assert.Equal((pair[0].Fate, pair[0].Fed_mm3, pair[0].Size), (pair[1].Fate, pair[1].Fed_mm3, pair[1].Size));
            // All metal is in some section, once.
            Assert.Equal(kit.Stage!.Volume_mm3, sections.Sum(s => s.Fed_mm3), 0.01 * kit.Stage.Volume_mm3);
        }
    }

    // A ridge of 9 mm on a wall of 3 mm freezes last and is too thin for a feeder. (common practice: gate it hot and let it taper) The taper is compound growth, a tenth over each feeding distance.
    [Fact]
    public void A_thin_section_is_told_to_be_gated_hot_and_to_taper_towards_the_gate()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-50, -40, 50, 40, 0, 3), Jobs.Block(-35, -10, 35, 10, 0, 9, name: "ridge")));
        var section = Assert.Single(kit.Feeding!.Sections, s => s.Fate == FeedingFate.Thin);
        Assert.Empty(kit.Feeding.Bodies);
        Assert.Null(section.Size);
        var taper = section.Taper!.Value;
        var across = section.Across_mm * kit.Scale;
        var at = kit.Scale * section.At_mm;
        Assert.Equal(kit.Gating!.Enters_mm.Min(e => (e - at).Length), taper.Length_mm, 0.05);
        Assert.Equal(across * Math.Pow(1.1, taper.Length_mm / (kit.Feeding.Distance_walls!.Value * across)), taper.Root_mm, 1e-6);
        Assert.True(taper.Root_mm > across);
        var told = Assert.Single(kit.Findings, f => f.Code == "shrinkage");
        Assert.Equal(Severity.Note, told.Severity);
        Assert.Contains("a feeder would freeze first", told.Message, StringComparison.Ordinal);
        Assert.Contains(FormattableString.Invariant($"{taper.Root_mm / kit.Scale:0.0} mm at the gate"), told.Remedy, StringComparison.Ordinal);
        Assert.Contains("gate it hot", told.Remedy, StringComparison.Ordinal);
    }

    // A boss of 20 mm on a plate of 8 mm, Chvorinov's moduli: the plate's is 4 mm, that of the boss, a cylinder of 60 by 20 cooled all round, 6 mm. It freezes later whether it is a tenth or four fifths of the metal.
    // (Thinner than the 25 mm from which all is fed.)
    [Theory]
    [InlineData(200, 160, 0.15)]
    [InlineData(90, 80, 0.55)]
    [InlineData(70, 66, 0.75)]
    public void A_heavy_boss_on_a_thin_plate_stands_out_whatever_its_share_of_the_metal(double length, double width, double share)
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-length / 2, -width / 2, length / 2, width / 2, 0, 8), Jobs.Round(0, 0, 60, 0, 20, name: "boss")));
        Assert.InRange(Math.PI * 900 * 20 * Math.Pow(kit.Scale, 3) / kit.Stage!.Volume_mm3, share, share + 0.15);
        var section = kit.Feeding!.Sections[0];
        Assert.InRange(section.Across_mm, 18, 22);
        Assert.Equal(Modulus.Wall(8 * kit.Scale), section.Beside_mm!.Value, 0.1 * section.Beside_mm.Value);
        Assert.NotEqual(FeedingFate.Left, section.Fate);
        Assert.Equal(1.15 * section.Beside_mm.Value, section.Chill!.Target_mm, 1e-9);
    }

    // A block of 50 mm with a flange of 16 mm: the guide from memory feeds aluminium that freezes over a short range 4 of its thicknesses, here 64 mm from the block on, over the flange's own thickness. One of 55 mm is within
    // that, one of 150 mm is not, and is told with its far corner, the padding and a chill that alone is not enough.
    [Theory]
    [InlineData(55, false)]
    [InlineData(90, true)]
    [InlineData(150, true)]
    public void A_thin_flange_that_reaches_beyond_the_feeding_distance_of_its_own_thickness_is_told(double reach, bool told)
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-25, -25, 25, 25, 0, 50), Jobs.Block(25, -20, 25 + reach, 20, 0, 16, name: "flange")) with { Parting = new(0), Gating = new(Head_mm: 150, At_mm: new(0, -40), Ingates: 1) });
        Assert.Contains(kit.Feeding!.Sections, s => s.Fate == FeedingFate.Fed);
        var findings = kit.Findings.Where(f => f.Code == "feeding-distance").ToArray();
        if (!told)
        {
            Assert.Empty(findings);
            Assert.Empty(kit.Feeding.Beyond);
            return;
        }

        var wall = Assert.Single(kit.Feeding.Beyond);
        var finding = Assert.Single(findings);
        Assert.Equal(16, wall.Thick_mm, 0.4);
        Assert.Equal(4 * wall.Thick_mm * kit.Scale, wall.Feeds_mm, 1e-6);
        // To the far end, its corners a little farther; ways along cells are longer by up to an eighth, and the block's own metal reaches into the flange by the fillet that a ball leaves there.
        Assert.InRange(wall.Way_mm, (reach - 6) * kit.Scale, 1.13 * new Vec2(reach, 20).Length * kit.Scale);
        Assert.InRange(wall.At_mm.X, 25 + reach - 4, 25 + reach + 1);
        // What lies beyond, by the size of the flange.
        Assert.InRange(wall.Lacks_mm3, 0.6 * (reach - 64) * 40 * 16 * 0.052, 1.4 * (reach - 50) * 42 * 17 * 0.056);
        Assert.Equal(wall.Thick_mm * kit.Scale * Math.Pow(1.1, wall.Way_mm / wall.Feeds_mm), wall.Root_mm, 1e-6);
        Assert.Contains(FormattableString.Invariant($"{wall.Root_mm / kit.Scale:0.#} mm where it leaves"), finding.Remedy, StringComparison.Ordinal);
        Assert.Contains(wall.Way_mm <= wall.Feeds_mm + 50 ? "with which it is fed 50 mm farther" : "alone is not enough", finding.Remedy, StringComparison.Ordinal);
        Assert.Contains("moisture on a chill explodes", finding.Remedy, StringComparison.Ordinal);
    }

    // A lug on a plate, and a hole's thin rim: the plate is no hot spot for that.
    [Fact]
    public void A_plate_with_a_thin_lug_is_left_to_its_gate()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-60, -40, 60, 40, 0, 14), Jobs.Block(60, -10, 80, 10, 0, 5, name: "lug")));
        Assert.All(kit.Feeding!.Sections, s => Assert.Equal(FeedingFate.Left, s.Fate));
        Assert.Null(kit.Feeding.Sections[0].Beside_mm);
    }

    [Fact]
    public void Iron_that_expands_asks_for_none() => Assert.Empty(KitCheck.Build(Jobs.Of(Bossed) with { Alloy = "gray-iron" }).Feeding!.Sections);

    [Fact]
    public void A_plate_of_one_thickness_is_left_to_its_gate()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-60, -40, 60, 40, 0, 12)));
        Assert.All(kit.Feeding!.Sections, s => Assert.Equal(FeedingFate.Left, s.Fate));
        Assert.DoesNotContain(kit.Findings, f => f.Code == "shrinkage");
    }

    [Fact]
    public void A_lump_is_fed_though_all_of_it_is_as_thick()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-25, -25, 25, 25, 0, 45)));
        var section = kit.Feeding!.Sections[0];
        Assert.True(section.Fate == FeedingFate.Fed, section.ToString());
        // Its feeder reaches over its sides, and the cope has no metal under it for that.
        Assert.False(kit.Plan.CopeOutline.Covers(section.Body!.Plan));
        Assert.Equal(KitCheck.Build(kit.Job with { Feeders = false }).Pouring!.Lift!.Plan_mm2 - Flow.Circle_mm2(section.Foot_mm!.Value), kit.Pouring!.Lift!.Plan_mm2, 1e-6);
    }

    [Fact]
    public void A_boss_in_the_drag_under_a_plate_is_fed_through_the_plate_or_told()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-50, -40, 50, 40, 0, 8), Jobs.Round(10, 5, 44, -30, 0, name: "boss")) with { Parting = new(0) });
        var section = kit.Feeding!.Sections[0];
        Assert.Equal(FeedingFate.Fed, section.Fate);
        // It stands on the upper face of the plate.
        Assert.Equal(kit.Gating!.Bars.Single(b => b.Kind == BarKind.Feeder).Body.InMould.Bounds().Low.Z, 8 * kit.Scale, 0.05);
    }

    // A small boss on a large plate: what holds enough is far wider than the boss, and the cone from its neck higher than the metal.
    [Fact]
    public void A_feeder_whose_cone_finds_no_room_is_not_made_smaller_but_told()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-150, -100, 150, 100, 0, 10), Jobs.Round(0, 0, 40, 0, 45, name: "boss")));
        var section = kit.Feeding!.Sections[0];
        Assert.True(section.Fate == FeedingFate.NoPlace, section.ToString());
        Assert.Contains("cone", section.Why, StringComparison.Ordinal);
        Assert.DoesNotContain(kit.Gating!.Bars, b => b.Kind == BarKind.Feeder);
    }

    // A flange of 10 mm and a web with a boss of 44 mm and 50 mm height, in tin bronze: what holds enough is wider than the boss, and the cone from its neck takes of the room what the width then makes up. It still outlasts its section by the moduli
    // (1 : 1.2, tutorial of the Bangladesh University of Engineering and Technology), its neck stays within the boss, and it holds α V / (η − α).
    [Fact]
    public void A_feeder_wider_than_its_boss_holds_enough_above_its_cone()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-70, -35, 70, 35, 0, 10), Jobs.Block(-55, -4, 35, 4, 0, 32, name: "web"), Jobs.Round(30, 0, 44, 0, 50, name: "boss")) with { Alloy = "CuSn10Zn2", Parting = new(0) });
        var section = kit.Feeding!.Sections[0];
        Assert.True(section.Fate == FeedingFate.Fed, section.Why);
        var size = section.Size!;
        Assert.True(size.Diameter_mm > section.Foot_mm!.Value + 5);
        Assert.InRange(section.Foot_mm.Value, size.Neck_mm - 0.3, 44 * kit.Scale);
        Assert.Equal(5.0 / 9 * section.Fed_mm3, size.Volume_mm3, 1);
        Assert.InRange(section.Feeder_mm3, 0.995 * size.Volume_mm3, 1.01 * size.Volume_mm3);
        Assert.True(size.Modulus_mm >= 1.2 * section.Modulus_mm);
        Assert.Equal(size.Diameter_mm, size.ByVolume_mm);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "shrinkage" && f.Severity == Severity.Warn);
    }

    // The head told is in whole 5 mm, and written into the job it lets the feeder stand; 5 mm less do not. By the modulus, where the metal stands only 12 mm over the boss, and by the volume, where the cone takes the room.
    [Fact]
    public void The_head_told_lets_the_feeder_stand()
    {
        Kit Low(double head) => KitCheck.Build(Of(Bossed) with { Gating = new(Head_mm: head, PourTime_s: 3) });
        Kit Wide(double head) => KitCheck.Build(Of(Jobs.Block(-150, -100, 150, 100, 0, 10), Jobs.Round(0, 0, 40, 0, 45, name: "boss")) with { Parting = new(0), Gating = new(Head_mm: head) });
        foreach (var (build, first) in new (Func<double, Kit>, double)[] { (Low, 42), (Wide, 85) })
        {
            var section = build(first).Feeding!.Sections[0];
            Assert.Equal(FeedingFate.NoPlace, section.Fate);
            var told = System.Text.RegularExpressions.Regex.Match(section.Why, "head = \"([0-9]+) mm\"");
            Assert.True(told.Success, section.Why);
            var head = double.Parse(told.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture);
            Assert.Equal(0, head % 5);
            Assert.Equal(FeedingFate.Fed, build(head).Feeding!.Sections[0].Fate);
            Assert.Equal(FeedingFate.NoPlace, build(head - 5).Feeding!.Sections[0].Fate);
        }
    }

    // Of several feeders for a bar of tin bronze none finds room where its upper face is too narrow for a neck: one is told, and none stands in part.
    [Fact]
    public void Where_several_feeders_find_no_room_one_stands_and_the_distance_is_told()
    {
        // A bar of 300 x 100 x 30 mm that low ridges leave level only in its middle: there is room for one foot, and none for those towards its ends.
        Feature[] bar = [Jobs.Block(0, 0, 300, 100, 0, 30), .. new[] { 8, 33, 58, 83, 214, 239, 264, 289 }.Select((x, i) => Jobs.Block(x, 0, x + 3, 100, 30, 32, name: $"ridge {i}"))];
        var kit = KitCheck.Build(Jobs.Of(bar) with { Alloy = "CuSn10Zn2", Parting = new(0), Gating = new(Head_mm: 140) });
        var fed = Assert.Single(kit.Feeding!.Sections, s => s.Fate == FeedingFate.Fed);
        Assert.Equal(1, fed.Sharing);
        Assert.Single(kit.Gating!.Bars, b => b.Kind == BarKind.Feeder);
        Assert.InRange(fed.StandsAt_mm!.Value.X, 110, 190);
        var told = Assert.Single(kit.Findings, f => f.Code == "feeding-distance");
        Assert.Equal(fed.Distance!.Value.Reach_mm, told.Value);
    }

    // An ingate is as much of a feeder as its modulus makes it: by the moduli of the tutorial (1 : 1.1 : 1.2) one of the usual ratios, thinner than the wall that it meets, never outlasts a lump, which is fed still; and what would be fed so is told.
    [Fact]
    public void A_gate_thinner_than_its_section_counts_as_no_feeder()
    {
        var kit = KitCheck.Build(Of(Jobs.Block(-25, -25, 25, 25, 0, 45)));
        var r = kit.Gating!.Reckoning;
        var (ingate, runner) = (r.Ingate.Value, r.Runner.Value);
        double[] moduli = [Modulus.Bar(ingate.MeanWidth_mm, ingate.Depth_mm) / 1.1, Modulus.Bar(runner.MeanWidth_mm, runner.Depth_mm) / 1.2, Math.Sqrt(r.SprueBase_mm2 / Math.PI) / 2 / 1.2];
        Assert.Equal(moduli.Min(), kit.Feeding!.Gate.Feeds_mm(kit.Feeding.Table.Moduli), 1e-9);
        Assert.True(moduli.Min() < 0.5 * kit.Feeding.Sections[0].Modulus_mm);
        Assert.Equal(FeedingFate.Fed, kit.Feeding.Sections[0].Fate);
        // Poured through a choke as wide as a feeder, which takes a system that lets a tenth through, a lump is fed by its gate as long as that outlasts it, and by a feeder where more is asked of a neck.
        Kit Wide(double neck) => KitBuilder.Build(
            Of(Jobs.Block(-60, -25, 60, 25, 0, 45)) with { Gating = new(Ratio: new(1, 1, 1), PourTime_s: 0.7) },
            FoundryTables.Default.With(FormattableString.Invariant($"[tables.feeding.modulus]\nneck = {neck}\nfeeder = 1\n[pouring]\nrate_kg_s = 20\ndischarge = 0.1\n"), "shop.toml"));
        var (fed, asked) = (Wide(1).Feeding!, Wide(1.5).Feeding!);
        Assert.True(fed.Sections[0].Modulus_mm < fed.Gate.Feeds_mm(fed.Table.Moduli), $"{fed.Sections[0].Modulus_mm} {fed.Gate}");
        Assert.Equal(FeedingFate.Left, fed.Sections[0].Fate);
        Assert.Contains("ingate, runner and sprue freeze after it", fed.Sections[0].Why, StringComparison.Ordinal);
        Assert.NotEqual(FeedingFate.Left, asked.Sections[0].Fate);
    }

    [Fact]
    public void A_head_too_low_is_told_with_the_room_that_a_feeder_needs()
    {
        var kit = KitCheck.Build(Of(Bossed) with { Gating = new(Head_mm: 42, PourTime_s: 3) });
        var told = Assert.Single(kit.Findings, f => f.Code == "shrinkage" && f.Severity == Severity.Warn);
        Assert.Null(kit.Feeding!.Sections[0].Size);
        Assert.Contains("give a head of", told.Message, StringComparison.Ordinal);
    }
}
