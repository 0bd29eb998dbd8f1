using PatternKit.Patterns.Coupons;

namespace PatternKit.Sheets.Json;

/// <summary>The coupon; null where the job wants none.</summary>
internal sealed partial class KitJson
{
    private void Coupon(KitCoupon? coupon)
    {
        if (coupon is null)
        {
            _json.WriteNull("coupon");
            return;
        }

        Object("coupon", () =>
        {
            Number("plate_mm", coupon.Plate_mm);
            Number("rib_mm", coupon.Rib_mm);
            Number("standing_limit", coupon.Limit.Value);
            List("bodies", coupon.Trials, t =>
            {
                Text("file", t.Body.FileName);
                Text("figures", t.Figures);
                Number("times", t.Times);
                Number("draft_outside_deg", t.Draft.Outside * Degree);
                Number("draft_inside_deg", t.Draft.Inside * Degree);
                Number("walls_mm", t.Walls_mm);
                Number("gap_mm", t.Gap_mm);
                List("pockets", t.Pockets, p =>
                {
                    Number("diameter_mm", p.Diameter_mm);
                    Number("depth_mm", p.Depth_mm);
                    Number("slenderness", p.Slenderness);
                });
                List("handling", t.Handling.Pieces, Piece);
            });
        });
    }
}
