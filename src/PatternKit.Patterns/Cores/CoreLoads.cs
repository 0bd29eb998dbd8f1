using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Cores;

/// <summary>What one print bears.</summary>
/// <param name="Lift_N">Upward, when the mould is full; below 0 where the lift of all tips the core the other way there.</param>
/// <param name="Weight_N">Downward, before that.</param>
/// <param name="MostLift_N">The most lift that its seat bears.</param>
/// <param name="MostWeight_N">The most weight.</param>
public sealed record PrintLoad(double Lift_N, double Weight_N, double MostLift_N, double MostWeight_N)
{
    /// <summary>The larger load, either way.</summary>
    public double Worst_N => Math.Max(Math.Abs(Lift_N), Math.Abs(Weight_N));
}

/// <summary>The loads of a core.</summary>
/// <param name="Displaced_mm3">What of it lies in the metal.</param>
/// <param name="Lift_N">Net lift in the liquid metal.</param>
/// <param name="Weight_N">Of the whole core.</param>
/// <param name="Prints">In the order of the prints.</param>
/// <param name="LiftOver_N">Lift that no print bears; 0 as a rule.</param>
/// <param name="WeightOver_N">Weight that no print bears.</param>
public sealed record CoreLoad(double Displaced_mm3, double Lift_N, double Weight_N, ImmutableArray<PrintLoad> Prints, double LiftOver_N, double WeightOver_N);

/// <summary>What lifts the cores of a mould and what bears them.</summary>
/// <param name="Metal_kg_m3">Density of the liquid metal, or of the solid where no other is known.</param>
/// <param name="Core_kg_m3">Density of core sand.</param>
/// <param name="Bearing_kPa">What a seat bears.</param>
internal sealed record CoreLoads(double Metal_kg_m3, double Core_kg_m3, Sourced<double> Bearing_kPa)
{
    /// <summary>Accuracy of what lies in the metal, of the volume of the core.</summary>
    private const double Fine = 1e-4;

    /// <summary>For a metal in a sand.</summary>
    public static CoreLoads Of(Alloy alloy, Sand sand, CoreTable table) =>
        new((alloy.LiquidDensity_kg_m3 ?? alloy.Density_kg_m3).Value, table.CoreSand_kg_m3.Value, table.Bearing_kPa(sand));

    /// <summary>The loads of a core in a mould.</summary>
    /// <param name="core">With its prints.</param>
    /// <param name="inMetal">What of it lies in the metal, and the centre of that along its axis.</param>
    /// <param name="up">Which way is up when the metal comes: a mould that stands on edge turns a core that lies across into one that stands, and one that stood into one that lies.</param>
    public CoreLoad Of(PlannedCore core, (double Volume_mm3, double Centre_mm) inMetal, GridUp up)
    {
        var (displaced, centre) = inMetal;
        var profile = core.Profile;
        var (lift, weight) = (CoreForces.Lift_N(displaced, Metal_kg_m3, Core_kg_m3), CoreForces.Weight_N(core.Share * profile.Volume_mm3, Core_kg_m3));
        var prints = (int)core.Axis.Axis == up.Axis ? Upright(core, lift, weight, up.IsReversed) : Across(core, lift, centre, weight, profile.Centre);
        return new(displaced, lift, weight, prints, prints.Sum(p => Math.Max(0, p.Lift_N - p.MostLift_N)), prints.Sum(p => Math.Max(0, p.Weight_N - p.MostWeight_N)));
    }

    /// <summary>What of a core lies in the metal, mm³, and the centre of that along its axis: the drafted halves are cut with the core column by column.</summary>
    public static (double Volume_mm3, double Centre_mm) Displaced(PlannedCore core, HalfMould cope, HalfMould drag, Lattice lattice)
    {
        var columns = new CoreColumns(core);
        var (profile, axis) = (columns.Profile, core.Axis);
        var (low, high, r) = (profile.Low, profile.High, profile.Largest);
        var zone = axis.Lies
            ? PlanRegion.Polygon([axis.Plan(low, -r), axis.Plan(high, -r), axis.Plan(high, r), axis.Plan(low, r)])
            : PlanRegion.EvenOdd([PlanPath.Circle(axis.At.Plan, 2 * r)], 0.005);
        zone = PlanRegion.UnionOn(lattice, [zone]);
        // Between bends of the halves their heights are planes.
        ImmutableArray<ImmutableArray<Vec2>> lines = [.. zone.Inside(new[] { cope, drag }.Where(h => !h.IsEmpty).SelectMany(h => h.Upper.Bendings()))];
        var (volume, moment) = PlanIntegral.Of(Shared, axis.Lies ? p => axis.Along(new(p.X, p.Y, axis.At.Z)) : null, zone, lines, lattice, Fine * profile.Volume_mm3, r / 4);
        // Draft of the casting moves the centre of a core that stands by next to nothing.
        return (volume, !axis.Lies ? new RoundProfile(core.Hollow).Centre : volume > 0 ? moment / volume : 0);

        double Shared(Vec2 p)
        {
            (double Low, double High)[] core = [.. columns.Over(p)];
            return core.Length == 0 ? 0 : MouldHalves.Metal(cope, drag, p).Sum(m => core.Sum(c => Math.Max(0, Math.Min(c.High, m.High) - Math.Max(c.Low, m.Low))));
        }
    }

    /// <summary>Seats bear on the sides of prints.</summary>
    private ImmutableArray<PrintLoad> Across(PlannedCore core, double lift, double liftAt, double weight, double weightAt)
    {
        if (core.Prints is [var one])
        {
            double Most(double at) => Bearing_kPa.Value / CoreForces.Pressure_kPa(1, one.Radius_mm + one.EndRadius_mm, one.Length_mm, Math.Abs(at - one.Middle_mm));
            return [new(Math.Max(0, lift), weight, Most(liftAt), Most(weightAt))];
        }

        var (a, b) = (core.Prints[0], core.Prints[1]);
        var (up, down) = (CoreForces.Shared(Math.Max(0, lift), liftAt - a.Middle_mm, b.Middle_mm - a.Middle_mm), CoreForces.Shared(weight, weightAt - a.Middle_mm, b.Middle_mm - a.Middle_mm));
        return [new(up.First_N, down.First_N, Bears(a), Bears(a)), new(up.Second_N, down.Second_N, Bears(b), Bears(b))];

        double Bears(CorePrint p) => (p.Radius_mm + p.EndRadius_mm) * p.Length_mm * Bearing_kPa.Value / 1000;
    }

    /// <summary>Seats bear on the ends of prints: the upper one alone holds a core down, the lower one alone carries it.</summary>
    private ImmutableArray<PrintLoad> Upright(PlannedCore core, double lift, double weight, bool isReversed)
    {
        var both = core.Prints.Length == 2;
        return
        [
            .. core.Prints.Select(p =>
            {
                var end = core.Share * Math.PI * p.EndRadius_mm * p.EndRadius_mm * Bearing_kPa.Value / 1000;
                return p.IsHigh != isReversed ? new PrintLoad(Math.Max(0, lift), both ? 0 : weight, end, 0) : new(both ? 0 : Math.Max(0, lift), weight, 0, end);
            }),
        ];
    }
}
