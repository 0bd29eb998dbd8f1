using PatternKit.Patterns.Cores;

namespace PatternKit.Sheets.Json;

/// <summary>The cores: sizes, prints with what they bear, boxes.</summary>
internal sealed partial class KitJson
{
    private void Core(KitCore core)
    {
        Text("name", core.Name);
        Text("leaves", core.Title);
        _json.WriteNumber("count", core.Count);
        List("places", core.Axes, a =>
        {
            Text("axis", a.Axis.ToString().ToLowerInvariant());
            Numbers("at_mm", a.At.X, a.At.Y, a.At.Z);
        });
        Number("volume_mm3", core.Body.InMould.Volume());
        Number("in_metal_mm3", core.Load.Displaced_mm3);
        Number("sand_kg", core.Sand_kg);
        Number("sand_density_kg_m3", core.CoreSand_kg_m3.Value);
        Number("lift_N", core.Load.Lift_N);
        Number("weight_N", core.Load.Weight_N);
        Number("bearing_kPa", core.Bearing_kPa.Value);
        Number("chaplets_mm2", core.Chaplet_mm2);
        Number("clearance_mm", core.Side_mm);
        Number("top_clearance_mm", core.Axes[0].Lies ? null : core.Axial_mm);
        Number("vent_mm", core.Vent_mm.Value);
        List("prints", core.Prints.Zip(core.Load.Prints), print =>
        {
            var (p, load) = print;
            Text("end", core.End(p));
            Number("length_mm", p.Length_mm);
            if (p.Mouth is { } mouth)
            {
                Numbers("direction", mouth.Outward.X, mouth.Outward.Y);
                Number("width_mm", p.Width_mm);
                Number("height_mm", p.Height_mm);
                _json.WriteBoolean("has_flat", p.Flat is not null);
            }
            else
            {
                Number("diameter_mm", 2 * p.Radius_mm);
                Number("end_diameter_mm", 2 * p.EndRadius_mm);
                Number("taper_deg", p.Taper * Degree);
            }

            Number("lift_N", load.Lift_N);
            Number("weight_N", load.Weight_N);
            Number("bears_lift_N", load.MostLift_N);
            Number("bears_weight_N", load.MostWeight_N);
        });
        Object("box", () =>
        {
            Text("form", core.Box.IsDumped ? "dump box" : "two halves");
            _json.WriteStartArray("files");
            foreach (var half in core.Box.Printed) _json.WriteStringValue(half.FileName);
            _json.WriteEndArray();
            Number("holds_mm3", core.Box.Holds_mm3);
            var block = core.Box.Halves[0].AsPrinted.Bounds();
            Numbers("half_mm", block.Size.X, block.Size.Y, block.Size.Z);
            List("holes_from_corner", core.Box.Dowels, d => Numbers("at_mm", core.Box.AsPrinted(d, core.Box.Halves[0]).X - block.Low.X, core.Box.AsPrinted(d, core.Box.Halves[0]).Y - block.Low.Y));
            Number("wall_mm", core.Box.Wall_mm);
            Number("draft_deg", core.Box.Draft * Degree);
            List("dowels", core.Box.Dowels, Dowel);
        });
    }
}
