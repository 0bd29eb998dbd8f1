using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Plates;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Plates;

/// <summary>Patterns and bars on plates: closed forms, sound bodies, both sides in register.</summary>
public class PlateKitTests
{
    private const double Draft = 2 * KitCheck.Degree;

    [Theory]
    [InlineData(2)]
    [InlineData(1)]
    [InlineData(0)]
    public void A_boss_on_a_board_is_plate_frustum_and_the_fillet_of_Pappus(double radius)
    {
        const double l = 100, w = 90, d = 40, h = 20;
        var kit = KitCheck.Build(Jobs.Of(Jobs.Round(0, 0, d, 0, h)).Bare(2) with { Plate = new(PlateKind.Match, (l, w), Fillet_mm: radius) });
        var plate = kit.Plate!;
        var body = Assert.Single(plate.Bodies);
        Assert.Equal(("plate-cope", 12.0, false), (body.Name, plate.Thickness_mm, plate.IsBackToBack));
        KitCheck.Valid(body.AsPrinted, body.Name);
        // A block drafted all round: Steiner's formula.
        var (t, tan) = (plate.Thickness_mm, Math.Tan(Draft));
        var block = (l * w * t) + ((l + w) * t * t * tan) + (Math.PI / 3 * t * t * t * tan * tan);
        Assert.Equal(1, (body.AsPrinted.Volume() - kit.Cope().AsPrinted.Volume() - plate.FilletVolume_mm3) / block, 5e-5);
        // A ring round the foot, whose section is that between a wall of the draft, the plate and the arc tangent to both (Pappus).
        var foot = (d / 2) + (h * tan);
        var ring = Slices(radius * (1 - Math.Sin(Draft)), z =>
        {
            var wall = foot - (z * tan);
            var arc = foot - (radius * tan) + (radius / Math.Cos(Draft)) - Math.Sqrt((radius * radius) - ((z - radius) * (z - radius)));
            return Math.PI * ((arc * arc) - (wall * wall));
        });
        Assert.Equal(ring, plate.FilletVolume_mm3, 0.01 * ring);
    }

    public static TheoryData<string, PlateKind> Templates() =>
    [
        ("lever-bracket", PlateKind.Match), ("lever-bracket", PlateKind.Boards), ("gland-flange", PlateKind.Match), ("bearing-pedestal", PlateKind.Match), ("vee-pulley", PlateKind.Boards), ("pump-body", PlateKind.Match),
    ];

    [Theory]
    [MemberData(nameof(Templates))]
    public void Plates_of_templates_are_sound_drafted_and_hold_pattern_and_bars(string name, PlateKind kind)
    {
        var job = KitCheck.Template(name);
        var kit = KitCheck.Build(job with { Plate = new(kind) });
        var plate = kit.Plate!;
        Assert.Equal(["plate-cope", "plate-drag"], plate.Bodies.Select(b => b.Name));
        Assert.Equal(kind == PlateKind.Match, plate.IsBackToBack);
        Assert.Equal(kind == PlateKind.Match ? 2 : 0, plate.Dowels.Length);
        // What stands on a plate has no file of its own.
        Assert.Equal(["plate-cope", "plate-drag", "sprue", .. kit.Cores.SelectMany(c => c.Bodies).Select(b => b.Name)], kit.AllBodies.Select(b => b.Name));
        var asked = kit.Decisions.Where(d => d.Key is "draft_outside_deg" or "draft_inside_deg").Min(d => d.Value) * KitCheck.Degree;
        // Fillets of 1 mm along some 1.2 m of feet; those that the pattern has of its own do not count.
        Assert.InRange(plate.FilletVolume_mm3, 20, 400);
        foreach (var body in plate.Bodies)
        {
            KitCheck.Valid(body.AsPrinted, $"{body.Name} of {name}");
            KitCheck.Printed(body, kit.Parting.PatternHeight_mm);
            KitCheck.InSinglePrecision(body);
            Assert.True(body.LeastDraft >= asked - KitCheck.DraftSlack, $"{body.Name} of {name}: {body.LeastDraft / KitCheck.Degree}°");
            // Just over the face stand the feet of pattern and bars, and nothing else.
            var feet = PlanRegion.Union([
                .. kit.Bodies.Where(b => b.Half == body.Half).Select(b => Section(b, 0.05)),
                .. kit.Gating!.Bars.Where(b => PlateBuilder.Holds(b) && b.Body.Half == body.Half).Select(b => Section(b.Body, 0.05))]);
            // Dowel holes may reach up into them.
            var dowels = PlanRegion.Union(plate.Dowels.Select(d => PlanRegion.EvenOdd([PlanPath.Circle(body.Half == MouldHalf.Cope ? d.At_mm : new(d.At_mm.X, -d.At_mm.Y), d.Hole_mm + 0.02)], 0.005)));
            var standing = Section(body, plate.Thickness_mm + 0.05).Union(dowels);
            Assert.True(feet.Difference(standing.Offset(0.03, 0.01)).IsEmpty, $"{body.Name} of {name} lacks a foot");
            Assert.True(standing.Difference(dowels).Difference(feet.Offset(plate.Fillet_mm + 0.7, 0.01)).IsEmpty, $"{body.Name} of {name} has more than feet");
        }
    }

    // Over the small fillets to the face a pattern on a plate is the loose pattern, fillets along turned surfaces included: checked by level sections of the finished meshes.
    [Theory]
    [InlineData(1.5)]
    [InlineData(3)]
    [InlineData(6)]
    public void A_turned_pattern_on_a_plate_has_the_fillets_of_the_loose_one(double over_mm)
    {
        var kit = KitCheck.Build(Jobs.Of(Roller(), Jobs.Block(-10, -30, 10, 30, -8, 8)) with
        {
            Plate = new(PlateKind.Boards),
            Gating = new(Wanted: false),
        });
        Assert.Equal(4, kit.Decisions.Single(d => d.Key == "fillet_cope_turned_mm").Value);
        foreach (var body in kit.Plate!.Bodies)
        {
            var (loose, standing) = (Section(kit.Bodies.Single(b => b.Half == body.Half), over_mm), Section(body, kit.Plate.Thickness_mm + over_mm));
            Assert.True(loose.Difference(standing.Offset(0.03, 0.005)).IsEmpty, $"{body.Name} lacks something at {over_mm} mm");
            Assert.True(standing.Difference(loose.Offset(0.03, 0.005)).IsEmpty, $"{body.Name} has more at {over_mm} mm");
            Assert.True(body.LeastDraft >= (1.5 * KitCheck.Degree) - KitCheck.DraftSlack);
        }
    }

    [Fact]
    public void A_plate_with_bars_alone_holds_what_the_loose_bars_hold()
    {
        var job = Jobs.Of(Jobs.Block(-60, -20, 60, 20, 0, 12));
        var kit = KitCheck.Build(job with { Plate = new(PlateKind.Boards, Fillet_mm: 0) });
        var drag = Assert.Single(kit.Plate!.Bodies, b => b.Half == MouldHalf.Drag);
        var runner = kit.Gating!.Bars.Single(b => b.Kind == BarKind.Runner).Body;
        var over = Volume(drag, kit.Plate.Thickness_mm);
        Assert.Equal(1, over / runner.AsPrinted.Volume(), 2e-4);
    }

    [Fact]
    public void An_ingate_flares_into_the_casting_so_that_both_are_one_pattern()
    {
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-60, -20, 60, 20, 0, 12)) with { Plate = new(PlateKind.Match) });
        var cope = Assert.Single(kit.Plate!.Bodies, b => b.Half == MouldHalf.Cope);
        var ingate = kit.Gating!.Bars.Single(b => b.Kind == BarKind.Ingate);
        var section = Section(cope, kit.Plate.Thickness_mm + (kit.Gating.Reckoning.Ingate.Value.Depth_mm / 2));
        var one = Assert.Single(section.Pieces());
        Assert.True(one.Contains(ingate.Plan.InnerPoint));
        // No inside corner is square: what is open within a disc of 1 mm is open without it.
        var sharp = one.Offset(1, 0.01).Offset(-1, 0.01).Difference(one);
        Assert.True(sharp.Area < 0.1, $"{sharp.Area} mm² of square corners");
    }

    // Measured on the bodies as they are written: the drag is turned about x for the print.
    [Fact]
    public void Pins_and_dowels_of_both_sides_are_in_register_and_where_they_were_asked_for()
    {
        ImmutableArray<FlaskPin> pins = [new(new(-110, 5), 10), new(new(110, 0), 8)];
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-50, -20, 50, 20, -8, 12)) with { Parting = new(0), Plate = new(PlateKind.Match, (240, 160), Pins: pins) });
        var plate = kit.Plate!;
        var (cope, drag) = (Holes(plate.Bodies[0], 1), Holes(plate.Bodies[1], -1));
        Assert.Equal(4, cope.Count);
        foreach (var hole in cope) Assert.Contains(drag, h => Vec2.Distance(h.At, hole.At) <= 0.005 && Math.Abs(h.Area - hole.Area) < 1e-3);
        var middle = 0.5 * (plate.Low_mm + plate.High_mm);
        foreach (var pin in pins)
        {
            var hole = Assert.Single(cope, h => Vec2.Distance(h.At, middle + pin.At_mm) <= 0.005);
            Assert.Equal(pin.Diameter_mm + 0.3, Math.Sqrt(4 * hole.Area / Math.PI), 0.01);
            // It goes through: at the face, too.
            Assert.False(Section(plate.Bodies[0], plate.Thickness_mm - 0.01).Contains(hole.At));
        }

        Assert.Equal(plate.Dowels.Length + pins.Length, cope.Count);
        Assert.NotEqual(plate.Dowels[0].Diameter_mm, plate.Dowels[1].Diameter_mm);

        static List<(Vec2 At, double Area)> Holes(KitBody body, int sign) =>
        [
            .. MeshSection.AtHeight(body.AsPrinted, 0.5).Select(l => PlanRegion.Polygon(l)).Where(r => r.Area < 1000).Select(r => (new Vec2(r.Centroid.X, sign * r.Centroid.Y), r.Area)),
        ];
    }

    [Fact]
    public void Boards_that_could_be_turned_are_told()
    {
        var job = Jobs.Of(Jobs.Block(-50, -20, 50, 20, -8, 12)) with { Parting = new(0) };
        Assert.Contains(With(10, 10).Findings, f => f.Code == "plate-turns");
        Assert.DoesNotContain(With(10, 8).Findings, f => f.Code == "plate-turns");

        Kit With(double left, double right) => KitCheck.Build(job with { Plate = new(PlateKind.Boards, (240, 160), Pins: [new(new(-110, 0), left), new(new(110, 0), right)]) });
    }

    [Fact]
    public void What_cannot_be_is_refused_with_what_to_change()
    {
        var job = Jobs.Of(Jobs.Block(-50, -20, 50, 20, 0, 12));
        Refused(job with { Plate = new(PlateKind.Match, (60, 60)) }, "Write a larger size");
        Refused(job with { Plate = new(PlateKind.Match, (240, 160), Pins: [new(new(118, 0), 10)]) }, "too near the edge");
        Refused(job with { Gating = new(Wanted: false), Plate = new(PlateKind.Match, (240, 160), Pins: [new(new(0, 0), 10)]) }, "a pattern or bar stands there");
        Refused(job with { Plate = new(PlateKind.Match, (240, 160), Pins: [new(new(110, 0), 10), new(new(110, 8), 6)]) }, "it meets another pin");
        // A cup moulded mouth down, as the joint at its rim asks: the drag's sand stands in it.
        Refused(Jobs.Of(Jobs.Round(0, 0, 80, 0, 30), Jobs.Round(0, 0, 60, 0, 24, CutKind.Drawn)) with { Parting = new(0), Plate = new(PlateKind.Match) }, "plate = \"none\"");

        static void Refused(Job job, string words) => Assert.Contains(words, Assert.Throws<InputException>(() => KitCheck.Build(job)).Message, StringComparison.Ordinal);
    }

    // The pedestal's ingate flares into its wall where the ball rolls down the corner between boss and block.
    [Fact]
    public void Beside_an_ingate_the_fillets_along_turned_surfaces_are_those_of_the_loose_half()
    {
        var job = KitCheck.Template("bearing-pedestal");
        var (loose, kit) = (KitCheck.Build(job), KitCheck.Build(job with { Plate = new(PlateKind.Match) }));
        foreach (var key in new[] { "fillet_cope_turned_mm", "fillet_drag_turned_mm" })
        {
            Assert.True(Radius(loose, key) >= 3);
            Assert.Equal(Radius(loose, key), Radius(kit, key));
        }

        // Above the ingate, 12 mm over the face, the plate's half is the loose one; the runner, which is higher, stands away from it.
        foreach (var body in kit.Plate!.Bodies)
        {
            const double over_mm = 12;
            Assert.All(kit.Gating!.Bars.Where(b => b.Kind == BarKind.Ingate), b => Assert.True(b.Faces.Max(f => f.Depth_mm) < over_mm));
            var runner = kit.Gating.Bars.Single(b => b.Kind == BarKind.Runner).Plan;
            var (own, standing) = (Section(loose.Bodies.Single(b => b.Half == body.Half), over_mm), Section(body, kit.Plate.Thickness_mm + over_mm).Difference(body.Half == MouldHalf.Cope ? runner : Mirrored(runner)));
            Assert.True(own.Difference(standing.Offset(0.03, 0.005)).IsEmpty, $"{body.Name} lacks something");
            Assert.True(standing.Difference(own.Offset(0.03, 0.005)).IsEmpty, $"{body.Name} has more");
        }

        static PlanRegion Mirrored(PlanRegion plan) => PlanRegion.EvenOdd([.. plan.Rings().Select(r => PlanPath.Polygon([.. r.Select(p => new Vec2(p.X, -p.Y))]))], 1);

        static double Radius(Kit kit, string key) => kit.Decisions.Single(d => d.Key == key).Value;
    }

    private static Feature Roller() => new(
        "roller", null, [PlanPath.Polygon(new Vec2(-30, 0), new(30, 0), new(30, 12), new(-30, 12))], -12, 12, CutKind.None, "test")
    { Turned = new(TurnedAxis.X, new(0, 0, 0)) };

    private static PlanRegion Section(KitBody body, double height) =>
        PlanRegion.EvenOdd(MeshSection.AtHeight(body.AsPrinted, height).Select(l => PlanPath.Polygon(l.AsSpan())), 1);

    /// <summary>Volume above a height of the body as printed, by Simpson's rule over sections; the bars have flat tops.</summary>
    private static double Volume(KitBody body, double from)
    {
        var heights = body.AsPrinted.Vertices.Select(v => v.Z).Where(z => z > from).Append(from).Distinct().Order().ToArray();
        return heights.Zip(heights.Skip(1), (a, b) => (b - a) / 6 * (Area(a + (1e-9 * (b - a))) + (4 * Area((a + b) / 2)) + Area(b - (1e-6 * (b - a))))).Sum();

        double Area(double z) => Section(body, Math.Max(z, from + 1e-4)).Area;
    }

    private static double Slices(double height, Func<double, double> area)
    {
        const int n = 20_000;
        return Enumerable.Range(0, n).Sum(i => area((i + 0.5) * height / n)) * height / n;
    }
}
