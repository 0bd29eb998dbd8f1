using System.Xml.Linq;
using PatternKit.Patterns.Cores;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Plans;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The cores: their boxes, what they weigh, what lifts them and what their prints bear, and how they are made and set.</summary>
internal static class CoreSection
{
    public static XElement? Make(Kit kit, SheetNumbers numbers)
    {
        if (kit.Cores.IsEmpty) return null;
        // Drawing is most of the work: all at once.
        var pictures = kit.Cores.SelectMany(c => Distinct(c).Prepend(c.Body)).Select(b => (Body: b, Drawn: Task.Run(() => BodyPicture.Of(b.AsPrinted)))).ToArray();
        var drawings = kit.Cores.SelectMany(c => Distinct(c).Select(h => (Core: c, Half: h, Drawn: Task.Run(() => CoreBoxDrawing.Draw(kit, c, h, numbers))))).ToArray();
        return Tag("section", Set("aria-labelledby", "cores"),
            Tag("h2", Set("id", "cores"), "Cores"),
            Table("Cores and their boxes", ["Core", "Leaves", "#How many", "#Size of the core", "#Core sand in all", "#Box or half of it, x × y × z", "#Draft of the box", "#Vent"], kit.Cores.Select(c => new object?[]
            {
                c.Name, c.Title, SheetNumbers.Whole(c.Count), numbers.Size(c.Body.AsPrinted.Bounds().Size), numbers.Weight(c.Sand_kg), numbers.Size(c.Box.Halves[0].AsPrinted.Bounds().Size), SheetNumbers.Angle(c.Box.Draft),
                $"⌀\u00A0{numbers.Length(c.Vent_mm.Value)}",
            })),
            Table("Prints, and what they bear: lift when the mould is full, weight before that", ["Print", "#Length", "#Diameter, or width × height, at the metal", "#At its end", "#Clearance each face", "#Lift", "#Weight", "#Bears at most"], kit.Cores.SelectMany(Prints)),
            Tag("p", $"A seat bears {numbers.Figure(kit.Cores[0].Bearing_kPa.Value, "kPa")}: {kit.Cores[0].Bearing_kPa.Rule}."),
            kit.Cores.All(c => c.Box.IsDumped) ? null : Dowels(kit, numbers),
            Setting(kit, numbers),
            drawings.Select(d => Tag("figure", FigureBox(d.Core.Box.IsMirrored || d.Core.Box.IsDumped ? $"Box of {d.Core.Name}" : $"Box half {d.Half.Name}", d.Drawn.GetAwaiter().GetResult()), Tag("figcaption", $"{(d.Core.Box.IsDumped ? $"The box of {d.Core.Name}, its cavity up." : !d.Core.Box.IsMirrored ? $"The half {d.Half.Name} of the box of {d.Core.Name}, its cavity up; the other half has a side of its own." : $"One half of the box of {d.Core.Name}, its cavity up; the other is its mirror image.")} Wide lines are seen edges, dashed ones hidden."))),
            Classed("div", "pictures", pictures.Select(p => Picture(kit, p.Body, p.Drawn.GetAwaiter().GetResult(), numbers))));

        string AtMetal(CorePrint p) => p.Mouth is null ? numbers.Length(2 * p.Radius_mm) : $"{numbers.Length(p.Width_mm)} × {numbers.Length(p.Height_mm)}";

        string AtEnd(CorePrint p) => p.Mouth is null ? numbers.Length(2 * p.EndRadius_mm) : AtMetal(p) + (p.Flat is null ? "" : ", flat below");

        string Force(double value_N) => numbers.Figure(value_N, "N", 1);

        IEnumerable<object?[]> Prints(KitCore core) => core.Prints.Zip(core.Load.Prints, (p, l) => new object?[]
        {
            $"{core.Name}, {core.End(p)} print", numbers.Length(p.Length_mm), AtMetal(p), AtEnd(p), numbers.Length(core.Side_mm),
            Force(l.Lift_N), Force(l.Weight_N), Math.Abs(l.MostLift_N - l.MostWeight_N) < 1e-6 * l.MostLift_N ? Force(l.MostLift_N) : $"{Force(l.MostLift_N)} up, {Force(l.MostWeight_N)} down",
        });
    }

    private static XElement Dowels(Kit kit, SheetNumbers numbers) => Table("Dowel holes of the boxes, from one half into the other", ["Box", "#Thicker dowel", "#Its hole, depth in each half", "#Thinner dowel", "#Its hole, depth in each half"],
        kit.Cores.Where(c => !c.Box.IsDumped).Select(c => new object?[]
        {
            c.Name, numbers.Length(c.Box.Dowels[0].Diameter_mm), $"{numbers.Length(c.Box.Dowels[0].Hole_mm)}, {numbers.Length(c.Box.Dowels[0].Depth_mm)}",
            numbers.Length(c.Box.Dowels[1].Diameter_mm), $"{numbers.Length(c.Box.Dowels[1].Hole_mm)}, {numbers.Length(c.Box.Dowels[1].Depth_mm)}",
        }));

    private static XElement Setting(Kit kit, SheetNumbers numbers) => Tag("div",
        Tag("p", Classed("span", "practice", "common practice"), " The boxes are at pattern size: contraction is in them, and nothing is scaled again."),
        Tag("ul",
            kit.Cores.All(c => c.Box.IsDumped) ? null : Tag("li", "Clamp the halves of a box on their dowels and stand it on its closed end. Ram core sand in through the open end, push the vent wire through from end to end, and strike the sand off level with the open end: that face is the end of a print."),
            kit.Cores.All(c => c.Box.IsDumped) ? null : Tag("li", "Rap the box, lift one half off, turn the core out onto a level plate or a bed of sand, and bake or cure it through. A core must be dry and hard before it is set."),
            kit.Cores.Any(c => c.Box.IsDumped) ? Tag("li", $"{string.Join(", ", kit.Cores.Where(c => c.Box.IsDumped).Select(c => c.Name))}: half a core, made in a dump box. Ram core sand into the box from its open side, bed a vent wire or scratch a channel along the middle of the flat face from end to end, and strike the sand off level: that face is the flat side of the core. Lay a flat drying plate on it, turn both over, rap the box and lift it straight off. Bake or cure the core on the plate.") : null,
            Tag("li", "Blow the seats clear of loose sand. Lead the vent on from the end of a print to the outside of the mould: scratch a channel in the joint from a lying core, push a wire through the cope over one that stands. Keep the channel free of metal with a ring of clay or a smear of core paste round the print."),
            kit.Cores.Any(c => c.Axes.Any(a => a.Lies)) ? Tag("li", "A core that lies is set into the drag before the cope is closed; its clearance lets it sink by that much, so bed it with a strip of paper where the wall counts.") : null,
            kit.Cores.Any(c => c.Box.IsDumped && c.Body.InMould.Bounds().High.Z <= kit.Parting.PatternHeight_mm + 0.01) ? Tag("li", "Half a core in the drag is set with its flat side up, level with the joint; the flat face of the cope, or the metal above, bears on it.") : null,
            kit.Cores.Any(c => c.Box.IsDumped && c.Body.InMould.Bounds().High.Z > kit.Parting.PatternHeight_mm + 0.01) ? Tag("li", "Half a core in the cope lies on the drag with its flat side down: set it on the drag at its place before closing, or glue it into the cope, where nothing else holds it before that.") : null,
            kit.Cores.Any(c => c.Axes.Any(a => !a.Lies)) ? Tag("li", "A core that stands goes with its longer, less tapered print down into the drag; close the cope over it without a jolt.") : null,
            kit.Cores.Any(c => c.Prints.Length == 2 && Math.Abs(c.Prints[0].Length_mm - c.Prints[1].Length_mm) > 0.01) ? Tag("li", "Where a core has prints of two lengths, it goes in one way round only: match them to the seats.") : null,
            kit.Cores.Where(c => c.Chaplet_mm2 > 0).Select(c => Tag("li", $"Prints of {c.Name} do not bear it: chaplets with {numbers.Figure(Math.Round(c.Chaplet_mm2), "mm²")} of head are wanted for each, of the casting’s own metal, dry and free of rust; or longer prints."))));

    /// <summary>The halves of a box that are not each other's mirror image.</summary>
    private static IEnumerable<KitBody> Distinct(KitCore core) => core.Box.IsMirrored ? core.Box.Halves.Take(1) : core.Box.Halves;

    private static XElement Picture(Kit kit, KitBody body, BodyPicture picture, SheetNumbers numbers) => PictureFigure.Make(
        $"picture-{body.Name}",
        body.Name.EndsWith("-box", StringComparison.Ordinal) ? $"{body.Name} as printed, its cavity up" : body.Name.Contains("-box-", StringComparison.Ordinal) ? $"{body.Name} as printed, its cavity up{(kit.Cores.Any(c => c.Box.IsMirrored && c.Box.Halves.Contains(body)) ? "; the other half is its mirror image" : "")}" : $"{body.Name}, as it comes out of its box with its prints",
        picture, numbers);
}
