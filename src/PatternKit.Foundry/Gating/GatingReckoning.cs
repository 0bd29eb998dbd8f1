using System.Collections.Immutable;

namespace PatternKit.Foundry;

/// <summary>What one of several ingates is to do.</summary>
/// <param name="Part">Of the metal, what part it is to let in.</param>
/// <param name="Wall_mm">The wall that it meets.</param>
public readonly record struct IngateShare(double Part, double Wall_mm);

/// <summary>What a gating system is reckoned from.</summary>
/// <param name="Casting_kg">The raw casting.</param>
/// <param name="MeanWall_mm">Mean wall of the casting.</param>
/// <param name="Height_mm">Height of the casting.</param>
/// <param name="AboveJoint_mm">Height of the casting above the joint, where the ingates are.</param>
/// <param name="Ingates">How many ingates share the metal.</param>
/// <param name="WallAtIngates_mm">Least wall that an ingate meets.</param>
/// <param name="RunnerInCope">Whether the runner stands in the cope, so that the sprue ends on its top, not at the joint.</param>
/// <param name="Head_mm">Metal level in the basin above the joint; null by rule.</param>
/// <param name="PourTime_s">Time that the mould is to fill in; null by rule.</param>
/// <param name="Ratio">Sprue base : runner : ingates; null by rule.</param>
public sealed record GatingInput(
    double Casting_kg,
    double MeanWall_mm,
    double Height_mm,
    double AboveJoint_mm,
    int Ingates = 1,
    double WallAtIngates_mm = double.PositiveInfinity,
    bool RunnerInCope = false,
    double? Head_mm = null,
    double? PourTime_s = null,
    GatingRatio? Ratio = null)
{
    /// <summary>
    /// What feeders hold, heights from the ingates: it is poured through the choke like the casting. Open as they are, they reach up to the level in the basin, so that what is high in them comes in under
    /// hardly any head.
    /// </summary>
    public ImmutableArray<CavitySlice> Feeders { get; init; } = [];

    /// <summary>Level slices of the cavity, heights from the ingates; null where it is taken as equally wide at all heights.</summary>
    public ImmutableArray<CavitySlice>? Cavity { get; init; }

    /// <summary>The cavity slice by slice, else a prism of the casting's liquid.</summary>
    /// <param name="liquid_kg_m3">Density of the liquid.</param>
    internal ImmutableArray<CavitySlice> Casting(double liquid_kg_m3) =>
        Cavity ?? [new(AboveJoint_mm - Height_mm, AboveJoint_mm, Casting_kg / (liquid_kg_m3 * 1e-9) / Height_mm)];

    /// <summary>What each ingate is to let in, in order from the sprue, where castings of one mould take different parts of the metal; empty where all ingates are alike.</summary>
    public ImmutableArray<IngateShare> Shares { get; init; } = [];

    /// <summary>
    /// Least width of the runner over the depth of the ingates ahead, where many castings narrow it: an ingate that crosses under it meets it in its own width times that of the runner, and in half of that
    /// where another comes from across, which is to be no less than its section. 0 for none.
    /// </summary>
    public double RunnerOverIngates { get; init; }

    /// <summary>What part of the metal an ingate is to let in.</summary>
    /// <param name="ingate">From the sprue.</param>
    public double Share(int ingate) => Shares.IsEmpty ? 1.0 / Ingates : Shares[ingate].Part;

    /// <summary>Most that an ingate may measure across: where the casting is narrower than an ingate of the usual shape, it is deeper instead.</summary>
    public double WidthAtIngates_mm { get; init; } = double.PositiveInfinity;

    /// <summary>How far the foot of the sprue lies below the ingates.</summary>
    public double FootBelow_mm { get; init; }
}

/// <summary>The section of a bar, a trapezoid.</summary>
/// <param name="Area_mm2">Its area.</param>
/// <param name="Depth_mm">From the joint into the sand.</param>
/// <param name="MeanWidth_mm">Half way; draft makes it wider at the joint and narrower at the far side.</param>
public readonly record struct BarSection(double Area_mm2, double Depth_mm, double MeanWidth_mm)
{
    internal static BarSection Of(double area_mm2, double widthOverDepth, double least_mm = 0, double most_mm = double.PositiveInfinity, double widest_mm = double.PositiveInfinity)
    {
        var depth = Math.Clamp(Math.Max(Math.Sqrt(area_mm2 / widthOverDepth), area_mm2 / widest_mm), least_mm, most_mm);
        return new(area_mm2, depth, area_mm2 / depth);
    }
}

/// <summary>
/// The gating reckoning with every value on the way and the rule and source of each. Lengths are those of the mould; areas are what the
/// metal runs through.
/// </summary>
/// <param name="Input">What it was reckoned from.</param>
/// <param name="LiquidDensity_kg_m3">Of the metal as it is poured.</param>
/// <param name="PourTimeByRule_s">By the law of the metal, or as given.</param>
/// <param name="HandRate_kg_s">Most that one person can pour.</param>
/// <param name="PourTime_s">The time aimed at: not faster than one person can pour.</param>
/// <param name="Head_mm">Metal level in the basin above the joint.</param>
/// <param name="EffectiveHead_mm">Mean over the filling of casting and feeders, exact form.</param>
/// <param name="EffectiveHeadSimple_mm">The handbooks' form, for comparison.</param>
/// <param name="Discharge">Coefficient of discharge.</param>
/// <param name="ChokeByTime_mm2">The choke that fills the mould in the time.</param>
/// <param name="LeastChoke_mm2">The floor: smaller ones freeze or cannot be poured.</param>
/// <param name="Choke_mm2">The choke taken, and which of the two it is.</param>
/// <param name="FillTime_s">Time that the mould fills in through the choke taken.</param>
/// <param name="Rate_kg_s">Mean rate with it while the casting fills; what is high in open feeders comes in more slowly.</param>
/// <param name="Ratio">Sprue base : runner : ingates by rule or as given.</param>
/// <param name="IngateVelocityLimit_m_s">Fastest metal at the ingates.</param>
/// <param name="RatioTaken">The ratio after ingates and runner were widened for that speed.</param>
/// <param name="IngateVelocity_m_s">Speed at the ingates when the full head drives.</param>
/// <param name="SprueBase_mm2">Area at the lower end of the sprue.</param>
/// <param name="SprueBaseHead_mm">Metal level above it.</param>
/// <param name="BasinDepth_mm">Metal level above the top of the sprue.</param>
/// <param name="SprueTop_mm2">Area at the top of the sprue, by continuity.</param>
/// <param name="BasinWidth_mm">Diameter of the basin at its rim.</param>
/// <param name="Runner">Section of the runner.</param>
/// <param name="Ingate">Section of one ingate; of ingates that differ the smallest.</param>
/// <param name="Well_mm2">Plan area of the well half way down.</param>
/// <param name="WellDepth_mm">Depth of the well below the joint.</param>
/// <param name="Shape">Proportions that the lay-out of the bars goes by.</param>
public sealed record GatingReckoning(
    GatingInput Input,
    Sourced<double> LiquidDensity_kg_m3,
    Sourced<double> PourTimeByRule_s,
    Sourced<double> HandRate_kg_s,
    Sourced<double> PourTime_s,
    Sourced<double> Head_mm,
    Sourced<double> EffectiveHead_mm,
    double EffectiveHeadSimple_mm,
    Sourced<double> Discharge,
    Sourced<double> ChokeByTime_mm2,
    Sourced<double> LeastChoke_mm2,
    Sourced<double> Choke_mm2,
    double FillTime_s,
    double Rate_kg_s,
    Sourced<GatingRatio> Ratio,
    Sourced<double> IngateVelocityLimit_m_s,
    Sourced<GatingRatio> RatioTaken,
    double IngateVelocity_m_s,
    double SprueBase_mm2,
    double SprueBaseHead_mm,
    Sourced<double> BasinDepth_mm,
    Sourced<double> SprueTop_mm2,
    Sourced<double> BasinWidth_mm,
    Sourced<BarSection> Runner,
    Sourced<BarSection> Ingate,
    Sourced<double> Well_mm2,
    Sourced<double> WellDepth_mm,
    GatingShapes Shape)
{
    /// <summary>Mean head while the casting fills, feeders left out: with it the rate is that which the one who pours has to keep up.</summary>
    public required double CastingHead_mm { get; init; }

    /// <summary>What feeders weigh when they are cold.</summary>
    public required double Feeders_kg { get; init; }

    /// <summary>Liquid that fills casting and feeders, all of it through the choke.</summary>
    public required double Fills_mm3 { get; init; }

    /// <summary>The same, kg: less than they weigh in the end, since metal shrinks as it cools and draws after.</summary>
    public double Fills_kg => Fills_mm3 * 1e-9 * LiquidDensity_kg_m3.Value;

    /// <summary>Sections of all ingates in order from the sprue, where castings of one mould take different parts of the metal; empty where they are alike.</summary>
    public ImmutableArray<BarSection> Unlike { get; init; } = [];

    /// <summary>Section of an ingate.</summary>
    /// <param name="ingate">From the sprue.</param>
    public BarSection IngateAt(int ingate) => Unlike.IsEmpty ? Ingate.Value : Unlike[ingate];

    /// <summary>Area of the runner after some of the ingates: each takes its part of the metal off, and the runner is made narrower by it.</summary>
    /// <param name="passed">Ingates that lie before.</param>
    public double RunnerAfter_mm2(int passed)
    {
        var byShare = Input.Shares.IsEmpty ? Runner.Value.Area_mm2 * (Input.Ingates - passed) / Input.Ingates : Runner.Value.Area_mm2 * Input.Shares.Skip(passed).Sum(s => s.Part);
        if (Input.RunnerOverIngates == 0 || passed >= Input.Ingates) return byShare;
        var deepest = Enumerable.Range(passed, Input.Ingates - passed).Max(i => IngateAt(i).Depth_mm);
        return Math.Min(Runner.Value.Area_mm2, Math.Max(byShare, Input.RunnerOverIngates * deepest * Runner.Value.Depth_mm));
    }

    /// <summary>All ingates together, mm².</summary>
    public double Ingates_mm2 => Unlike.IsEmpty ? Ingate.Value.Area_mm2 * Input.Ingates : Unlike.Sum(s => s.Area_mm2);

    /// <summary>Least area of all ingates at which the metal keeps below its limit, mm².</summary>
    public double QuietIngates_mm2 => Ingates_mm2 * IngateVelocity_m_s / IngateVelocityLimit_m_s.Value;

    /// <summary>The same with its ingates in another order along the runner.</summary>
    /// <param name="order">Which of them comes first, second and so on.</param>
    public GatingReckoning InOrder(ImmutableArray<int> order) => Unlike.IsEmpty ? this
        : this with { Input = Input with { Shares = [.. order.Select(i => Input.Shares[i])] }, Unlike = [.. order.Select(i => Unlike[i])] };

    /// <summary>Whether the pour time asked for a smaller choke than can be poured.</summary>
    public bool FloorApplied => ChokeByTime_mm2.Value < LeastChoke_mm2.Value;

    /// <summary>Whether the law asked for a faster pour than one person can make.</summary>
    public bool SlowedToHandRate => PourTime_s.Value > PourTimeByRule_s.Value;

    /// <summary>Whether the choke takes more than one person can pour, so that the sprue cannot be kept full.</summary>
    public bool BeyondHandRate => Rate_kg_s > HandRate_kg_s.Value * (1 + 1e-9);

    /// <summary>Whether the metal is too fast at the ingates: possible only with a ratio that was given.</summary>
    public bool TooFastAtIngates => IngateVelocity_m_s > IngateVelocityLimit_m_s.Value * (1 + 1e-9);
}
