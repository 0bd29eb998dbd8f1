namespace PatternKit.Foundry;

/// <summary>A board that backs a half of a mould on edge, clamped at both edges of the flask: a beam on two supports under a uniform load (law of bending, any textbook on the strength of materials).</summary>
/// <param name="Span_mm">Between its clamps.</param>
/// <param name="Load_kPa">Taken over its whole face, which is too much for all but the lowest place.</param>
/// <param name="Stress_MPa">What its wood bears in bending.</param>
/// <param name="Thick_mm">Least thickness, t = L √(3 p / (4 σ)): the moment p L²/8 over the section modulus t²/6, each for a strip of unit width.</param>
public sealed record BackingBoard(double Span_mm, double Load_kPa, Quoted Stress_MPa, double Thick_mm)
{
    /// <summary>The board for a span.</summary>
    /// <param name="span_mm">Between the clamps.</param>
    /// <param name="load_kPa">On its face.</param>
    /// <param name="stress_MPa">What the wood bears in bending.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is not positive.</exception>
    public static BackingBoard Of(double span_mm, double load_kPa, Quoted stress_MPa)
    {
        Checked.Positive(span_mm, nameof(span_mm));
        Checked.Positive(load_kPa, nameof(load_kPa));
        return new(span_mm, load_kPa, stress_MPa, span_mm * Math.Sqrt(0.75 * load_kPa / 1000 / stress_MPa.Value));
    }
}
