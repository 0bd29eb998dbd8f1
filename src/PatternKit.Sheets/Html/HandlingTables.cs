using System.Xml.Linq;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Html;

/// <summary>The pockets by which the halves are drawn from the sand, and for a half without, why.</summary>
internal static class HandlingTables
{
    public static IEnumerable<XElement> Make(Kit kit, SheetNumbers numbers)
    {
        var screws = ScrewNames.Screws(kit).ToList();
        if (screws.Count > 0)
        {
            yield return Table("Holes for the inserts of draw screws, places in pattern coordinates, depth from the joint face",
                ["Hole", "Half", "#x", "#y", "Insert", "#Hole diameter", "#Depth"],
                screws.Select(s => new object?[]
                {
                    s.Name, s.Half.Name, numbers.Length(s.Screw.At_mm.X), numbers.Length(s.Screw.At_mm.Y), s.Screw.Thread,
                    numbers.Length(s.Screw.Hole_mm), numbers.Length(s.Screw.Depth_mm),
                }));
        }

        var seats = ScrewNames.Seats(kit).ToList();
        if (seats.Count > 0)
        {
            yield return Table("Seats of rapping plates, around the holes",
                ["Seat", "Half", "#x", "#y", "#Turned", "#Length", "#Width", "#Depth", "Plate of flat bar"],
                seats.Select(s => new object?[]
                {
                    s.Name, s.Half.Name, numbers.Length(s.Seat.At_mm.X), numbers.Length(s.Seat.At_mm.Y), SheetNumbers.Angle(s.Seat.Turn),
                    numbers.Length(s.Seat.Length_mm), numbers.Length(s.Seat.Width_mm), numbers.Length(s.Seat.Depth_mm), s.Seat.Plate,
                }));
        }

        foreach (var h in kit.Handling.Where(h => h.Without.Length > 0)) yield return Tag("p", $"Draw screws of the {h.Name} half: {h.Without}.");
    }
}
