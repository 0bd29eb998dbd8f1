using System.Xml.Linq;
using PatternKit.Geometry.Mesh;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Loose;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>Loose pieces: how they sit on the pattern, what holds them, and how they are drawn.</summary>
internal static class LooseSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.Loose.IsEmpty) return null;
        // Drawing is most of the work: all at once.
        var halves = kit.Bodies.Where(b => kit.Loose.Any(l => l.Half == b.Half)).Select(b => (Half: b, Drawn: Task.Run(() => BodyPicture.Of(InPlace(kit, b))))).ToArray();
        var pieces = kit.Loose.Select(l => (Piece: l, Picture: Task.Run(() => BodyPicture.Of(l.Body.AsPrinted)), Drawing: Task.Run(() => LooseDrawing.Draw(kit, l, numbers)))).ToArray();
        return Tag("section", Set("aria-labelledby", "loose"),
            Tag("h2", Set("id", "loose"), "Loose pieces"),
            Tag("p", "They hang over, so that the pattern cannot take them along: they stay in the sand when it is drawn, and are then drawn sideways into the hollow it leaves. Their taper runs along that draw. They are drawn in this order:"),
            Table("The pieces and their draw", ["Order", "Piece", "In the", "#Stands out from the drafted wall", "#Draft along its own draw", "#Sideways until it is lifted", "#Room that the cavity has", "Held by"], kit.Loose.Select(l => new object?[]
            {
                SheetNumbers.Whole(l.Order), l.Part.Name, l.Half == MouldHalf.Cope ? "cope" : "drag", numbers.Length(l.Out_mm), SheetNumbers.Angle(l.Draft.Value), numbers.Length(l.Travel_mm), Room(l, numbers), Held(l),
            })),
            kit.Loose.Any(l => l.Tail is not null) ? Table("Their dovetails", ["Piece", "#Neck", "#Depth", "#Length", "#Clearance, square to every face", "#Taper along the main draw"], kit.Loose.Where(l => l.Tail is not null).Select(l => new object?[]
            {
                l.Part.Name, numbers.Length(l.Tail!.Neck_mm), numbers.Length(l.Tail.Depth_mm), numbers.Length(l.Tail.Length_mm), numbers.Length(l.Tail.Clearance_mm), SheetNumbers.Angle(l.Tail.Taper_deg * Math.PI / 180),
            })) : null,
            kit.Loose.Any(l => l.Pins is not null) ? Table("Their pins", ["Piece", "#How many", "#Diameter", "#Printed hole", "#Deep in the pattern", "#Length of a pin, at least"], kit.Loose.Where(l => l.Pins is not null).Select(l => new object?[]
            {
                l.Part.Name, SheetNumbers.Whole(l.Pins!.Count), numbers.Length(l.Pins.Diameter_mm), numbers.Length(l.Pins.Hole_mm), numbers.Length(l.Pins.Depth_mm), numbers.Length(l.Pins.Length_mm),
            })) : null,
            Tag("p", Classed("span", "practice", "common practice"), " Before they go into the sand:"),
            Tag("ul",
                Tag("li", "Print each on its back", kit.Loose.Any(l => l.Tail is not null) ? "; one with a dovetail lies on its tongue and wants supports under what hangs over that. Clean its back until it sits on the wall without a gap." : "."),
                kit.Loose.Any(l => l.Tail is not null) ? Tag("li", "A tongue goes into its slot from the tip of the pattern and must slide by its own weight; the pattern lifted by a finger's breadth leaves it standing. Where it binds, scrape the flanks of the tongue; do not fill, seal or varnish slot and tongue. Its front is flush with the wall.") : null,
                kit.Loose.Any(l => l.Pins is not null) ? Tag("li", "A pin goes through the piece into the pattern and is pulled with two fingers: oil it. Leave what stands out long enough to find in half-rammed sand.") : null,
                Tag("li", "The foot of a loose piece is sharp, since a fillet there would end in a feather edge and lock it: round that edge of the sand with a slick once the piece is out, or the metal washes it away.")),
            pieces.Select(p => Tag("figure", FigureBox($"Loose piece “{p.Piece.Part.Name}”", p.Drawing.GetAwaiter().GetResult()), Tag("figcaption", $"“{p.Piece.Part.Name}” as printed: its own draw is upward. Wide lines are seen edges, dashed ones hidden."))),
            Classed("div", "pictures",
                halves.Select(h => PictureFigure.Make($"picture-{h.Half.Name}-with-loose-pieces", $"The {h.Half.Name} half with its loose pieces in place, as it stands on the moulding board", h.Drawn.GetAwaiter().GetResult(), numbers)),
                pieces.Select(p => PictureFigure.Make($"picture-{p.Piece.Body.Name}", $"“{p.Piece.Part.Name}” as printed, its back down", p.Picture.GetAwaiter().GetResult(), numbers))));
    }

    /// <summary>In words, for a table or a step.</summary>
    private static string Held(KitLoosePiece piece) => piece switch
    {
        { Tail: not null } => "a dovetail",
        { Pins.Count: 1 } => "a pin",
        { Pins: not null } => "two pins",
        _ => "nothing",
    };

    private static string Room(KitLoosePiece piece, SheetNumbers numbers) => piece.HasEndlessRoom ? "enough" : numbers.Length(piece.Free_mm);

    private static TriangleMesh InPlace(Kit kit, KitBody half)
    {
        TriangleMesh[] all = [half.AsPrinted, .. kit.Loose.Where(l => l.Half == half.Half).Select(l => l.Body.InMould).Select(m => half.Half == MouldHalf.Cope || Turns(half) ? m.Mapped(half.Printed) : m.MirroredBy(half.Printed))];
        var (vertices, facets) = (new List<Geometry.Numerics.Vec3>(), new List<Facet>());
        foreach (var mesh in all)
        {
            var first = vertices.Count;
            vertices.AddRange(mesh.Vertices);
            facets.AddRange(mesh.Facets.Select(f => new Facet(f.A + first, f.B + first, f.C + first)));
        }

        return new([.. vertices], [.. facets]);
    }

    /// <summary>Half a turn keeps handedness.</summary>
    private static bool Turns(KitBody half) => half.ToPrinted[1][1] * half.ToPrinted[2][2] > 0;
}
