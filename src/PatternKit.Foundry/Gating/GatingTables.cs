using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>One law of pour time: t = K (a + T/b − c·log10 W) W^(1/root), W in kg, T the mean wall in mm, t in seconds.</summary>
/// <param name="Family">Metals that it holds for.</param>
/// <param name="Alloys">Keys of the alloys that it holds for; empty for the whole family.</param>
/// <param name="UpTo_kg">Heaviest casting.</param>
/// <param name="UpTo_mm">Thickest mean wall.</param>
/// <param name="Fluidity_in">K is the fluidity of the metal in inches over this; null where K is 1.</param>
/// <param name="A">Constant a, seconds.</param>
/// <param name="B_mm">Constant b; null where the wall does not count.</param>
/// <param name="C">Constant c.</param>
/// <param name="Root">Root of the weight that the time goes with.</param>
/// <param name="Printed">The law as its source prints it.</param>
/// <param name="From">Where it comes from.</param>
public sealed record PourTimeRow(
    AlloyFamily Family,
    ImmutableArray<string> Alloys,
    double UpTo_kg,
    double UpTo_mm,
    double? Fluidity_in,
    double A,
    double? B_mm,
    double C,
    int Root,
    string Printed,
    Provenance From);

/// <summary>Areas of sprue base, runner and all ingates to one another.</summary>
/// <param name="Sprue">Sprue base.</param>
/// <param name="Runner">Runner.</param>
/// <param name="Ingates">All ingates together.</param>
public readonly record struct GatingRatio(double Sprue, double Runner, double Ingates)
{
    /// <summary>The least of the three: where the choke is.</summary>
    public double Least => Math.Min(Sprue, Math.Min(Runner, Ingates));

    /// <inheritdoc/>
    public override string ToString() => $"{Shown.Number(Sprue)}:{Shown.Number(Runner)}:{Shown.Number(Ingates)}";
}

/// <summary>A value for a family of metals, or some alloys of it; the first row that fits is taken.</summary>
/// <param name="Family">Null in the row for all others.</param>
/// <param name="Alloys">Empty for the whole family.</param>
/// <param name="Value">The value.</param>
/// <param name="From">Where it comes from.</param>
public sealed record MetalRow<T>(AlloyFamily? Family, ImmutableArray<string> Alloys, T Value, Provenance From)
{
    internal bool Fits(Alloy alloy) => (Family is null || Family == alloy.Family) && (Alloys.IsEmpty || Alloys.Contains(alloy.Key));
}

/// <summary>Proportions of the bars.</summary>
/// <param name="BasinDepth_mm">Depth of metal over the top of the sprue.</param>
/// <param name="BasinWidth_tops">Width of the basin at its rim, in diameters of the sprue's top.</param>
/// <param name="LeastBasinWidth_mm">Least width of the basin at its rim.</param>
/// <param name="WellArea_bases">Plan area of the well, in areas of the sprue's base.</param>
/// <param name="WellDepth_runners">Depth of the well, in depths of the runner.</param>
/// <param name="RunnerWidth_depths">Mean width of the runner over its depth.</param>
/// <param name="Extension_widths">Runner beyond the last ingate, in runner widths.</param>
/// <param name="LeastExtension_mm">Least of it.</param>
/// <param name="LeastSprue_mm">Least height of the sprue under its basin.</param>
/// <param name="SpruePad_bases">Width of a runner in the cope under the sprue, in diameters of the sprue's foot.</param>
/// <param name="FirstGate_widths">Runner between the well and the first ingate, in runner widths.</param>
/// <param name="IngateWidth_depths">Mean width of an ingate over its depth.</param>
/// <param name="IngateWall">Greatest depth of an ingate over the wall that it meets.</param>
/// <param name="LeastIngate_mm">Least depth of an ingate.</param>
/// <param name="IngateSpacing_mm">Length of the side for each ingate.</param>
public sealed record GatingShapes(
    Quoted BasinDepth_mm,
    Quoted BasinWidth_tops,
    Quoted LeastBasinWidth_mm,
    Quoted WellArea_bases,
    Quoted WellDepth_runners,
    Quoted RunnerWidth_depths,
    Quoted Extension_widths,
    Quoted LeastExtension_mm,
    Quoted LeastSprue_mm,
    Quoted SpruePad_bases,
    Quoted FirstGate_widths,
    Quoted IngateWidth_depths,
    Quoted IngateWall,
    Quoted LeastIngate_mm,
    Quoted IngateSpacing_mm);

/// <summary>What gating is reckoned with.</summary>
/// <param name="PourTime">Laws of pour time; the first that fits is taken.</param>
/// <param name="Fluidity_in">Fluidity of iron, inches of the spiral.</param>
/// <param name="Discharge">Coefficient of discharge of sprue and gates.</param>
/// <param name="Ratios">Sprue base : runner : ingates.</param>
/// <param name="IngateVelocity_m_s">Fastest metal at the ingates.</param>
/// <param name="HandRate_litre_s">What one person can pour, where the shop does not give its own rate.</param>
/// <param name="HandRate_kg_s">The shop's own rate; null where it gives none.</param>
/// <param name="LeastChoke_mm">Diameter of the smallest choke that can be poured.</param>
/// <param name="LeastHead_mm">Least head over the joint.</param>
/// <param name="SandAbove">Sand above the casting.</param>
/// <param name="RunnerClearance">Sand between runner and casting.</param>
/// <param name="Shapes">Proportions of the bars.</param>
/// <param name="FilterFace_chokes">Open face of a filter over the choke, at least.</param>
/// <param name="MeltLoss_percent">Lost in melting, of what is poured.</param>
/// <param name="Heel_percent">Left in the ladle, of what is poured.</param>
public sealed record GatingTables(
    ImmutableArray<PourTimeRow> PourTime,
    Quoted Fluidity_in,
    Quoted Discharge,
    ImmutableArray<MetalRow<GatingRatio>> Ratios,
    ImmutableArray<MetalRow<double>> IngateVelocity_m_s,
    Quoted HandRate_litre_s,
    Quoted? HandRate_kg_s,
    Quoted LeastChoke_mm,
    Quoted LeastHead_mm,
    ImmutableArray<WeightRow> SandAbove,
    ImmutableArray<WeightRow> RunnerClearance,
    GatingShapes Shapes,
    Quoted FilterFace_chokes,
    Quoted MeltLoss_percent,
    Quoted Heel_percent);
