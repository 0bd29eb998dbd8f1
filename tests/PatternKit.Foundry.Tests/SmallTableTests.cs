using CsCheck;

namespace PatternKit.Foundry.Tests;

public class SmallTableTests
{
    private static readonly FoundryTables Tables = FoundryTables.Default;

    [Fact]
    public void Every_other_row_names_its_source()
    {
        Provenance[] all =
        [
            .. Tables.Draft.Outside.Select(r => r.From), .. Tables.Draft.Inside.Select(r => r.From), Tables.Draft.Printed_deg.From, Tables.Draft.Sanded_deg.From, Tables.Draft.Smoothed_deg.From, Tables.Draft.Floor_deg.From,
            .. Tables.Machining.Allowance.Select(r => r.From), .. Tables.Machining.Tolerance.Select(r => r.From), .. Tables.Machining.Finer.Select(r => r.From),
            .. Tables.Machining.UsualAllowance.Select(r => r.From), .. Tables.Machining.UsualTolerance.Select(r => r.From),
            .. Tables.Rapping.Select(r => r.From), Tables.Camber.From,
            Tables.Dowels.Standard, .. Tables.Dowels.Choice.Select(r => r.From), Tables.Dowels.Clearance_mm.From, Tables.Dowels.Cover_mm.From,
            .. Tables.Handling.Screws.Select(r => r.From), Tables.Handling.Land_mm.From, Tables.Handling.Wall_mm.From, Tables.Handling.Pair.From, Tables.Handling.Seat.From,
            Tables.Dowels.Depth_diameters.From, Tables.Dowels.LeastDepth_diameters.From, Tables.Joint.Ledge_mm.From, Tables.Joint.Mark.From, Tables.DrawCheck.LeastDepth_mm.From,
            .. new[] { Tables.Letters.Clay, Tables.Letters.Chemical }.SelectMany(l => new[] { l.Stroke_mm.From, l.Counter_mm.From }),
            Tables.Fillets.MeanFactor.From, Tables.Fillets.WallOverLeast.From, Tables.Fillets.Least_mm.From, Tables.Fillets.Series, Tables.Fillets.GapShare.From,
            Tables.Lying.Caught.From, Tables.Lying.Recess.From, Tables.Lying.NotFlat.From, Tables.Lying.Depth.From, Tables.Lying.Upright.From, Tables.Lying.FlatBack.From, Tables.Lying.Roof_deg.From,
            Tables.Originals.Untapered.From, Tables.Originals.BuiltUp_mm.From, Tables.Originals.FlatWithin_mm.From,
            Tables.Plates.Nest.Clearance_mm.From, Tables.Plates.Nest.Floor_mm.From, Tables.Coupons.DraftFrom, Tables.Coupons.WallsFrom, Tables.Coupons.Plate_mm.From, Tables.Coupons.Rib_mm.From, Tables.Coupons.Land_mm.From, Tables.Coupons.Beyond_times.From, Tables.Coupons.Gap_times.From, Tables.Coupons.FiguresFrom,
            Tables.BedCuts.Gap_mm.From, Tables.BedCuts.Dovetail.From, Tables.BedCuts.Flare.From, Tables.BedCuts.Place.From,
            .. Tables.Cautions.Select(c => c.From),
            .. Tables.Sands.SelectMany(s => new[] { s.Density_kg_m3.From, s.Conductivity_W_mK.From, s.SpecificHeat_J_kgK.From, s.StandingLimit.From, s.HangingLimit.From, s.Strength_kPa!.From }),
            .. Tables.Cores.Clearances.Select(c => c.From), Tables.Cores.Lying.From, Tables.Cores.Standing.From, Tables.Cores.Standing.TaperFrom, Tables.Cores.BlindTimesHollow.From, Tables.Cores.UnlikeTimes.From,
            Tables.Cores.UsualStrength_kPa.From, Tables.Cores.BearingShare.From, Tables.Cores.CoreSand_kg_m3.From, Tables.Cores.Vent.From, Tables.Cores.BoxDraft_deg.From, Tables.Cores.BoxWall_mm.From,
        ];
        Assert.True(all.Length > 90);
        Assert.All(all, Provenances.AssertComplete);
    }

    // AFS aluminium casting design page, read: R = (T1 + T2)/2; equal walls R = wall.
    [Fact]
    public void The_corner_of_an_eight_and_a_twelve_millimetre_wall_has_radius_ten()
    {
        Assert.Equal(10, Fillets.Corner(FoundryTables.Default.Fillets, 8, 12).Value);
        Assert.Equal(6, Fillets.Corner(FoundryTables.Default.Fillets, 6, 6).Value);
    }

    // Handbook minimum, common practice: R at least T/3, smallest 3 mm.
    [Theory]
    [InlineData(4, 3)]
    [InlineData(9, 3)]
    [InlineData(18, 6)]
    public void No_corner_is_sharper_than_a_third_of_the_wall(double wall_mm, double radius_mm) =>
        Assert.Equal(radius_mm, Fillets.Least(FoundryTables.Default.Fillets, wall_mm).Value, 1e-12);

    // Common practice: 0 to 0.5 mm.
    [Fact]
    public void Rapping_grows_with_the_pattern_within_half_a_millimetre() =>
        Gen.Select(Gen.Double[1, 3000], Gen.Double[1, 3000]).Sample((a, b) =>
            Rapping.For(FoundryTables.Default.Rapping, Math.Min(a, b)).Value <= Rapping.For(FoundryTables.Default.Rapping, Math.Max(a, b)).Value
            && Rapping.For(FoundryTables.Default.Rapping, a).Value is >= 0 and <= 0.5);

    // Common practice: 1.5 to 2.5 mm a metre.
    [Fact]
    public void A_metre_of_channel_is_cambered_by_about_two_millimetres()
    {
        Assert.InRange(Camber.For(FoundryTables.Default.Camber, 1000).Value, 1.5, 2.5);
        Assert.Equal(Camber.For(FoundryTables.Default.Camber, 1000).Value / 4, Camber.For(FoundryTables.Default.Camber, 250).Value, 1e-12);
    }

    // ISO 2338 and ISO 8734 preferred diameters between 2 and 12 mm, from memory.
    [Fact]
    public void Dowels_are_standard_pins() =>
        Assert.Equal([2, 2.5, 3, 4, 5, 6, 8, 10, 12], Tables.Dowels.Diameters_mm);

    // A hole is wider than the thread and takes an insert at least as long as the thread is thick; a plate holds its two holes with a diameter
    // to spare all round, and its screws grow with the half. Flat bar of these sizes is in every dealer's list (common practice).
    [Fact]
    public void Draw_screws_grow_with_the_half_and_plates_hold_theirs()
    {
        var rows = Tables.Handling.Screws;
        Assert.Equal(["M3", "M4", "M5", "M6"], rows.Select(r => r.Thread));
        foreach (var r in rows)
        {
            var thread_mm = double.Parse(r.Thread[1..], System.Globalization.CultureInfo.InvariantCulture);
            Assert.InRange(r.Hole_mm, 1.2 * thread_mm, 1.5 * thread_mm);
            Assert.True(r.Depths_mm[0] >= thread_mm);
            Assert.InRange(r.Plate.Pitch_mm, 2 * r.Hole_mm, r.Plate.Length_mm - (2 * r.Hole_mm) + 4);
            Assert.True(r.Plate.Width_mm >= 2 * r.Hole_mm);
        }

        Assert.Equal((0, "up to 60 mm"), Tables.Handling.For(60));
        Assert.Equal((3, "over 300 mm"), Tables.Handling.For(301));
    }

    // Rammed sand 16 kN/m3 (GATE 1991) and 0.0165 N/cm3 (textbook example), read: 1631 and 1682 kg/m3.
    [Fact]
    public void Rammed_sand_weighs_about_what_exam_problems_take() =>
        Assert.All(Tables.Sands, s => Assert.InRange(s.Density_kg_m3.Value, 1450, 1700));

    // Common practice: up to about 1 x width standing in the drag, 0.5 x hanging in the cope; oil-bonded a little more.
    [Fact]
    public void Sand_stands_higher_than_it_hangs_and_oil_helps()
    {
        var green = Tables.Sand("green");
        Assert.Equal((1, 0.5), (green.StandingLimit.Value, green.HangingLimit.Value));
        var oil = Tables.Sand("oil-bonded");
        Assert.True(oil.StandingLimit.Value > 1 && oil.HangingLimit.Value > 0.5);
        Assert.All(Tables.Sands, s => Assert.True(s.HangingLimit.Value < s.StandingLimit.Value));
    }

    [Fact]
    public void A_mistyped_sand_is_refused_with_the_nearest_known() =>
        Assert.Equal("oil-bonded", Assert.Throws<UnknownNameException>(() => Tables.Sand("oilbonded")).Suggestions[0]);
}
