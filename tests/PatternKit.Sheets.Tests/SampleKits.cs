using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Tests;

/// <summary>Kits for the tests. The figures are made up so that each is told from all others.</summary>
internal static class SampleKits
{
    private const double Joint_mm = 7.34;

    private static readonly Provenance From = new("handbook of safety", Basis.Read, [], "");

    private static readonly ImmutableArray<ImmutableArray<double>> Lowered = [[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, -Joint_mm]];
    private static readonly ImmutableArray<ImmutableArray<double>> TurnedAboutX = [[1, 0, 0, 0], [0, -1, 0, 0], [0, 0, -1, Joint_mm]];

    /// <summary>Two frusta on one another: every figure has a closed form.</summary>
    public static Kit Frusta(LengthUnit unit = LengthUnit.Millimetre, string title = "Gland flange")
    {
        var cope = SampleBodies.Frustum(40, 38, 20, 48);
        var drag = SampleBodies.Frustum(40, 39, 10, 48);
        return Make(unit, title, cope, drag, Ring(40), Ring(40), [new(new(25, 0), 6, 6.3, 8.5), new(new(-25, 0), 6, 6.3, 8.5)]);
    }

    /// <summary>A part in one half, as the kernel makes it.</summary>
    public static Kit Bracket()
    {
        var dowels = ImmutableArray.Create(new Vec2(20, 15), new Vec2(60, 45));
        var cope = SampleBodies.Bracket(dowels, 6.3, 8);
        var drag = SampleBodies.Frustum(14, 13.5, 9, 60).Mapped(v => v + new Vec3(85, -30, 0));
        var plate = SampleBodies.RoundedRectangle(120, 60, 12, 12 * Math.Tan(2 * Math.PI / 180));
        var kit = Make(LengthUnit.Millimetre, "Lever bracket", cope, drag, plate, SampleBodies.Disc(new(85, 30), 14),
            [.. dowels.Select(d => new Dowel(d, 6, 6.3, 8))]);
        return kit with
        {
            Plan = kit.Plan with
            {
                Flats =
                [
                    (MouldHalf.Cope, 12, SampleBodies.RoundedRectangle(120, 60, 12)), (MouldHalf.Cope, 30, SampleBodies.Disc(new(85, 30), 16)),
                    (MouldHalf.Drag, 9, SampleBodies.Disc(new(85, 30), 13.5)),
                ],
                Marks = [(MouldHalf.Cope, "C", PlanRegion.Rectangle(new(30, 40), new(36, 48)))],
            },
        };
    }

    private static PlanRegion Ring(double radius) =>
        PlanRegion.Polygon([.. Enumerable.Range(0, 48).Select(i => new Vec2(radius * Math.Cos(2 * Math.PI * i / 48), radius * Math.Sin(2 * Math.PI * i / 48)))]);

    private static Kit Make(
        LengthUnit unit, string title, TriangleMesh cope, TriangleMesh drag, PlanRegion copeOutline, PlanRegion dragOutline, ImmutableArray<Dowel> dowels)
    {
        var job = new Job(
            "gland-flange", title, unit, "AlSi7Mg", "oil-bonded", [], new(), new(), [],
            [new("job.toml", 1234, new string('a', 64)), new("/home/somewhere/flange.dxf", 98765, new string('b', 64))],
            [new ReadNote("flange.dxf", 57, "A gap of 0.004 mm was closed.")]);
        return new(
            job, "Aluminium, 7 % silicon, magnesium", 91234.567, new(new(-39, -39, -9), new(39, 39, 19)), 1.013,
            [
                new("contraction_percent", "Contraction", 1.3, "%", "table of the alloy, hindered little", "Trade table, row 3"),
                new("draft_outside_deg", "Draft outside", 1.5, "deg", "given in the job", ""),
                new("stock_top_mm", "Stock on top", 2.75, "mm", "grade G of the table", "ISO 8062-3:2007"),
            ],
            new(7.25, Joint_mm, 6.5, 8.125, 0.35, 4321.5, "The largest planar face lies at this height; both halves draw freely."),
            new(91234.567, 1500.25, 2600.5, 3700.75, -410.125, 5200.375, 610.625, -72.875, -820.5, 103543.21),
            [
                new("cope", MouldHalf.Cope, cope.Mapped(v => new(v.X, v.Y, v.Z + Joint_mm)), cope, Lowered, 1.4987 * Math.PI / 180),
                new("drag", MouldHalf.Drag, drag.Mapped(v => new(v.X, -v.Y, Joint_mm - v.Z)), drag, TurnedAboutX, 2.8877 * Math.PI / 180),
            ],
            dowels,
            [
                new("Bolt circle", 50.4, 51.06, 50.41, 0.65, "ISO 8062-3:2007, DCTG 11"),
                new("Width of the slot", 8.7, null, null, 0.5, "ISO 8062-3:2007, DCTG 11"),
            ],
            new(2680, "Handbook of alloys", 0.2775, 0.3125, "the casting alone; gating and feeders are not in it"),
            new(copeOutline, dragOutline, [(MouldHalf.Cope, 20, copeOutline.Offset(-2, 0.01)), (MouldHalf.Drag, 10, dragOutline.Offset(-1, 0.01))], []),
            [
                new("thin-section", Severity.Note, "The flange is 3.9 mm thick at one place.", new Vec3(12.5, -7.75, 3.25), 3.9, 4.5, "Wall table, sand castings", "Thicken it.", "mm"),
                new("undercut", Severity.Stop, "A groove of 415 mm³ cannot leave the sand.", null, 415, 0, "geometry", "Turn the part, or make the cut a cored one.", "mm3"),
            ],
            [new("water", "Keep water away from molten metal.", "melting", true, From), new("oil", "Fumes of burnt oil: work in the open air.", "pouring", true, From)]);
    }
}
