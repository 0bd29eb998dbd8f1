using CsCheck;

namespace PatternKit.Foundry.Tests;

/// <summary>How a core presses on its seats: against Navier's law for one seat, the lever for two, and the balance of forces for any.</summary>
public sealed class SeatPressureTests
{
    private static readonly Gen<SeatInPlan> AnySeat = Gen.Select(Gen.Double[-100, 100], Gen.Double[-100, 100], Gen.Double[0, 2 * Math.PI], Gen.Double[5, 60], Gen.Double[5, 60], (x, y, turn, length, width) =>
        new SeatInPlan(x, y, Math.Cos(turn), Math.Sin(turn), length, width));

    [Fact]
    public void One_seat_bears_by_Naviers_law()
    {
        Gen.Select(AnySeat, Gen.Double[0, 80], Gen.Double[0, 50]).Sample((seat, off, load) =>
        {
            var borne = SeatPressures.Of([seat], load, seat.X_mm + (off * seat.AlongX), seat.Y_mm + (off * seat.AlongY))[0];
            Assert.Equal(load, borne.Load_N, 1e-9 * (1 + load));
            Assert.Equal(CoreForces.Pressure_kPa(load, seat.Width_mm, seat.Length_mm, off), borne.Most_kPa, 1e-6 * (1 + borne.Most_kPa));
        });
    }

    [Fact]
    public void Two_small_seats_far_apart_share_a_load_by_the_lever()
    {
        var borne = SeatPressures.Of([new(0, 0, 1, 0, 0.1, 0.1), new(100, 0, 1, 0, 0.1, 0.1)], 10, 30, 0);
        var (first, second) = CoreForces.Shared(10, 30, 100);
        Assert.Equal(first, borne[0].Load_N, 1e-4);
        Assert.Equal(second, borne[1].Load_N, 1e-4);
    }

    [Fact]
    public void Shares_add_up_to_the_load_and_a_load_over_the_middle_of_all_seats_presses_alike()
    {
        Gen.Select(AnySeat.Array[1, 5], Gen.Double[-150, 150], Gen.Double[-150, 150]).Sample((seats, x, y) =>
        {
            var borne = SeatPressures.Of([.. seats], 20, x, y);
            Assert.Equal(20, borne.Sum(b => b.Load_N), 1e-6);
            var area = seats.Sum(s => s.Length_mm * s.Width_mm);
            var middle = SeatPressures.Of([.. seats], 20, seats.Sum(s => s.Length_mm * s.Width_mm * s.X_mm) / area, seats.Sum(s => s.Length_mm * s.Width_mm * s.Y_mm) / area);
            Assert.All(middle, b => Assert.Equal(20 / area * 1000, b.Most_kPa, 1e-6 * (1 + b.Most_kPa)));
            for (var i = 0; i < seats.Length; i++) Assert.True(borne[i].Most_kPa >= (Math.Abs(borne[i].Load_N) / (seats[i].Length_mm * seats[i].Width_mm) * 1000) - 1e-9);
        });
    }

    [Fact]
    public void A_seat_behind_another_holds_the_core_down_and_may_be_the_first_to_give_way()
    {
        // By the lever: 10 N, 40 mm before the first seat; the small one 50 mm behind it holds down 8 N and the first bears 18 N.
        var pressed = SeatPressures.Of([new(0, 0, 1, 0, 0.01, 10), new(-50, 0, 1, 0, 0.01, 1)], 10, 40, 0);
        Assert.Equal(18, pressed[0].Load_N, 1e-3);
        Assert.Equal(-8, pressed[1].Load_N, 1e-3);
        Assert.Equal(8 / (0.01 * 1) * 1000, pressed[1].Most_kPa, 1e-3 * pressed[1].Most_kPa);
        Assert.True(pressed[1].Most_kPa > pressed[0].Most_kPa);
        Assert.Equal(0.5, SeatPressures.Borne(pressed, pressed[1].Most_kPa / 2), 1e-12);
        Assert.Equal(1, SeatPressures.Borne(pressed, pressed[1].Most_kPa));
        Assert.Throws<ArgumentOutOfRangeException>(() => SeatPressures.Borne(pressed, 0));
    }

    [Fact]
    public void Load_without_a_seat_or_less_than_none_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => SeatPressures.Of([], 1, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => SeatPressures.Of([new(0, 0, 1, 0, 10, 10)], -1, 0, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => SeatPressures.Of([new(0, 0, 1, 0, 0, 10)], 1, 0, 0));
    }
}
