using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>Reads the gating table, and a shop's [pouring] over it.</summary>
internal static class GatingTableReader
{
    public static GatingTables Read(RowReader file)
    {
        var tables = new GatingTables(
            [.. file.Rows("pour_time").Select(PourTime)],
            file.Row("fluidity").Quoted("in", 1, 100),
            file.Row("discharge").Quoted("coefficient", 0.1, 1),
            [.. file.Rows("ratio").Select(r => Metal(r, Ratio))],
            [.. file.Rows("ingate_velocity").Select(r => Metal(r, v => v.Number("m_s", 0.05, 5)))],
            file.Row("hand_rate").Quoted("litre_s", 0.001, 10),
            null,
            file.Row("least_choke").Quoted("diameter_mm", 1, 100),
            file.Row("least_head").Quoted("mm", 1, 2000),
            WeightRows.Read(file, "sand_above"),
            WeightRows.Read(file, "runner_clearance"),
            Shapes(file),
            file.Row("filter_face").Quoted("chokes", 1, 50),
            file.Row("melt_loss").Quoted("percent", 0, 50),
            file.Row("heel").Quoted("percent", 0, 100));
        file.Finish();
        return tables;
    }

    /// <summary>The tables with what the shop gives of its own.</summary>
    public static GatingTables Shop(GatingTables tables, RowReader row)
    {
        var from = row.Provenance();
        Quoted? Own(string key, double low, double high) => row.Has(key) ? new(row.Number(key, low, high), "", from) : null;
        var shop = tables with
        {
            HandRate_kg_s = Own("rate_kg_s", 0.01, 100) ?? tables.HandRate_kg_s,
            LeastChoke_mm = Own("least_choke_mm", 1, 100) ?? tables.LeastChoke_mm,
            Discharge = Own("discharge", 0.1, 1) ?? tables.Discharge,
            Fluidity_in = Own("fluidity_in", 1, 100) ?? tables.Fluidity_in,
        };
        row.Finish();
        return shop;
    }

    private static PourTimeRow PourTime(RowReader r)
    {
        var (a, b_mm, c, root) = (r.Number("a", 0.01, 100), r.Has("b_mm") ? r.Number("b_mm", 0.1, 1000) : (double?)null, r.Has("c") ? r.Number("c", 0, 10) : 0, r.Whole("root", 1, 5));
        var row = new PourTimeRow(
            r.Choice("family", AlloyReader.FamilyWords),
            r.TextsOrNone("alloys"),
            Limit(r, "up_to_kg", WeightRows.Heaviest_kg),
            Limit(r, "up_to_mm", 1000),
            r.Has("fluidity_in") ? r.Number("fluidity_in", 1, 100) : null,
            a,
            b_mm,
            c,
            root,
            r.TextOr("printed", Formula(a, b_mm, c, root, r.Has("fluidity_in"))),
            r.Provenance());
        r.Finish();
        return row;
    }

    /// <summary>The law of a row that prints none, as a shop's own.</summary>
    private static string Formula(double a, double? b_mm, double c, int root, bool byFluidity) =>
        $"t = {(byFluidity ? "K " : "")}({Shown.Number(a)}{(b_mm is { } b ? $" + T/{Shown.Number(b)}" : "")}{(c > 0 ? $" - {Shown.Number(c)} log10 W" : "")}) W^(1/{root})";

    private static MetalRow<T> Metal<T>(RowReader r, Func<RowReader, T> value)
    {
        var row = new MetalRow<T>(
            r.Has("family") ? r.Choice("family", AlloyReader.FamilyWords) : null, r.TextsOrNone("alloys"), value(r), r.Provenance());
        r.TextOr("printed", "");
        r.Finish();
        return row;
    }

    private static GatingRatio Ratio(RowReader r)
    {
        var parts = r.Numbers("sprue_runner_ingates", 0.1, 20);
        return parts.Length == 3 ? new(parts[0], parts[1], parts[2]) : throw r.Error("'sprue_runner_ingates' must have three numbers.");
    }

    private static GatingShapes Shapes(RowReader file) => new(
        file.Row("basin_depth").Quoted("mm", 5, 200),
        file.Row("basin_width").Quoted("sprue_tops", 1, 20),
        file.Row("least_basin_width").Quoted("mm", 5, 500),
        file.Row("well_area").Quoted("sprue_bases", 1, 20),
        file.Row("well_depth").Quoted("runner_depths", 1, 5),
        file.Row("runner_shape").Quoted("width_over_depth", 0.5, 5),
        file.Row("runner_extension").Quoted("widths", 0, 20),
        file.Row("least_extension").Quoted("mm", 0, 500),
        file.Row("least_sprue").Quoted("mm", 1, 500),
        file.Row("sprue_pad").Quoted("sprue_bases", 1, 5),
        file.Row("first_gate").Quoted("runner_widths", 0, 20),
        file.Row("ingate_shape").Quoted("width_over_depth", 0.5, 20),
        file.Row("ingate_wall").Quoted("fraction", 0.1, 1),
        file.Row("least_ingate").Quoted("depth_mm", 0.5, 20),
        file.Row("ingate_spacing").Quoted("mm", 10, 2000));

    private static double Limit(RowReader r, string key, double most) => r.Has(key) ? r.Number(key, 0.001, most) : double.PositiveInfinity;
}
