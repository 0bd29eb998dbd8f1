using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>What comes onto the faces of a body from the file to the finished pattern, as the shop has measured it on its own prints.</summary>
/// <param name="Oversize_mm">Every face comes out of the printer so much proud of the file.</param>
/// <param name="Finish_mm">Filler and paint, on every face that sand touches.</param>
/// <param name="Flare_mm">How far the first layer spreads beyond the wall over it.</param>
/// <param name="FirstLayer_mm">How high that reaches; 0 where nothing spreads.</param>
/// <param name="Nozzle_mm">Of the printer: nothing narrower is printed; 0 where it was not given.</param>
/// <param name="From">Where the figures come from.</param>
public sealed record PrintGrowth(double Oversize_mm, double Finish_mm, double Flare_mm, double FirstLayer_mm, double Nozzle_mm, Provenance From)
{
    /// <summary>Most that is taken off for either, mm.</summary>
    public const double Most_mm = 1;

    /// <summary>Nothing.</summary>
    public static PrintGrowth None { get; } = new(0, 0, 0, 0, 0, new("", Basis.Shop, [], ""));

    /// <summary>What a face that sand touches grows by.</summary>
    public double Skin_mm => Oversize_mm + Finish_mm;

    /// <summary>Whether files are as the finished bodies.</summary>
    public bool IsNone => Skin_mm == 0 && Flare_mm == 0;

    /// <summary>[printer] of a shop file; null where it has nothing of this and none was known.</summary>
    internal static PrintGrowth? Read(PrintGrowth? known, RowReader row)
    {
        var isAny = false;
        double Or(string key, double low, double high, double fallback)
        {
            var has = row.Has(key);
            isAny |= has;
            return has ? row.Number(key, low, high) : fallback;
        }

        var (oversize, finish) = (Or("oversize_mm", 0, Most_mm, known?.Oversize_mm ?? 0), Or("finish_mm", 0, Most_mm, known?.Finish_mm ?? 0));
        var (flare, layer) = (Or("first_layer_flare_mm", 0, Most_mm, known?.Flare_mm ?? 0), Or("first_layer_mm", 0.05, Most_mm, known?.FirstLayer_mm ?? 0));
        var nozzle = Or("nozzle_mm", 0.1, 2, known?.Nozzle_mm ?? 0);
        if (flare > 0 && layer == 0) throw row.Error("'first_layer_flare_mm' needs 'first_layer_mm', how high the first layer is, such as 0.3.");
        return isAny ? new(oversize, finish, flare, layer, nozzle, row.Provenance()) : known;
    }
}
