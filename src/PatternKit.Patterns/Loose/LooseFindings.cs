using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Loose;

/// <summary>What is to be told of loose pieces: how they draw, or why they do not.</summary>
internal static class LooseFindings
{
    private static readonly double[] Shares = [0.5, 1];

    /// <summary>The findings, piece by piece.</summary>
    public static IEnumerable<Finding> Of(LoosePlan plan, Sand sand, FoundryTables tables, PatternFrame frame) =>
        plan.Pieces.Zip(plan.Made).SelectMany(p => Of(p.First.Piece, p.First.Travel, p.Second, sand, tables.Loose, frame));

    /// <summary>What is decided about the pieces, with rule and source.</summary>
    public static IEnumerable<Decision> Decisions(LoosePlan plan, LooseTable table)
    {
        foreach (var p in plan.Made)
        {
            string Key(string what) => $"{p.Body.Name.Replace('-', '_').Replace('.', '_')}_{what}";
            string Label(string what) => $"Loose piece “{p.Part.Name}”, {what}";
            yield return new(Key("draft_deg"), Label("draft along its own draw"), p.Draft.Value * 180 / Math.PI, "deg", p.Draft.Rule, p.Draft.Source);
            yield return new(Key("out_mm"), Label("how far it stands out from the drafted wall"), p.Out_mm, "mm", "the job's, contraction and stock on it, less rapping and what draft has moved the wall", "");
            yield return new(Key("travel_mm"), Label("sideways until it is lifted"), p.Travel_mm, "mm", Invariant($"how far it hangs over, and {table.Clear_mm.Value:0.##} mm"), table.Clear_mm.From.Text);
            if (p.Tail is { } tail)
            {
                yield return new(Key("neck_mm"), Label("neck of its dovetail"), tail.Neck_mm, "mm", p.Part.Held is null ? "the widest that has room" : "the widest that has room; a dovetail is given in the job", table.Dovetail.From.Text);
                yield return new(Key("depth_mm"), Label("depth of its dovetail"), tail.Depth_mm, "mm", "by the neck", table.Dovetail.From.Text);
                yield return new(Key("clearance_mm"), Label("clearance of its tongue"), tail.Clearance_mm, "mm", "square to every face", table.Clearance_mm.From.Text);
                yield return new(Key("taper_deg"), Label("taper of its slot"), tail.Taper_deg, "deg", "opening along the main draw", table.Taper_deg.From.Text);
            }

            if (p.Pins is { } pins) yield return new(Key("pin_mm"), Label(pins.Count == 1 ? "its pin" : "its two pins"), pins.Diameter_mm, "mm", p.Part.Held is null ? "the thickest that has room, since no dovetail has" : "the thickest that has room; a pin is given in the job", table.Pin.From.Text);
        }
    }

    private static IEnumerable<Finding> Of(PlannedPiece piece, PieceTravel travel, KitLoosePiece made, Sand sand, LooseTable table, PatternFrame frame)
    {
        var at = frame.ToJob(piece.At(default));
        var (name, half) = ($"The loose piece “{piece.Part.Name}”", piece.Half == MouldHalf.Cope ? "cope" : "drag");
        var place = Invariant($"near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm");
        var source = table.Clear_mm.From.Text;
        if (travel.IsFree)
        {
            yield return new("loose-piece", Severity.Note,
                Invariant($"{name} {place} hangs over by {piece.FarthestOut_mm:0.#} mm and draws: once the {half} half of the pattern is out it goes {travel.Needed_mm:0.#} mm sideways, and the cavity has {Room(travel)}; then straight up through the open joint. {Hold(made)}"),
                at, travel.Needed_mm, travel.Free_mm, source, "Nothing; draw it in the order of the sheet.", "mm");
        }
        else if (travel.Free_mm < travel.Needed_mm)
        {
            yield return new("loose-blocked", Severity.Stop,
                Invariant($"{name} {place} cannot be drawn: it stands {piece.FarthestOut_mm:0.#} mm out and has to go {travel.Needed_mm:0.#} mm sideways to come clear, {table.Clear_mm.Value:0.#} mm of that to spare, and the cavity of the {half} half lets it go {travel.Free_mm:0.#} mm."),
                at, travel.Free_mm, travel.Needed_mm, source,
                Invariant($"Let it stand out {Math.Max(0, travel.Free_mm - table.Clear_mm.Value):0.#} mm at most from the drafted wall, hold it by a pin where a dovetail's tongue takes the room (held = \"pin\"), make the part at least {travel.Needed_mm - travel.Free_mm:0.#} mm wider there, or leave it to a core or a tool."), "mm");
        }
        else
        {
            yield return new("loose-blocked", Severity.Stop,
                Invariant($"{name} {place} cannot be drawn: the loose piece “{travel.Met!.Part.Name}” stands in its way, which cannot leave before it either."),
                at, Source: source, Remedy: "Hold one of both by a pin (held = \"pin\"), or move them apart.");
        }

        if (piece.Tail is null && piece.Pins is null)
        {
            var (what, least, limit) = piece.Part.Held == LooseHold.Dovetail
                ? ("no dovetail has room", table.Dovetail.Necks_mm[^1] + (2 * table.Dovetail.Land_mm), table.Dovetail.From)
                : ("neither a dovetail nor a pin has room", table.Pin.Diameters_mm[^1] + table.Pin.Wider_mm + (2 * table.Pin.Land_mm), table.Pin.From);
            var (low, high) = piece.BackBox;
            var width = Math.Min(high.X - low.X, high.Y - low.Y);
            yield return new("loose-hold", Severity.Warn,
                Invariant($"{name} {place}, {width:0.#} mm wide at its back, has nothing that holds it to the pattern: {what}. The smallest takes {least:0.#} mm of back, a plane wall round it, and for a dovetail a level face at its tip with solid pattern below."),
                at, width, least, limit.Text, piece.Part.Held == LooseHold.Dovetail ? "Write held = \"pin\", or make it larger." : "Make it larger, or stick it on with a little wax that lets go in the sand, at marks scratched round it.", "mm");
        }

        var (thin, where) = SandOver(piece);
        var most = sand.StandingLimit.Value * thin;
        if (piece.FarthestOut_mm > most)
        {
            var p = frame.ToJob(piece.InMould(where));
            yield return new("sand-tongue", Severity.Warn,
                Invariant($"The sand between {name[..1].ToLowerInvariant()}{name[1..]} and what is below it towards the joint, near ({p.X:0.#}, {p.Y:0.#}, {p.Z:0.#}) mm, is a shelf {thin:0.#} mm thick that hangs {piece.FarthestOut_mm:0.#} mm out over its hollow, {piece.FarthestOut_mm / thin:0.##} times its thickness: it may break when the piece is drawn, or under the metal."),
                p, piece.FarthestOut_mm / thin, sand.StandingLimit.Value, sand.StandingLimit.From.Text,
                Invariant($"Move the piece up to {piece.FarthestOut_mm / sand.StandingLimit.Value:0.#} mm from there, set nails or rods into the sand as it is rammed, take a stronger sand, or lay the part the other way up."));
        }
    }

    /// <summary>The thinnest sand on the side of the joint, pattern millimetres, and where: at its root and half way to its edge, since at the edge its thickness is that of the wall's own taper.</summary>
    private static (double Thin_mm, Vec3 At) SandOver(PlannedPiece piece)
    {
        var (frame, mould, lowest) = (piece.Frame, piece.Mould, piece.Heights.Low);
        var skin = piece.Face.Region.Rings().SelectMany(r => r).SelectMany(p => Shares.Select(share => frame.Placed(new(p.X, p.Y, share * piece.Face.Surface.At(p)))));
        return skin.Select(p => (Thin_mm: p.Z - Math.Max(mould.Joint_mm, mould.Surface(p.Plan)), At: p)).Where(s => s.At.Z - s.Thin_mm < lowest).DefaultIfEmpty((Thin_mm: double.PositiveInfinity, At: frame.Origin)).MinBy(s => s.Thin_mm);
    }

    private static string Room(PieceTravel travel) => travel.Free_mm >= PieceTravel.Farthest_mm ? "room enough" : Invariant($"{travel.Free_mm:0.#} mm");

    private static string Hold(KitLoosePiece made) => made switch
    {
        { Tail: { } tail } => Invariant($"A dovetail holds it, {tail.Neck_mm:0.#} mm at its neck and {tail.Depth_mm:0.#} mm deep, which the pattern slides off."),
        { Pins: { } pins } => Invariant($"{(pins.Count == 1 ? "A loose pin" : "Two loose pins")} of {pins.Diameter_mm:0.#} mm {(pins.Count == 1 ? "holds" : "hold")} it until it is rammed halfway."),
        _ => "Nothing holds it to the pattern.",
    };
}
