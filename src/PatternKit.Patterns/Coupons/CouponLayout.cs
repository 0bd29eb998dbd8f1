using System.Collections.Immutable;
using PatternKit.Exchange.Lettering;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Coupons;

/// <summary>
/// The features of one body of a coupon: a plate, on it a rib that stands by itself and a block with round pockets, and raised figures that say its drafts.
/// Millimetres before draft, the middle of the plate on the origin, its flat back at z = 0.
/// </summary>
internal sealed class CouponLayout
{
    /// <summary>A pocket keeps at least this share of its mouth at its floor.</summary>
    private const double LeastFloor = 0.5;

    private CouponLayout(ImmutableArray<Feature> features, ImmutableArray<CouponPocket> pockets, double gap_mm, Vec2 size_mm, string figures) =>
        (Features, Pockets, Gap_mm, Size_mm, Figures) = (features, pockets, gap_mm, size_mm, figures);

    /// <summary>In the order in which they are put together.</summary>
    public ImmutableArray<Feature> Features { get; }

    /// <summary>The least slender first; one where draft leaves no room for the other.</summary>
    public ImmutableArray<CouponPocket> Pockets { get; }

    /// <summary>Between rib and block, before draft.</summary>
    public double Gap_mm { get; }

    /// <summary>Of the plate, before draft.</summary>
    public Vec2 Size_mm { get; }

    /// <summary>What the figures say.</summary>
    public string Figures { get; }

    /// <summary>Lays out a body.</summary>
    /// <param name="draft">Of its walls.</param>
    /// <param name="walls_mm">Height of rib and block above the flat back.</param>
    /// <param name="limit">Height over least width at which sand usually stands.</param>
    /// <param name="table">Sizes.</param>
    public static CouponLayout Of(DraftAngles draft, double walls_mm, double limit, CouponTable table)
    {
        var (plate, rib, land) = (table.Plate_mm.Value, table.Rib_mm.Value, table.Land_mm.Value);
        var depth = walls_mm - plate;
        // A pocket narrows by its draft; it is no more slender than that lets its floor be.
        var most = (1 - LeastFloor) / (2 * Math.Tan(draft.Inside));
        ImmutableArray<CouponPocket> pockets = [.. new[] { limit, limit * table.Beyond_times.Value }.Select(r => Math.Min(r, most)).Distinct().Select(r => new CouponPocket(depth / r, depth))];
        var gap = table.Gap_times.Value * depth / limit;
        var (outside, inside) = (double.RadiansToDegrees(draft.Outside), double.RadiansToDegrees(draft.Inside));
        // No degree sign: its counter is narrower than sand gives.
        var figures = Math.Abs(outside - inside) < 0.005 ? Invariant($"{outside:0.##}") : Invariant($"{outside:0.##}/{inside:0.##}");
        var letters = LetterOutlines.Of(figures, table.Figures_mm, table.Figures_mm * LetterOutlines.ChordOfHeight);

        var taken = pockets.Sum(p => p.Diameter_mm) + ((pockets.Length + 1) * land);
        var length = Math.Max(taken, letters.Advance_mm);
        var block = pockets.Max(p => p.Diameter_mm) + (2 * land);
        var size = new Vec2(length + (2 * plate), (4 * plate) + table.Figures_mm + rib + gap + block);
        var (left, front) = (-length / 2, (-size.Y / 2) + plate);
        var ribAt = front + table.Figures_mm + (2 * plate);
        var blockAt = ribAt + rib + gap;
        var features = ImmutableArray.CreateBuilder<Feature>();
        features.Add(Box("plate", -0.5 * size, 0.5 * size, 0, plate));
        features.Add(Box("rib", new(left, ribAt), new(left + length, ribAt + rib), 0, walls_mm));
        features.Add(Box("block", new(left, blockAt), new(left + length, blockAt + block), 0, walls_mm));
        var along = left + ((length - taken) / 2) + land;
        foreach (var (p, i) in pockets.Select((p, i) => (p, i)))
        {
            features.Add(new(Invariant($"pocket {i + 1}"), null, [PlanPath.Circle(new(along + (p.Diameter_mm / 2), blockAt + (block / 2)), p.Diameter_mm)], plate, walls_mm, CutKind.Drawn, "coupon"));
            along += p.Diameter_mm + land;
        }

        var centred = letters.Region.Transformed(1, 0, new(-letters.Advance_mm / 2, front));
        features.Add(new("figures", null, [.. centred.Rings().Select(r => PlanPath.Polygon(r.AsSpan())).Select(l => l.SignedArea() >= 0 ? l : l.Reversed())], 0, plate + table.Raised_mm, CutKind.None, "coupon")
        {
            Text = new(figures, table.Figures_mm, TextSide.Top),
        });
        return new(features.ToImmutable(), pockets, gap, size, figures);

        static Feature Box(string name, Vec2 low, Vec2 high, double from, double to) =>
            new(name, null, [PlanPath.Polygon(low, new(high.X, low.Y), high, new(low.X, high.Y))], from, to, CutKind.None, "coupon");
    }
}
