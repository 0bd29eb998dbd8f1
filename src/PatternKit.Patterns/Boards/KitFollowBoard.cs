using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Pieces;

namespace PatternKit.Patterns.Boards;

/// <summary>A board whose face is a joint that is not flat, with a nest for one half of the pattern: the other half of the mould is rammed on it first.</summary>
/// <param name="Body">In the place of the sand of the nested half.</param>
/// <param name="Cut">Its pieces, where the bed asks for them.</param>
/// <param name="Nested">Which half of the pattern lies in it.</param>
/// <param name="Clearance_mm">Between nest and pattern, square to its faces.</param>
/// <param name="Low_mm">Corner in plan, pattern millimetres.</param>
/// <param name="High_mm">The opposite corner.</param>
/// <param name="Thickness_mm">From its back to the joint at the flask.</param>
/// <param name="Decisions">With rule and source.</param>
public sealed record KitFollowBoard(
    KitBody Body, CutBody? Cut, MouldHalf Nested, Quoted Clearance_mm, Vec2 Low_mm, Vec2 High_mm, double Thickness_mm, ImmutableArray<Decision> Decisions)
{
    /// <summary>Length along x and width along y.</summary>
    public Vec2 Size_mm => High_mm - Low_mm;

    /// <summary>As it is printed: in pieces where the bed asks for it.</summary>
    public IEnumerable<KitBody> Printed => CutBody.InPieces([Body], Cut is null ? [] : [Cut]);
}
