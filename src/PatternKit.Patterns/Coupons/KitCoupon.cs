using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;

namespace PatternKit.Patterns.Coupons;

/// <summary>A round pocket of a coupon, in which sand stands.</summary>
/// <param name="Diameter_mm">At its mouth.</param>
/// <param name="Depth_mm">Of the sand in it.</param>
public sealed record CouponPocket(double Diameter_mm, double Depth_mm)
{
    /// <summary>Height of its sand over its least width where it breaks off, which is at the mouth.</summary>
    public double Slenderness => Depth_mm / Diameter_mm;
}

/// <summary>One of the bodies of a coupon, all of whose walls have one pair of drafts.</summary>
/// <param name="Body">As any body of a kit; beside the pattern in the mould's frame.</param>
/// <param name="Draft">Of its walls.</param>
/// <param name="Times">Of the drafts of the pattern.</param>
/// <param name="Walls_mm">Height of rib and block above the flat back.</param>
/// <param name="Gap_mm">Between rib and block, at their tips.</param>
/// <param name="Pockets">The least slender first.</param>
/// <param name="Figures">What its raised figures say.</param>
/// <param name="Handling">How it is drawn.</param>
public sealed record CouponTrial(
    KitBody Body, DraftAngles Draft, double Times, double Walls_mm, double Gap_mm, ImmutableArray<CouponPocket> Pockets, string Figures, Handling Handling);

/// <summary>Small bodies on which sand, skin and taper are tried before the pattern is printed: one for each draft that is tried, the least first.</summary>
/// <param name="Trials">The bodies.</param>
/// <param name="Plate_mm">Thickness of the plate below each.</param>
/// <param name="Rib_mm">Thickness of the rib at its tip.</param>
/// <param name="Limit">Of the sand: its height over its least width, standing in the drag, in which the coupon is rammed.</param>
/// <param name="Decisions">With rule and source.</param>
public sealed record KitCoupon(ImmutableArray<CouponTrial> Trials, double Plate_mm, double Rib_mm, Quoted Limit, ImmutableArray<Decision> Decisions)
{
    /// <summary>Its bodies.</summary>
    public IEnumerable<KitBody> Bodies => Trials.Select(t => t.Body);
}
