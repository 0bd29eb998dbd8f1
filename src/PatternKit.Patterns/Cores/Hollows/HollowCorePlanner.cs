using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Meshes;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parts;
using static System.FormattableString;

namespace PatternKit.Patterns.Cores.Hollows;

/// <summary>Gives the cores of hollows their prints: how long, and how the core is kept from going in the wrong way.</summary>
internal sealed class HollowCorePlanner(Job job, PartMesh mesh, MeshLie lie, CastingBody casting, HalfMould cope, HalfMould drag, CoreLoads loads, FoundryTables tables, MeshingTolerance tolerance)
{
    /// <summary>A core that differs from itself turned over in less of its plan goes in either way.</summary>
    private const double Alike = 0.01;

    /// <summary>Footprint that a print may share with the part by rounding, mm.</summary>
    private const double Slack_mm = 0.02;

    /// <summary>Room for a box with its prints: so many times the core, and so much more, mm.</summary>
    private const double BoxSizes = 4, BoxRoom_mm = 120;

    private readonly Lazy<PlanRegion> footprint = new(() => cope.Footprint.Union(drag.Footprint));

    /// <summary>The cores, and what is to be told of hollows without one.</summary>
    /// <exception cref="InputException">Two cores meet.</exception>
    public (ImmutableArray<HollowCore> Cores, ImmutableArray<Finding> Findings) Plan(MeshHollows hollows)
    {
        if (!hollows.Cored.Any()) return ([], []);
        var (cores, findings) = (ImmutableArray.CreateBuilder<HollowCore>(), ImmutableArray.CreateBuilder<Finding>());
        // One lattice holds all cores, their prints, and their boxes beside each other behind the pattern.
        var box = footprint.Value.Geometry.EnvelopeInternal;
        var lattice = Lattice.For(hollows.Cored.Select(Largest_mm).Aggregate(new[] { box.MinX, box.MaxX, box.MinY, box.MaxY }.Max(Math.Abs), (sum, largest) => sum + (BoxSizes * largest) + BoxRoom_mm));
        foreach (var hollow in hollows.Cored)
        {
            var (core, why) = Planned(hollow, lattice);
            if (core is not null) cores.Add(cores.FirstOrDefault(core.IsLike) is { } first ? core.OutOf(first) : core);
            else
            {
                var largest = hollow.Regions.Select(r => lie.Hidden.Regions[r]).MaxBy(r => r.Volume_mm3)!;
                var filled_mm3 = hollow.Regions.Sum(r => lie.Hidden.Regions[r].Volume_mm3);
                findings.Add(new(
                    "undercut", Severity.Warn, Invariant($"No core is made for {hollow.Name}: {why}. The pattern fills it, {filled_mm3:0} mm³."),
                    largest.Place, filled_mm3, 0, Remedy: "Cure the reason, or machine it after casting.", Unit: "mm3"));
            }
        }

        RefuseMeeting([.. cores.Select(c => (c.Name, c.Plan))]);
        return (cores.ToImmutable(), findings.ToImmutable());
    }

    private void RefuseMeeting((string Name, PlanRegion Plan)[] cores)
    {
        for (var i = 0; i < cores.Length; i++)
            for (var k = 0; k < i; k++)
            {
                if (cores[i].Plan.Intersection(cores[k].Plan).Area <= Slack_mm) continue;
                throw new InputException(
                    mesh.Where, "", $"the cores of {cores[k].Name} and {cores[i].Name}, prints included, meet: two cores cannot lie in one place. Leave one of them out with undercuts in [cores], which then lists the other, or shorten the prints with print.");
            }
    }

    private double Largest_mm(MeshHollow hollow)
    {
        var regions = hollow.Regions.Select(r => lie.Hidden.Regions[r]).ToArray();
        var (low, high) = (new Vec2(regions.Min(r => r.PlanLow.X), regions.Min(r => r.PlanLow.Y)), new Vec2(regions.Max(r => r.PlanHigh.X), regions.Max(r => r.PlanHigh.Y)));
        return casting.Frame.Scale * new[] { high.X - low.X, high.Y - low.Y, regions.Max(r => r.Range.High) - regions.Min(r => r.Range.Low) }.Max();
    }

    private (HollowCore? Core, string? Why) Planned(MeshHollow hollow, Lattice lattice)
    {
        var shape = Shape(hollow, lattice);
        var row = tables.Cores.Clearance(shape.Largest_mm);
        var clearance = job.Cores?.Clearance_mm is { } given ? new Sourced<double>(given, "", Allowances.Given) : new(row.Side_mm, row.From.Text, "by the size of the core");
        ImmutableArray<CorePrint> prints = [.. shape.Mouths.Select(m => Print(shape, m, clearance.Value, 0))];
        if (Struck(shape, prints) is not { } struck) return (null, "its box would be open at no end: all its mouths lie between other parts of it");
        var core = new HollowCore(shape, prints, struck, clearance, tables.Cores);
        if (core.Above is null && core.Below is null) return (null, "nothing of it is left under the draft of its box");
        var inMetal = core.Displaced(cope, drag, casting.Lattice);
        if (job.Cores?.Print_mm is null)
        {
            var load = core.Load(loads, inMetal, GridUp.Z);
            prints = [.. prints.Zip(load.Prints, (p, l) => Print(shape, p.Mouth!, clearance.Value, l.Worst_N))];
        }

        prints = Unlike(core, prints);
        if (prints.Any(p => IsBlocked(p, clearance.Value))) return (null, "metal of the part lies where its print would");
        return (prints.SequenceEqual(core.Prints) ? core : new(shape, prints, struck, clearance, tables.Cores) { InMetal_mm3 = inMetal.Volume_mm3 }, null);
    }

    private HollowShape Shape(MeshHollow hollow, Lattice lattice)
    {
        var (scale, joint) = (casting.Frame.Scale, lie.Joint_mm);
        var regions = hollow.Regions.Select(r => (Region: lie.Hidden.Regions[r], Facets: lie.HiddenFacets.Value[r])).ToArray();
        var (above, below) = (Skin(true), Skin(false));
        var grid = lie.Columns!.Grid;
        var (length, moment) = (0.0, default(Vec2));
        foreach (var p in regions.SelectMany(r => r.Region.Pieces))
        {
            var (row, column) = Math.DivRem(p.Cell, grid.Columns);
            (length, moment) = (length + (p.High - p.Low), moment + ((p.High - p.Low) * grid.Centre(column, row)));
        }

        var skin = above.Concat(below).Concat(regions.SelectMany(r => r.Facets)).Distinct().Sum(f => mesh.Body.AreaNormal(mesh.Body.Facets[f]).Length) / 2;
        return new(
            hollow.Name, scale * joint, Ground(above, true), Ground(below, false), [.. hollow.Mouths.Select(Scaled)], scale / length * moment,
            skin * scale * scale, Largest_mm(hollow), lattice, tolerance);

        ImmutableArray<int> Skin(bool isAbove) => RoofFacets.Of(mesh.Body, regions.Where(r => (r.Region.Side == Geometry.Columns.HiddenSide.FromAbove) == isAbove).SelectMany(r => r.Facets), joint, isAbove);

        TriangleMesh Ground(ImmutableArray<int> facets, bool isAbove) => RoofFacets.Ground(mesh.Body, facets, joint, isAbove).Mapped(v => scale * v);

        SideMouth Scaled(SideMouth m) => m with { Middle = scale * m.Middle, Above = m.Above.Transformed(scale, 0, default), Below = m.Below.Transformed(scale, 0, default) };
    }

    private CorePrint Print(HollowShape shape, SideMouth mouth, double clearance_mm, double load_N)
    {
        var rules = tables.Cores;
        // A round mouth's own diameter; else that of a circle with as much area, or half a circle where one side of the joint has none.
        var share = mouth.Above.IsEmpty || mouth.Below.IsEmpty ? 0.5 : 1;
        var print = new CorePrint(true, 0, 0, Math.Sqrt((mouth.Above.Area + mouth.Below.Area) / (share * Math.PI)), 0, new(0, "", "")) { Mouth = mouth };
        var (diameter, width) = (2 * print.Radius_mm, print.Width_mm);
        var rule = job.Cores?.Print_mm is { } given ? new(given, "", Allowances.Given)
            : shape.Mouths.Length == 1 ? PrintRules.Blind(diameter, Depth(shape, mouth), rules)
            : PrintRules.Lying(diameter, load_N, loads.Bearing_kPa.Value, rules, width);
        return print with { Face_mm = Face(mouth, width, clearance_mm), Length_mm = rule.Value, Rule = rule };
    }

    /// <summary>How far a hollow reaches in from its mouth.</summary>
    private static double Depth(HollowShape shape, SideMouth mouth) =>
        Math.Max(1, shape.Above.Vertices.Concat(shape.Below.Vertices).Max(v => Vec2.Dot(mouth.Middle - v.Plan, mouth.Outward)));

    /// <summary>Where the print leaves the metal, draft included: as far out along its way as the metal reaches in its width.</summary>
    private double Face(SideMouth mouth, double width, double clearance_mm)
    {
        var (reach, half) = (Math.Max(cope.Run(Height(cope)), drag.Run(Height(drag))) + (width / 2) + 1, (width / 2) + clearance_mm);
        var strip = PlanRegion.Polygon([mouth.Plan(-1, -half), mouth.Plan(reach, -half), mouth.Plan(reach, half), mouth.Plan(-1, half)]);
        return strip.Intersection(footprint.Value).Geometry.Coordinates.Select(c => Vec2.Dot(new Vec2(c.X, c.Y) - mouth.Middle, mouth.Outward)).Append(0).Max();

        static double Height(HalfMould half) => half.IsEmpty ? 0 : half.Upper.Levels[0] - half.Joint_mm;
    }

    /// <summary>The print with the longest way out behind whose end all of the core lies: the box is open there.</summary>
    private static int? Struck(HollowShape shape, ImmutableArray<CorePrint> prints)
    {
        Vec2[] all =
        [
            .. shape.Above.Vertices.Concat(shape.Below.Vertices).Select(v => v.Plan),
            .. prints.SelectMany(p => new[] { p.Mouth!.Plan(p.End_mm, p.Width_mm / 2), p.Mouth.Plan(p.End_mm, -p.Width_mm / 2) }),
        ];
        var open = prints.Select((p, i) => (Print: p, Index: i)).Where(x => all.All(v => Vec2.Dot(v - x.Print.Mouth!.Middle, x.Print.Mouth.Outward) <= x.Print.End_mm + Slack_mm)).ToArray();
        return open.Length == 0 ? null : open.MaxBy(x => x.Print.Radius_mm).Index;
    }

    /// <summary>Where the core could be set upside down or end for end and is not alike then, the lower side of one print is a block with a flat bottom, wider than the rest, or one is longer.</summary>
    private ImmutableArray<CorePrint> Unlike(HollowCore core, ImmutableArray<CorePrint> prints)
    {
        var (upright, turned) = core.Unlikeness();
        // End for end, and so, too, only where the prints lie on one line across from each other.
        var isStraight = prints is [var a, var b] && Vec2.Dot(a.Mouth!.Outward, b.Mouth!.Outward) < -0.999 && Math.Abs(Vec2.Cross(a.Mouth.Outward, b.Mouth.Middle - a.Mouth.Middle)) < 2 * core.Side_mm;
        if ((core.Shape.IsHalf || upright <= Alike) && !(isStraight && turned > Alike)) return prints;
        if (core.Shape.IsHalf)
        {
            var (p, times) = (prints[0], tables.Cores.UnlikeTimes);
            var unlike = p.Rule with { Value = p.Length_mm * times.Value, Rule = Invariant($"{p.Rule.Rule}; {times.Value:0.##} times that, so that the core goes in one way round only"), Source = $"{p.Rule.Source}; unlike prints: {times.From.Text}" };
            return prints.SetItem(0, p with { Length_mm = unlike.Value, Rule = unlike });
        }

        // Not the one that is struck off, whose end stays as plain as it can be, unless there is no other.
        var which = prints.Length == 1 ? 0 : core.StruckPrint == 0 ? 1 : 0;
        var (mouth, wider) = (prints[which].Mouth!, Math.Max(tables.Cores.FlatWider_mm.Value, 2 * core.Side_mm));
        var box = mouth.Above.Union(mouth.Below).Geometry.EnvelopeInternal;
        var deep = CorePrint.HeightOf(mouth.Below) + wider;
        return prints.SetItem(which, prints[which] with { Flat = PlanRegion.Rectangle(new(box.MinX - wider, 0), new(box.MaxX + wider, deep)) });
    }

    private bool IsBlocked(CorePrint print, double clearance_mm)
    {
        var (mouth, half) = (print.Mouth!, (print.Width_mm / 2) + clearance_mm);
        var (from, to) = (print.Face_mm + Slack_mm, print.End_mm + clearance_mm);
        return PlanRegion.Polygon([mouth.Plan(from, -half), mouth.Plan(to, -half), mouth.Plan(to, half), mouth.Plan(from, half)]).Intersection(footprint.Value).Area > Slack_mm * half;
    }
}
