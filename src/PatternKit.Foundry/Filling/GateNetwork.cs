using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>An ingate with the runner that leads to it from the one before.</summary>
/// <param name="Runner_mm2">Section of that runner.</param>
/// <param name="HydraulicDiameter_mm">Of that runner: four times the section over its perimeter.</param>
/// <param name="Length_mm">Of that runner, from the ingate before, or from the sprue.</param>
/// <param name="Ingate_mm2">Section of the ingate.</param>
public readonly record struct GateBranch(double Runner_mm2, double HydraulicDiameter_mm, double Length_mm, double Ingate_mm2);

/// <summary>What each of several ingates on one runner gets.</summary>
/// <param name="Rates_mm3_s">In the order from the sprue.</param>
public sealed record GateNetwork(ImmutableArray<double> Rates_mm3_s)
{
    private const int Halvings = 100;

    /// <summary>Of all ingates, mm³/s.</summary>
    public double Total_mm3_s => Rates_mm3_s.Sum();

    /// <summary>Part that an ingate gets.</summary>
    public double Share(int gate) => Rates_mm3_s[gate] / Total_mm3_s;

    /// <summary>
    /// Solves the pressures along a full runner (the one-dimensional model that cast-iron gate splits were measured against, Imono 54, 1982). From the sprue into the runner
    /// what speed is lost is lost (Borda); past each ingate the runner slows down and its pressure rises by the whole of what its velocity head loses;
    /// an ingate is driven by static pressure alone and loses a bend beside its own velocity head. One unknown, the whole rate; what is left at the end
    /// of the runner falls to nothing at the right one.
    /// </summary>
    /// <param name="head_mm">From the runner up to the level in the basin.</param>
    /// <param name="sprue_mm2">Area at the foot of the sprue.</param>
    /// <param name="discharge">Coefficient of discharge of the sprue.</param>
    /// <param name="branches">From the sprue outward.</param>
    /// <param name="friction">f: velocity heads lost for each hydraulic diameter of length.</param>
    /// <param name="bend">Velocity heads lost into an ingate.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no ingate, or a size is not positive.</exception>
    public static GateNetwork Solve(double head_mm, double sprue_mm2, double discharge, ImmutableArray<GateBranch> branches, double friction, double bend)
    {
        Checked.Positive(head_mm, nameof(head_mm));
        Checked.Positive(sprue_mm2, nameof(sprue_mm2));
        Checked.Within(branches.Length, 1, 1000, nameof(branches));
        double none = 0, most = sprue_mm2 * Flow.Speed_mm_s(head_mm);
        for (var i = 0; i < Halvings; i++)
        {
            var rate = (none + most) / 2;
            if (March(rate) is not { } rates || rate > rates.Sum()) most = rate;
            else none = rate;
        }

        return new(March(none)!.Value);

        static double VelocityHead(double speed) => speed * speed / (2 * Flow.Gravity_mm_s2);

        // Null where the head is used up on the way: the rate is too large.
        ImmutableArray<double>? March(double rate)
        {
            var (inSprue, inRunner) = (rate / sprue_mm2, rate / branches[0].Runner_mm2);
            var pressure_mm = head_mm - (((1 / (discharge * discharge)) - 1) * VelocityHead(inSprue)) - VelocityHead(Math.Max(0, inSprue - inRunner)) - VelocityHead(inRunner);
            var rates = ImmutableArray.CreateBuilder<double>(branches.Length);
            var left = rate;
            for (var i = 0; i < branches.Length; i++)
            {
                var speed = Math.Max(0, left) / branches[i].Runner_mm2;
                if (i > 0) pressure_mm += VelocityHead(Math.Max(0, left + rates[i - 1]) / branches[i - 1].Runner_mm2) - VelocityHead(speed);
                pressure_mm -= friction * branches[i].Length_mm / branches[i].HydraulicDiameter_mm * VelocityHead(speed);
                if (pressure_mm < 0) return null;
                rates.Add(branches[i].Ingate_mm2 * Math.Sqrt(2 * Flow.Gravity_mm_s2 * pressure_mm / (1 + bend)));
                left -= rates[i];
            }

            return rates.ToImmutable();
        }
    }
}
