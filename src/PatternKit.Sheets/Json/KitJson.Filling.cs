using PatternKit.Patterns.Filling;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Json;

/// <summary>The filling object: the figures, rules and sources by their keys, the places where metal may not run, the order of freezing.</summary>
internal sealed partial class KitJson
{
    private void Filling(FillingPlan? filling)
    {
        if (filling is null)
        {
            _json.WriteNull("filling");
            return;
        }

        Object("filling", () =>
        {
            foreach (var line in FillingLines.Of(filling)) Number(line.Key, line.Value);
            Numbers("ingate_shares", [.. filling.Shares]);
            Number("front_heat_low_W_m2K", filling.Table.FrontHeat.Low_W_m2K);
            Number("front_heat_high_W_m2K", filling.Table.FrontHeat.High_W_m2K);
            _json.WriteBoolean("walls_thinner_than_cells", filling.IsCoarse);
            Rules(FillingLines.Of(filling).Where(l => l.Rule.Length > 0 || l.Source.Length > 0));
            List("places", filling.Places, p =>
            {
                Numbers("at_mm", p.At_mm.X, p.At_mm.Y, p.At_mm.Z);
                Text("risk", FillingLines.Verdict(filling, p));
                Number("wall_mm", p.Wall_mm);
                Number("way_mm", p.Way_mm);
                Number("arrives_s", p.Arrives_s);
                Number("front_ratio", p.Ratios.Front);
                Number("front_ratio_low", p.Low.Front);
                Number("front_ratio_high", p.High.Front);
                Number("choked_ratio", p.Ratios.Choked);
                Number("choked_ratio_low", p.Low.Choked);
                Number("choked_ratio_high", p.High.Choked);
                Number("head_ratio", p.Ratios.Head);
                Number("head_ratio_low", p.Low.Head);
                Number("head_ratio_high", p.High.Head);
                Number("volume_mm3", p.Volume_mm3);
                List("remedies", p.Remedies, r =>
                {
                    if (r.Alloy is { } alloy) Text("alloy", alloy);
                    Number(r.Alloy is null ? r.Key : "pour_temperature_C", r.Value);
                    if (r.At_mm is { } at) Numbers("at_mm", at.X, at.Y, at.Z);
                    Text("text", r.Text);
                });
                _json.WriteBoolean("hottest_clears", p.HottestClears);
            });
            List("hot_spots", filling.HotSpots, h =>
            {
                Numbers("at_mm", h.At_mm.X, h.At_mm.Y, h.At_mm.Z);
                Number("across_mm", h.Across_mm);
                Number("modulus_mm", h.Modulus_mm);
                Number("freezes_s", h.Freezes_s);
                Number("cut_off_s", h.CutOff_s);
                Number("pool_mm3", h.Pool_mm3);
                Number("shrinks_mm3", h.Shrinks_mm3);
            });
            _json.WriteStartArray("assumptions");
            foreach (var assumption in filling.Assumptions) _json.WriteStringValue(CleanText.Of(assumption));
            _json.WriteEndArray();
        });
    }
}
