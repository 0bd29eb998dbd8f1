using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Meshes;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Pieces;
using static System.FormattableString;

namespace PatternKit.Patterns.Boards;

/// <summary>Makes the follow board of a part whose joint is not flat. Its nest is the half of a part whose faces are moved out by the clearance, on the same joint.</summary>
internal static class FollowBoardBuilder
{
    /// <summary>The board; null where the job wants none, or where the joint came out flat.</summary>
    /// <param name="job">The job.</param>
    /// <param name="mesh">What is cast.</param>
    /// <param name="casting">The casting.</param>
    /// <param name="carved">The joint.</param>
    /// <param name="halves">Both halves of the pattern.</param>
    /// <param name="casting_kg">Its weight, by which the sand round it goes.</param>
    /// <param name="draft">Of its walls.</param>
    /// <param name="tolerance">Of the surfaces.</param>
    /// <param name="tables">Rules.</param>
    /// <exception cref="Exchange.InputException">The part has a hollow with no room for the clearance.</exception>
    public static KitFollowBoard? Build(
        Job job, PartMesh mesh, CastingBody casting, CarvedJoint? carved, (HalfMould Cope, HalfMould Drag) halves, double casting_kg, DraftAngles draft, MeshingTolerance tolerance, FoundryTables tables)
    {
        if (job.Parting.FollowBoard is not { } nested || carved is null) return null;
        var (nest, margin) = (tables.Plates.Nest, tables.Plates.Margin_mm(casting_kg));
        var (low, high) = Outline(carved, halves.Cope.Footprint.Union(halves.Drag.Footprint), margin.Value);
        var wider = MeshStock.Of(mesh, All(nest.Clearance_mm.Value / casting.Frame.Scale)).Mesh;
        var box = wider.Body.Bounds();
        var (bottom, top) = (casting.Frame.Scale * box.Low.Z, casting.Frame.Scale * box.High.Z);
        var lattice = Lattice.For(1.2 * (new[] { low.X, low.Y, high.X, high.Y, bottom, top }.Max(Math.Abs) + top - bottom));
        var hollow = Filleted(MeshCasting.OnJoint(wider, casting.Frame.Scale, carved, nested, draft, lattice, tolerance), (nested == MouldHalf.Cope ? halves.Cope : halves.Drag).LargestFillet_mm, tolerance);
        var back = lattice.Snap(Math.Max(nested == MouldHalf.Drag ? -bottom : top, hollow.Ground.Range.High) + nest.Floor_mm.Value);
        var plan = PlanRegion.Rectangle(low, high);

        var whole = Placed("follow-board", Block(plan), nested, back, [new(plan, 0)]);
        var firm = plan.Difference(hollow.Footprint.Offset(tables.BedCuts.Dovetail.LeastHeight_mm, 0.1));
        var cuts = BedCutPlanner.Of(
            new CuttableBody(plan, firm, p => plan.Contains(p) ? (back, NestedBlock.Underside(hollow, p)) : (0, 0), r => PlanRegion.UnionOn(lattice, [r])), tables, PlanRegion.Empty);
        var cut = cuts is null ? null : CutBody.Of(whole, cuts, [new(plan, 0)], within => Block(PlanRegion.UnionOn(lattice, [plan.Intersection(within)])), (name, body, upright) => Placed(name, body, nested, back, upright));
        return new(whole, cut, nested, nest.Clearance_mm, low, high, back - hollow.Ground.Level,
        [
            new("follow_board_clearance_mm", "Follow board, clearance of the nest", nest.Clearance_mm.Value, "mm", "from the plate table", nest.Clearance_mm.From.Text),
            new("follow_board_margin_mm", "Follow board, round the pattern", margin.Value, "mm", $"{margin.Rule}, and as far as the joint is not level", margin.Source),
            new("follow_board_floor_mm", "Follow board, under the deepest place of its face", nest.Floor_mm.Value, "mm", "from the plate table", nest.Floor_mm.From.Text),
        ]);

        TriangleMesh Block(PlanRegion of) => NestedBlock.Build(of, back, hollow, lattice, tolerance);

        static StockSettings All(double by) => new(by, by, by, by);
    }

    /// <summary>
    /// Closed by the largest ball of the half's own fillets, whatever room there is: what is moved out and closed holds what is closed and moved out, and a larger ball fills no less (Serra 1982).
    /// </summary>
    private static TerrainOverGround Filleted(TerrainOverGround hollow, double radius_mm, MeshingTolerance tolerance) =>
        radius_mm > 0 && MeshFillets.Everywhere(hollow.Whole, radius_mm, tolerance.Error_mm) is { } closed ? new(closed.Meshed(), hollow.Ground) : hollow;

    /// <summary>Whole millimetres round the pattern with the sand that a plate has, and round all of the joint that is not level.</summary>
    private static (Vec2 Low, Vec2 High) Outline(CarvedJoint carved, PlanRegion footprint, double margin)
    {
        var box = footprint.Geometry.EnvelopeInternal;
        return (
            new(Math.Floor(Math.Min(box.MinX - margin, carved.Surface.LowCorner.X)), Math.Floor(Math.Min(box.MinY - margin, carved.Surface.LowCorner.Y))),
            new(Math.Ceiling(Math.Max(box.MaxX + margin, carved.Surface.HighCorner.X)), Math.Ceiling(Math.Max(box.MaxY + margin, carved.Surface.HighCorner.Y))));
    }

    /// <summary>The board, made above the half that lies in it with that half's draw upward; printed on its back.</summary>
    private static KitBody Placed(string name, TriangleMesh mesh, MouldHalf nested, double back, ImmutableArray<UprightPocket> upright)
    {
        var isDrag = nested == MouldHalf.Drag;
        var inMould = isDrag ? mesh.MirroredBy(v => v with { Z = -v.Z }) : mesh;
        var printed = isDrag ? inMould.Mapped(v => v with { Z = v.Z + back }) : mesh.Mapped(v => new(v.X, -v.Y, back - v.Z));
        var (draft, at) = PlacedHalves.LeastDraft(mesh, inMould, upright);
        return new(name, nested, inMould, printed, isDrag ? TurnedFrame.Rows(default, 1, 1, back) : TurnedFrame.Rows(default, -1, -1, back), draft, at);
    }
}
