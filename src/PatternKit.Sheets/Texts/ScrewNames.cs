using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Texts;

/// <summary>The pockets of a kit by which its halves are drawn, named as drawing and table name them: "S1", "P1".</summary>
internal static class ScrewNames
{
    /// <summary>Every hole for an insert, with its half.</summary>
    public static IEnumerable<(string Name, Handling Half, DrawScrew Screw)> Screws(Kit kit) =>
        kit.Handling.SelectMany(h => h.Screws.Select(s => (h, s))).Select((x, i) => ("S" + SheetNumbers.Whole(i + 1), x.h, x.s));

    /// <summary>Every seat of a rapping plate, with its half.</summary>
    public static IEnumerable<(string Name, Handling Half, PlateSeat Seat)> Seats(Kit kit) =>
        kit.Handling.SelectMany(h => h.Seats.Select(s => (h, s))).Select((x, i) => ("P" + SheetNumbers.Whole(i + 1), x.h, x.s));
}
