using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>The seat of a print in plan: a rectangle.</summary>
/// <param name="X_mm">Of its middle.</param>
/// <param name="Y_mm">Of its middle.</param>
/// <param name="AlongX">Direction of its length, of length one.</param>
/// <param name="AlongY">Direction of its length.</param>
/// <param name="Length_mm">Along it.</param>
/// <param name="Width_mm">Across it.</param>
public readonly record struct SeatInPlan(double X_mm, double Y_mm, double AlongX, double AlongY, double Length_mm, double Width_mm);

/// <summary>What a seat bears of a load.</summary>
/// <param name="Load_N">Its share; below 0 where the load tips the core the other way there.</param>
/// <param name="Most_kPa">Largest pressure on it, either way.</param>
public readonly record struct SeatPressure(double Load_N, double Most_kPa);

/// <summary>
/// How a stiff core presses on its seats: the pressure changes linearly over all of them, so that force and moments balance (Navier's law of bending over several areas). A print is
/// enclosed, so that what would lift off one seat presses on the one across.
/// </summary>
public static class SeatPressures
{
    /// <summary>How much of a load the seats bear before one is pressed too hard at any place, either way; 1 for all of it.</summary>
    /// <param name="pressed">The seats under that load.</param>
    /// <param name="bearing_kPa">What a seat bears, above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">Seats that bear nothing.</exception>
    public static double Borne(ImmutableArray<SeatPressure> pressed, double bearing_kPa)
    {
        Checked.Positive(bearing_kPa, nameof(bearing_kPa));
        // Pressures of a stiff core grow with the load, all alike.
        var most = pressed.Max(p => p.Most_kPa);
        return most > bearing_kPa ? bearing_kPa / most : 1;
    }

    /// <summary>Loads and pressures, seat by seat.</summary>
    /// <param name="seats">One at the least.</param>
    /// <param name="load_N">Square to the plan, 0 or more.</param>
    /// <param name="x_mm">Where it acts.</param>
    /// <param name="y_mm">Where it acts.</param>
    /// <exception cref="ArgumentOutOfRangeException">No seat, one without area, or a load below 0.</exception>
    public static ImmutableArray<SeatPressure> Of(ImmutableArray<SeatInPlan> seats, double load_N, double x_mm, double y_mm)
    {
        Checked.Within(load_N, 0, double.MaxValue, nameof(load_N));
        Checked.Positive(seats.Length, nameof(seats));
        foreach (var s in seats) Checked.Positive(s.Length_mm * s.Width_mm, nameof(seats));
        var area = seats.Sum(s => s.Length_mm * s.Width_mm);
        var (cx, cy) = (seats.Sum(s => s.Length_mm * s.Width_mm * s.X_mm) / area, seats.Sum(s => s.Length_mm * s.Width_mm * s.Y_mm) / area);
        double xx = 0, yy = 0, xy = 0;
        foreach (var s in seats)
        {
            var (a, dx, dy) = (s.Length_mm * s.Width_mm, s.X_mm - cx, s.Y_mm - cy);
            var (along, across) = (a * s.Length_mm * s.Length_mm / 12, a * s.Width_mm * s.Width_mm / 12);
            xx += (a * dx * dx) + (along * s.AlongX * s.AlongX) + (across * s.AlongY * s.AlongY);
            yy += (a * dy * dy) + (along * s.AlongY * s.AlongY) + (across * s.AlongX * s.AlongX);
            xy += (a * dx * dy) + ((along - across) * s.AlongX * s.AlongY);
        }

        // p = F / A + b x + c y about the centre of all seats; b and c by the moments.
        var (mx, my, det) = (load_N * (x_mm - cx), load_N * (y_mm - cy), (xx * yy) - (xy * xy));
        var (b, c) = (((mx * yy) - (my * xy)) / det, ((my * xx) - (mx * xy)) / det);
        return [.. seats.Select(Borne)];

        SeatPressure Borne(SeatInPlan s)
        {
            double At(double x, double y) => (load_N / area) + (b * (x - cx)) + (c * (y - cy));
            var most = 0.0;
            foreach (var (i, k) in new[] { (1, 1), (1, -1), (-1, 1), (-1, -1) })
            {
                var (l, w) = (i * s.Length_mm / 2, k * s.Width_mm / 2);
                most = Math.Max(most, Math.Abs(At(s.X_mm + (l * s.AlongX) - (w * s.AlongY), s.Y_mm + (l * s.AlongY) + (w * s.AlongX))));
            }

            return new(At(s.X_mm, s.Y_mm) * s.Length_mm * s.Width_mm, 1000 * most);
        }
    }
}
