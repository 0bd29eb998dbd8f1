using PatternKit.Patterns.Feeding;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Json;

/// <summary>The feeding object: what feeders are reckoned with, and each section that freezes late with what becomes of it.</summary>
internal sealed partial class KitJson
{
    private void Feeding(FeedingPlan? feeding)
    {
        if (feeding is null)
        {
            _json.WriteNull("feeding");
            return;
        }

        Object("feeding", () =>
        {
            foreach (var line in FeedingLines.Of(feeding)) Number(line.Key, line.Value);
            Rules(FeedingLines.Of(feeding).Where(l => l.Rule.Length > 0 || l.Source.Length > 0));
            List("beyond", feeding.Beyond, w =>
            {
                Numbers("at_mm", w.At_mm.X, w.At_mm.Y, w.At_mm.Z);
                Number("thick_mm", w.Thick_mm);
                Number("way_mm", w.Way_mm);
                Number("feeds_mm", w.Feeds_mm);
                Number("root_mm", w.Root_mm);
                Number("lacks_mm3", w.Lacks_mm3);
            });
            List("sections", feeding.Sections, s =>
            {
                Numbers("at_mm", s.At_mm.X, s.At_mm.Y, s.At_mm.Z);
                Number("across_mm", s.Across_mm);
                Number("modulus_mm", s.Modulus_mm);
                Number("beside_modulus_mm", s.Beside_mm);
                Number("fed_mm3", s.Fed_mm3);
                Number("lacks_mm3", s.Lacks_mm3);
                Text("fate", FeedingLines.Fate(s));
                _json.WriteNumber("sharing", s.Sharing);
                Number("by_modulus_mm", s.Size?.ByModulus_mm);
                Number("by_volume_mm", s.Size?.ByVolume_mm);
                Number("neck_mm", s.Size?.Neck_mm);
                Number("foot_mm", s.Foot_mm);
                Number("feeder_mm3", s.Feeder_mm3);
                Number("chill_face_mm", s.Chill?.Face_mm);
                Number("chill_thick_mm", s.Chill?.Thick_mm);
                Number("chill_kg", s.Chill?.Mass_kg);
                Number("chill_modulus_mm", s.Chill?.Target_mm);
                Number("taper_root_mm", s.Taper?.Root_mm);
                Number("taper_length_mm", s.Taper?.Length_mm);
                List("cut_on_joint_mm", s.CutOnJoint.Rings().SelectMany(r => r), p => { Number("x", p.X); Number("y", p.Y); });
                if (s.Body is { } body) Text("file", body.Body.FileName);
                else _json.WriteNull("file");
            });
        });
    }
}
