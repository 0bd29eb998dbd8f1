using System.Collections.Immutable;
using NetTopologySuite.Algorithm;
using NetTopologySuite.Geometries;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Checks;

/// <summary>Whether bodies fit onto the shop's printer as they lie, turned on the bed if need be.</summary>
public static class PrinterBed
{
    private const double Step_deg = 0.5;

    /// <summary>A warning for each body that does not fit however it is turned, a note for one that fits turned only.</summary>
    /// <param name="bodies">As they are printed.</param>
    /// <param name="printer">The shop's; nothing is found without one.</param>
    public static IEnumerable<Finding> Of(IEnumerable<KitBody> bodies, Printer? printer) =>
        printer is null ? [] : bodies.Select(b => Of(b, printer)).OfType<Finding>();

    /// <summary>The turn by which a plan fits a rectangle, the least first, degrees; null where none does. In steps of half a degree and along the sides of its hull.</summary>
    /// <param name="points">The plan.</param>
    /// <param name="length_mm">Of the rectangle, along x.</param>
    /// <param name="width_mm">Along y.</param>
    public static double? TurnToFit(IEnumerable<Vec2> points, double length_mm, double width_mm)
    {
        var hull = new ConvexHull([.. points.Select(p => new Coordinate(p.X, p.Y))], new GeometryFactory()).GetConvexHull().Coordinates.Select(c => new Vec2(c.X, c.Y)).ToArray();
        // A side that lies along the bed decides tight fits.
        var sides = hull.Zip(hull.Skip(1), (a, b) => -Math.Atan2(b.Y - a.Y, b.X - a.X) * 180 / Math.PI).Select(d => ((d % 90) + 90) % 90).SelectMany(d => new[] { d, d + 90 });
        var steps = Enumerable.Range(0, (int)(180 / Step_deg)).Select(i => i * Step_deg);
        return steps.Concat(sides).Order().Where(Fits).Select(d => (double?)d).FirstOrDefault();

        bool Fits(double degrees)
        {
            var (s, c) = Math.SinCos(degrees * Math.PI / 180);
            return Extent(p => (c * p.X) - (s * p.Y)) <= length_mm && Extent(p => (s * p.X) + (c * p.Y)) <= width_mm;
        }

        double Extent(Func<Vec2, double> along) => hull.Max(along) - hull.Min(along) - 1e-6;
    }

    private static Finding? Of(KitBody body, Printer printer)
    {
        var size = body.AsPrinted.Bounds().Size;
        var says = Invariant($"{body.Name} is {size.X:0.#} × {size.Y:0.#} mm and {size.Z:0.#} mm high");
        var bed = Invariant($"the bed takes {printer.Length_mm:0.#} × {printer.Width_mm:0.#} mm");
        if (printer.Height_mm is { } height && size.Z > height)
        {
            return new("over-bed", Severity.Warn, Invariant($"{says}; the printer takes {height:0.#} mm in height."), null, size.Z, height, printer.From.Text,
                "Print it elsewhere, or saw the STL file at a level face and glue the pieces.", "mm");
        }

        var longer = Math.Max(size.X, size.Y);
        return TurnToFit(body.AsPrinted.Vertices.Select(v => v.Plan), printer.Length_mm, printer.Width_mm) switch
        {
            null => new("over-bed", Severity.Warn, $"{says}; {bed}, and it does not fit turned either.", null, longer, Math.Max(printer.Length_mm, printer.Width_mm), printer.From.Text,
                "Print it elsewhere, or in pieces that are cut square to the joint and glued on a flat plate; of plates, choose a smaller size and set it into a larger board.", "mm"),
            > 0 and var turn => new("over-bed", Severity.Note, Invariant($"{says}; {bed}: turn it by {turn:0.#}° on the bed."), null, longer, Math.Max(printer.Length_mm, printer.Width_mm), printer.From.Text,
                "Turn it about its height in the slicer.", "mm"),
            _ => null,
        };
    }
}
