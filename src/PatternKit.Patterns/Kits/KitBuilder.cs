using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Boards;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Checks;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Cores.Hollows;
using PatternKit.Patterns.Coupons;
using PatternKit.Patterns.Feeding;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Impressions;
using PatternKit.Patterns.Loose;
using PatternKit.Patterns.Meshes;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Pieces;
using PatternKit.Patterns.Plates;
using PatternKit.Patterns.Pouring;
using PatternKit.Patterns.Printing;
using static System.FormattableString;
using static PatternKit.Patterns.Moulding.MouldHalves;

namespace PatternKit.Patterns.Kits;

/// <summary>The way from a job to its kit: part, casting, joint, halves. Pure; nothing touches the disk.</summary>
public static class KitBuilder
{
    /// <summary>Builds the kit of a job.</summary>
    /// <param name="job">The job as read.</param>
    /// <param name="tables">Trade tables, the shop's own values included.</param>
    /// <exception cref="InputException">The job cannot be made: no metal, a cut that opens nowhere, a name that no table has.</exception>
    public static Kit Build(Job job, FoundryTables tables)
    {
        // Where fillets of several floors are crowded a facet between them may come out steep; smaller ones leave it room. Where they do not, the full ones are made and the kit tells of it.
        var start = Start.Of(job, tables);
        var places = ImmutableArray<SteepPlace>.Empty;
        // Patterns on plates are seen only once the halves are right.
        var most = job.Plate is null ? SteepPlace.MostTries : 2 * SteepPlace.MostTries;
        for (var times = 0; job.Mesh is null && times <= most; times++)
        {
            var (kit, steep) = Built(start, tables, places, isTrial: true);
            if (kit is not null && steep.IsEmpty) return InsetBuilder.Into(kit, tables);
            places = places.AddRange(steep);
        }

        return InsetBuilder.Into(Built(start, tables, [], isTrial: false).Kit!, tables);
    }

    /// <summary>What hangs on no fillet: the castings laid in the mould, with their allowances.</summary>
    /// <param name="Job">The job, of several castings with the features of all.</param>
    /// <param name="Alloy">Its metal.</param>
    /// <param name="Sand">Its sand.</param>
    /// <param name="Part">All that is cast.</param>
    /// <param name="Allowances">Rules go by the size of one part, however many there are of it.</param>
    /// <param name="One">That part.</param>
    /// <param name="OfOne">Its loose pieces.</param>
    /// <param name="Several">Several castings; null for one that lies as the job has it.</param>
    private sealed record Start(Job Job, Alloy Alloy, Sand Sand, PartBody Part, Allowances Allowances, PartBody One, ImmutableArray<LoosePart> OfOne, MouldCastings? Several)
    {
        public static Start Of(Job job, FoundryTables tables)
        {
            if (job.Original)
                throw new InputException(PartBody.Source(job), "original", "the part itself is the pattern, so that there is none to make. \"patternkit check\" tells whether it will do and what the casting will measure; take original out to have a pattern made.");
            var (alloy, sand) = Materials(job, tables);
            var part = job.Mesh is null ? PartBody.From(job) : MeshCasting.Part(job.Mesh);
            var allowances = Allowances.Resolve(job, part.Box.Size, tables);
            if (job.Mesh is not null) allowances = MeshCasting.Limited(allowances);
            if (MouldCastings.Of(job, part, allowances, tables) is not { } several) return new(job, alloy, sand, part, allowances, part, job.Loose, null);
            var laid = several.Laid(job);
            return new(laid, alloy, sand, several.Body(laid), several.With(allowances), part, job.Loose, several);
        }
    }

    /// <summary>Builds a kit; of a trial, no more than its halves where they come out steep.</summary>
    private static (Kit? Kit, ImmutableArray<SteepPlace> Steep) Built(Start start, FoundryTables tables, ImmutableArray<SteepPlace> steep, bool isTrial)
    {
        var (job, alloy, sand, part, allowances, one, ofOne, several) = start;
        var (copeTexts, dragTexts) = Both(half => PartingMarks.Texts(job, half, allowances, tables.Joint.Mark));
        // Whatever the parting will be, the letters can be drawn meanwhile.
        _ = Task.Run(() => Both(half => (half == MouldHalf.Cope ? copeTexts : dragTexts)[0].Block.Value));
        var stocked = job.Mesh is null ? null : MeshStock.Of(job.Mesh, allowances.Stock.Value);
        var mesh = stocked?.Mesh;
        var lie = mesh is null ? null : MeshCasting.Lie(job, mesh, part, tables);
        var casting = stocked is null ? CastingBody.From(job, part, allowances) : MeshCasting.Casting(part, stocked, allowances, job);
        CarvedJoint? carved = null;
        if (lie is not null && job.Parting.Joint != JointKind.Flat)
            (lie, carved) = MeshJoint.Laid(job, mesh!, lie, casting, allowances.DraftOutside.Value, part.ChordTolerance_mm, tables);
        var hollows = lie is null ? MeshHollows.None : MeshHollows.Of(job, mesh!, lie);
        var left = lie is null ? null : LeftRecesses.Of(lie, job.Parting.RecessToSand, hollows);
        var choice = lie is null ? PartingChooser.Choose(job, part, casting, tables.Loose) : MeshCasting.Choice(job, lie, casting, carved, left!, hollows);
        if (several is { IsMixed: true }) choice = choice with { Reason = several.JointReason };
        var plan = lie is null ? JointPlan.From(casting, choice, tables.Loose) : MeshCasting.Plan(lie, choice, left!, hollows);

        var inset = job.Pattern.Holds switch { SizeHolds.Tip => 0, SizeHolds.Middle => 0.5, _ => 1.0 };
        var draft = new DraftAngles(allowances.DraftOutside.Value, allowances.DraftInside.Value, inset);
        var asked = Math.Min(draft.Outside, draft.Inside);
        // Chords of a round back all lie inside it: half the distance, so that the volume is as near as that of upright walls.
        var tolerance = new MeshingTolerance(plan.Terrain.Cells.Any(c => !c.Top.IsLevel || !c.Floor.IsLevel) ? part.ChordTolerance_mm / 2 : part.ChordTolerance_mm);
        var (cope, drag) = Halves(plan.Terrain);
        var corners = RoundedCorners.Of(job, plan.Terrain, cope, drag, casting.Frame, allowances, tables.DrawCheck, casting.Lattice.Step);
        if (corners.Terrain != plan.Terrain) (cope, drag) = Halves(corners.Terrain);
        var (squareCope, squareDrag) = (cope, drag);
        // Edges of meshes are no borders of flats: they are rounded with the fillets.
        var (copeRounds, dragRounds) = mesh is not null ? (RoundPlan.None, RoundPlan.None) : Both(half => RoundPlan.Of(job, half == MouldHalf.Cope ? squareCope : squareDrag, half, casting.Frame, allowances));
        var arrises = RoundedArrises.Of(corners.Terrain, copeRounds, dragRounds, casting.Lattice.Step);
        if (arrises.Terrain != corners.Terrain) (cope, drag) = Halves(arrises.Terrain);
        var ledge = Ledge.Of(cope, drag);
        if (job.Parting.Match && ledge.Width_mm > 0)
        {
            if (ledge.CopeIsWider) drag = drag.WidenedTo(cope.Footprint, ledge.Width_mm);
            else cope = cope.WidenedTo(drag.Footprint, ledge.Width_mm);
            ledge = Ledge.Of(cope, drag);
        }

        // Prints of cores are no metal: what looks at the casting looks at the halves without them.
        var (bareCope, bareDrag) = (cope, drag);
        var (plainCope, plainDrag, plainCopeRounds, plainDragRounds) = (cope, drag, copeRounds, dragRounds);
        var loads = CoreLoads.Of(alloy, sand, tables.Cores);
        var cores = lie is null ? CorePrints.Into(job, part, casting, arrises.Terrain, cope, drag, allowances, loads, tables, tolerance)
            : CorePrints.Of(new(job, mesh!, lie, casting, cope, drag, loads, tables, tolerance), hollows, cope, drag, loads, casting.Lattice);
        if (cores.Pattern is { } withPrints)
        {
            // Fillets are planned without prints too, on the same lattice, so that borders are the same to the last bit.
            (plainCope, plainDrag) = (HalfMould.Cope(withPrints.Plain, draft, withPrints.Lattice, tolerance), HalfMould.Drag(withPrints.Plain, draft, withPrints.Lattice, tolerance));
            (cope, drag) = (HalfMould.Cope(withPrints.Terrain, draft, withPrints.Lattice, tolerance), HalfMould.Drag(withPrints.Terrain, draft, withPrints.Lattice, tolerance));
            choice = choice with { PatternHeight_mm = withPrints.Terrain.Base };
            if (bareCope.IsEmpty || bareDrag.IsEmpty) choice = choice with { Reason = $"{choice.Reason}; core prints lie in the half that has no metal" };
            (squareCope, squareDrag) = (cope, drag);
            (copeRounds, dragRounds) = Both(half => RoundPlan.Of(job, half == MouldHalf.Cope ? squareCope : squareDrag, half, casting.Frame, allowances));
        }

        if (!cores.Hollows.IsEmpty) (cope, drag) = Both(half => MeshCasting.Half(mesh!, lie!, casting, choice, carved, left!, half, draft, tolerance, cores.Hollows));
        var (sharpCope, sharpDrag) = (cope, drag);
        var (copeFilleted, dragFilleted) = Both(half =>
        {
            var (sharp, rounds) = half == MouldHalf.Cope ? (sharpCope, copeRounds) : (sharpDrag, dragRounds);
            // The foot of a print stays sharp, and what carries one keeps the fillet at its own.
            var (plain, plainRounds) = half == MouldHalf.Cope ? (plainCope, plainCopeRounds) : (plainDrag, plainDragRounds);
            if (mesh is not null)
            {
                (rounds, var rounded) = MeshRoundPlan.Into(job, mesh, sharp, half, casting.Frame, allowances.Fillets, cores.HollowPrints(0));
                var (planned, filleted) = MeshFilletPlan.Into(job, mesh, rounded, half, casting.Frame, tables.Fillets, cores.HollowPrints(tables.Fillets.Series_mm[^1]));
                return (Fillets: planned, Rounds: rounds, Mould: filleted);
            }

            var fillets = FilletPlan.Of(job, plain, half, casting.Frame, allowances, plainRounds, tables.DrawCheck, steep: steep);
            return (Fillets: fillets, Rounds: rounds, Mould: sharp.Filleted(fillets, rounds.Rims));
        });
        ((var copeFillets, copeRounds, cope), (var dragFillets, dragRounds, drag)) = (copeFilleted, dragFilleted);
        // What is drawn sideways sits on the finished walls; a half that carries any is not cut.
        var loose = LoosePlan.Of(job, cope, drag, casting.Frame, allowances, tables, tolerance);
        var (copeCuts, dragCuts) = Both(half => job.Plate is not null || loose.IsIn(half) ? null : BedCutPlanner.Of(half == MouldHalf.Cope ? cope : drag, tables, PlanRegion.Empty));
        // What needs no mesh is made beside the meshes, once nothing that they wait for is kept from a processor by it.
        var prepared = Task.WhenAll(cope.Prepared, drag.Prepared);
        var added = After(prepared, () => AddedTo(cope, drag));
        var cavity = new Lazy<Task<CastingGrid>>(() => After(prepared, () => CastingGrid.Of(
            bareCope, bareDrag, cores.Plan.Cores, loose.Made, casting.RawVolume_mm3 * Math.Pow(allowances.Scale, 3), (alloy.MinimumSection_mm?.Value ?? CastingGrid.UsualThin_mm) * allowances.Scale)));
        // Read beside the meshes; a job without gating needs none.
        if (job.Gating?.Wanted != false) _ = cavity.Value;
        var thinMetal = mesh is not null ? Task.Run(() => MeshThinMetal.Of(mesh.Body, alloy, lie!.Joint_mm, left!.IsEmpty ? null : left.IsBeside, hollows.IsBeside)) : null;
        var sandFindings = After(prepared, () => carved is not null ? [.. CarvedFindings.Of(carved, casting.Frame, tables.Joint), .. thinMetal?.GetAwaiter().GetResult() ?? []] : InTheSand(
            cope, drag, bareCope, bareDrag, thinMetal is null ? [.. ThinSections.Of(bareCope, bareDrag, arrises.Terrain, alloy, casting.Frame)] : thinMetal.GetAwaiter().GetResult(), sand, casting.Frame, tables.DrawCheck, tables.Fillets));
        var draftChange = mesh is null ? null : Task.Run(() => DraftChange.Of(mesh.Body, bareCope, bareDrag, casting.Frame, draft).ToImmutableArray());
        var pockets = job.Plate is not null ? JointPockets.None("the halves stand on plates")
            : JointPockets.Of(job, cope, drag, allowances, tables, half => half == MouldHalf.Cope ? copeTexts : dragTexts, half => ((half == MouldHalf.Cope ? copeCuts : dragCuts)?.Taken ?? PlanRegion.Empty).Union(loose.Seats(half)));
        var (wholeCope, wholeDrag) = Both(half => PlacedHalves.Body(half == MouldHalf.Cope ? cope : drag, half, pockets.Of(half)));
        var (copeBody, dragBody) = Both(half => half == MouldHalf.Cope ? loose.Seated(wholeCope, cope, half, pockets.Of(half)) : loose.Seated(wholeDrag, drag, half, pockets.Of(half)));
        if (isTrial && SteepPlace.Of(new[] { copeBody, dragBody }.OfType<KitBody>(), asked) is { IsEmpty: false } found) return (null, found);
        var inspecting = Task.Run(() => Both(half => (half == MouldHalf.Cope ? copeBody : dragBody) is { } body ? MeshInspection.Inspect(body.AsPrinted) : null));
        ImmutableArray<KitBody> bodies = [.. new[] { copeBody, dragBody }.OfType<KitBody>()];
        // Seats of loose pieces are filled by them as the sand is rammed: what is cast is the whole half and what stands out of it.
        ImmutableArray<KitBody> whole = [.. new[] { wholeCope, wholeDrag }.OfType<KitBody>()];
        ImmutableArray<KitBody> moulded = [.. whole, .. loose.Made.Select(l => l.Metal)];
        ImmutableArray<CutBody> cutHalves =
            [.. new[] { PlacedHalves.Pieces(cope, copeBody, copeCuts, pockets.Of(MouldHalf.Cope)), PlacedHalves.Pieces(drag, dragBody, dragCuts, pockets.Of(MouldHalf.Drag)) }.OfType<CutBody>()];

        var bridge = cores.Bridged(Bridge(casting, plan, corners.Added_mm3, arrises.Removed_mm3, added.GetAwaiter().GetResult(), whole, pockets)).With(loose.Made);
        // Pockets of the parting faces leave nothing in the sand.
        var solid_mm3 = bridge.Pattern_mm3 - bridge.Pockets_mm3 - cores.NoMetal_mm3(cope, drag);
        var casting_kg = solid_mm3 / Math.Pow(allowances.Scale, 3) * 1e-9 * alloy.Density_kg_m3.Value;
        var castings = several?.Places(allowances.Scale) ?? [];
        var metalBodies = cores.Plan.Cores.IsEmpty ? moulded : [.. cores.CastingBodies(whole), .. moulded.Skip(whole.Length)];
        var stage = new PouringStage(
            alloy, sand, tables, bareCope, bareDrag, cope, metalBodies, solid_mm3, casting_kg, casting.Frame, draft.Outside, tolerance, cores.Plan.Plan.Union(loose.Plan), cores.Plan.Surface_mm2 - (2 * loose.Made.Sum(l => l.Back_mm2)),
            () => cavity.Value.GetAwaiter().GetResult(), () => sandFindings.GetAwaiter().GetResult(), castings);
        var (gating, filling, feeding) = stage.Reckon(job);
        var barsUnsound = Unsound((gating?.Bars ?? []).Select(b => b.Body));
        var coring = Task.Run(() => cores.Plan.Make(tables, tolerance, gating?.Position.Up ?? GridUp.Z));
        var pouring = Task.Run(() => PourPlanner.Of(
            new(bareCope, bareDrag, metalBodies, moulded, pockets, gating, feeding, coring.GetAwaiter().GetResult(), cores.Plan.Plan, loose.Plan, casting_kg, casting.Lattice, casting.Frame, () => stage.Cavity().Thickness) { Constant_s_mm2 = filling?.MouldConstant_s_mm2 }, alloy, sand, tables));
        var plate = PlateBuilder.Build(job, tables, (sharpCope, sharpDrag), (plainCope, plainDrag), (cope, drag), gating, casting_kg, added.GetAwaiter().GetResult().Fillet_mm3, casting.Frame, allowances, steep);
        var plateUnsound = Unsound(plate?.Bodies ?? []);
        var kitCores = coring.GetAwaiter().GetResult();
        var coresUnsound = Unsound(kitCores.SelectMany(c => c.Bodies));
        var (copeMade, dragMade) = (copeFillets.Made(cope.TurnedFillet_mm), dragFillets.Made(drag.TurnedFillet_mm));
        var (copeReport, dragReport) = inspecting.GetAwaiter().GetResult();
        var (copeUnsound, dragUnsound) = (Unsound(copeBody, copeReport), Unsound(dragBody, dragReport));
        if (copeUnsound is not null) RefuseConsumed(job, cope, casting.Frame);
        if (dragUnsound is not null) RefuseConsumed(job, drag, casting.Frame);
        if (carved is null)
        {
            RefuseLoose(job, copeBody, copeReport, casting.Frame);
            RefuseLoose(job, dragBody, dragReport, casting.Frame);
        }

        var board = mesh is null ? null : FollowBoardBuilder.Build(job, mesh, casting, carved, (cope, drag), casting_kg, draft, tolerance, tables);
        ImmutableArray<CutBody> cutPattern = [.. plate?.Cut ?? cutHalves, .. board?.Cut is { } cutBoard ? [cutBoard] : Array.Empty<CutBody>()];
        ImmutableArray<CutBody> cut = [.. cutPattern, .. kitCores.SelectMany(c => c.Box.Cut)];
        // Those of core boxes are looked at with their cores.
        var pieces = cutPattern.SelectMany(c => c.Pieces).ToArray();
        var measures = new MeasureReckoning(bareCope, bareDrag, mesh is null ? UndraftedMetal.Of(casting.Map) : UndraftedMetal.Of(mesh.Body, casting.Frame.Scale), casting.Frame, allowances, alloy, sand, tables);
        var coupon = bodies.IsEmpty ? null : CouponBuilder.Build(job, allowances, sand, tables, BoxOf([.. bodies, .. loose.Made.Select(l => l.Body), .. plate?.Bodies ?? [], .. (gating?.Bars ?? []).Select(b => b.Body), .. kitCores.SelectMany(c => c.Bodies), .. board is null ? [] : new[] { board.Body }]), bodies.Max(b => b.AsPrinted.Bounds().Size.Z));
        ImmutableArray<KitBody> loosePieces = [.. loose.Made.Select(l => l.Body)];
        ImmutableArray<MeasureResult> measured = [.. job.Measures.Select(measures.Of)];
        var kit = new Kit(
            job,
            alloy.Title,
            one.Volume_mm3 + ofOne.Sum(l => l.Finished.Volume_mm3),
            ofOne.Select(l => l.Finished.Box).Aggregate(one.Box, (all, box) => all.With(box.Low).With(box.High)),
            allowances.Scale,
            KitDecisions.Of(job, allowances, choice, carved, [.. casting.Decisions, .. corners.Decisions, .. copeMade.Decisions, .. dragMade.Decisions], [.. arrises.Decisions, .. copeRounds.Decisions, .. dragRounds.Decisions], pockets, [.. several?.Decisions ?? [], .. plate?.Decisions ?? [], .. board?.Decisions ?? [], .. CutFindings.Decisions(cut, tables.BedCuts), .. CorePlan.Decisions(kitCores, cores.Plan.Cores, tables), .. LooseFindings.Decisions(loose, tables.Loose), .. coupon?.Decisions ?? []], tolerance),
            new(choice.Height_mm, choice.PatternHeight_mm, choice.Low_mm, choice.High_mm, ledge.Width_mm, choice.Added_mm3, choice.Reason) { Carved = carved },
            bridge,
            bodies,
            pockets.Dowels,
            measured,
            Metal(alloy, casting_kg, gating),
            Figures(cope, drag, pockets.Marks),
            InItsUnit([
                .. part.Findings, .. several is null ? [] : several.Near(cope.Footprint.Union(drag.Footprint).Union(loose.Plan), casting.Frame, casting_kg, tables), .. several?.Findings ?? [], .. cores.Plan.Findings, .. CorePlan.Lifted(kitCores, casting.Frame), .. LooseFindings.Of(loose, sand, tables, casting.Frame), .. FineLetters.Of(job, sand, tables.Letters), .. casting.Findings, .. choice.Findings, .. plan.Findings,
                .. sandFindings.GetAwaiter().GetResult(), .. copeMade.Findings, .. dragMade.Findings, .. copeRounds.Findings, .. dragRounds.Findings, .. Undrafted([.. bodies, .. plate?.Bodies ?? [], .. board is null ? [] : new[] { board.Body }, .. pieces], draft, casting.Frame), .. loose.Made.SelectMany(l => Undrafted([l.Body], new(l.Draft.Value, l.Draft.Value), casting.Frame)), .. (coupon?.Trials ?? []).SelectMany(t => Undrafted([t.Body], t.Draft, casting.Frame)),
                .. draftChange?.GetAwaiter().GetResult() ?? [], .. Stepped(ledge, choice, casting.Frame, tables.Joint.Ledge_mm, lie is not null, carved is not null), .. plate?.Findings ?? [.. carved is not null ? [] : Unregistered(cope, drag, allowances, pockets, tables.Dowels)],
                .. DrawScrews.Lacking(pockets.Handling, choice.PatternHeight_mm, casting.Frame, tables.Handling),
                .. new[] { copeUnsound, dragUnsound }.OfType<Finding>(), .. barsUnsound.Value, .. plateUnsound.Value, .. Unsound(board is null ? [] : [board.Body]).Value,
                .. coresUnsound.Value, .. Unsound([.. loosePieces, .. pieces, .. coupon?.Bodies ?? []]).Value,
                .. tables.Printer is null ? [] : CutFindings.Of(cut, tables.Printer), .. PrinterBed.Of(PlateBuilder.ToPrint(bodies, cutHalves, plate, gating).Concat(loosePieces).Concat(kitCores.SelectMany(c => c.Box.Printed)).Concat(coupon?.Bodies ?? []).Concat(board?.Printed ?? []), tables.Printer),
                .. gating?.Findings ?? [], .. filling?.Findings ?? [], .. feeding?.Findings ?? [], .. MeasureFindings.Of(job.Measures, measured), .. pouring.GetAwaiter().GetResult()?.Findings ?? [], .. Hazard(alloy, job),
            ]),
            tables.CautionsFor(alloy, sand, !kitCores.IsEmpty),
            gating)
        {
            CastParts = several?.Cast(casting_kg) ?? [],
            DraftAsked = asked,
            Filling = filling,
            Stage = gating is null ? null : stage,
            Feeding = feeding,
            Handling = pockets.Handling,
            CutHalves = cutHalves,
            Plate = plate,
            FollowBoard = board,
            Cores = kitCores,
            Loose = loose.Made,
            Coupon = coupon,
            Pouring = pouring.GetAwaiter().GetResult(),
        };
        return (kit, isTrial && plate is not null ? SteepPlace.Of(plate.Bodies, asked) : []);

        ImmutableArray<Finding> InItsUnit(ImmutableArray<Finding> findings) => [.. findings.Select(f => f.In(job.Unit))];

        (HalfMould Cope, HalfMould Drag) Halves(TerrainMap terrain) => Both(half =>
            lie is not null ? MeshCasting.Half(mesh!, lie, casting, choice, carved, left!, half, draft, tolerance)
            : half == MouldHalf.Cope
            ? HalfMould.Cope(terrain, draft, casting.Lattice, tolerance)
            : HalfMould.Drag(terrain, draft, casting.Lattice, tolerance));
    }

    private static Box3 BoxOf(IEnumerable<KitBody> bodies) => bodies.Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, b) => all.With(b.Low).With(b.High));

    /// <summary>A body that is not sound because nothing was left between two recesses: the job can be mended, so it is told what to change.</summary>
    private static void RefuseConsumed(Job job, HalfMould mould, PatternFrame frame)
    {
        var consumed = mould.Consumed();
        if (consumed.IsEmpty) return;
        var p = consumed.InnerPoint;
        var at = frame.ToJob(new(p.X, p.Y, mould.Joint_mm));
        throw new InputException(PartBody.Source(job), "", Invariant(
            $"near ({at.X:0.#}, {at.Y:0.#}) mm the metal between a recess from above and one from below is thinner than the taper takes away; use taper = \"plus\", less draft, or move them apart."));
    }

    /// <summary>A piece that hangs over the joint beside all others is no pattern that lies on a board: the part is drawn in pieces by mistake.</summary>
    private static void RefuseLoose(Job job, KitBody? body, MeshReport? report, PatternFrame frame)
    {
        if (body is null || report is null) return;
        // As printed, the body lies on its joint face.
        foreach (var piece in report.Pieces.Where(p => p.Low.Z > 0))
        {
            var lowest = Enumerable.Range(0, body.AsPrinted.Vertices.Length).First(v => body.AsPrinted.Vertices[v] is var p && p.Z == piece.Low.Z && piece.Low.X <= p.X && p.X <= piece.High.X && piece.Low.Y <= p.Y && p.Y <= piece.High.Y);
            var at = frame.ToJob(body.InMould.Vertices[lowest]);
            throw new InputException(PartBody.Source(job), "", Invariant(
                $"near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm a piece of the part touches neither the rest of it nor the joint, so that it would hang in the sand; join it to the rest, or make a job of it."));
        }
    }

    /// <summary>What the job names, from the tables.</summary>
    /// <exception cref="InputException">It is not there.</exception>
    internal static (Alloy Alloy, Sand Sand) Materials(Job job, FoundryTables tables)
    {
        var source = PartBody.Source(job);
        try
        {
            return (tables.Alloy(job.Alloy), tables.Sand(job.Sand));
        }
        catch (UnknownNameException e)
        {
            throw new InputException($"{source}: {e.Message}", e);
        }
    }

    private static async Task<T> After<T>(Task before, Func<T> work)
    {
        await before.ConfigureAwait(false);
        return await Task.Run(work).ConfigureAwait(false);
    }

    /// <summary>What draft and what fillets add to the halves and what rounded edges take away, without any mesh.</summary>
    private static (double Draft_mm3, double Fillet_mm3, double Round_mm3) AddedTo(params HalfMould[] halves)
    {
        var moulds = halves.Where(h => !h.IsEmpty).ToArray();
        return (moulds.Sum(h => h.DraftedVolume_mm3() - h.UndraftedVolume_mm3()), moulds.Sum(h => h.FilletVolume_mm3()), -moulds.Sum(h => h.RoundedVolume_mm3()));
    }

    /// <summary>What the shape of the halves does to the sand and to the metal in it.</summary>
    private static ImmutableArray<Finding> InTheSand(HalfMould cope, HalfMould drag, HalfMould bareCope, HalfMould bareDrag, ImmutableArray<Finding> thinMetal, Sand sand, PatternFrame frame, DrawTable check, FilletTable fillets) =>
    [
        .. FragileSand.Of(cope, drag, sand, check, frame), .. thinMetal, .. SquareCorners.Of((bareCope, bareDrag), (cope, drag), check, fillets, frame),
    ];

    private static VolumeBridge Bridge(
        CastingBody casting, JointPlan plan, double corners_mm3, double arrises_mm3, (double Draft_mm3, double Fillet_mm3, double Round_mm3) added, ImmutableArray<KitBody> bodies,
        JointPockets pockets)
    {
        var v = casting.Volumes;
        var sunk = bodies.SelectMany(b => pockets.Of(b.Half)).Sum(p => p.Region.Area * p.Depth);
        return new(
            v.Part_mm3, v.Stock_mm3, v.Filled_mm3 + plan.Trapped_mm3 + plan.Recess_mm3, v.Contraction_mm3, v.Rapping_mm3 + v.Camber_mm3,
            v.Draft_mm3 + added.Draft_mm3, v.Fillet_mm3 + corners_mm3 + added.Fillet_mm3, v.Round_mm3 + added.Round_mm3 - arrises_mm3, -sunk, bodies.Sum(b => b.AsPrinted.Volume()));
    }

    private static MetalSummary Metal(Alloy alloy, double casting_kg, GatingPlan? gating) => new(
        alloy.Density_kg_m3.Value, alloy.Density_kg_m3.From.Text, casting_kg, gating?.Metal.Poured_kg ?? casting_kg,
        gating is null or { Bars.IsEmpty: true }
            ? "the casting alone: sprue, runner and feeders come on top"
            : gating.Bars.Any(b => b.Kind == BarKind.Feeder) ? "casting, gating bars and feeders" : "casting and gating bars");

    private static PlanFigures Figures(HalfMould cope, HalfMould drag, ImmutableArray<PartingMark> marks) => new(
        cope.Standing,
        drag.Standing,
        [
            .. cope.Flats().Select(f => (MouldHalf.Cope, f.Height, f.Region)),
            .. drag.Flats().Select(f => (MouldHalf.Drag, -f.Height, f.Region)),
        ],
        [.. marks.Select(m => (m.Half, m.Text, m.Region))]);

    /// <summary>A facet that came out with less draft than asked does not go out unseen.</summary>
    private static IEnumerable<Finding> Undrafted(IEnumerable<KitBody> bodies, DraftAngles draft, PatternFrame frame)
    {
        const double degrees = 180 / Math.PI, slack_deg = SteepPlace.Slack * degrees;
        var asked_deg = Math.Min(draft.Outside, draft.Inside) * degrees;
        foreach (var body in bodies)
        {
            var least_deg = body.LeastDraft * degrees;
            if (body.LeastDraftAt is not { } place || least_deg >= asked_deg - slack_deg) continue;
            var at = frame.ToJob(place);
            yield return new(
                "no-draft", Severity.Warn,
                Invariant($"The {body.Name} half has a wall of {least_deg:0.##}° near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm where {asked_deg:0.##}° are asked; it may be no wider than a hair."),
                at, least_deg, asked_deg, "the draft of this job",
                "Look at it in the mesh; sand it off, or change what is crowded there. Report it as a defect.", "deg");
        }
    }

    private static IEnumerable<Finding> Stepped(Ledge ledge, PartingChoice choice, PatternFrame frame, Quoted limit, bool isMesh, bool isCarved)
    {
        if (ledge.Width_mm <= limit.Value) yield break;
        var at = frame.ToJob(new(ledge.At_mm.X, ledge.At_mm.Y, choice.PatternHeight_mm));
        yield return new(
            "ledge", Severity.Warn,
            Invariant($"At the joint the {(ledge.CopeIsWider ? "cope" : "drag")} half stands {ledge.Width_mm:0.##} mm out over the other near ({at.X:0.#}, {at.Y:0.#}) mm: its wall is higher there and has the longer run of draft. The casting gets a step."),
            at, ledge.Width_mm, limit.Value, limit.From.Text,
            isCarved ? "Part where both walls are about as high, or blend the step on the casting."
            : isMesh ? "Part where both walls are about as high, let sizes hold at the parting (hold = \"parting\"), or blend the step on the casting."
            : "Widen the narrower half with [parting] match = true, part where both walls are about as high, or let sizes hold at the parting (hold = \"parting\").", "mm");
    }

    private static IEnumerable<Finding> Unregistered(HalfMould cope, HalfMould drag, Allowances allowances, JointPockets pockets, DowelTable table)
    {
        if (cope.IsEmpty || drag.IsEmpty || allowances.Dowels == false || !pockets.Dowels.IsEmpty) yield break;
        yield return new(
            "no-register", Severity.Warn, $"Nothing registers the two halves to each other: {pockets.DowelRule}.",
            Limit: (table.LeastDepth_diameters.Value * table.Diameters_mm[0]) + table.Cover_mm.Value, Source: table.LeastDepth_diameters.From.Text,
            Remedy: "Choose another height of the joint so that both halves are thicker, glue guides beside the pattern, or write dowels = \"none\" and line the halves up by their outlines.", Unit: "mm");
    }

    /// <summary>No body goes out unseen: one that is open or crosses itself stops the job.</summary>
    /// <summary>Looked at from now on, beside all else.</summary>
    private static Lazy<ImmutableArray<Finding>> Unsound(IEnumerable<KitBody> bodies)
    {
        var looking = bodies.Select(b => Task.Run(() => Unsound(b, MeshInspection.Inspect(b.AsPrinted)))).ToArray();
        return new(() => [.. looking.Select(l => l.GetAwaiter().GetResult()).OfType<Finding>()]);
    }

    private static Finding? Unsound(KitBody? body, MeshReport? report) => body is null || report is null || report.IsValid ? null : new(
            "open-mesh", Severity.Stop, $"The body {body.Name} came out unsound and cannot be printed: {report}",
            Remedy: "Let sizes hold at the tip (taper = \"plus\"), or thicken what is thin where both halves meet; and report it as a defect.");

    /// <summary>Acknowledging takes the stop away, not the words.</summary>
    internal static IEnumerable<Finding> Hazard(Alloy alloy, Job job)
    {
        if (!alloy.Hazardous) yield break;
        var acknowledged = job.Acknowledged?.Contains(Finding.HazardousAlloy) == true;
        yield return new(
            Finding.HazardousAlloy, acknowledged ? Severity.Warn : Severity.Stop,
            $"{alloy.Title}: {alloy.Hazard!.Text}{(acknowledged ? " The job acknowledges this." : "")}", Source: alloy.Hazard.From.Text,
            Remedy: acknowledged
                ? "Keep to the cautions, to local rules and to licensed practice."
                : $"Read the cautions and local rules and take advice from licensed practice; if you are equipped for it, write acknowledged = [\"{Finding.HazardousAlloy}\"] in the job.");
    }
}
