using PatternKit.Foundry;
using PatternKit.Patterns.Gating;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Json;

/// <summary>The gating object: every value of the reckoning; rules and sources in lists beside them, by the same keys.</summary>
internal sealed partial class KitJson
{
    private void Gating(GatingPlan? gating)
    {
        if (gating is null)
        {
            _json.WriteNull("gating");
            return;
        }

        var r = gating.Reckoning;
        Object("gating", () =>
        {
            foreach (var line in GatingLines.Of(gating)) Number(line.Key, line.Value);
            Ratio("ratio_by_rule", r.Ratio.Value);
            Ratio("ratio", r.RatioTaken.Value);
            if (gating.Position.IsOnEdge)
            {
                Text("pour", "on edge");
                Text("up", gating.Position.UpWord);
            }

            _json.WriteNumber("ingates", gating.Count.Value);
            _json.WriteBoolean("least_choke_applied", r.FloorApplied);
            _json.WriteBoolean("slowed_to_hand_rate", r.SlowedToHandRate);
            _json.WriteBoolean("beyond_hand_rate", r.BeyondHandRate);
            Rules([.. GatingLines.Of(gating).Where(l => l.Rule.Length > 0), .. GatingLines.Counts(gating)]);
            List("bars", gating.Bars, bar =>
            {
                Text("name", bar.Body.Name);
                Text("file", bar.Body.FileName);
                var (printed, sections) = (bar.Body.AsPrinted.Bounds(), BodySection.Of(bar));
                Numbers("size_mm", printed.Size.X, printed.Size.Y, printed.Size.Z);
                List("sections", bar.Cuts.Zip(sections), section =>
                {
                    var (cut, drawn) = section;
                    Text("name", cut.Name);
                    Number("reckoned_mm2", cut.Reckoned_mm2);
                    Number("measured_mm2", cut.Region.Area);
                    Numbers("at_mm", cut.At_mm.X, cut.At_mm.Y, cut.At_mm.Z);
                    Number("from_end_mm", drawn.FromEnd_mm(printed));
                    Number("width_mm", drawn.Size.X);
                    Number("height_mm", drawn.Size.Y);
                });
            });
        });
    }

    private void Ratio(string key, GatingRatio ratio) => Numbers(key, ratio.Sprue, ratio.Runner, ratio.Ingates);
}
