using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Loose;

/// <summary>Settles where a loose piece sits on the drafted pattern, how large it is there, and drafts it along its own draw.</summary>
internal static class LoosePlanner
{
    /// <summary>A piece nearer to the joint than this, mm, is no loose piece: no sand holds between.</summary>
    private const double LeastSand_mm = 0.5;

    private static readonly double[] Ways = [0.5, 1];

    /// <summary>Between places at which the wall is looked at, mm.</summary>
    private const double Look_mm = 1;

    /// <summary>Plans a piece.</summary>
    /// <param name="job">The job.</param>
    /// <param name="part">The piece.</param>
    /// <param name="cope">Upper half of the pattern.</param>
    /// <param name="drag">Lower half.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="allowances">Contraction, rapping, stock, draft.</param>
    /// <param name="tables">Rules.</param>
    /// <param name="tolerance">Of its surfaces.</param>
    /// <exception cref="InputException">There is no plane wall to stand on, or it does not stand out from it.</exception>
    public static PlannedPiece Plan(Job job, LoosePart part, HalfMould cope, HalfMould drag, PatternFrame frame, Allowances allowances, FoundryTables tables, MeshingTolerance tolerance)
    {
        var place = frame.ToPattern(part.At_mm);
        var half = place.Z >= cope.Joint_mm ? MouldHalf.Cope : MouldHalf.Drag;
        var mould = half == MouldHalf.Cope ? cope : drag;
        var at = half == MouldHalf.Cope ? place : place with { Z = -place.Z };
        var stock = allowances.Scale * (part.Stock_mm ?? allowances.Stock.Value.Of(part.Part).Sides_mm);
        var sides = allowances.Scale * allowances.Stock.Value.Of(part.Part).Sides_mm;
        var seat = PieceWall.Find(part, mould, at, mould.Run(at.Z - mould.Joint_mm) + mould.Run(mould.Heights.High - at.Z) + sides + allowances.Rapping_mm.Value + 1);
        var moved = Vec2.Dot(seat.Origin.Plan - at.Plan, part.Facing);
        var rapping = allowances.Rapping_mm.Value;
        var outward = (allowances.Scale * part.Out_mm) + stock - rapping - moved;
        if (outward < tables.Loose.LeastOut_mm.Value)
        {
            throw PieceWall.Refuse(part, Invariant(
                $"it would stand {outward:0.##} mm out from the drafted wall, which is moved by {moved:0.##} mm there, and less than {tables.Loose.LeastOut_mm.Value:0.##} mm is not worth a loose piece ({tables.Loose.LeastOut_mm.From.Text}). Write a larger out, or leave it to the file."));
        }

        var skin = job.Pattern.Skin ?? DraftRule.UsualSkin;
        var draft = job.Pattern.DraftOutside is null ? DraftRule.For(tables.Draft, outward, false, skin) : allowances.DraftOutside;
        var inside = job.Pattern.DraftInside is null ? DraftRule.For(tables.Draft, outward, true, skin).Value : allowances.DraftInside.Value;
        var (face, lattice) = Face(part, half, seat, outward, draft.Value, job.Pattern.Holds, rapping, allowances.Scale, mould, tolerance);
        var piece = new PlannedPiece(part, half, mould, seat, new([face], 0, draft.Value, inside, lattice, tolerance.Error_mm), face, draft, outward, lattice);
        if (piece.Heights.Low < mould.Joint_mm + LeastSand_mm)
        {
            throw PieceWall.Refuse(part, Invariant(
                $"with its draft it comes within {piece.Heights.Low - mould.Joint_mm:0.##} mm of the joint (at least {LeastSand_mm:0.##} mm are left): nothing hangs over there, and it draws with the main pattern. Make it a [[part]], or move the joint ([parting] at)."));
        }

        foreach (var p in Places(piece.BackBox.Low, piece.BackBox.High).Concat(piece.Back.Rings().SelectMany(r => r)).Where(p => piece.Back.Distance(p) < 1e-6))
        {
            if (PieceWall.IsPlane(mould, seat, p)) continue;
            var where = frame.ToJob(piece.At(new(p.X, p.Y, 0)));
            throw PieceWall.Refuse(part, Invariant(
                $"behind it the wall is not plane near ({where.X:0.#}, {where.Y:0.#}, {where.Z:0.#}) mm: {(mould.RaisedByFillets(seat.Placed(new(p.X, p.Y, 0.1)).Plan) > 0 ? "the fillet at its foot reaches up there. Move the piece up, or write a smaller fillet under [pattern]." : "it ends there, or is curved. Loose pieces stand on plane walls in this release; make it smaller or move it.")}"));
        }

        foreach (var p in piece.Face.Region.Rings().SelectMany(r => r).Concat(Places(piece.BackBox.Low, piece.BackBox.High).Where(piece.Face.Region.Contains)))
        {
            // Half way out and at its outer face; next to the wall it is in the wall's own run.
            var met = Ways.Select(share => seat.Placed(new(p.X, p.Y, share * piece.Face.Surface.At(p)))).FirstOrDefault(q => mould.Surface(q.Plan) >= q.Z);
            if (met == default) continue;
            var where = frame.ToJob(piece.InMould(met));
            throw PieceWall.Refuse(part, Invariant($"it runs into the pattern near ({where.X:0.#}, {where.Y:0.#}, {where.Z:0.#}) mm, where another wall stands. Let it stand out less, or join both by a [[part]]."));
        }

        return LooseHolding.Held(piece, tables);
    }

    /// <summary>Pieces that stand in one place cannot be moulded.</summary>
    /// <exception cref="InputException">Two do.</exception>
    public static ImmutableArray<PlannedPiece> Apart(ImmutableArray<PlannedPiece> pieces)
    {
        for (var i = 1; i < pieces.Length; i++)
        {
            var (own, (low, high)) = (pieces[i], pieces[i].Heights);
            if (pieces.Take(i).FirstOrDefault(o => o.Half == own.Half && o.Heights.Low < high && o.Heights.High > low && !o.Plan.Intersection(own.Plan).IsEmpty) is { } other)
                throw PieceWall.Refuse(own.Part, $"it stands where the loose piece \"{other.Part.Name}\" does. Move them apart, or draw both as one outline.");
        }

        return pieces;
    }

    /// <summary>The outer face, parallel to the wall of the part and therefore upright, in the piece's own plan; and the lattice of its frame.</summary>
    private static (Plateau Face, Lattice Lattice) Face(
        LoosePart part, MouldHalf half, PieceFrame seat, double outward, double draft, SizeHolds holds, double rapping, double scale, HalfMould mould, MeshingTolerance tolerance)
    {
        var plane = new HeightPlane(outward / Math.Cos(seat.Lean), new(0, Math.Tan(seat.Lean)));
        var held = holds switch { SizeHolds.Tip => 0, SizeHolds.Middle => 0.5, _ => 1.0 };
        var inset = held * outward * Math.Tan(draft);
        var seen = FeatureOutline.Of([(new(part.Name, null, part.Loops, 0, part.Out_mm, CutKind.None, part.Where), -rapping - inset)], scale, tolerance.Error_mm)[0];
        // The drag's frame is a mirror image, in which up is down.
        if (half == MouldHalf.Drag) seen = seen.Transformed(1, Math.PI, default, mirrored: true);
        // Its draw, square to the leaning wall, rises on the way out: the outline is at the height of its place where sizes hold.
        seen = seen.Transformed(1, 0, new(0, -(1 - held) * outward * Math.Sin(seat.Lean)));
        if (seen.IsEmpty) throw PieceWall.Refuse(part, "nothing is left of its outline after rapping and taper; make it larger.");
        var box = seen.Geometry.EnvelopeInternal;
        var size = new[] { box.MinX, box.MinY, box.MaxX, box.MaxY }.Max(Math.Abs);
        // The tongue may reach up to the tip of the main draw.
        var lattice = Lattice.For(1.2 * (size + (2 * outward) + mould.Heights.High - mould.Joint_mm));
        return (new(PlanRegion.UnionOn(lattice, [seen]), plane), lattice);
    }

    /// <summary>Places over a rectangle of a piece's own plan, its border included.</summary>
    internal static IEnumerable<Vec2> Places(Vec2 low, Vec2 high)
    {
        var (columns, rows) = ((int)Math.Ceiling((high.X - low.X) / Look_mm), (int)Math.Ceiling((high.Y - low.Y) / Look_mm));
        for (var i = 0; i <= columns; i++)
            for (var j = 0; j <= rows; j++)
                yield return new(low.X + ((high.X - low.X) * i / Math.Max(1, columns)), low.Y + ((high.Y - low.Y) * j / Math.Max(1, rows)));
    }
}
