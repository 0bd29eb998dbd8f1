using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>What lifts the core of a hollow and what its prints bear: a stiff body on as many seats as it has prints.</summary>
internal static class HollowLoads
{
    /// <summary>The loads.</summary>
    /// <param name="core">With its prints.</param>
    /// <param name="loads">Metal, core sand, and what a seat bears.</param>
    /// <param name="displaced_mm3">What of it lies in the metal.</param>
    /// <param name="up">Which way is up when the metal comes.</param>
    public static CoreLoad Of(HollowCore core, CoreLoads loads, double displaced_mm3, GridUp up)
    {
        var prints_mm3 = core.Prints.Sum(p => p.Length_mm * (p.Mouth!.Above.Area + (p.Flat ?? p.Mouth.Below).Area));
        var (lift, weight) = (CoreForces.Lift_N(displaced_mm3, loads.Metal_kg_m3, loads.Core_kg_m3), CoreForces.Weight_N(displaced_mm3 + prints_mm3, loads.Core_kg_m3));
        var (prints, liftOver, weightOver) = up.Axis == GridUp.Z.Axis ? Level(core, Math.Max(0, lift), weight, loads.Bearing_kPa.Value) : OnEdge(core, Math.Max(0, lift), weight, loads.Bearing_kPa.Value, up.Direction.Plan);
        return new(displaced_mm3, lift, weight, prints, liftOver, weightOver);
    }

    private static (ImmutableArray<PrintLoad> Prints, double LiftOver_N, double WeightOver_N) Level(HollowCore core, double lift, double weight, double bearing_kPa)
    {
        ImmutableArray<SeatInPlan> seats = [.. core.Prints.Select(p => Seat(p))];
        // The weight of the prints lies over their own seats.
        var inMetal = core.Shape.Centre;
        var (up, down) = (SeatPressures.Of(seats, lift, inMetal.X, inMetal.Y), SeatPressures.Of(seats, weight, inMetal.X, inMetal.Y));
        return ([.. up.Zip(down, (u, d) => new PrintLoad(u.Load_N, d.Load_N, Most(u), Most(d)))], Over(up, lift), Over(down, weight));

        // What the seat would bear of a load that is shared like this one, either way: as much more as its pressure leaves.
        double Most(SeatPressure s) => s.Most_kPa > 0 ? Math.Abs(s.Load_N) * bearing_kPa / s.Most_kPa : double.PositiveInfinity;

        // A seat that the load tips the other way gives way as well as any, and the core with it.
        double Over(ImmutableArray<SeatPressure> pressed, double load) => load * (1 - SeatPressures.Borne(pressed, bearing_kPa));
    }

    private static SeatInPlan Seat(CorePrint p)
    {
        var (mouth, middle) = (p.Mouth!, p.Mouth!.Plan(p.Face_mm + (p.Length_mm / 2), 0));
        return new(middle.X, middle.Y, mouth.Outward.X, mouth.Outward.Y, p.Length_mm, p.Width_mm);
    }

    /// <summary>In a mould on edge prints bear by their sides, and by an end where that is pressed.</summary>
    private static (ImmutableArray<PrintLoad> Prints, double LiftOver_N, double WeightOver_N) OnEdge(HollowCore core, double lift, double weight, double bearing_kPa, Vec2 up)
    {
        double[] lifted = [.. core.Prints.Select(p => Area(p, 1))], carried = [.. core.Prints.Select(p => Area(p, -1))];
        ImmutableArray<PrintLoad> prints = [.. lifted.Zip(carried, (l, c) => new PrintLoad(Share(lift, l, lifted), Share(weight, c, carried), l * bearing_kPa / 1000, c * bearing_kPa / 1000))];
        return (prints, prints.Sum(p => Math.Max(0, p.Lift_N - p.MostLift_N)), prints.Sum(p => Math.Max(0, p.Weight_N - p.MostWeight_N)));

        double Area(CorePrint p, int sign)
        {
            var (end, side) = (sign * Vec2.Dot(p.Mouth!.Outward, up), Math.Abs(Vec2.Cross(p.Mouth.Outward, up)));
            return (Math.Max(0, end) * (p.Mouth.Above.Area + (p.Flat ?? p.Mouth.Below).Area)) + (side * p.Length_mm * p.Height_mm);
        }

        static double Share(double load, double own, double[] all) => all.Sum() > 0 ? load * own / all.Sum() : load / all.Length;
    }
}
