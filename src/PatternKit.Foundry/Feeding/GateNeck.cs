namespace PatternKit.Foundry;

/// <summary>
/// The way by which the metal comes in, looked at as a feeder with its neck. It feeds a section only while it is liquid: the ingate has to freeze after the section as a neck does, runner and sprue after that as a feeder does
/// (the moduli of the table). A gate by the usual ratios is thinner by far, and feeds until it is frozen.
/// </summary>
/// <param name="Ingate_mm">Modulus of one ingate, as of a long bar; of ingates that differ the smallest.</param>
/// <param name="Runner_mm">Modulus of the runner.</param>
/// <param name="Sprue_mm">Modulus of the sprue at its foot, where it is thinnest.</param>
public sealed record GateNeck(double Ingate_mm, double Runner_mm, double Sprue_mm)
{
    /// <summary>Of the bars that were reckoned.</summary>
    public static GateNeck Of(GatingReckoning gating) => new(
        Modulus.Bar(gating.Ingate.Value.MeanWidth_mm, gating.Ingate.Value.Depth_mm), Modulus.Bar(gating.Runner.Value.MeanWidth_mm, gating.Runner.Value.Depth_mm),
        Modulus.RoundBar(Flow.Diameter_mm(gating.SprueBase_mm2)));

    /// <summary>Largest modulus of a section that is fed this way, mm.</summary>
    /// <param name="moduli">Of neck and feeder over that of the section.</param>
    public double Feeds_mm(FeedingModuli moduli) => Math.Min(Ingate_mm / moduli.Neck, Math.Min(Runner_mm, Sprue_mm) / moduli.Feeder);
}
