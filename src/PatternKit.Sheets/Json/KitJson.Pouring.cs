using PatternKit.Patterns.Pouring;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Json;

/// <summary>The pouring object: forces, flask and sand, melt, vents, shake-out; in each the rules of its figures by the same keys.</summary>
internal sealed partial class KitJson
{
    private void Pouring(PourPlan? plan)
    {
        if (plan is null)
        {
            _json.WriteNull("pouring");
            return;
        }

        Object("pouring", () =>
        {
            Group("forces", PourLines.Forces(plan));
            Group("flask", PourLines.Flask(plan), () =>
            {
                Text("owned", plan.Flask.Owned?.Name);
                _json.WriteBoolean("turned", plan.Flask.IsTurned);
                _json.WriteNumber("listed", plan.Flask.Listed);
                Numbers("middle_mm", plan.Flask.Middle_mm.X, plan.Flask.Middle_mm.Y);
                if (_kit.Bodies.IsEmpty) return;
                var (above, below) = MouldSection.SandBeyond(_kit, plan);
                Number("section_width_mm", MouldSection.Width_mm(_kit, plan));
                Number("sand_above_mm", above);
                Number("sand_below_mm", below);
            });
            Group("melt", PourLines.Melt(plan), () =>
            {
                Text("crucible", plan.Melt.Crucible?.Name);
                _json.WriteNumber("listed", plan.Melt.Listed);
            });
            Group("vents", PourLines.Vents(plan), () => List("places", plan.Vents.Vents, v =>
            {
                Numbers("at_mm", v.At_mm.X, v.At_mm.Y);
                Text("place", v.Place switch { VentPlace.HighPlace => "high place", VentPlace.FarEnd => "far end", _ => "core print" });
                Number("roof_mm", v.Roof_mm);
                Number("depth_mm", v.Depth_mm);
                Text("core", v.Core.Length == 0 ? null : v.Core);
            }));
            Group("shake_out", PourLines.ShakeOut(plan));
        });
    }

    private void Group(string key, IEnumerable<ReckonedLine> lines, Action? more = null) => Object(key, () =>
    {
        ReckonedLine[] all = [.. lines];
        foreach (var line in all) Number(line.Key, line.Value);
        more?.Invoke();
        Rules(all.Where(l => l.Rule.Length > 0));
    });
}
