namespace PatternKit.Foundry;

/// <summary>The opposite bow given to long plates and channel shapes that are known to warp.</summary>
public static class Camber
{
    /// <summary>Rise at mid length, against the warp that a trial casting showed.</summary>
    /// <param name="rise">Millimetres a metre.</param>
    /// <param name="length_mm">Length of the part, above 0.</param>
    /// <returns>Millimetres.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The length is not a positive number.</exception>
    public static Sourced<double> For(Quoted rise, double length_mm)
    {
        Checked.Positive(length_mm, nameof(length_mm));
        var rise_mm = rise.Value * length_mm / 1000;
        return new Sourced<double>(
            rise_mm,
            rise.From.Text,
            $"{Shown.Number(rise_mm)} mm rise at mid length: {Shown.Number(rise.Value)} mm a metre of length, {rise.Printed}; correct it by a trial casting");
    }
}
