using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Pieces;
using static System.FormattableString;
using static PatternKit.Patterns.Moulding.MouldHalves;

namespace PatternKit.Patterns.Plates;

/// <summary>Puts the halves and the lying gating bars on plates, with fillets to them and holes for the flask's pins.</summary>
internal sealed class PlateBuilder
{
    private const double Chord_mm = 0.005;

    private readonly Job job;
    private readonly PlateSettings asked;
    private readonly FoundryTables tables;
    private readonly HalfMould cope;
    private readonly HalfMould drag;
    private readonly (HalfMould Cope, HalfMould Drag) bare;
    private readonly (HalfMould Cope, HalfMould Drag) loose;
    private readonly ImmutableArray<GatingBar> bars;
    private readonly PatternFrame frame;
    private readonly Allowances allowances;
    private readonly ImmutableArray<SteepPlace> steep;

    private PlateBuilder(
        Job job, PlateSettings asked, FoundryTables tables, (HalfMould Cope, HalfMould Drag) halves, (HalfMould Cope, HalfMould Drag) bare, (HalfMould Cope, HalfMould Drag) loose,
        ImmutableArray<GatingBar> bars, PatternFrame frame, Allowances allowances, ImmutableArray<SteepPlace> steep)
    {
        (this.job, this.asked, this.tables, (cope, drag), this.bare, this.loose) = (job, asked, tables, halves, bare, loose);
        (this.bars, this.frame, this.allowances, this.steep) = (bars, frame, allowances, steep);
    }

    /// <summary>The plates; null where the job wants loose patterns or there is no pattern.</summary>
    /// <param name="job">The job.</param>
    /// <param name="tables">Trade tables.</param>
    /// <param name="halves">Without fillets.</param>
    /// <param name="bare">The same without core prints, at whose feet no fillets are.</param>
    /// <param name="loose">The halves with the fillets that they have without a plate.</param>
    /// <param name="gating">The bars, if any.</param>
    /// <param name="casting_kg">The raw casting.</param>
    /// <param name="own_mm3">What the fillets of the loose halves add.</param>
    /// <param name="frame">From job to pattern.</param>
    /// <param name="allowances">Draft, stock and what was asked.</param>
    /// <param name="steep">Where fillets have left too little draft before.</param>
    /// <exception cref="InputException">The part cannot stand on a plate, or size and pins do not go with it.</exception>
    public static KitPlate? Build(
        Job job, FoundryTables tables, (HalfMould Cope, HalfMould Drag) halves, (HalfMould Cope, HalfMould Drag) bare, (HalfMould Cope, HalfMould Drag) loose, GatingPlan? gating,
        double casting_kg, double own_mm3, PatternFrame frame, Allowances allowances, ImmutableArray<SteepPlace> steep)
    {
        if (job.Plate is not { } asked || (halves.Cope.IsEmpty && halves.Drag.IsEmpty)) return null;
        return new PlateBuilder(job, asked, tables, halves, bare, loose, gating?.Bars ?? [], frame, allowances, steep).Make(casting_kg, own_mm3);
    }

    /// <summary>Whether a bar stands on a plate; a sprue is set by hand.</summary>
    public static bool Holds(GatingBar bar) => !bar.Faces.IsEmpty;

    /// <summary>What is printed: the halves and the bars, or the plates and those bars that stand on none.</summary>
    /// <param name="halves">Of the pattern.</param>
    /// <param name="cutHalves">Those of them that are printed in pieces.</param>
    /// <param name="plate">What they stand on, if they do.</param>
    /// <param name="gating">The bars, if any.</param>
    public static IEnumerable<KitBody> ToPrint(ImmutableArray<KitBody> halves, ImmutableArray<CutBody> cutHalves, KitPlate? plate, GatingPlan? gating) =>
        CutBody.InPieces(plate?.Bodies ?? halves, plate?.Cut ?? cutHalves).Concat((gating?.Bars ?? []).Where(b => plate is null || !Holds(b)).Select(b => b.Body));

    private KitPlate Make(double casting_kg, double own_mm3)
    {
        RefuseSandAboveJoint();
        var table = tables.Plates;
        var sides = new[] { MouldHalf.Cope, MouldHalf.Drag }.Where(h => !Mould(h).IsEmpty || bars.Any(b => Holds(b) && b.Body.Half == h)).ToArray();
        var backToBack = asked.Kind == PlateKind.Match && sides.Length == 2;
        var ruled = backToBack ? table.Half_mm : table.Board_mm;
        var thickness = asked.Thickness_mm is { } t ? new Sourced<double>(backToBack ? t / 2 : t, "", Allowances.Given) : new(ruled.Value, ruled.From.Text, backToBack ? "each of two halves" : "patterns on one side");
        var fillet = asked.Fillet_mm is { } r ? new Sourced<double>(r, "", Allowances.Given) : new(table.Fillet_mm.Value, table.Fillet_mm.From.Text, "a small one, for the edge of the sand");
        var (low, high, margin) = Outline(casting_kg);
        var pins = Pins((low + high) / 2).ToImmutableArray();
        CheckPins(pins, low, high, fillet.Value);
        var pinHoles = pins.Select(p => UprightPocket.Through(Circle(p.At_mm, p.Hole_mm))).ToArray();

        var plan = PlanRegion.Rectangle(low, high);
        var reach = new[] { low.X, low.Y, high.X, high.Y, cope.Joint_mm, cope.Upper.Levels.FirstOrDefault(), drag.Upper.Levels.FirstOrDefault() }.Max(Math.Abs) + thickness.Value;
        var lattice = Lattice.For(1.2 * reach);
        var (copeFilleted, dragFilleted) = Both(half =>
        {
            HalfMould On(HalfMould mould) => mould.OnPlate(plan, thickness.Value, Faces(half), lattice);
            var (sharp, plain) = (On(Mould(half)), half == MouldHalf.Cope ? bare.Cope : bare.Drag);
            return Filleted(sharp, plain == Mould(half) ? sharp : On(plain), half, fillet);
        });
        var ((copePlate, copeHeld), (dragPlate, dragHeld)) = (copeFilleted, dragFilleted);
        var atPins = PlanRegion.Union(pinHoles.Select(p => p.Region.Offset(table.PinWall_mm, 0.1)));
        var copeCuts = sides.Contains(MouldHalf.Cope) ? BedCutPlanner.Of(copePlate, tables, atPins) : null;
        // Back to back one half holds the other's seams together, where theirs are elsewhere.
        var dragCuts = !sides.Contains(MouldHalf.Drag) ? null : (backToBack && copeCuts is not null ? BedCutPlanner.Of(dragPlate, tables, atPins.Union(copeCuts.Taken)) : null) ?? BedCutPlanner.Of(dragPlate, tables, atPins);
        var seams = PlanRegion.Union(new[] { copeCuts, dragCuts }.OfType<BedCutPlan>().Select(c => c.Taken));
        var dowels = backToBack && allowances.Dowels != false
            ? RegisterDowels.Place(copePlate, dragPlate, allowances.DowelDiameter_mm, tables.Dowels, atPins.Union(seams))
            : ([], "", "");
        ImmutableArray<UprightPocket> pockets = [.. pinHoles, .. dowels.Dowels.Select(d => new UprightPocket(Circle(d.At_mm, d.Hole_mm), d.Depth_mm))];
        var (copeMade, dragMade) = Both(half =>
        {
            if (!sides.Contains(half)) return default;
            var (mould, cuts) = half == MouldHalf.Cope ? (copePlate, copeCuts) : (dragPlate, dragCuts);
            var whole = Body(mould, half, mould.Body(pockets), Name(half), pockets);
            return (Whole: whole, Cut: cuts is null ? null : CutBody.Of(whole, cuts, pockets, within => mould.Body(pockets, within), (name, mesh, upright) => Body(mould, half, mesh, name, upright)));
        });
        (KitBody? Whole, CutBody? Cut)[] made = [copeMade, dragMade];
        ImmutableArray<CutBody> cut = [.. made.Select(m => m.Cut).OfType<CutBody>()];
        return new(
            backToBack, low, high, thickness.Value, fillet.Value,
            sides.Sum(half => (half == MouldHalf.Cope ? copePlate : dragPlate).FilletVolume_mm3()) - own_mm3,
            pins, dowels.Dowels, [.. made.Select(m => m.Whole).OfType<KitBody>()], cut,
            [
                new("plate_length_mm", "Plate, along x", high.X - low.X, "mm", margin.Rule, margin.Source), new("plate_width_mm", "Plate, along y", high.Y - low.Y, "mm", margin.Rule, margin.Source),
                new("plate_thickness_mm", backToBack ? "Thickness of each half of the plate" : "Thickness of the plate", thickness.Value, "mm", thickness.Rule, thickness.Source),
                new("plate_fillet_mm", "Fillets to the plate", fillet.Value, "mm", fillet.Rule, fillet.Source),
                .. pins.Select((p, i) => new Decision(Invariant($"plate_pin_{i + 1}_mm"), Invariant($"Hole for pin {i + 1} of the flask"), p.Hole_mm, "mm", Invariant($"the pin of {p.Diameter_mm:0.##} mm and its clearance"), table.PinFrom.Text)),
                .. dowels.Dowels.Select((d, i) => new Decision(Invariant($"plate_dowel_{i + 1}_mm"), Invariant($"Dowel {i + 1} between both halves of the plate, diameter"), d.Diameter_mm, "mm", dowels.Rule, dowels.Source)),
            ],
            [.. copeHeld, .. dragHeld, .. Findings(sides, pins, backToBack && dowels.Dowels.IsEmpty)]);
    }

    private HalfMould Mould(MouldHalf half) => half == MouldHalf.Cope ? cope : drag;

    private void RefuseSandAboveJoint()
    {
        if ((cope.SandAboveJoint ?? drag.SandAboveJoint) is not { } p) return;
        var at = frame.ToJob(new(p.X, p.Y, 0));
        throw new InputException(PartBody.Source(job), "", Invariant(
            $"plate: near ({at.X:0.#}, {at.Y:0.#}) mm sand of one half stands over the joint into the other, and plates of such parts are not made in this release. Write plate = \"none\", or choose a joint ([parting] at) below that recess."));
    }

    /// <summary>The plate's corners: as asked, or with sand all round what stands on it, in whole millimetres.</summary>
    private (Vec2 Low, Vec2 High, Sourced<double> Margin) Outline(double casting_kg)
    {
        var feet = PlanRegion.Union([cope.Footprint, drag.Footprint, .. bars.Select(b => b.Plan)]).Geometry.EnvelopeInternal;
        var middle = new Vec2(feet.MinX + feet.MaxX, feet.MinY + feet.MaxY) / 2;
        if (asked.Size_mm is { } size)
        {
            if (size.Length_mm < feet.Width || size.Width_mm < feet.Height)
            {
                throw new InputException(PartBody.Source(job), "", Invariant(
                    $"size of [plate] is {size.Length_mm:0.#} × {size.Width_mm:0.#} mm, and what stands on it takes {feet.Width:0.#} × {feet.Height:0.#} mm. Write a larger size, or leave it out."));
            }

            var half = new Vec2(size.Length_mm, size.Width_mm) / 2;
            return (middle - half, middle + half, new(0, "", Allowances.Given));
        }

        var margin = tables.Plates.Margin_mm(casting_kg);
        var by = new Vec2(Math.Ceiling(feet.Width + (2 * margin.Value)), Math.Ceiling(feet.Height + (2 * margin.Value))) / 2;
        return (middle - by, middle + by, margin);
    }

    private IEnumerable<PinHole> Pins(Vec2 middle) =>
        from pin in asked.Pins.IsDefault ? [] : asked.Pins
        select new PinHole(middle + pin.At_mm, pin.At_mm, pin.Diameter_mm, pin.Diameter_mm + tables.Plates.PinClearance_mm);

    private void CheckPins(ImmutableArray<PinHole> pins, Vec2 low, Vec2 high, double fillet_mm)
    {
        var wall = tables.Plates.PinWall_mm;
        var inside = PlanRegion.Rectangle(low, high);
        var taken = PlanRegion.Union([cope.Footprint, drag.Footprint, .. bars.Where(Holds).Select(b => b.Plan)]).Offset(fillet_mm + wall, 0.1);
        for (var i = 0; i < pins.Length; i++)
        {
            var (pin, around) = (pins[i], Circle(pins[i].At_mm, pins[i].Hole_mm + (2 * wall)));
            var why = !inside.Covers(around) ? "it comes too near the edge of the plate"
                : !taken.Intersection(Circle(pin.At_mm, pin.Hole_mm)).IsEmpty ? "a pattern or bar stands there"
                : pins.Take(i).Any(p => Vec2.Distance(p.At_mm, pin.At_mm) < ((p.Hole_mm + pin.Hole_mm) / 2) + wall) ? "it meets another pin" : null;
            if (why is null) continue;
            throw new InputException(PartBody.Source(job), "", Invariant(
                $"the pin of [plate] at ({pin.FromMiddle_mm.X:0.##}, {pin.FromMiddle_mm.Y:0.##}) mm from the middle cannot be: {why} ({wall:0.##} mm of plate are left round it; the plate is {high.X - low.X:0.#} × {high.Y - low.Y:0.#} mm)."));
        }
    }

    /// <summary>The faces of bars of a half. Ingates reach the casting, and flare into its wall, so that no square corner is left between both.</summary>
    private IEnumerable<(PlanRegion Region, double Height_mm)> Faces(MouldHalf half)
    {
        var mould = Mould(half);
        foreach (var bar in bars.Where(b => b.Body.Half == half))
            foreach (var face in bar.Faces)
                yield return (bar.Kind == BarKind.Ingate && !mould.IsEmpty ? Joined(face, mould) : face.Region, face.Depth_mm);
    }

    private PlanRegion Joined(BarFace face, HalfMould mould)
    {
        var radius = Fillets.Least(tables.Fillets, face.Depth_mm).Value;
        var section = mould.Section(mould.Joint_mm + face.Depth_mm);
        if (section.IsEmpty) section = mould.Footprint;
        return face.Region.Union(section).Offset(radius, Chord_mm).Offset(-radius, Chord_mm).Intersection(face.Region.Offset(2 * radius, Chord_mm)).Union(face.Region);
    }

    /// <summary>A half on its plate with fillets and rounded edges, and what held the fillets to the plate back; the rest is as on the loose half.</summary>
    private (HalfMould Mould, IEnumerable<Finding> Held) Filleted(HalfMould sharp, HalfMould plain, MouldHalf half, Sourced<double> fillet)
    {
        var rounds = RoundPlan.Of(job, sharp, half, frame, allowances);
        var fillets = FilletPlan.Of(job, plain, half, frame, allowances, rounds, tables.DrawCheck, fillet, steep);
        var face = frame.ToJob(new(0, 0, (half == MouldHalf.Cope ? 1 : -1) * sharp.PlateFace_mm!.Value)).Z;
        var filleted = sharp.Filleted(fillets, rounds.Rims, half == MouldHalf.Cope ? loose.Cope : loose.Drag);
        return (filleted, fillets.Made(filleted.TurnedFillet_mm).Findings.Where(f => f.At_mm is { } at && Math.Abs(at.Z - face) < 1e-6).Select(Softened));
    }

    /// <summary>At the face of a plate a missing fillet only leaves what a loose pattern leaves: a sharp edge of sand at the joint.</summary>
    private static Finding Softened(Finding f) => f with { Code = "fillet-capped", Severity = Severity.Note, Remedy = "Nothing, if the edge of the sand is firm; or run a small fillet of wax along the foot." };

    /// <summary>The plate lifted by its thickness, so that its back is at the joint.</summary>
    private static KitBody Body(HalfMould mould, MouldHalf half, TriangleMesh mesh, string name, ImmutableArray<UprightPocket> pockets)
    {
        var face = mould.PlateFace_mm!.Value;
        return PlacedHalves.Place(name, half, mesh.Mapped(v => v with { Z = v.Z + (face - mould.Joint_mm) }), face, pockets);
    }

    private static string Name(MouldHalf half) => half == MouldHalf.Cope ? "plate-cope" : "plate-drag";

    private IEnumerable<Finding> Findings(MouldHalf[] sides, ImmutableArray<PinHole> pins, bool noDowels)
    {
        if (noDowels && allowances.Dowels != false)
        {
            yield return new("no-register", Severity.Warn, "No dowels fit between both halves of the plate: nothing registers them to each other.",
                Source: tables.Dowels.Depth_diameters.From.Text, Remedy: "Make the plate thicker ([plate] thickness), or line both halves up by the holes of the flask's pins.");
        }

        if (sides.Length == 2 && asked.Kind == PlateKind.Boards && !pins.IsEmpty && CanTurn(pins))
        {
            yield return new("plate-turns", Severity.Warn, "The pins let the drag be set the wrong way round under the cope: turned by half a turn they meet the same holes.",
                Source: "common practice", Remedy: "Give the pins two diameters, or set them off the middle, and do the same at the flasks.");
        }
    }

    /// <summary>Whether half a turn about the middle brings every pin to one of its size.</summary>
    private static bool CanTurn(ImmutableArray<PinHole> pins) =>
        pins.All(p => pins.Any(q => q.Hole_mm == p.Hole_mm && Vec2.Distance(q.FromMiddle_mm, -1 * p.FromMiddle_mm) < 0.5));

    private static PlanRegion Circle(Vec2 at, double diameter) => PlanRegion.EvenOdd([PlanPath.Circle(at, diameter)], Chord_mm);
}
